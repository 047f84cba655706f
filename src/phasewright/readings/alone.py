"""Readings of what makes no third line with an idler: drives, capacitors on a motor, electronic
sources; and, of every plan, how long starts take and what the supply gives."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from phasewright.machines.motor import Motor
from phasewright.plan.reading_study import ReadingExpected
from phasewright.plan.study import PlanMotor, PlanSide
from phasewright.quantities.value import Value
from phasewright.readings.take import DRIVE, LOADED, STARTING, UNCOUPLED, taken

THREE_LINES = ("electronic_converter", "utility_service", "direct")
LONGER = (
    "Longer: volts too low at the start, a stiff or loaded machine, a slipping belt. Not up to "
    "speed: switch off at once."
)


def on_drives(plan: PlanSide, mains: Value) -> Iterator[ReadingExpected]:
    """What a drive shows: its link's volts, the motor's amps unloaded, the time of its ramp."""
    for each in plan.motors:
        of = each.figures
        if of.dc_link_v is not None:
            yield taken(
                DRIVE, "dc_link_volts", each.motor, f"link of the drive of {each.motor}",
                "each motor at its heaviest usual work", "link_display",
                _as_mains(of.dc_link_v.mean, mains),
                "Much less: one half of the rectifier, a weak supply or an old link. More: braking "
                "work flows back, or the supply is too high.",
            )  # fmt: skip
        if of.motor_on_drive is not None:
            yield taken(
                UNCOUPLED, "drive_no_load_amps", each.motor, f"output of the drive of {each.motor}",
                "at its base frequency, belt off or coupling open", "display",
                of.motor_on_drive.no_load_current_a,
                "More: base volts or hertz entered wrong, or the wrong link. Less: a lead is open.",
            )  # fmt: skip
        if of.ramp_up_s is not None:
            yield taken(
                STARTING, "ramp_seconds", each.motor, f"{each.motor} from start to speed",
                "by its drive, ramp set as on its sheet", "stopwatch", of.ramp_up_s,
                "Longer: the drive holds back at its current limit: more load than was taken.",
            )  # fmt: skip


def fed(plan: PlanSide) -> Iterator[ReadingExpected]:
    """What every motor without an idler takes from the supply at work."""
    for each in plan.motors:
        of = each.figures
        if each.way in (None, "rotary_converter") or of.input_current_a is None:
            continue
        taken_a, usual = of.input_current_a, of.input_current_a.expected
        value = replace(usual, low=min(taken_a.low, usual.low), high=max(taken_a.high, usual.high))
        yield taken(
            LOADED, "supply_amps", each.motor, f"line 1 of the feed of {each.motor}",
            f"{each.motor} alone, at its heaviest usual work", "clamp", value,
            "More: more load than was taken, or volts too low. Less: less load, or a better choke "
            "than was taken.",
        )  # fmt: skip
        if of.capacitor_voltage_v is not None:
            yield _capacitor(each, of.capacitor_voltage_v)


def uncoupled(plan: PlanSide, motors: tuple[Motor, ...]) -> Iterator[ReadingExpected]:
    """No-load amps of every motor that hangs straight on three even lines."""
    by_id = {each.id: each for each in motors}
    for each in plan.motors:
        motor = by_id[each.motor]
        links = [link for link in motor.links if link.connection == each.connection]
        amps, own = motor.no_load_current_a, motor.circuit_link
        if each.way not in THREE_LINES or not motor.three_phase or motor.speeds:
            continue
        if amps is None or own is None or len(links) != 1:
            continue
        ratio = motor.current_at(links[0]) / motor.current_at(own)
        yield taken(
            UNCOUPLED, "no_load_amps", each.motor, f"each of the three wires to {each.motor}",
            "on three lines of its rated volts, belt off or coupling open", "clamp",
            amps.scaled(ratio),
            "Higher in all: a wrong link or high volts. One line far off: a loose joint, a line "
            "missing, or turns that touch.",
        )  # fmt: skip


def _capacitor(each: PlanMotor, volts: Value) -> ReadingExpected:
    return taken(
        LOADED, "capacitor_volts", each.motor, f"the run capacitor of {each.motor}",
        "running, leads clipped on while it was dead", "voltmeter", volts,
        "More: too much capacitance for so little load. Less: the capacitor is weak or a lead off.",
    )  # fmt: skip


def starting(plan: PlanSide) -> Iterator[ReadingExpected]:
    """Seconds of every start there is now, with the usual and the worst."""
    for each in plan.starts:
        if each.planned or each.time_s is None:
            continue
        high = each.time_high_s or each.time_s
        value = replace(
            each.time_s, low=min(each.time_s.low, high.low), high=max(each.time_s.high, high.high)
        )
        beside = f" with {', '.join(each.with_)} running" if each.with_ else ""
        yield taken(
            STARTING, "start_seconds", each.motor, f"{each.motor} from start to speed",
            f"the machine ready to work{beside}", "stopwatch", value, LONGER,
        )  # fmt: skip


def together(plan: PlanSide) -> Iterator[ReadingExpected]:
    """What the supply gives while a set of several motors works."""
    for each in plan.cases:
        if len(each.running) < 2:
            continue
        names = ", ".join(each.running)
        yield taken(
            LOADED, "supply_amps_together", names, "line 1 at the intake, other loads off",
            f"{names} at work", "clamp", each.supply_current_a,
            "More: see each motor by itself; then count what else is on.",
        )  # fmt: skip


def _as_mains(of: Value, mains: Value) -> Value:
    """Volts that follow the supply's, with its spread."""
    return replace(
        of, low=of.low * mains.low / mains.number, high=of.high * mains.high / mains.number
    )
