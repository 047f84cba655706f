"""Capacitor circuits: stored charge (NEC 460.6, IEC 60204-1), conductors and devices (460.8)."""

from __future__ import annotations

import math

from phasewright.circuits.cables import Laid
from phasewright.quantities.codes import Severity
from phasewright.quantities.finding import Remedy
from phasewright.rules.families import iec, nec
from phasewright.rules.register import Findings, at_least, at_most, must, rule
from phasewright.rules.remedies import thicker
from phasewright.tables.circuits import capacitor_circuit
from phasewright.tables.clauses import limit


def discharged_v(
    line_voltage_v: float, capacitance_f: float, resistance_ohm: float, after_s: float
) -> float:
    """Volts left on a capacitor with a resistor across it, from the peak of its line volts.

    sqrt(2) V exp(-t/RC): cut off at the worst instant, and not kept charged by a turning motor.
    """
    return math.sqrt(2.0) * line_voltage_v * math.exp(-after_s / (resistance_ohm * capacitance_f))


def greatest_resistor_ohm(
    line_voltage_v: float, capacitance_f: float, to_v: float, within_s: float
) -> float:
    """Largest resistor that brings a capacitor down to `to_v` in time: t/(C ln(V peak/V))."""
    peak = math.sqrt(2.0) * line_voltage_v
    if peak <= to_v:
        return math.inf
    return within_s / (capacitance_f * math.log(peak / to_v))


def _discharges(
    line_voltage_v: float | None, capacitance_f: float | None, resistance_ohm: float | None,
    to_v: float, within_s: float, severity: Severity, subject: str,
) -> Findings:  # fmt: skip
    if line_voltage_v is None or capacitance_f is None:
        return None
    most = greatest_resistor_ohm(line_voltage_v, capacitance_f, to_v, within_s)
    remedy = Remedy(
        f"A resistor of {most:.3g} ohm or less across each capacitor, for "
        f"{line_voltage_v**2 / most:.2g} W and these volts.",
        None, most, "ohm",
    )  # fmt: skip
    left = (
        math.sqrt(2.0) * line_voltage_v
        if resistance_ohm is None
        else discharged_v(line_voltage_v, capacitance_f, resistance_ohm, within_s)
    )
    return at_most(
        left, to_v, severity, subject,
        f"its capacitors still hold {{found:.3g}} V {within_s:.0f} s after they are cut off and "
        "the shaft has stopped, and {allowed:.0f} V are allowed",
        unit="V", remedy=remedy,
    )  # fmt: skip


@nec("460.6(A)", "circuit")
def discharged_in_a_minute(
    line_voltage_v: float | None, capacitance_f: float | None, resistance_ohm: float | None,
    subject: str,
) -> Findings:  # fmt: skip
    """A capacitor is at 50 V or less a minute after it is cut off and its motors stand.

    A resistor stays across it for good (460.6(B)); `resistance_ohm` is None where there is none.
    """
    return _discharges(
        line_voltage_v, capacitance_f, resistance_ohm,
        capacitor_circuit("safe_v"), capacitor_circuit("within_s"), "stop", subject,
    )  # fmt: skip


@iec("60204-1", "6.2.4", "circuit")
def discharged_in_seconds(
    line_voltage_v: float | None, capacitance_f: float | None, resistance_ohm: float | None,
    subject: str, *, on_plug_pins: bool = False, wait_s: float | None = None,
) -> Findings:  # fmt: skip
    """What can be touched is at 60 V or less 5 s after it is cut off, a plug's pins after 1 s.

    In a closed box that cannot do so the time to wait (`wait_s`) stands on a plate instead.
    """
    seconds = limit("stored_charge", "seconds") if wait_s is None else wait_s
    if on_plug_pins:
        seconds = limit("stored_charge", "plug_seconds")
    return _discharges(
        line_voltage_v, capacitance_f, resistance_ohm,
        limit("stored_charge", "volts"), seconds, "condition", subject,
    )  # fmt: skip


@rule(
    "capacitor.shaft_at_rest", status="common practice", looks_at="equipment",
    source="a turning idler charges its capacitors anew: resistors do not end it",
)  # fmt: skip
def shaft_at_rest(capacitance_f: float | None, told: bool | None, subject: str) -> Findings:
    """Whoever opens a converter waits for the shaft first, then for the resistors, then proves
    it dead.

    `told`: a plate or card says so.
    """
    if not capacitance_f:
        return None
    return must(
        told, "caution", subject,
        "its resistors discharge nothing while the idler turns: shaft at rest, then wait, then "
        "prove dead",
        found_words="no plate", allowed_words="a plate that says so",
        remedy=Remedy("A plate on the box: wait for the shaft, then one minute, then measure."),
    )  # fmt: skip


@nec("460.8(A)", "circuit")
def capacitor_conductors(
    ampacity_a: float | None, capacitor_a: float | None, subject: str,
    motor_ampacity_a: float | None = None, laid: Laid | None = None,
) -> Findings:  # fmt: skip
    """Conductors to a capacitor carry 135 % of its current, and a third of the motor's conductors.

    `capacitor_a`: at the highest volts it stands on.
    """
    if capacitor_a is None:
        return None
    least = capacitor_circuit("conductor") * capacitor_a
    if motor_ampacity_a is not None:
        least = max(least, limit("nec_460", "of_motor_circuit") * motor_ampacity_a)
    return at_least(
        ampacity_a, least, "stop", subject,
        "the conductors to its capacitors carry {found:.3g} A and need {allowed:.4g} A",
        unit="A", remedy=thicker(least, laid),
    )  # fmt: skip


@nec("460.8(B)", "circuit")
def capacitor_device(there: bool | None, behind_overload: bool, subject: str) -> Findings:
    """Every ungrounded conductor to a bank has an overcurrent device of its own.

    Not behind a motor's overload device.
    """
    if behind_overload:
        return None
    return must(
        there, "stop", subject, "its capacitors have no overcurrent device of their own",
        found_words="none", allowed_words="one in every line, as low as will hold",
        remedy=Remedy("Fuses in every line to the bank."),
    )  # fmt: skip


@nec("460.8(C)", "circuit")
def capacitor_disconnect(
    rating_a: float | None, capacitor_a: float | None, subject: str, *,
    behind_controller: bool = False,
) -> Findings:  # fmt: skip
    """What disconnects a bank is rated 135 % of its current; none behind a motor's controller."""
    if capacitor_a is None or behind_controller:
        return None
    return at_least(
        rating_a, limit("nec_460", "disconnect") * capacitor_a, "stop", subject,
        "the disconnect of its capacitors is rated {found:.3g} A and needs {allowed:.4g} A",
        unit="A", remedy=Remedy("The next larger disconnect."),
    )  # fmt: skip


@nec("460.9", "motor")
def overload_with_capacitor(
    setting_a: float | None, line_a: float | None, behind_overload: bool, subject: str
) -> Findings:
    """Where a capacitor hangs behind the overload relay, the relay is set for what is left.

    `line_a`: largest setting allowed at the current the relay carries then.
    """
    if not behind_overload:
        return None
    return at_most(
        setting_a, line_a, "stop", subject,
        "its overload relay at {found:.3g} A is set for the motor, and with the capacitor behind "
        "it only {allowed:.3g} A may pass",
        unit="A", remedy=Remedy("Wire the capacitor ahead of the relay, or turn the relay down."),
    )  # fmt: skip
