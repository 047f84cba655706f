"""Readings on a converter's lines: they move with the model, and their bounds hold what may be."""

import dataclasses
import math
import random

import pytest

from phasewright.network.supply import Source
from phasewright.plan.reading_study import ReadingExpected
from phasewright.quantities.value import exact, spread
from phasewright.readings.corners import HARD, SOFT, USUAL, Told, idling, iron
from phasewright.readings.lines import idle_lines
from phasewright.readings.take import taken
from phasewright.running.converter import Converter, on_converter
from phasewright.running.network import Between
from phasewright.running.settle import settle
from phasewright.shop.supply import Supply
from phasewright.tables.meters import copper_ratio, meter
from phasewright.tables.motors import default_no_load_current_ratio
from phasewright.ways.idlers import Idler, circuit_of

SUPPLY = Supply(
    kind="single_phase", earthed="line_2", voltage=exact(230.0, "V", "stated"),
    frequency=exact(50.0, "Hz", "stated"),
)  # fmt: skip


def told(c31_f=130e-6, volts=230.0, off=0.05):
    source = Source(volts, 0.25, 0.15, 50.0)
    converter = Converter(4000.0, circuit_of(source, Idler(4000.0)), Between(0.0, 50e-6, c31_f))
    mains = spread(volts, volts * (1.0 - off), volts * (1.0 + off), "V", "assumed")
    return Told(source, converter, mains)


def read(of, code):
    return [each for each in idle_lines(of, SUPPLY) if each.code == code]


def test_every_reading_lies_within_its_bounds():
    for each in idle_lines(told(), SUPPLY):
        assert each.low <= each.value.low <= each.value.number <= each.value.high <= each.high


def test_the_first_point_is_the_plan_s_own():
    of = told()
    assert idling(of)[0] == settle(on_converter(of.source, of.converter, ()))


def test_more_capacitance_lifts_line_3():
    little, much = read(told(110e-6), "line_volts"), read(told(150e-6), "line_volts")
    for k in (1, 2):
        assert much[k].value.number > little[k].value.number


def test_the_ratio_hardly_follows_the_supply_and_the_volts_do():
    low, high = told(volts=224.0), told(volts=236.0)
    volts = [read(of, "line_volts")[2].value.number for of in (low, high)]
    ratio = [read(of, "line_volts_ratio")[1].value.number for of in (low, high)]
    assert volts[1] > 1.02 * volts[0]
    assert ratio[1] == pytest.approx(ratio[0], rel=0.02)


def test_a_supply_that_is_known_better_narrows_the_bounds():
    wide, narrow = (read(told(off=off), "line_volts")[0] for off in (0.06, 0.01))
    assert wide.high - wide.low > narrow.high - narrow.low


def test_line_2_of_a_supply_earthed_there_shows_nothing_to_earth():
    one, two, three = read(told(), "volts_to_earth")
    volts = read(told(), "line_volts")
    assert two.value.number == pytest.approx(0.0, abs=1e-9)
    assert one.value.number == pytest.approx(volts[0].value.number)
    assert three.value.number == pytest.approx(volts[1].value.number)


@pytest.mark.parametrize("seed", range(12))
def test_what_lies_between_the_corners_lies_within_the_bounds(seed):
    of, draw = told(), random.Random(seed)
    source = dataclasses.replace(of.source, voltage_v=draw.uniform(of.mains.low, of.mains.high))
    share = draw.uniform(0.95, 1.05)
    bank = Between(0.0, of.converter.run_f.c23 * share, of.converter.run_f.c31 * share)
    usual = default_no_load_current_ratio(4000.0)
    idler = iron(of.converter.idler, usual, draw.choice((SOFT, USUAL, HARD)))
    at = settle(
        on_converter(source, dataclasses.replace(of.converter, run_f=bank, idler=idler), ())
    )
    for k, each in enumerate(read(of, "line_volts")):
        assert each.low <= at.line_voltages_v[k] <= each.high
    for k, each in enumerate(read(of, "line_amps")):
        assert each.low <= at.machines[0].line_currents_a[k] <= each.high


def test_hard_iron_takes_more_and_soft_less():
    of = told().converter.idler
    usual = default_no_load_current_ratio(4000.0)
    soft, own, hard = (iron(of, usual, end).magnetising_ohm for end in (SOFT, USUAL, HARD))
    assert soft > own > hard


def test_a_meter_widens_both_ends_and_never_below_nothing():
    by = meter("clamp")
    assert by.around(10.0, 12.0) == pytest.approx((9.5, 12.56))
    assert by.around(0.0, 0.0)[0] == 0.0


def test_a_winding_80_kelvin_up_has_31_percent_more_ohms():
    # IEC 60034-1, 8.6.2: (235 + 100) / (235 + 20), from memory
    assert copper_ratio(80.0) == pytest.approx(335.0 / 255.0)


def test_a_bound_is_told_as_one():
    value = exact(0.3, "s", "table", "here")
    bound = taken(6, "residual_test", "x", "a", "b", "residual", value, "c", within=(0.0, 0.3))
    assert isinstance(bound, ReadingExpected)
    assert bound.limit
    assert (bound.low, bound.high) == (0.0, 0.3)
    assert math.isclose(bound.value.number, 0.3)
