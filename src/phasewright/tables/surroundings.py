"""What thin and warm air leave of a winding's heat and of a drive's amps (`limits.toml`).

A winding's rise goes with its losses. Air above 40 °C takes its excess off the rise that the
class allows, air above 1,000 m takes 1 % of it a 100 m (IEC 60034-1, from memory); a drive's
amps lose as much by height and a share by every kelvin. Nothing is given for cool air.
"""

from __future__ import annotations

from phasewright.quantities.errors import NotComputable
from phasewright.tables.published import table


def heat_share(
    ambient_c: float | None, altitude_m: float | None, insulation_class: str | None
) -> float:
    """Share of its rated losses that a winding bears for ever there, 1 in usual air.

    Raises NotComputable where the air alone is as hot as the winding may get.
    """
    of = table("limits", "surroundings")
    key = f"rise_{(insulation_class or '').strip().lower()}"
    rise_k = of.number(key if key in of.rows else "rise_usual")
    return _left(_over(ambient_c, of.number("ambient_from_c")) / rise_k, altitude_m)


def drive_share(ambient_c: float | None, altitude_m: float | None) -> float:
    """Share of its rated amps that a drive gives there, 1 in usual air."""
    of = table("limits", "surroundings")
    warmer_k = _over(ambient_c, of.number("ambient_from_c"))
    return _left(warmer_k * of.number("drive_per_kelvin"), altitude_m)


def freezes(ambient_c: float) -> bool:
    """Whether a place with this air freezes."""
    return ambient_c < table("limits", "surroundings").number("frost_below_c")


def _left(by_warmth: float, altitude_m: float | None) -> float:
    of = table("limits", "surroundings")
    thin = of.number("per_100_m") * _over(altitude_m, of.number("altitude_from_m")) / 100.0
    share = (1.0 - by_warmth) * (1.0 - thin)
    if not 0.0 < share <= 1.0:
        raise NotComputable("the air there is too hot or too thin for any motor or drive")
    return share


def _over(number: float | None, limit: float) -> float:
    return 0.0 if number is None else max(0.0, number - limit)
