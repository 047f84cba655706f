"""What load, motor and machine ask of three equal lines. Common practice, no source."""

from __future__ import annotations

from phasewright.quantities.codes import WayName
from phasewright.quantities.finding import Reason
from phasewright.rules.generated_line import neutral
from phasewright.shop.machine import Machine
from phasewright.ways import wishes
from phasewright.ways.asked import Asked, by_rules, condition, refusal, told
from phasewright.ways.balanced import Balanced, balanced
from phasewright.ways.conditions import (
    demand_ratio,
    of_cautions,
    of_direction,
    typical_ratio,
)
from phasewright.ways.lasting import mean_ratio
from phasewright.ways.line_start import LineStarts, as_linked, asked_of_start
from phasewright.ways.motor_kind import kept_out, of_motor_kind
from phasewright.ways.way import Task


def on_lines(
    task: Task, way: WayName, line_voltage_v: float, frequency_hz: float
) -> Balanced | tuple[Reason, ...]:
    """The motor on three equal lines of these volts, or why it does not run there."""
    if not task.motor.three_phase:
        return (Reason("single_phase_motor", "A single-phase motor needs no third line."),)
    against = kept_out(task.motor, task.machine, way)
    if against:
        return against
    one = balanced(task.motor, line_voltage_v, frequency_hz)
    return (one,) if isinstance(one, Reason) else one


def asked_on_three_lines(
    task: Task, one: Balanced, way: WayName, starts: LineStarts | None, *,
    has_neutral: bool, behind_converter: bool,
) -> Asked:  # fmt: skip
    """Everything that stands against it, is a condition of it, or is told of it; `starts` in time,
    where it is switched straight on."""
    return (
        Asked(conditions=tuple(each for each in one.why if each.code in _WEAK))
        + of_cautions(one.load)
        + of_motor_kind(one.motor, task.machine, way)
        + of_direction(one.load, one.motor.id)
        + wishes.without_drive(
            task.machine, one.motor, lone=False if behind_converter else None
        )
        + by_rules(neutral(task.machine.needs_neutral, has_neutral, task.machine.name))
        + _starter(task.machine, way)
        + _lasting(one)
        + (_breakaway(one) if starts is None else asked_of_start(as_linked(one), starts))
    )  # fmt: skip


NEAR = 0.05
"""Shares of torque by heat nearer than this are not told apart (common practice, no source)."""
_WEAK = ("flux_low_condition", "flux_high_condition", "other_frequency")


def _starter(machine: Machine, way: WayName) -> Asked:
    match machine.starter:
        case "star_delta":
            return told(
                "star_delta_start",
                "Its star-delta starter may stay where the motor runs in delta: a third of the "
                "starting amps and of the torque; the figures here are straight on.",
            )
        case "drive_inside" if way == "electronic_converter":
            return condition(
                "drive_inside",
                "It has a drive inside, whose rectifier takes its current in peaks: ask both "
                "makers whether the source bears it.",
            )
        case "soft_starter" if way == "electronic_converter":
            return condition(
                "soft_starter_behind",
                "Its soft starter chops the source's volts: ask the maker, or bypass it.",
            )
        case _:
            return Asked()


def _lasting(one: Balanced) -> Asked:
    typical, demand = typical_ratio(one.load), demand_ratio(one.load)
    mean = mean_ratio(one.load)
    if one.usable_ratio < mean - NEAR:
        return refusal(
            "too_little_torque",
            f"By the heat of its windings it may give {one.usable_ratio:.0%} of its torque for "
            f"ever at {one.line_voltage_v:.0f} V; the machine usually asks for {typical:.0%}, "
            f"{mean:.0%} as a mean over its duty.",
        )
    if one.usable_ratio < mean:
        return condition(
            "runs_hot",
            f"At {one.line_voltage_v:.0f} V it gets a little hotter than at its plate: by the heat "
            f"of its windings {one.usable_ratio:.0%} of its torque for ever, {mean:.0%} asked as a "
            "mean over its duty. Feel it after an hour, or fit a thermostat.",
        )
    if one.usable_ratio < min(demand, 1.0) - NEAR:
        return condition(
            "less_power",
            f"At {one.line_voltage_v:.0f} V it may give {one.usable_ratio:.0%} of its torque for "
            "ever; set the relay to the plate's amps.",
        )
    return Asked()


def _breakaway(one: Balanced) -> Asked:
    wanted = one.load.breakaway_torque
    if one.starting_ratio >= wanted.high:
        return Asked()
    words = (
        f"At standstill it gives {one.starting_ratio:.0%} of rated torque even on three equal "
        f"lines; the machine usually needs {wanted.number:.0%} to break away, at the worst "
        f"{wanted.high:.0%}: start it eased."
    )
    return condition("hard_to_break_away", words)
