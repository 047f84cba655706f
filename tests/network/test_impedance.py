"""Impedance of the supply from what the owner can find out."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from phasewright.network.impedance import (
    fault_current,
    of_fault_current,
    of_heater_test,
    of_loop,
    of_transformer,
    supply_impedance,
)  # fmt: skip
from phasewright.quantities.value import Value, exact
from phasewright.shop.supply import Feeder, HeaterTest, Supply


def value(number: float, unit: str) -> Value:
    return exact(number, unit, "measured")


def supply(**given_: object) -> Supply:
    return Supply(
        kind="single_phase", voltage=value(230.0, "V"), frequency=value(50.0, "Hz"),
        **given_,  # type: ignore[arg-type]
    )  # fmt: skip


def heater(unloaded: float, loaded: float, amps: float) -> HeaterTest:
    return HeaterTest(
        unloaded=value(unloaded, "V"), loaded=value(loaded, "V"), current=value(amps, "A")
    )


def test_heater_test_gives_resistance_and_only_a_spread_for_reactance() -> None:
    found = of_heater_test(238.0, 233.0, 12.0)
    assert found.resistance.number == pytest.approx(5.0 / 12.0)
    assert found.resistance.low == pytest.approx(4.0 / 12.0)  # one digit of a 1 V display
    assert found.resistance.high == pytest.approx(6.0 / 12.0)
    assert found.reactance.low == pytest.approx(0.6 * 4.0 / 12.0)
    assert found.reactance.high == pytest.approx(1.5 * 6.0 / 12.0)
    finer = of_heater_test(238.0, 233.0, 12.0, digit_v=0.1)
    assert finer.resistance.high - finer.resistance.low < 0.2 * (
        found.resistance.high - found.resistance.low
    )


def test_loop_and_fault_current_are_the_same_thing_told_twice() -> None:
    loop = of_loop(value(0.35, "ohm"))
    assert loop.ohm == pytest.approx(0.35)
    fault = of_fault_current(value(230.0 / 0.35, "A"), 230.0)
    assert fault.resistance.number == pytest.approx(loop.resistance.number)
    assert fault.reactance.number == pytest.approx(loop.reactance.number)
    assert loop.low_ohm < 0.35 < loop.high_ohm


def test_a_feeder_is_added_where_the_measurement_does_not_hold_it() -> None:
    cable = Feeder(length=value(25.0, "m"), conductor=value(10e-6, "m2"))
    ohm = 2 * 25.0 * 1.83e-3 * (1 + 0.00393 * 20)  # IEC 60228: 1.83 ohm/km at 20 degC, at 40 degC
    bare = supply_impedance(supply(loop_impedance=value(0.35, "ohm")), "IEC")
    fed = supply_impedance(supply(loop_impedance=value(0.35, "ohm"), feeder=cable), "IEC")
    assert fed.resistance.number - bare.resistance.number == pytest.approx(ohm, rel=1e-9)
    at_outlet = supply_impedance(supply(heater_test=heater(238, 233, 12), feeder=cable), "IEC")
    assert at_outlet.resistance.number == pytest.approx(5.0 / 12.0)
    barn = supply_impedance(
        supply(heater_test=heater(238, 233, 12), feeder=cable), "IEC", feeder=cable
    )
    assert barn.resistance.number == pytest.approx(5.0 / 12.0 + ohm)


def test_what_is_not_known_is_assumed_by_region() -> None:
    town = supply_impedance(supply(), "IEC")
    panel = supply_impedance(supply(), "NEC")
    assert (town.resistance.number, town.reactance.number) == (0.25, 0.15)
    assert (panel.resistance.number, panel.reactance.number) == (0.08, 0.06)
    assert {item.field for item in town.assumed} == {"supply resistance", "supply reactance"}
    assert town.resistance.low < 0.25 < town.resistance.high
    known = supply_impedance(supply(loop_impedance=value(0.35, "ohm")), "IEC")
    assert known.assumed == ()
    half = supply_impedance(supply(heater_test=heater(238, 233, 12)), "IEC")
    assert [item.field for item in half.assumed] == ["supply reactance"]


def test_two_that_exclude_each_other_are_told() -> None:
    agreeing = supply(loop_impedance=value(0.35, "ohm"), heater_test=heater(238, 233, 12))
    assert supply_impedance(agreeing, "IEC").findings == ()
    apart = supply(loop_impedance=value(0.35, "ohm"), prospective_fault_current=value(6000.0, "A"))
    findings = supply_impedance(apart, "IEC").findings
    assert len(findings) == 1
    assert "exclude each other" in findings[0].words
    stiff = supply(loop_impedance=value(2.0, "ohm"), heater_test=heater(238, 237.5, 12))
    assert len(supply_impedance(stiff, "IEC").findings) == 1


def test_a_heater_test_without_a_drop_is_questioned() -> None:
    found = supply_impedance(supply(heater_test=heater(236, 237, 12)), "IEC")
    assert any("no drop" in finding.words for finding in found.findings)
    assert found.resistance.number > 0


def test_a_generator_is_soft_by_its_rating() -> None:
    small, large = (
        supply_impedance(
            Supply(kind="generator", voltage=value(230.0, "V"), frequency=value(50.0, "Hz"),
                   contracted_power=value(va, "VA")), "IEC",
        ) for va in (5000.0, 10000.0)
    )  # fmt: skip
    assert small.reactance.number == pytest.approx(0.15 * 230**2 / 5000)
    assert small.reactance.number == pytest.approx(2 * large.reactance.number)
    assert small.assumed


def test_fault_current_has_the_spread_of_the_impedance() -> None:
    found = supply_impedance(supply(), "IEC")
    current = fault_current(found, 230.0)
    assert current.number == pytest.approx(230 / math.hypot(0.25, 0.15))
    assert current.low == pytest.approx(
        230 / math.hypot(found.resistance.high, found.reactance.high)
    )
    assert current.low < current.number < current.high


@settings(deadline=None, max_examples=60)
@given(va=st.floats(5e3, 99e3), factor=st.floats(1.05, 3.0))
def test_a_larger_transformer_is_never_softer(va: float, factor: float) -> None:
    small, large = of_transformer(va, 240.0), of_transformer(min(va * factor, 99.9e3), 240.0)
    assert large.ohm <= small.ohm
    assert large.resistance.low <= large.resistance.number <= large.resistance.high


@settings(deadline=None, max_examples=60)
@given(
    loop=st.one_of(st.none(), st.floats(0.02, 5.0)), drop=st.one_of(st.none(), st.floats(0.5, 20)),
    metres=st.floats(0.0, 200.0), region=st.sampled_from(["IEC", "NEC"]),
)  # fmt: skip
def test_low_and_high_stand_about_the_number(
    loop: float | None, drop: float | None, metres: float, region: str
) -> None:
    shop = supply(
        loop_impedance=None if loop is None else value(loop, "ohm"),
        heater_test=None if drop is None else heater(240.0, 240.0 - drop, 10.0),
        feeder=Feeder(length=value(metres, "m"), conductor=value(16e-6, "m2")),
    )
    found = supply_impedance(shop, region)
    for one in (found.resistance, found.reactance):
        assert 0.0 < one.low <= one.number <= one.high
        assert math.isfinite(one.high)
    assert found.stiffest(230, 50).resistance_ohm <= found.source(230, 50).resistance_ohm
    assert found.source(230, 50).resistance_ohm <= found.softest(230, 50).resistance_ohm
