"""Whatever stands on a plate: an answer or a reason, never an exception, never a NaN."""

from __future__ import annotations

import math
from dataclasses import fields
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from invariants.shops import maybe
from plates import motor, plate

from phasewright.machines.motor import Motor
from phasewright.machines.performance import rated
from phasewright.quantities.value import Value

VOLTS = [(230, 400), (220, 380), 400, 415, 575, (230, 460), (190, 380), (220, 415), (400, 690),
         (300, 400), 690, 110]  # fmt: skip
STAMPS = [None, "D", "Y", "D/Y", "YY/Y", "D/YY", "Y/YY", "YY"]


def at_random(lowest: float, highest: float) -> st.SearchStrategy[float]:
    return st.floats(math.log(lowest), math.log(highest)).map(math.exp)


PLATES = st.fixed_dictionaries(
    {
        "power": maybe(at_random(5.0, 4e5)),
        "voltage": maybe(st.sampled_from(VOLTS)),
        "current": maybe(at_random(0.05, 1500.0)),
        "speed": maybe(st.one_of(st.sampled_from([700, 950, 1430, 1725, 2850, 3450]),
                                 at_random(50.0, 24000.0))),
        "frequency": maybe(st.sampled_from([50, 60, 16.7, 400])),
        "power_factor": maybe(st.floats(0.2, 1.0)),
        "efficiency": maybe(st.floats(0.1, 0.99)),
        "leads": maybe(st.sampled_from([2, 3, 4, 6, 9, 12])),
        "connection": st.sampled_from(STAMPS),
        "starting_current": maybe(st.floats(1.0, 20.0)),
        "starting_torque": maybe(st.floats(0.05, 10.0)),
        "breakdown_torque": maybe(st.floats(1.0, 10.0)),
        "code_letter": maybe(st.sampled_from(["A", "F", "H", "K", "V"])),
        "no_load_current": maybe(at_random(0.01, 1000.0)),
        "shaft_height": maybe(at_random(0.03, 0.5)),
        "winding_resistance": maybe(at_random(1e-3, 1e4)),
        "year": maybe(st.integers(1900, 2026)),
        "kind": st.sampled_from(["cage", "slip_ring", "hermetic", "dc", "torque", "brake_motor"]),
        "capacitor": st.sampled_from([False, False, False, True]),
    }
)  # fmt: skip


def finite(of: Motor) -> bool:
    values = [getattr(of, entry.name) for entry in fields(of)]
    numbers = [v for v in values if isinstance(v, Value)]
    return all(
        math.isfinite(v.number) and math.isfinite(v.low) and math.isfinite(v.high)
        and v.low <= v.number <= v.high
        for v in numbers
    )  # fmt: skip


@given(PLATES, st.sampled_from([(230.0, 50.0, "IEC"), (240.0, 60.0, "NEC")]))
@settings(deadline=None, max_examples=250)
def test_an_answer_or_a_reason(facts: dict[str, Any], supply: tuple[float, float, Any]) -> None:
    given_facts = {key: fact for key, fact in facts.items() if fact is not None}
    of = motor(plate(**given_facts), volts=supply[0], hertz=supply[1], region=supply[2])
    assert finite(of)
    if of.circuit is None:
        assert of.reasons
        assert all(reason.words for reason in of.reasons)
        return
    now = rated(of.circuit)
    assert of.full_load_current_a is not None
    assert of.power_w is not None
    assert now.current_a == pytest.approx(of.full_load_current_a.number, rel=0.01)
    assert now.shaft_power_w == pytest.approx(of.power_w.number, rel=0.01)
    assert of.links
    if of.link is None:
        assert of.link_reasons
