"""What is set in a drive where neither plate nor calculation gives it."""

from __future__ import annotations

from dataclasses import dataclass

from phasewright.quantities.codes import LoadKindName
from phasewright.tables.published import table


@dataclass(frozen=True, slots=True)
class Carrier:
    """A switching frequency [Hz] and the share of its rated amps that a drive gives at it."""

    hertz: float
    amps_share: float


@dataclass(frozen=True, slots=True)
class LoadSettings:
    """A kind of load's usual least ramps [s], whether it is caught turning and whether the drive
    makes up for its slip."""

    least_up_s: float
    least_down_s: float
    caught: bool
    slip_compensation: bool
    source: str


def carriers() -> tuple[Carrier, ...]:
    """Usual switching frequencies from the lowest up."""
    of = table("drive_settings", "carrier")
    pairs = zip(of.column("khz"), of.column("amps_share"), strict=True)
    return tuple(Carrier(1000.0 * khz, share) for khz, share in pairs)


def usual_carrier_hz() -> float:
    """The switching frequency that is taken where nothing asks for another."""
    return 1000.0 * table("drive_settings", "carrier").number("usual_khz")


def long_lead_m() -> float:
    """Above this length of motor lead the lowest switching frequency is taken [m]."""
    return table("drive_settings", "carrier").number("long_lead_m")


def carrier_source() -> str:
    """Where the switching frequencies come from."""
    return table("drive_settings", "carrier").words


def ramp_margin() -> float:
    """A ramp that is set over the shortest the drive bears."""
    return table("drive_settings", "margin").number("ramp")


def stall_s(ramp_s: float) -> float:
    """How long a motor may stand at the current limit that comes up in `ramp_s` [s]."""
    of = table("drive_settings", "margin")
    return min(
        max(of.number("stall") * ramp_s, of.number("least_stall_s")), of.number("most_stall_s")
    )


def load_settings(kind: LoadKindName) -> LoadSettings:
    """What this kind of load asks of the settings."""
    of = table("drive_settings", "by_load")
    row = of.rows["kinds"].index(kind)
    return LoadSettings(
        least_up_s=of.column("least_up_s")[row],
        least_down_s=of.column("least_down_s")[row],
        caught=kind in of.rows["caught"],
        slip_compensation=kind not in of.rows["no_slip_compensation"],
        source=of.words,
    )
