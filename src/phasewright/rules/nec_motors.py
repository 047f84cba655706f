"""NEC article 430 beyond a single motor's conductors and device: overload, feeders, controls."""

from __future__ import annotations

from phasewright.circuits.cables import Laid
from phasewright.quantities.errors import TableEnds
from phasewright.quantities.finding import Remedy
from phasewright.rules.families import nec
from phasewright.rules.register import Findings, at_least, at_most
from phasewright.rules.remedies import thicker
from phasewright.tables.clauses import limit
from phasewright.tables.currents import full_load_current_a
from phasewright.tables.protection import share
from phasewright.tables.sizes import BREAKERS_NEC_A


@nec("430.6(A)", "motor")
def table_current(
    used_a: float | None, power_hp: float | None, line_voltage_v: float, subject: str, *,
    phases: int = 3,
) -> Findings:  # fmt: skip
    """Conductors and devices go by the code's full-load current, tables 430.248 and 430.250.

    Not by the plate, unless that is more; a size or voltage in no table takes its plate.
    """
    if used_a is None or power_hp is None:
        return None
    try:
        listed = full_load_current_a(power_hp, line_voltage_v, phases)
    except TableEnds:
        return None
    return at_least(
        used_a, listed, "stop", subject,
        "its circuit was sized for {found:.3g} A, and the code's table has {allowed:.3g} A for it",
        unit="A", remedy=Remedy("Size the circuit for the table's amps.", None, listed, "A"),
    )  # fmt: skip


@nec("430.24", "circuit")
def several_motors(
    ampacity_a: float | None, full_load_a: tuple[float, ...], others_a: float, subject: str,
    laid: Laid | None = None,
) -> Findings:  # fmt: skip
    """Conductors for several motors carry 125 % of the largest and all of the rest.

    `full_load_a`: of motors that may run together; `others_a`: of other loads.
    """
    if ampacity_a is None or len(full_load_a) < 2:
        return None
    largest = max(full_load_a)
    least = limit("nec_430", "largest") * largest + sum(full_load_a) - largest + others_a
    return at_least(
        ampacity_a, least, "stop", subject,
        "conductors of {found:.3g} A feed several motors that ask for {allowed:.4g} A",
        unit="A", remedy=thicker(least, laid),
    )  # fmt: skip


def overload_most_a(
    full_load_a: float, service_factor: float | None, rise_c: float | None, *, raised: bool = False
) -> float:
    """Largest overload setting of a motor above 1 hp: 125 or 115 % of its plate (430.32(A)(1)).

    `raised`: 140 or 130 % where that does not let it start (430.32(C)).
    """
    name = "overload_raised" if raised else "overload"
    marked = (service_factor or 0.0) >= limit("nec_430", "service_factor")
    cool = rise_c is not None and rise_c <= limit("nec_430", "rise_c")
    return limit("nec_430" if marked or cool else "nec_430_others", name) * full_load_a


@nec("430.32(A)(1)", "motor")
def overload_setting(
    setting_a: float | None, plate_a: float | None, power_hp: float | None, subject: str, *,
    service_factor: float | None = None, rise_c: float | None = None, raised: bool = False,
) -> Findings:  # fmt: skip
    """An overload device of a motor above 1 hp is set to 125 % of its plate amps at most.

    That is for a marked service factor of 1.15 or a rise of 40 °C; others take 115 %, a value
    from memory that makes a condition only. `plate_a`: on the link the motor runs on.
    """
    if setting_a is None or plate_a is None or power_hp is None:
        return None
    if not power_hp > limit("nec_430", "overload_from_hp"):
        return None
    most = overload_most_a(plate_a, service_factor, rise_c, raised=raised)
    greatest = limit("nec_430", "overload_raised" if raised else "overload") * plate_a
    return at_most(
        setting_a, most, "stop" if setting_a > greatest * (1.0 + 1e-9) else "condition", subject,
        "its overload relay at {found:.3g} A lets through more than the {allowed:.3g} A allowed",
        unit="A", remedy=Remedy("Turn it down.", None, most, "A"),
    )  # fmt: skip


@nec("430.37", "motor")
def overload_units(units: int | None, phases: int, subject: str) -> Findings:
    """A three-phase motor has an overload unit in each of its three lines."""
    if phases != 3:
        return None
    return at_least(
        units, limit("nec_430", "overload_units"), "stop", subject,
        "{found:.0f} overload units on three lines that differ: {allowed:.0f}, one in each",
        unit="units", remedy=Remedy("A three-pole overload relay, or a drive that watches all."),
    )  # fmt: skip


@nec("430.52(B)", "circuit")
def device_lets_start(
    device_a: float | None, holds_a: float | None, starting_a: float | None, subject: str
) -> Findings:
    """The branch device carries the motor's starting current for as long as the start takes.

    `holds_a`: what it surely carries for the time of the start.
    """
    if device_a is None:
        return None
    return at_least(
        holds_a, starting_a, "condition", subject,
        f"its device of {device_a:.3g} A surely holds {{found:.3g}} A for the time of the start, "
        "which draws {allowed:.3g} A",
        unit="A", remedy=Remedy("A larger standard rating within 430.52, or a softer start."),
    )  # fmt: skip


def feeder_device_a(
    largest_branch_a: float, full_load_a: tuple[float, ...], others_a: float = 0.0
) -> float:
    """Largest standard feeder device: the largest branch device and the other motors' amps.

    There is no step up here: the standard rating at or next below. 430.62(A), 430.63.
    """
    most = largest_branch_a + sum(full_load_a) - max(full_load_a) + others_a
    within = [each for each in BREAKERS_NEC_A if each <= most * (1.0 + 1e-9)]
    if not within:
        raise TableEnds(f"no standard device of {most:g} A or less")
    return max(within)


@nec("430.62", "circuit")
def feeder_device(
    device_a: float | None, largest_branch_a: float | None, full_load_a: tuple[float, ...],
    others_a: float, subject: str,
) -> Findings:  # fmt: skip
    """A feeder's device is at most its largest branch device and the amps of the other motors.

    Not where the conductors carry more than 430.24 asks; then it goes by their ampacity.
    """
    if device_a is None or largest_branch_a is None or not full_load_a:
        return None
    most = feeder_device_a(largest_branch_a, full_load_a, others_a)
    return at_most(
        device_a, most, "stop", subject,
        "its device of {found:.3g} A is more than {allowed:.3g} A",
        unit="A", remedy=Remedy("Fit that rating.", None, most, "A"),
    )  # fmt: skip


@nec("430.122(B)", "circuit")
def drive_output_conductors(
    ampacity_a: float | None, full_load_a: float | None, subject: str, laid: Laid | None = None
) -> Findings:
    """Conductors between drive and motor carry 125 % of the motor's full-load current."""
    if full_load_a is None:
        return None
    least = share("nec_430_122", "output") * full_load_a
    return at_least(
        ampacity_a, least, "stop", subject,
        "the conductors to the motor carry {found:.3g} A and need {allowed:.4g} A",
        unit="A", remedy=thicker(least, laid),
    )  # fmt: skip
