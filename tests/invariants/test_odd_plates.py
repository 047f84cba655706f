"""Any plate at all, however odd: an answer or a reason, never an exception or a silent figure."""

from __future__ import annotations

import math
from dataclasses import fields
from typing import Any, get_args

from hypothesis import given, settings
from hypothesis import strategies as st
from plates import plate

from phasewright.machines.motor import Motor, motor_of
from phasewright.quantities.codes import (
    BrakeKind,
    MotorKind,
    StampedConnection,
    Starter,
)
from phasewright.quantities.value import Value, exact
from phasewright.shop.machine import Brake, Machine
from phasewright.shop.machine import Motor as ShopMotor

POWERS = st.sampled_from([25.0, 40.0, 120.0, 370.0, 750.0, 2200.0, 5500.0, 40_000.0, 90_000.0])
VOLTS = st.sampled_from(
    [(127,), (230,), (400,), (415,), (230, 400), (400, 690), (208, 230, 460), (220, 240, 380, 415),
     (230, 460), (230, 575), (120, 240, 480), (190, 220, 380)]
)  # fmt: skip
SPEEDS = st.sampled_from([290.0, 570.0, 700.0, 940.0, 1350.0, 1430.0, 1500.0, 1720.0, 2850.0])


@st.composite
def odd_plates(draw: st.DrawFn) -> dict[str, Any]:
    maybe: dict[str, st.SearchStrategy[Any]] = {
        "power": st.one_of(POWERS, st.tuples(POWERS, POWERS)),
        "voltage": VOLTS,
        "current": st.lists(st.floats(0.3, 90.0), min_size=1, max_size=4).map(tuple),
        "speed": st.one_of(SPEEDS, st.tuples(SPEEDS, SPEEDS).filter(lambda s: s[0] != s[1])),
        "frequency": st.sampled_from([50.0, 60.0]),
        "leads": st.sampled_from([3, 4, 6, 9, 12]),
        "connection": st.sampled_from(get_args(StampedConnection)),
        "kind": st.sampled_from(get_args(MotorKind)),
        "shaft_height": st.floats(0.05, 0.3),
        "shaft_diameter": st.floats(0.008, 0.08),
        "winding_resistance": st.floats(0.05, 300.0),
        "no_load_current": st.floats(0.1, 60.0),
        "capacitor": st.booleans(),
        "phases": st.sampled_from([1, 3]),
        "year": st.integers(1930, 2024),
        "power_factor": st.floats(0.3, 0.95),
        "efficiency": st.floats(0.3, 0.96),
    }
    keys = draw(st.sets(st.sampled_from(sorted(maybe)), min_size=1))
    return {key: draw(maybe[key]) for key in sorted(keys)}


@settings(deadline=None, max_examples=120)
@given(
    facts=odd_plates(),
    starter=st.sampled_from([None, *get_args(Starter)]),
    brake=st.sampled_from(get_args(BrakeKind)),
    readings=st.one_of(st.none(), st.tuples(st.floats(190.0, 235.0), st.floats(236.0, 275.0))),
    volts=st.sampled_from([230.0, 240.0, 400.0]),
)
def test_every_plate_is_answered_or_refused_in_words(
    facts: dict[str, Any],
    starter: Starter | None,
    brake: BrakeKind,
    readings: tuple[float, float] | None,
    volts: float,
) -> None:
    of = ShopMotor(name="motor", plate=plate(**facts))
    coil = Brake(kind=brake, coil=exact(180.0, "V", "plate"))
    machine = Machine(name="Machine", motors=(of,), starter=starter, brake=coil)
    got = motor_of(
        machine, of, supply_voltage_v=volts, frequency_hz=50.0, region="IEC",
        path="machines[0].motors[0]", measured_voltage_v=readings,
    )  # fmt: skip
    assert (got.circuit is None) == bool(got.reasons)
    _finite(got)
    ids = [finding.id for finding in got.findings]
    assert len(ids) == len(set(ids))
    if got.circuit is None:
        assert all(reason.words.endswith((".", ")")) or reason.words for reason in got.reasons)
    for speed in got.speeds:
        assert speed.poles > 0
        assert math.isfinite(speed.circuit.stator_resistance_ohm)


def _finite(motor: Motor) -> None:
    for entry in fields(motor):
        value = getattr(motor, entry.name)
        if isinstance(value, Value):
            assert math.isfinite(value.number)
            assert value.low <= value.number <= value.high
    for taken in motor.assumed:
        assert math.isfinite(taken.value.number)
