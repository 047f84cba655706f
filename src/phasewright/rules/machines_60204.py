"""Electrical equipment of machines: IEC 60204-1, but its emergency stop and its tests."""

from __future__ import annotations

from phasewright.quantities.finding import Remedy
from phasewright.rules.families import iec
from phasewright.rules.register import Findings, at_least, at_most, must, rule
from phasewright.tables.clauses import limit


@iec("60204-1", "4.3.2", "machine")
def supply_volts(lowest_ratio: float | None, highest_ratio: float | None, subject: str) -> Findings:
    """The volts a machine gets for long lie within 0.9 and 1.1 of those it was made for."""
    if lowest_ratio is None or highest_ratio is None:
        return None
    words = "its volts come to {found:.1%} of those it was made for; {allowed:.0%} is "
    low = at_least(
        lowest_ratio, limit("machine_supply", "low"), "condition", subject,
        words + "the least", unit="", remedy=Remedy("A thicker cable, or a larger idler."),
    )  # fmt: skip
    high = at_most(
        highest_ratio, limit("machine_supply", "high"), "condition", subject,
        words + "the most", unit="", remedy=Remedy("Less run capacitance, or a transformer tap."),
    )  # fmt: skip
    return low or high


@iec("60204-1", "7.3.1", "motor")
def overload_there(power_w: float | None, protected: bool | None, subject: str) -> Findings:
    """A motor above 0.5 kW is protected against overload.

    By a relay, a drive or a thermistor in its winding.
    """
    if power_w is None or not power_w > limit("machine_motors", "overload_from_w") * (1.0 + 1e-9):
        return None
    return must(
        protected, "condition", subject,
        "nothing protects its winding against overload or a line that is missing",
        found_words="none", allowed_words="a relay set to its amps, or a drive",
        remedy=Remedy("A three-pole overload relay set to the amps of this link."),
    )  # fmt: skip


@rule(
    "overload.setting", status="common practice", looks_at="circuit",
    source="a relay set above the amps of the plate lets the winding burn before it trips",
)  # fmt: skip
def overload_set(setting_a: float | None, full_load_a: float | None, subject: str) -> Findings:
    """An overload relay is set to no more than the motor's amps in this link."""
    return at_most(
        setting_a, full_load_a, "condition", subject,
        "its overload relay is set to {found:.3g} A, and the plate says {allowed:.3g} A for this "
        "link",
        unit="A", remedy=Remedy("Turn the relay down to that."),
    )  # fmt: skip


@iec("60204-1", "7.5", "machine")
def no_restart(has_motor: bool, drops_out: bool | None, subject: str) -> Findings:
    """A machine does not start by itself when the supply comes back."""
    if not has_motor:
        return None
    return must(
        drops_out, "condition", subject,
        "it would start by itself when the supply comes back",
        found_words="stays on", allowed_words="drops out and stays out",
        remedy=Remedy("A switch with undervoltage release, or a drive's restart lock."),
    )  # fmt: skip


@iec("60204-1", "7.8", "machine")
def sequence_watched(
    wrong_direction_harms: bool | None, watched: bool | None, subject: str
) -> Findings:
    """Where a wrong order of the lines does harm, something watches it."""
    if not wrong_direction_harms:
        return None
    return must(
        watched, "condition", subject,
        "a wrong order of the three lines would turn it backward and do harm, and nothing watches",
        found_words="not watched", allowed_words="a phase-sequence relay, or a drive",
        remedy=Remedy("A phase-sequence relay at the converter's outlets or in the machine."),
    )  # fmt: skip
