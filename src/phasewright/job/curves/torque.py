"""A motor's torque over its speed, on three even lines and on the lines it has, with its load."""

from __future__ import annotations

import math

import numpy as np

from phasewright.job.curves.chart import Chart, Curve, Number, Sheet, Spot, numbers
from phasewright.job.curves.hung import Hung
from phasewright.machines.performance import curve
from phasewright.quantities.errors import NoOperatingPoint
from phasewright.quantities.value import Input
from phasewright.running.settle import held_at, settle
from phasewright.ways.on_two_lines import Linked
from phasewright.ways.torque_speed import need_at

SLIPS = np.concatenate([np.linspace(1.0, 0.2, 25), np.linspace(0.18, 0.0, 31)])
"""Finer where the torque falls steeply."""
EVEN, MADE = "on three even lines", "on the lines it has"


def torque_sheet(motor: Linked, hertz: float, on: Hung | None) -> Sheet:
    """Torque from standstill to the speed of the field; `on` adds the lines it really has."""
    circuit = motor.circuit
    even = curve(circuit, SLIPS, frequency_hz=hertz)
    field_rpm = 120.0 * hertz / circuit.poles
    speeds = numbers(field_rpm * (1.0 - SLIPS))
    loads = tuple(
        need_at(motor.load, max(0.0, float(rpm or 0.0)) / circuit.rated_speed_rpm) * motor.rated_nm
        for rpm in speeds
    )
    curves = [Curve(EVEN, numbers(even.shaft_torque_nm), broken=on is not None)]
    amps = [Curve(EVEN, numbers(even.current_a), broken=on is not None)]
    spots = []
    if on is not None:
        torque, most = _held(on)
        curves.append(Curve(MADE, torque))
        amps.append(Curve("on the lines it has, fullest line", most))
        spots = _runs_at(on)
    curves.append(Curve("its load", loads, broken=True))
    points = tuple(float(rpm or 0.0) for rpm in speeds)
    inputs = (
        Input("line volts", circuit.line_voltage_v, "V"),
        Input("frequency", hertz, "Hz"),
        Input("rated torque", motor.rated_nm, "N m"),
        *(() if on is None else on.inputs[:6]),
    )
    formula = "machines.performance.curve" if on is None else "running.settle.held_at"
    source = "equivalent circuit in the three-line network (docs/calculations)"
    name = motor.motor.id

    def chart(key: str, title: str, up: tuple[str, str], of: list[Curve]) -> Chart:
        return Chart(
            key, title, "", "speed", "rpm", *up, points, tuple(of), formula, inputs, source,
            tuple(spots),
        )  # fmt: skip

    words = ["The load's curve begins with what it takes to break it away at its usual work."]
    if on is not None:
        words.append("On its own lines everything settles at each speed, its idler and all.")
    words.append(
        "Leakage is taken as it is when running; a start in time counts that its iron saturates."
    )
    return Sheet(
        f"Torque of {name} over its speed",
        tuple(words),
        (
            chart("torque", f"Torque of {name} and of its load", ("torque", "N m"), curves),
            chart("torque-amps", f"Amps of {name} on the way up", ("amps", "A"), amps),
        ),
    )


def _held(on: Hung) -> tuple[tuple[Number, ...], tuple[Number, ...]]:
    """Torque and the fullest line's amps at each slip; None where the others do not keep on."""
    name = on.motor.motor.id
    torques: list[Number] = []
    amps: list[Number] = []
    for slip in SLIPS:
        try:
            state = held_at(on.network, name, float(slip)).machines[on.place]
        except NoOperatingPoint:
            torques.append(None)
            amps.append(None)
            continue
        torques.append(state.shaft_torque_nm)
        amps.append(max(state.line_currents_a))
    return tuple(torques), tuple(amps)


def _runs_at(on: Hung) -> list[Spot]:
    """Where it comes to rest at its rated torque; nothing where it does not."""
    try:
        state = settle(on.network).machines[on.place]
    except NoOperatingPoint:
        return []
    return [] if math.isnan(state.speed_rpm) else [Spot(state.speed_rpm, "at rated torque")]
