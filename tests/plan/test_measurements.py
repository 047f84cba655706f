"""Which measurement at the supply is most worth making: relations, and the fall by hand."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace

import pytest

import phasewright
from phasewright.job.check import check, motors_of
from phasewright.plan.measurements import locked_dip, measurements
from phasewright.quantities.value import exact
from phasewright.shop.supply import HeaterTest, VoltageRange


def stated(number, unit):
    return exact(number, unit, "measured", "test")


def shop_of(name="farm-sawmill", **supply):
    shop = phasewright.read(f"examples/{name}.shop.yaml")
    return replace(shop, supply=replace(shop.supply, **supply))


def asked(shop):
    return {each.field: each for each in measurements(shop, motors_of(shop))}


def test_the_fall_of_a_start_by_hand():
    """10 kVA at standstill on 230 V, power factor 0.4: 43.5 A; behind 0.05 ohm the volts fall by
    about I R cos = 0.87 V, behind as much reactance by I X sin = 1.99 V."""
    amps, sine = 10e3 / 230.0, math.sqrt(1.0 - 0.4**2)
    assert locked_dip(10e3, 0.05 + 0j, 230.0) == pytest.approx(amps * 0.05 * 0.4 / 230.0, rel=0.02)
    assert locked_dip(10e3, 0.05j, 230.0) == pytest.approx(amps * 0.05 * sine / 230.0, rel=0.02)
    assert locked_dip(10e3, 0j, 230.0) == 0.0


def test_a_softer_supply_and_a_larger_motor_fall_further():
    falls = [locked_dip(10e3, k * (0.1 + 0.05j), 230.0) for k in (1, 2, 4)]
    assert falls == sorted(falls)
    assert locked_dip(20e3, 0.1 + 0.05j, 230.0) > locked_dip(10e3, 0.1 + 0.05j, 230.0)


def test_the_heater_test_leaves_less_than_there_was():
    of = asked(shop_of())["supply impedance"]
    least, most = of.then
    assert of.low < least < most < of.high


def test_what_is_measured_is_not_asked_for():
    assert "supply impedance" in asked(shop_of())
    test = HeaterTest(
        unloaded=stated(238.0, "V"), loaded=stated(234.0, "V"), current=stated(12.0, "A")
    )
    assert "supply impedance" not in asked(shop_of(heater_test=test))
    assert "supply impedance" not in asked(shop_of(loop_impedance=stated(0.4, "ohm")))
    assert "supply impedance" not in asked(shop_of(kind="generator"))
    assert "service rating" in asked(shop_of(service_rating=None))
    assert "service rating" not in asked(shop_of())
    assert "mains volts" in asked(shop_of(measured_voltage=None))
    read = VoltageRange(low=stated(228.0, "V"), high=stated(240.0, "V"))
    assert "mains volts" not in asked(shop_of(measured_voltage=read))


def test_what_decides_stands_first_and_then_what_moves_most():
    """On the farm's weak line the start decides; in the town's pottery nothing does."""
    weak = measurements(
        shop := shop_of(measured_voltage=None, service_rating=None), motors_of(shop)
    )
    assert weak[0].decides
    for each, after in itertools.pairwise(weak):
        assert (not each.decides, -each.moves) <= (not after.decides, -after.moves)
    stiff = check(shop_of("pottery")).measure
    assert stiff
    assert not any(each.decides for each in stiff)


def test_a_longer_feeder_of_the_place_moves_the_fall():
    shop = shop_of()
    (shed,) = shop.places
    cable = replace(
        shop.supply.feeder, length=stated(60.0, "m"), conductor=exact(6e-6, "m2", "stated", "t")
    )
    far = replace(shop, places=(replace(shed, feeder=cable),))
    near, behind = asked(shop)["supply impedance"], asked(far)["supply impedance"]
    assert behind.low > near.low
    assert behind.high > near.high
