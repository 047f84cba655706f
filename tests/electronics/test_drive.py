"""A drive on one phase: its draw with spread, its link power, its output, its fit to a motor."""

from __future__ import annotations

import math

import pytest

from phasewright.electronics.drive import (
    drive_input,
    drive_output,
    link_power_w,
    motor_efficiency_on_drive,
    motor_share,
    three_phase_type_share,
    usual_choke_h,
)
from phasewright.electronics.rectifier import Bridge, settle_bridge
from phasewright.network.supply import Source
from phasewright.quantities.errors import NotComputable
from phasewright.quantities.value import exact, spread

TOWN = Source(230.0, 0.25, 0.15, 50.0)


def power(number: float):
    return exact(number, "W", "stated")


def test_link_power_is_shaft_over_both_efficiencies() -> None:
    # 2.2 kW drive: 95 % (94 to 96), common figure of makers, from memory
    value = link_power_w(2200.0, spread(0.80, 0.78, 0.82, "", "stated"), 2200.0)
    assert value.number == pytest.approx(2200.0 / 0.80 / 0.95)
    assert value.low == pytest.approx(2200.0 / 0.82 / 0.96)
    assert value.high == pytest.approx(2200.0 / 0.78 / 0.94)
    assert {entry.name for entry in value.inputs} >= {"shaft power", "motor efficiency"}


def test_a_motor_loses_more_on_a_drive() -> None:
    value = motor_efficiency_on_drive(0.80)
    # 12.5 % more loss on 0.25 W lost a watt given
    assert value.number == pytest.approx(1.0 / (1.0 + 0.25 * 1.125))
    assert value.low < value.number < value.high < 0.80


@pytest.mark.parametrize("power_w", [370.0, 750.0, 2200.0, 4000.0])
def test_spread_encloses_every_link_capacitor_in_range(power_w: float) -> None:
    draw = drive_input(TOWN, power(power_w), power_w)
    for per_kw in (200.0, 300.0, 400.0, 1000.0):
        state = settle_bridge(Bridge(TOWN, per_kw * 1e-9 * power_w, power_w))
        assert draw.current_a.low <= state.current_a <= draw.current_a.high
    assert draw.current_a.low < draw.current_a.number <= draw.current_a.high
    # common practice: 1.5 to 2.4 times power over volts without a choke (a check, not a source)
    assert 1.5 < draw.current_a.number * 230.0 / power_w < 2.5


def test_an_unknown_choke_only_widens_the_spread_downward() -> None:
    without = drive_input(TOWN, power(2200.0), 2200.0)
    unknown = drive_input(TOWN, power(2200.0), 2200.0, ac_choke_h=None)
    fitted = drive_input(TOWN, power(2200.0), 2200.0, ac_choke_h=usual_choke_h(230.0, 50.0, 2200.0))
    assert unknown.current_a.number == without.current_a.number
    assert unknown.current_a.high == without.current_a.high
    assert unknown.current_a.low == pytest.approx(fitted.current_a.low)
    assert fitted.current_a.number < without.current_a.low
    # 4 % of 230 V squared over 2200 W at 50 Hz
    assert fitted.ac_choke_h == pytest.approx(0.04 * 230.0**2 / 2200.0 / (100.0 * math.pi))


def test_the_smallest_link_has_the_deepest_valleys() -> None:
    draw = drive_input(TOWN, power(2200.0), 2200.0)
    # computed reference case: lowest link 206 V at 200 uF/kW, 279 V at 400, 295 V at 1000
    assert draw.link_min_v.low == pytest.approx(206.0, abs=1.0)
    assert draw.link_min_v.number == pytest.approx(279.0, abs=1.0)
    assert draw.link_min_v.high == pytest.approx(295.0, abs=1.0)


def test_a_known_link_leaves_no_spread() -> None:
    draw = drive_input(TOWN, power(2200.0), 2200.0, capacitance_f=660e-6)
    # computed reference case: 2.2 kW, 660 uF without choke draws 16.55 A
    assert draw.current_a.number == pytest.approx(16.55, rel=0.003)
    assert draw.current_a.sure


def test_uncertain_power_widens_the_spread() -> None:
    sure = drive_input(TOWN, power(2200.0), 2200.0)
    unsure = drive_input(TOWN, spread(2200.0, 1900.0, 2500.0, "W", "stated"), 2200.0)
    assert unsure.current_a.low < sure.current_a.low
    assert unsure.current_a.high > sure.current_a.high


def test_the_lowest_link_bounds_the_undistorted_output() -> None:
    state = settle_bridge(Bridge(TOWN, 880e-6, 2200.0))
    output = drive_output(state)
    # computed reference case: mean 309 V, lowest 279 V
    assert output.mean_v == pytest.approx(309.0 / math.sqrt(2.0), rel=0.004)
    assert output.lowest_v == pytest.approx(279.0 / math.sqrt(2.0), rel=0.004)


@pytest.mark.parametrize(
    ("motor_a", "drive_a", "verdict"),
    [
        (4.6, 7.1, "suits"),
        (10.0, 10.0, "suits"),
        (10.01, 10.0, "refused"),
        (3.0, 10.0, "suits"),
        (2.99, 10.0, "with_conditions"),
        (2.0, 10.0, "with_conditions"),
        (1.99, 10.0, "refused"),
    ],
)
def test_motor_share_of_the_drive(motor_a: float, drive_a: float, verdict: str) -> None:
    got, reason = motor_share(motor_a, drive_a)
    assert got == verdict
    assert f"{drive_a:.3g} A" in reason.words


def test_the_trade_s_two_thirds_rule_is_told_below_it_only() -> None:
    assert "two thirds" in motor_share(5.0, 10.0)[1].words
    assert "two thirds" not in motor_share(8.0, 10.0)[1].words


def test_a_share_of_nothing_is_no_answer() -> None:
    with pytest.raises(NotComputable):
        motor_share(0.0, 7.0)


def test_three_phase_type_is_halved_unless_its_maker_prints_more() -> None:
    share, terms = three_phase_type_share()
    assert share == 0.5
    assert any("maker allows" in term.words for term in terms)
    assert three_phase_type_share(0.6)[0] == 0.6
