"""Rule over a converter whose supply is lost while its idler still spins."""

from __future__ import annotations

from phasewright.quantities.finding import Remedy
from phasewright.rules.register import KEPT, Findings, above, found, rule
from phasewright.tables.published import table

_REMEDY = Remedy(
    "An input contactor with undervoltage release that drops out and stays out, never a plug "
    "alone; before touching: shaft at rest, then wait, then prove dead. Discharge resistors do "
    "not end it."
)


@rule(
    "converter.supply_lost",
    source="NFPA 70-2023, 460.6: to 50 V or less within a minute of being cut off",
    status="published",
    looks_at="equipment",
)
def lines_stay_live(
    usual_v: float | None,
    highest_v: float | None,
    subject: str,
    why_not: str = "",
    *,
    measured: bool = True,
    beside: tuple[str, ...] = (),
) -> Findings:
    """With its supply lost a spinning converter keeps no capacitor above 50 V.

    Volts of the highest line, rms, held at running speed: with usual iron, and with the kind of
    iron that holds most. `why_not` says why they could not be computed; `measured` is false
    where the flux lies beyond what has been measured of iron; `beside` are the motors whose
    capacitors hold it together with the converter's.
    """
    if why_not:
        return found(
            "caution",
            subject,
            "if the supply is lost while the idler spins, take all lines as live until the shaft "
            f"is at rest: what its capacitors hold could not be computed ({why_not})",
            remedy=_REMEDY,
        )
    if usual_v is None or highest_v is None:
        return None
    limit = table("limits", "discharged").number("volts")
    if not above(highest_v, limit):
        return KEPT
    usual = f"{usual_v:.3g} V" if usual_v > 0.0 else "nothing"
    theirs = f" and those of {' and '.join(beside)}" if beside else ""
    sure = "" if measured else "; beyond what has been measured of iron, so only roughly"
    return found(
        "caution",
        subject,
        f"if the supply is lost while the idler spins, its capacitors{theirs} can hold "
        f"{highest_v:.3g} V on all three lines, the supply's two with them (usual iron: "
        f"{usual}{sure}), until the shafts have slowed down: the longer, the heavier what turns "
        "with them",
        found=highest_v,
        allowed=limit,
        unit="V",
        remedy=_REMEDY,
    )
