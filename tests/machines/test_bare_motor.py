"""Motors without a readable plate, and winding ohms beside a plate (frames from memory)."""

from __future__ import annotations

import math
from typing import Any

import pytest
from plates import motor, number, plate, rules

from phasewright.machines.unreadable import weighed
from phasewright.quantities.errors import TableEnds
from phasewright.quantities.value import Value, spread
from phasewright.tables.frames import stepped_kw

FRAME: dict[str, Any] = {"shaft_height": 0.090, "shaft_diameter": 0.024}


def power(**facts: Any) -> Value:
    of = motor(plate(**facts))
    assert of.power_w is not None
    return of.power_w


def width(of: Value) -> float:
    return math.log(of.high / of.low)


@pytest.mark.parametrize(
    ("speed", "low", "high"), [(1430, 1100, 1500), (2850, 1500, 2200), (950, 550, 1100)]
)
def test_a_frame_and_its_speed(speed: int, low: float, high: float) -> None:
    """90 mm, 24 mm: 1.1 to 1.5 kW with four poles, a step more with two, one or two less with
    six."""
    got = power(**FRAME, speed=speed, frequency=50)
    assert got.low <= low * 1.001
    assert got.high >= high * 0.999
    assert low <= got.number <= high


def test_every_fact_narrows() -> None:
    alone = power(shaft_height=0.090)
    shaft = power(**FRAME)
    turned = power(**FRAME, speed=1430, frequency=50)
    ohms = power(**FRAME, speed=1430, frequency=50, winding_resistance=4.5)
    idle = power(**FRAME, speed=1430, frequency=50, winding_resistance=4.5, no_load_current=2.9)
    widths = [width(of) for of in (alone, shaft, turned, ohms, idle)]
    assert widths == sorted(widths, reverse=True)
    assert len(set(widths)) == len(widths)
    assert widths[0] > math.log(4.0)


def test_height_diameter_ohms_or_idle_amps_alone_give_a_power() -> None:
    """28 mm alone: 2.2 to 4 kW; 4.5 ohm: 1.5 kW; 3.2 A idle on 230 or 400 V: about 1 to 2.6 kW."""
    shaft = power(shaft_diameter=0.028)
    assert shaft.low < 2200.0 < 4000.0 < shaft.high
    assert power(winding_resistance=4.5).number == pytest.approx(1500.0, rel=0.03)
    idle = power(no_load_current=3.2, winding_resistance=5.0)
    assert idle.low < 1400.0 < idle.high


def test_an_idle_current_comes_back_from_the_power_it_speaks_for() -> None:
    of = motor(plate(power=1500, voltage=400, frequency=50, speed=1430, leads=3))
    amps = number(of.no_load_current_a)
    got = power(winding_resistance=4.5, voltage=400, no_load_current=amps, speed=1430, frequency=50)
    assert got.number == pytest.approx(1500.0, rel=0.15)


def test_facts_that_deny_each_other_are_asked_about_and_widen() -> None:
    of = motor(plate(shaft_height=0.112, winding_resistance=38.8))
    assert "frame_and_winding_differ" in rules(of)
    got = of.power_w
    assert got is not None
    assert got.low < 300.0
    assert got.high > 3000.0
    odd = motor(plate(shaft_height=0.090, shaft_diameter=0.038, winding_resistance=4.5))
    assert "height_and_shaft_differ" in rules(odd)


def test_a_frame_nobody_makes_is_told() -> None:
    of = motor(plate(shaft_height=0.150, winding_resistance=4.5))
    assert "no_such_frame" in rules(of)
    assert number(of.power_w) == pytest.approx(1500.0, rel=0.03)
    nothing = motor(plate(shaft_height=0.150))
    assert nothing.circuit is None
    assert nothing.reasons


def test_a_frame_of_the_other_numbering() -> None:
    """4.5 in high with a shaft of 1 1/8 in: 3 to 5 hp."""
    of = motor(
        plate(shaft_height=0.1143, shaft_diameter=0.0286, speed=1740, frequency=60),
        hertz=60.0, region="NEC",
    )  # fmt: skip
    assert 3 * 745.7 <= number(of.power_w) <= 5 * 745.7


def test_weighing_lies_between_and_never_shrinks_on_a_quarrel() -> None:
    one = spread(1000.0, 800.0, 1250.0, "W", "table", "one")
    same = spread(1000.0, 800.0, 1250.0, "W", "table", "two")
    far = spread(4000.0, 3200.0, 5000.0, "W", "table", "two")
    assert width(weighed([one, same])) == pytest.approx(width(one) / math.sqrt(2.0))
    mixed = weighed([one, far])
    assert mixed.number == pytest.approx(2000.0)
    assert width(mixed) > width(one)


def test_steps_of_the_ratings_end() -> None:
    with pytest.raises(TableEnds):
        stepped_kw(1.5, 10, "low")
    assert stepped_kw(1.5, 2, "high") == pytest.approx(2.2)
    assert stepped_kw(1.5, None, "low") == pytest.approx(0.75)


BASE: dict[str, Any] = {
    "power": 2200, "voltage": (230, 400), "current": (8.6, 5.0), "frequency": 50, "speed": 1430,
    "leads": 6,
}  # fmt: skip
HOT = 310.0 / 255.0


def test_winding_ohms_move_the_stator_resistance() -> None:
    """One winding of the delta is three times the star equivalent; copper 20 to 75 degrees."""
    thin = motor(plate(**BASE, winding_resistance=3.4)).circuit
    thick = motor(plate(**BASE, winding_resistance=2.4)).circuit
    assert thin is not None
    assert thick is not None
    assert thick.stator_resistance_ohm < thin.stator_resistance_ohm
    for circuit, ohm in ((thin, 3.4), (thick, 2.4)):
        assert circuit.stator_resistance_ohm == pytest.approx(HOT * ohm / 3.0, rel=0.12)


def test_two_terminals_of_a_closed_winding_are_two_phases() -> None:
    facts = {"power": 2200, "voltage": 400, "current": 5.0, "frequency": 50, "speed": 1430}
    circuit = motor(plate(**facts, leads=3, winding_resistance=5.6)).circuit
    assert circuit is not None
    assert circuit.stator_resistance_ohm == pytest.approx(HOT * 2.8, rel=0.12)


def test_ohms_that_no_such_winding_has_are_not_used() -> None:
    plain = motor(plate(**BASE))
    odd = motor(plate(**BASE, winding_resistance=28.0))
    assert "winding_resistance_not_credible" in rules(odd)
    assert odd.circuit == plain.circuit
