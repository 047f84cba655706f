"""Readings of a supply beside each other: which contradict, and what each may have wrong."""

from __future__ import annotations

import pytest

from phasewright.network.impedance import supply_impedance
from phasewright.network.impedance_readings import Impedance, narrowed
from phasewright.quantities.value import exact, spread
from phasewright.shop.supply import Feeder, HeaterTest, Supply, VoltageRange


def volts(number):
    return exact(number, "V", "measured")


def supply(**more):
    return Supply(
        kind="single_phase", voltage=volts(230.0), frequency=exact(50.0, "Hz", "stated"), **more
    )


def ohm(number):
    return exact(number, "ohm", "measured")


def heater(unloaded, loaded, amps=12.0):
    return HeaterTest(
        unloaded=volts(unloaded), loaded=volts(loaded), current=exact(amps, "A", "measured")
    )


def read(low, high):
    return VoltageRange(low=volts(low), high=volts(high))


def found(of):
    return supply_impedance(of, "IEC").findings


def test_both_readings_are_told_with_what_may_be_wrong_with_each():
    (of,) = found(supply(loop_impedance=ohm(3.0), heater_test=heater(238.0, 237.0)))
    assert "3 ohm" in of.words
    assert "heater test" in of.words
    assert "electrode" in of.words  # of the loop reading
    assert "longer cable" in of.words  # of the heater test


@pytest.mark.parametrize(
    ("more", "questioned"),
    [
        ({"measured_voltage": read(228.0, 241.0), "heater_test": heater(238.0, 234.0)}, False),
        ({"measured_voltage": read(228.0, 241.0), "heater_test": heater(119.0, 117.0)}, True),
        ({"measured_voltage": read(114.0, 122.0)}, True),
        ({"measured_voltage": read(210.0, 253.0)}, False),
    ],
)
def test_volts_that_do_not_fit_each_other_are_questioned(more, questioned):
    rules = [of.id for of in found(supply(**more))]
    assert ("supply.volts_differ" in rules) == questioned


def test_behind_a_told_feeder_too_much_is_as_wrong_as_too_little():
    """60 m of 10 mm2 there and back are 0.26 ohm hot; 0.3 ahead of it cannot be 3 behind."""
    cable = Feeder(length=exact(60.0, "m", "stated"), conductor=exact(10e-6, "m2", "stated"))
    fits = supply(loop_impedance=ohm(0.3), heater_test=heater(238.0, 232.5), feeder=cable)
    assert found(fits) == ()
    far = supply(loop_impedance=ohm(0.3), heater_test=heater(238.0, 202.0), feeder=cable)
    assert len(found(far)) == 1
    unknown = supply(loop_impedance=ohm(0.3), heater_test=heater(238.0, 202.0))
    assert found(unknown) == ()  # whatever lies between is not known


def impedance(number, low, high, *, with_feeder=False):
    of = spread(number, low, high, "ohm", "measured")
    return Impedance(of, of, "heater test", with_feeder)


def test_a_second_reading_of_the_same_loop_narrows_the_spread_and_keeps_the_figure():
    of = narrowed(impedance(0.4, 0.2, 0.9), impedance(0.5, 0.3, 0.6))
    assert (of.resistance.number, of.resistance.low, of.resistance.high) == (0.4, 0.3, 0.6)


def test_one_that_excludes_it_or_is_of_another_loop_narrows_nothing():
    of = impedance(0.4, 0.2, 0.9)
    assert narrowed(of, impedance(2.0, 1.0, 3.0)) == of
    assert narrowed(of, impedance(0.5, 0.3, 0.6, with_feeder=True)) == of
