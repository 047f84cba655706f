"""What the converter of a plan starts at most, and what it does when it is not brought up right."""

from __future__ import annotations

import math

from phasewright.plan.arrays import Choice
from phasewright.plan.options import shared_of
from phasewright.plan.problem import Solution
from phasewright.plan.start_study import (
    IdlerNotTurned,
    LargestStartSide,
    TurnedBack,
    WrongDirection,
)
from phasewright.plan.start_told import WHERE
from phasewright.plan.starts import HOW, converter_of, pairs_of
from phasewright.quantities.codes import LOAD_KINDS
from phasewright.quantities.value import Value, figure
from phasewright.running.converter import Converter
from phasewright.starts.outcome import Outcome
from phasewright.tables.loads import load_kind
from phasewright.ways.converter_design import Design
from phasewright.ways.figures import Range
from phasewright.ways.largest_start import largest_starts, usual_demand
from phasewright.ways.on_two_lines import Linked
from phasewright.ways.wrong_direction import Backwards, NotTurned, backwards, not_turned

RELAY = (
    "A phase-sequence relay ahead of the outlets keeps them dead until the idler turns the right "
    "way; without one every machine that is switched on follows it."
)


def largest_of(choice: Choice, plan: Solution) -> tuple[LargestStartSide, ...]:
    """The largest motor the plan's converter starts, by kind of load; empty without one."""
    on = converter_of(choice, plan)
    if on is None:
        return ()
    kinds = tuple(load_kind(name) for name in LOAD_KINDS)
    found = largest_starts(on.source, on.converter, kinds, choice.facts.site.region)
    return tuple(
        LargestStartSide(
            load=one.load,
            power_w=figure(
                one.power_w, "W", "ways.largest_start.largest_start",
                {
                    "idlers": (on.converter.idler_power_w, "W"),
                    "supply": (on.source.voltage_v, "V"),
                    "torque to break away, over rated": (usual_demand(kind).breakaway, ""),
                    "inertia over the rotor's": (kind.inertia_ratio.number, ""),
                },
                HOW,
            ),
            limited_by=one.limited_by,
        )
        for one, kind in zip(found, kinds, strict=True)
    )  # fmt: skip


def wrong_direction_of(choice: Choice, plan: Solution) -> WrongDirection | None:
    """The plan's converter not brought up the right way, and each of its motors then."""
    on, shared = converter_of(choice, plan), shared_of(choice.facts, choice.states[plan.state])
    if on is None or shared is None or shared.design is None:
        return None
    hung = [
        unit
        for unit, index in enumerate(plan.options)
        if index >= 0 and choice.options[index].shared
    ]
    motors = tuple(pair[1] for pair in pairs_of(choice, hung))
    start = shared.design.start
    stands = not_turned(on.source, on.converter, start)
    back = backwards(on.source, on.converter, start, motors)
    inputs = {
        "supply": (on.source.voltage_v, "V"),
        "supply resistance": (on.source.resistance_ohm, "ohm"),
        "supply reactance": (on.source.reactance_ohm, "ohm"),
        "idlers": (on.converter.idler_power_w, "W"),
    }

    def out(number: float, unit: str) -> Value:
        return figure(number, unit, WHERE, inputs, HOW)

    v12, v23, v31 = back.volts_v
    low, usual, high = stands.too_hot_s or (math.inf, math.inf, math.inf)
    turned = [_motor(motor, told, out(told.end_speed_rpm, "rpm"))
              for motor, told in zip(motors, back.motors, strict=False)]  # fmt: skip
    follow = {each.motor for each in turned}
    behind_drives = [
        choice.facts.units[unit].id
        for unit in hung
        if choice.facts.units[unit].id not in follow and back.stays
    ]
    turned += [TurnedBack(name, None, False, _behind_drive(name)) for name in behind_drives]
    return WrongDirection(
        not_turned=IdlerNotTurned(
            runs_up=bool(stands.idler.runs_up),
            supply_current_a=out(stands.supply_a, "A"),
            idler_current_a=out(stands.idler_a, "A"),
            too_hot_s=Range(low, out(usual, "s"), high) if math.isfinite(high) else None,
            words=_stands_words(shared.design, stands),
        ),
        stays_backwards=back.stays,
        idler_speed_rpm=out(back.speeds_rpm[0], "rpm"),
        line_voltages_v=(out(v12, "V"), out(v23, "V"), out(v31, "V")),
        motors=tuple(turned),
        words=_back_words(on.converter, back),
    )


def _motor(motor: Linked, told: Outcome, speed_rpm: Value) -> TurnedBack:
    load, rpm, name = motor.load, told.end_speed_rpm, motor.motor.id
    if rpm >= 0.0:
        return TurnedBack(name, speed_rpm, False, f"{name} does not turn backwards then.")
    slow = "" if rpm < -0.5 * motor.circuit.synchronous_speed_rpm else "slowly "
    words = f"{name} then turns {slow}backwards, at {-rpm:.0f} rpm: {load.kind.wrong_direction}."
    if load.wrong_direction_harms:
        words = f"Harm: {words}"
    return TurnedBack(name, speed_rpm, load.wrong_direction_harms, words)


def _behind_drive(name: str) -> str:
    return f"{name} hangs behind a drive, which makes its direction itself: it turns as always."


def _stands_words(design: Design, stands: NotTurned) -> str:
    cause = (
        "With its pony motor at rest" if design.start.method == "pony_motor"
        else "With a dead start capacitor"
    )  # fmt: skip
    if stands.idler.runs_up:
        return (
            f"{cause} the idler still runs up, by its run capacitors: {stands.idler.words} It does "
            "so less surely when it is cold or stiff."
        )
    low, usual, _ = stands.too_hot_s or (math.inf, math.inf, math.inf)
    hot = f"its winding is too hot after {usual:.0f} s, after {low:.0f} s when it was warm already"
    return (
        f"{cause} the idler does not come up to speed and takes {stands.supply_a:.0f} A from the "
        f"supply; {hot}. Switch it off at once, and do not turn it by hand."
    )


def _back_words(converter: Converter, back: Backwards) -> str:
    v12, v23, v31 = back.volts_v
    many = "idlers" if converter.beside else "idler"
    if not back.stays:
        return (
            f"Turned backwards when it is switched on, the {many} does not stay so: it ends at "
            f"{back.speeds_rpm[0]:.0f} rpm. {RELAY}"
        )
    return (
        f"Turned backwards when it is switched on, the {many} goes on backwards, at "
        f"{-back.speeds_rpm[0]:.0f} rpm, with {v12:.0f}, {v23:.0f} and {v31:.0f} V between its "
        f"lines: a voltmeter does not show it. {RELAY}"
    )
