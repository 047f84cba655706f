"""Grades within a clause, and relations that hold whatever the figures."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from phasewright.network.flicker import (
    Change,
    impression_s,
    most_starts_an_hour,
    of_starts,
    severity,
    short_term,
)
from phasewright.quantities.errors import TableEnds, UsageError
from phasewright.rules.capacitors import (
    discharged_in_a_minute,
    discharged_v,
    greatest_resistor_ohm,
)
from phasewright.rules.conductors import terminals
from phasewright.rules.earthing import earth_continuity, grounding_conductor
from phasewright.rules.farms import farm_circuit, farm_residual_ma, fire_protection
from phasewright.rules.flicker import (
    conditional_connection,
    flicker_of_supply,
    greatest_impedance_ohm,
    short_term_flicker,
)
from phasewright.rules.nec_motors import feeder_device_a, overload_most_a, overload_setting
from phasewright.rules.nec_places import ground_fault_interrupter, panel_short_circuit
from phasewright.rules.nec_transformers import (
    autotransformer_branch,
    primary_device_a,
    stepped_a,
)
from phasewright.rules.shock_protection import sockets_protected
from phasewright.rules.unbalance import derated_by_curve
from phasewright.tables.clauses import disconnection_by_voltage_s, electrode_conductor_size

amps = st.floats(0.5, 200.0)


@given(st.floats(60.0, 400.0), st.floats(1.0, 1.6))
@settings(max_examples=60, deadline=None)
def test_higher_volts_to_earth_never_get_more_time(volts: float, factor: float) -> None:
    higher = min(400.0, volts * factor)
    for earthing in ("TN-S", "TN-C-S", "TT", "IT"):
        lower_s = disconnection_by_voltage_s(earthing, volts)
        assert disconnection_by_voltage_s(earthing, higher) <= lower_s
        assert disconnection_by_voltage_s("TT", volts) <= lower_s
        assert lower_s <= disconnection_by_voltage_s(earthing, volts, final=False)


def test_above_the_table_no_time_is_made_up() -> None:
    with pytest.raises(TableEnds):
        disconnection_by_voltage_s("TN-S", 480.0)


def test_what_lies_beyond_a_table_could_not_be_judged() -> None:
    (finding,) = grounding_conductor(20.0, 1000.0, 50.0, "feeder").findings
    assert finding.severity == "condition"
    assert "could not be judged" in finding.words
    assert finding.subject == "feeder"


def test_terminals_that_nobody_read_are_a_caution_and_cool_ones_a_stop() -> None:
    grade = {
        marked: terminals(45.0, "8", 50.0, "c", marked_75_c=marked).findings
        for marked in (None, False, True)
    }
    assert [each.severity for each in grade[None] + grade[False]] == ["caution", "stop"]
    assert grade[True] == ()
    assert terminals(45.0, "8", 50.0, "c", design_letter_motor=True).kept
    assert terminals(130.0, "1", 125.0, "c").kept  # above 100 A the 75 °C column


def test_overload_relays_by_service_factor_and_rise() -> None:
    # 13 A: 14.95 without a mark, 16.25 with one; 16.9 and 18.2 where it would not start
    assert overload_most_a(13.0, None, None) == pytest.approx(14.95)
    assert overload_most_a(13.0, 1.0, None) == pytest.approx(14.95)
    assert overload_most_a(13.0, 1.15, None) == pytest.approx(16.25)
    assert overload_most_a(13.0, None, 40.0) == pytest.approx(16.25)
    assert overload_most_a(13.0, None, None, raised=True) == pytest.approx(16.9)
    assert overload_most_a(13.0, 1.25, None, raised=True) == pytest.approx(18.2)
    between, above = overload_setting(16.0, 13.0, 5.0, "m"), overload_setting(17.0, 13.0, 5.0, "m")
    assert between.findings[0].severity == "condition"  # the 115 % are from memory
    assert above.findings[0].severity == "stop"


def test_small_transformers_have_shares_of_their_own() -> None:
    assert primary_device_a(1.5, with_secondary=False) == pytest.approx(4.5)
    assert primary_device_a(6.0, with_secondary=False) == pytest.approx(10.02)
    assert primary_device_a(9.0, with_secondary=False) == 15.0  # 11.25 A and the next above
    assert stepped_a(8.99, "autotransformer", "autotransformer_small") == pytest.approx(15.0133)


@given(amps, st.lists(amps, min_size=1, max_size=5))
@settings(max_examples=60, deadline=None)
def test_a_feeders_device_lets_its_largest_branch_stand(branch: float, others) -> None:
    try:
        device = feeder_device_a(max(branch, 15.0), tuple(others))
    except TableEnds:
        return
    assert device <= max(branch, 15.0) + sum(others) - max(others) + 1e-6


def test_an_autotransformer_between_208_and_240_v_is_excepted_both_ways() -> None:
    for volts in ((208.0, 240.0), (240.0, 208.0), (206.0, 241.0)):
        assert autotransformer_branch(True, False, *volts, "t").kept
    for volts in ((240.0, 480.0), (230.0, 400.0), (240.0, 240.0), (208.0, 208.0)):
        assert not autotransformer_branch(True, False, *volts, "t").kept


def test_receptacles_that_need_no_interrupter() -> None:
    def asked(a: float, phases: int, *, dwelling: bool) -> bool:
        args = (a, 240.0, 120.0, phases, True, False, "c")
        return ground_fault_interrupter(*args, dwelling=dwelling).applies

    assert asked(60.0, 1, dwelling=True)
    assert not asked(60.0, 1, dwelling=False)
    assert asked(60.0, 3, dwelling=False)
    assert not asked(60.0, 3, dwelling=True)
    assert not ground_fault_interrupter(30.0, 240.0, 120.0, 1, False, False, "c").applies


def test_a_panel_without_a_mark_must_be_asked_about() -> None:
    (finding,) = panel_short_circuit(None, 4000.0, True, "p").findings
    assert finding.severity == "condition"
    assert finding.allowed == "4000 A"


def test_no_device_at_all_is_found_where_one_is_needed() -> None:
    for ruling in (
        sockets_protected(16.0, None, "c"), farm_circuit(True, 16.0, None, "c"),
        fire_protection(True, None, "c"), discharged_in_a_minute(240.0, 50e-6, None, "c"),
        earth_continuity(None, 0.1, "m"),
    ):  # fmt: skip
        (finding,) = ruling.findings
        assert finding.severity in ("condition", "stop", "caution")
        assert finding.found
        assert finding.allowed


def test_farms_by_socket() -> None:
    assert [farm_residual_ma(a) for a in (16.0, 32.0, 63.0, None)] == [30.0, 30.0, 100.0, 300.0]


def test_above_five_per_cent_the_curve_says_nothing() -> None:
    (finding,) = derated_by_curve(0.5, 0.06, "m").findings
    assert finding.severity == "condition"
    assert finding.allowed == 0.05


def test_electrode_conductors_end_with_their_table() -> None:
    assert [electrode_conductor_size(line) for line in ("14", "2", "1", "1/0", "2/0", "3/0")] == [
        "8", "8", "6", "6", "4", "4"
    ]  # fmt: skip
    with pytest.raises(TableEnds):
        electrode_conductor_size("4/0")


@given(st.floats(100.0, 500.0), st.floats(1e-6, 500e-6), st.floats(1.0, 90.0))
@settings(max_examples=80, deadline=None)
def test_the_greatest_resistor_lands_on_the_allowed_volts(volts, farads, seconds) -> None:
    ohm = greatest_resistor_ohm(volts, farads, 50.0, seconds)
    assert discharged_v(volts, farads, ohm, seconds) == pytest.approx(50.0)
    assert discharged_v(volts, farads, ohm / 2.0, seconds) < 50.0
    assert discharged_v(volts, farads, 2.0 * ohm, seconds) > 50.0


def test_volts_that_are_low_enough_need_no_resistor() -> None:
    assert math.isinf(greatest_resistor_ohm(24.0, 100e-6, 50.0, 60.0))


changes = st.lists(
    st.builds(Change, st.floats(0.001, 0.1), st.floats(0.1, 120.0), st.floats(0.1, 1.0)), max_size=6
)


@given(changes, st.floats(0.001, 0.1), st.floats(0.1, 60.0))
@settings(max_examples=80, deadline=None)
def test_one_change_more_never_flickers_less(several, size: float, an_hour: float) -> None:
    assert short_term([*several, Change(size, an_hour)]) >= short_term(several)


@given(st.floats(0.002, 0.1), st.floats(0.2, 60.0))
@settings(max_examples=80, deadline=None)
def test_a_step_back_at_most_doubles_the_impression(dip: float, an_hour: float) -> None:
    low, usual, high = of_starts((Change(dip, an_hour),))
    once = max(1.0, 6.0 / an_hour)
    assert usual == pytest.approx(low * 2.0 ** (1.0 / 3.2))
    assert high == pytest.approx(usual * once ** (1.0 / 3.2))
    assert impression_s(2.0 * dip) == pytest.approx(2.0**3.2 * impression_s(dip))


@given(st.floats(0.005, 0.04))
@settings(max_examples=60, deadline=None)
def test_at_the_most_starts_the_severity_is_one(dip: float) -> None:
    often = most_starts_an_hour(dip)
    assert short_term([Change(dip, often)] * 2) == pytest.approx(1.0)


def test_flicker_grades_and_one_start_alone() -> None:
    assert of_starts(()) == (0.0, 0.0, 0.0)
    deep = short_term_flicker(1.2, 1.5, 0.06, "s").findings[0]
    assert "one such start is enough" in deep.words
    often = short_term_flicker(1.2, 1.5, 0.03, "s").findings[0]
    assert often.remedy.value == pytest.approx(most_starts_an_hour(0.03))
    graded = [flicker_of_supply(low, 1.5, "s").findings[0].severity for low in (0.9, 1.1)]
    assert graded == ["caution", "condition"]
    with pytest.raises(UsageError):
        most_starts_an_hour(0.0)
    with pytest.raises(UsageError):
        severity((), 0.0)


@given(st.floats(0.041, 0.3))
@settings(max_examples=60, deadline=None)
def test_on_the_greatest_impedance_the_change_is_its_limit(change: float) -> None:
    most = greatest_impedance_ohm(change, 0.04)
    assert conditional_connection(most, change, 0.04, 60.0, 20.0, "s").kept
    assert not conditional_connection(1.01 * most, change, 0.04, 60.0, 20.0, "s").kept
    assert change * most / greatest_impedance_ohm(1.0, 1.0) == pytest.approx(0.04)
    assert conditional_connection(9.0, change, 0.04, 100.0, 20.0, "s").kept
    assert not conditional_connection(9.0, change, 0.04, 60.0, 80.0, "s").applies
