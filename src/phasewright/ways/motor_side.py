"""What a drive does to its motor, as figures and words: torque over speed, belts, lead, winding."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from phasewright.machines.circuit import Circuit
from phasewright.machines.link import Link
from phasewright.machines.load import Load
from phasewright.machines.performance import rated
from phasewright.machines.torque_on_drive import usual_boost_v
from phasewright.quantities.errors import TableEnds
from phasewright.quantities.value import Value, figure
from phasewright.shop.machine import Wants
from phasewright.tables.drives import (
    bearing_currents_matter,
    heating_minutes,
    least_controlled_speed,
    self_cooled_torque,
)
from phasewright.ways.asked import Asked
from phasewright.ways.belt_steps import belt_steps
from phasewright.ways.drive_speed import Speeds, law_ratio, lowest_of_kind
from phasewright.ways.fast_delta import fast_delta
from phasewright.ways.figures import Figures
from phasewright.ways.motor_lead import insulation_of
from phasewright.ways.motor_side_words import Side, words_of
from phasewright.ways.own_steps import own_range_of
from phasewright.ways.purchase import item, total
from phasewright.ways.site import Site
from phasewright.ways.surroundings import heat_ratio
from phasewright.ways.torque_speed import Envelope, OnDrive, envelope, points, speeds_to
from phasewright.ways.way import Task
from phasewright.ways.wishes import wants_of


@dataclass(frozen=True, slots=True)
class Hung:
    """A motor with its link on a drive that gives `output_v` (rms) and `drive_a` for ever."""

    task: Task
    link: Link
    circuit: Circuit
    load: Load
    speeds: Speeds
    output_v: float
    drive_a: float


def with_motor_side(figures: Figures, hung: Hung, site: Site) -> tuple[Figures, Asked]:
    """The figures with what the drive does to its motor, and what an owner is told of it."""
    task, circuit, load = hung.task, hung.circuit, hung.load
    machine, motor = task.machine, task.motor
    wants = wants_of(machine, motor)
    whole = envelope_of(figures, hung)
    power_w = rated(circuit).shaft_power_w
    heat = whole.on.heat_ratio
    found = replace(
        figures,
        boost_v=figure(
            usual_boost_v(circuit), "V", "machines.torque_on_drive.usual_boost_v",
            {"stator": (circuit.stator_resistance_ohm, "ohm")}, "current of no load at standstill",
        ),
        torque_speed=points(whole, load),
        lowest_speed_with_fan_ratio=_lowest_with_fan(whole, hung),
        forced_fan_price=_fan_price(power_w, site),
        slowest_spell_s=_spell(whole, hung, wants),
        belt_steps=belt_steps(machine, whole, load, wants.speed),
        delta_87=fast_delta(machine, motor, hung.link, load, site, heat, figures.price),
        insulation=insulation_of(machine, motor, power_w, hung.output_v, site),
    )  # fmt: skip
    height = motor.plate.shaft_height
    side = Side(
        wants=wants, speeds=hung.speeds, own=machine.own_speeds,
        own_range=own_range_of(machine.own_speeds), load=load, envelope=whole,
        bearings=bearing_currents_matter(None if height is None else height.number, power_w),
        power_w=power_w, kind_least=lowest_of_kind(circuit, load),
    )  # fmt: skip
    return found, words_of(found, side)


def envelope_of(figures: Figures, hung: Hung) -> Envelope:
    """Torque over speed with the volts that the link leaves under the highest load."""
    link = figures.dc_link_v
    most_v = hung.output_v
    if link is not None:
        most_v = min(most_v, link.mean.number / math.sqrt(2.0))
    fastest = hung.speeds.fastest
    top = 1.0 if fastest is None else max(1.0, fastest.number)
    on = OnDrive(hung.circuit, most_v, hung.drive_a, heat_ratio(hung.task.motor, hung.circuit))
    return envelope(on, speeds_to(top))


def _lowest_with_fan(of: Envelope, hung: Hung) -> Value | None:
    """The slowest speed for ever with a fan of its own, down from the highest it is borne at; None
    where it bears its load nowhere up to the plate's speed."""
    least = max(least_controlled_speed(), lowest_of_kind(hung.circuit, hung.load))
    slowest = None
    for speed in (*(each for each in reversed(of.speed.tolist()) if least < each <= 1.0), least):
        bears = float(np.interp(speed, of.speed, of.with_fan))
        if law_ratio(hung.load, speed) <= bears + 1e-9:
            slowest = speed
        elif slowest is not None:
            break
    if slowest is None:
        return None
    own = hung.speeds.slowest
    inputs = {
        "usual torque": (hung.load.running_torque.number, ""),
        "least a drive holds": (least_controlled_speed(), ""),
        "self-cooled": (own.number, ""),
    }
    return figure(
        min(slowest, own.number), "", "ways.motor_side._lowest_with_fan", inputs,
        "motor circuit with the usual boost; losses of the rated point",
    )  # fmt: skip


def _fan_price(power_w: float, site: Site) -> Value | None:
    try:
        return total([item("forced_fan", power_w, "W", site.quotes)], "fan")
    except TableEnds:
        return None


def _spell(of: Envelope, hung: Hung, wants: Wants) -> Value | None:
    """Seconds the motor, started cold, bears its load at the slowest wished speed by its own fan;
    None where that is for ever, or nothing is known of it. Low: warm from its usual work.

    One thermal body: heat over what is shed goes with the square of torque over lasting torque.
    """
    if wants.speed is None or wants.speed[0] >= min(1.0, hung.speeds.slowest.number - 1e-9):
        return None
    slow = wants.speed[0]
    try:
        bears = self_cooled_torque(slow).number * of.on.heat_ratio
    except TableEnds:
        return None
    lasting = min(bears, float(np.interp(slow, of.speed, of.with_fan)))
    heats = (law_ratio(hung.load, slow) / lasting) ** 2 if lasting > 0.0 else math.inf
    warm = min(1.0, hung.load.running_torque.number) ** 2
    if heats <= 1.0 or math.isinf(heats):
        return None
    constant = heating_minutes()
    cold, hot = (max(0.0, math.log((heats - held) / (heats - 1.0))) for held in (0.0, warm))
    inputs = {
        "speed": (slow, ""),
        "lasting torque": (lasting, ""),
        "time constant": (constant.number, "min"),
    }
    return figure(
        60.0 * constant.number * cold, "s", "ways.motor_side._spell", inputs, constant.source,
        low=60.0 * constant.low * hot, high=60.0 * constant.high * cold,
    )  # fmt: skip
