"""What a drive does to its motor, as figures and words of whole shops."""

from __future__ import annotations

import math
from functools import cache
from itertools import pairwise

import pytest
from stories.judged import codes, tasks, words

from phasewright.files.shop_file import read_text
from phasewright.ways.belt_steps import steps_for
from phasewright.ways.catalogue import CATALOGUE

GB = "kind: single_phase, earthed: line_2, country: GB, voltage: {volts} V, frequency: {hertz} Hz, service_rating: 80 A"
PLATE = "power: 2.2 kW, voltage: 230/400 V, current: 8.6/5.0 A, frequency: 50 Hz, speed: 1420 rpm, leads: 6"
SINGLE_400 = (
    "power: 2.2 kW, voltage: 400 V, current: 5.0 A, frequency: 50 Hz, speed: 1420 rpm, leads: 3"
)


def shop_of(plate, load, wants, machine, motor, volts, hertz):
    of = (
        f"name: M, {machine}motors: [{{name: main, {motor}plate: {{{plate}}}, "
        f"load: {{{load}}}, wants: {{{wants}}}}}]"
    )
    supply = GB.format(volts=volts, hertz=hertz)
    return read_text(
        f"phasewright: 1\nshop: Any\nregion: IEC\nsupply: {{{supply}}}\nmachines:\n  - {{{of}}}\n"
    )


def tasks_of(plate):
    return tasks(shop_of(plate, "kind: spindle", "", "", "", 400, 50))[0]


@cache
def judged(
    way="drive_per_motor", plate=PLATE, load="kind: spindle", wants="", machine="", motor="",
    volts=230, hertz=50,
):  # fmt: skip
    shop = shop_of(plate, load, wants, machine, motor, volts, hertz)
    of_all, site = tasks(shop)
    return next(each for each in CATALOGUE if way == each.NAME).judge(of_all["M/main"], site)


def said(of):
    return (*of.reasons, *of.conditions)


def points(of):
    return {round(point.speed_ratio, 3): point for point in of.figures.torque_speed}


def test_the_curve_runs_from_standstill_to_the_highest_safe_speed():
    of = judged()
    speeds = [point.speed_ratio for point in of.figures.torque_speed]
    assert speeds[0] == 0.0
    assert speeds[-1] == of.figures.speed_max_ratio.number
    assert speeds == sorted(speeds)
    assert {0.1, 0.2, 0.4, 0.6, 0.8, 1.0} <= set(speeds)


def test_what_lasts_is_never_more_than_what_a_minute_gives_nor_that_than_pull_out():
    for load in ("kind: spindle", "kind: pump", "kind: mixer, torque: 0.9"):
        for point in judged(load=load).figures.torque_speed:
            assert point.lasting_with_fan_ratio <= point.short_time_ratio + 1e-6
            assert point.short_time_ratio <= point.pull_out_ratio + 1e-6
            assert point.short_time_ratio <= point.tuned_short_time_ratio + 0.02
            if point.lasting_ratio is not None:
                assert point.lasting_ratio <= point.lasting_with_fan_ratio + 1e-9


def test_its_own_fan_is_a_limit_only_below_the_plates_speed_and_unknown_below_a_tenth():
    at = points(judged())
    assert at[0.0].lasting_ratio is None
    assert at[0.1].lasting_ratio == pytest.approx(0.5)  # the table's first row
    assert at[0.4].lasting_by == "cooling"
    assert at[1.0].lasting_ratio == at[1.0].lasting_with_fan_ratio
    assert at[1.2].lasting_ratio == at[1.2].lasting_with_fan_ratio < at[0.8].lasting_ratio


@pytest.mark.parametrize(
    ("load", "power"), [("kind: pump", 2.0), ("kind: conveyor", 0.0), ("kind: sander", None)]
)
def test_the_need_follows_the_loads_law(load, power):
    of, at = judged(load=load), points(judged(load=load))
    if power is None:
        assert at[0.0].need_ratio != at[0.1].need_ratio
        return
    assert at[0.4].need_ratio == pytest.approx(at[0.8].need_ratio * 0.5**power)
    assert of.figures.speed_max_ratio is not None


def test_hertz_are_those_of_the_shaft_and_some_slip():
    for point in judged(load="kind: conveyor, torque: 0.8").figures.torque_speed:
        shaft_hz = point.speed_ratio * 1420.0 / 30.0
        assert 0.3 < point.frequency_hz - shaft_hz < 6.0


def test_the_flux_fades_beyond_the_volts():
    at = points(judged())
    assert at[0.6].flux_ratio > 0.97
    assert at[1.2].flux_ratio < 0.9
    assert at[1.2].lasting_with_fan_ratio < at[1.0].lasting_with_fan_ratio
    assert at[1.2].line_voltage_v == pytest.approx(
        min(230.0, judged().figures.dc_link_v.mean.number / 2**0.5)
    )


def test_a_speed_that_its_own_fan_does_not_cool_is_told_with_fan_price_and_minutes():
    of = judged(load="kind: conveyor, torque: 0.8", wants="speed: [0.2, 1.0]")
    assert {"too_slow_for_ever"} <= codes(of.conditions)
    assert {"forced_fan_helps"} <= codes(of.reasons)
    assert of.figures.lowest_speed_with_fan_ratio.number <= 0.2
    assert of.figures.forced_fan_price.number > 0.0
    spell = of.figures.slowest_spell_s
    # tau ln((q - q0)/(q - 1)), q = (0.8/0.625)^2, q0 = 0 cold, 0.8^2 warm, tau 30 min, least 15
    q = (0.8 / 0.625) ** 2
    assert spell.number == pytest.approx(1800.0 * math.log(q / (q - 1.0)))
    assert spell.low == pytest.approx(900.0 * math.log((q - 0.64) / (q - 1.0)))


def test_harder_work_is_borne_for_less_long():
    times = [
        judged(load=f"kind: conveyor, torque: {torque}", wants="speed: [0.2, 1.0]")
        .figures.slowest_spell_s.number
        for torque in (0.7, 0.8, 0.95)
    ]  # fmt: skip
    assert times == sorted(times, reverse=True)


def test_a_speed_that_lasts_needs_no_word_of_fans():
    of = judged(load="kind: conveyor, torque: 0.4", wants="speed: [0.4, 1.0]")
    assert not {"forced_fan_helps", "forced_fan_not_enough"} & codes(said(of))
    assert of.figures.slowest_spell_s is None


def test_nothing_turns_slower_than_its_kind_may_whatever_fan():
    """A compressor's splash oil: not below 30 Hz (common practice, no source)."""
    of = judged(load="kind: compressor", wants="speed: [0.3, 1.0]")
    assert of.figures.lowest_speed_with_fan_ratio.number >= 0.6
    assert {"forced_fan_not_enough"} <= codes(of.reasons)


BELTS = "own_speeds: {kind: belts, steps: 5}, "


def test_belts_are_kept_where_the_motor_cannot_keep_the_tools_power():
    light = judged(load="kind: spindle, torque: 0.25", machine=BELTS).figures.belt_steps
    heavy = judged(load="kind: spindle, torque: 0.9", machine=BELTS).figures.belt_steps
    assert light.steps == heavy.steps == 5
    assert light.replaced > heavy.replaced
    assert heavy.from_ratio > light.from_ratio
    for of in (light, heavy):
        assert of.replaced == 5 - len(of.kept)
        assert set(of.kept) <= {1, 2, 3, 4, 5}


def test_kept_steps_reach_all_speeds_the_machine_had():
    of = judged(load="kind: spindle, torque: 0.35", machine=BELTS).figures.belt_steps
    reach = [
        (
            of.step_ratio.number ** (k - 1) * of.from_ratio,
            of.step_ratio.number ** (k - 1) * of.to_ratio,
        )
        for k in of.kept
    ]
    assert reach[0][0] <= 1.0
    assert reach[-1][1] >= of.step_ratio.number**4 - 1e-9
    for (_, up), (down, _) in pairwise(reach):
        assert down <= up + 1e-9


@pytest.mark.parametrize(
    ("wished", "steps", "ratio", "slowest", "fastest", "few"),
    [
        (2.0, 5, 1.6, 0.5, 1.2, 1),  # within one reach of 2.4
        (3.0, 5, 1.6, 0.5, 1.2, 2),  # 2.4 x 1.6 = 3.84
        (6.0, 5, 1.6, 0.5, 1.2, 3),  # 3.84 x 1.6 = 6.1
        (2.6, 5, 1.1, 0.5, 1.2, 2),  # nine steps of 1.1 lie within a reach: 2.4 x 1.1^9
        (3.0, 5, 2.0, 0.8, 1.2, None),  # 1.5 does not reach the next step
        (60.0, 3, 1.6, 0.5, 1.2, None),
    ],
)
def test_how_few_steps_a_wish_asks_for(wished, steps, ratio, slowest, fastest, few):
    assert steps_for(wished, steps, ratio, slowest, fastest) == few


def test_a_wish_beyond_the_drive_alone_asks_for_belts():
    load = "kind: spindle, torque: 0.5"
    narrow = judged(load=load, machine=BELTS, wants="speed: [0.9, 1.1]").figures.belt_steps
    wide = judged(load=load, machine=BELTS, wants="speed: [0.3, 1.2]").figures.belt_steps
    assert narrow.for_wish == 1
    assert wide.for_wish > 1
    assert "asks for one step" in narrow.words


def test_own_speeds_that_cover_the_wish_make_a_drive_needless_for_it():
    within = judged(
        machine="own_speeds: {kind: gears, steps: 8, range: 12}, ", wants="speed: [0.4, 1.2]"
    )
    beyond = judged(
        machine="own_speeds: {kind: gears, steps: 2, range: 1.5}, ", wants="speed: [0.4, 1.2]"
    )
    assert "own_speeds_enough" in codes(within.reasons)
    assert "12.0 to 1" in words(within.reasons)
    assert "own_speeds_fall_short" in codes(beyond.reasons)
    assert "own_speeds_enough" not in codes(beyond.reasons)


def test_delta_on_the_volts_of_star_reaches_87_hz_and_costs_the_amps_of_delta():
    of = judged(wants="speed: [0.8, 1.7]")
    fast = of.figures.delta_87
    assert fast.base_frequency_hz.number == pytest.approx(50.0 * 400.0 / 230.0)
    assert fast.power_ratio.number == pytest.approx(400.0 / 230.0)
    assert fast.output_current_a.number == pytest.approx(8.6)
    assert fast.price.number > of.figures.price.number
    assert "delta_87" not in codes(of.reasons)  # it would turn no faster for that
    assert fast.speed_max_ratio.number <= 1.2  # bearings and rotor of an unknown year
    assert "bearings" in fast.words


def test_a_motor_of_a_late_year_may_turn_by_its_frame():
    """IEC 60034-1, Table 18 (from memory): four poles, height up to 180 mm 2700, 112 mm 3600."""
    late = judged(plate=f"{PLATE}, year: 2012")
    hard = judged(
        plate=f"{PLATE}, year: 2012", load="kind: spindle, torque: 0.9", wants="speed: [0.8, 1.7]"
    )
    assert "delta_87" in codes(hard.reasons)  # what amps and volts of 230 V do not reach
    assert hard.figures.delta_87.speed_max_ratio.number > hard.figures.speed_max_ratio.number
    small = judged(plate=f"{PLATE}, year: 2012, shaft_height: 100 mm")
    early = judged(plate=f"{PLATE}, year: 1975")
    assert early.figures.speed_max_ratio.number == early.figures.speed_max_ratio.high == 1.2
    assert late.figures.speed_max_ratio.number > 1.2
    assert late.figures.delta_87.speed_max_ratio.number == pytest.approx(min(
        400.0 / 230.0, 2700.0 / 1420.0), abs=0.25)  # fmt: skip
    assert (
        small.figures.delta_87.speed_max_ratio.number
        >= late.figures.delta_87.speed_max_ratio.number
    )
    tool = judged(plate=f"{PLATE}, year: 2012", machine="never_above: 1600 rpm, ")
    assert tool.figures.speed_max_ratio.number == pytest.approx(1600.0 / 1420.0)


def test_a_single_voltage_motor_has_no_other_link():
    of = judged(way="step_up_drive", plate=SINGLE_400)
    assert of.figures.delta_87 is None
    assert of.figures.torque_speed
    assert of.figures.insulation.link_peak_v.number == pytest.approx(400.0 * 2**0.5)


def test_a_long_lead_on_400_v_asks_for_a_choke_and_a_very_long_one_for_a_filter():
    near, far, farther = (
        judged(way="step_up_drive", plate=SINGLE_400, motor=f"lead_length: {m} m, ")
        for m in (3, 25, 90)
    )
    assert "lead_too_long" not in codes(said(near))
    assert near.figures.insulation.remedy == "none"
    assert far.figures.insulation.remedy == "output_choke"
    assert farther.figures.insulation.remedy == "sine_filter"
    assert {"lead_too_long"} <= codes(far.conditions) & codes(farther.conditions)
    prices = [of.figures.price.number for of in (near, far, farther)]
    assert prices[1] - prices[0] == pytest.approx(far.figures.insulation.remedy_price.number)
    assert prices == sorted(prices)
    peaks = [of.figures.insulation.peak_v.number for of in (near, far, farther)]
    assert peaks == sorted(peaks)
    assert peaks[-1] <= 2.0 * near.figures.insulation.link_peak_v.number
    assert peaks[1] > 1000.0


def test_a_lead_nobody_told_of_buys_no_filter():
    of = judged(plate=f"{PLATE}, year: 1965")
    assert {part.kind for part in of.offers[0].items} == {"drive_per_motor", "isolator", "ac_choke"}


def test_at_230_v_no_lead_lifts_an_ordinary_winding_beyond_what_it_bears():
    of = judged(motor="lead_length: 30 m, ").figures.insulation
    assert of.peak_v.number < of.allowed_peak_v.number == 1000.0
    assert (of.longest_by, of.longest_lead_m.number) == ("drive", 50.0)


def test_an_old_winding_has_a_short_lead():
    usual = judged(plate=f"{PLATE}, year: 1965")
    assert "old_winding" in codes(usual.reasons)
    assert not {"keep_lead_short", "lead_too_long"} & codes(said(usual))
    of = judged(plate=f"{PLATE}, year: 1965", motor="lead_length: 14 m, ")
    assert of.figures.insulation.longest_by == "old_winding"
    assert "lead_too_long" in codes(of.conditions)
    assert {"old_winding", "lead_too_long"} <= codes(said(of))


def test_bearings_matter_in_large_frames_only():
    assert "bearing_currents" not in codes(said(judged()))
    large = judged(plate=f"{PLATE}, shaft_height: 315 mm")
    assert "bearing_currents" in codes(large.conditions)


def test_hard_breakaway_asks_for_a_measured_winding():
    of = judged(load="kind: mixer, start: loaded, torque: 0.8")
    plain, tuned = points(of)[0.0].short_time_ratio, points(of)[0.0].tuned_short_time_ratio
    needs = points(of)[0.0].need_ratio
    assert ("tune_to_winding" in codes(of.reasons)) == (plain < needs <= tuned)


@pytest.mark.parametrize(
    ("plate", "volts", "hertz", "base"),
    [
        ("power: 3.7 kW, voltage: 190/380 V, current: 16.6/8.3 A, frequency: 50 Hz, speed: 980 rpm", 230, 60, 60.5),
        ("power: 2.2 kW, voltage: 230/460 V, current: 8.4/4.2 A, frequency: 60 Hz, speed: 1740 rpm", 230, 50, 60.0),
    ],
)  # fmt: skip
def test_a_plate_of_the_other_frequency_keeps_its_own_base_point(plate, volts, hertz, base):
    of = judged(plate=plate, volts=volts, hertz=hertz)
    assert of.figures.base_frequency_hz.number == pytest.approx(base, abs=0.05)
    assert "base_point" in codes(of.conditions)
    top = points(of)[1.0]
    assert top.speed_rpm in (980.0, 1740.0)
    # the plate's speed is had at the plate's hertz, whatever the supply's
    assert top.frequency_hz == pytest.approx(50.0 if hertz == 60 else 60.0, rel=0.025)


def test_a_way_of_one_speed_is_not_blamed_where_belts_cover_the_wish():
    belts = "own_speeds: {kind: belts, steps: 5, range: 8}, "
    for way in ("utility_service", "electronic_converter"):
        with_belts = judged(way=way, machine=belts, wants="speed: [0.5, 1.2]")
        without = judged(way=way, wants="speed: [0.5, 1.2]")
        assert "one_speed" in codes(without.conditions)
        assert "one_speed" not in codes(said(with_belts))
        assert "own_speeds_enough" in codes(with_belts.reasons)


def test_one_belt_is_no_choice_of_speeds():
    of = judged(machine="own_speeds: {kind: belts, steps: 1}, ")
    assert not {"own_speeds_enough", "belt_steps_kept"} & codes(said(of))
    assert of.figures.belt_steps is None


def test_torques_are_read_out_where_speeds_are_wished_for():
    assert "torque_over_speed" not in codes(said(judged()))
    of = judged(load="kind: conveyor, torque: 0.4", wants="speed: [0.4, 1.0]")
    line = next(each.words for each in of.reasons if each.code == "torque_over_speed")
    at = points(of)[0.4]
    assert f"40%: {at.lasting_ratio:.0%} ({at.lasting_with_fan_ratio:.0%}, " in line


POLE_CHANGING = (
    "power: 2.0/2.2 kW, voltage: 400 V, frequency: 50 Hz, speed: 1420/2840 rpm, connection: YY/D, "
    "leads: 6"
)


def test_a_two_speed_motor_turns_on_one_winding_as_fast_as_it_is_stamped():
    """1420 rpm of the low winding; bearings and tool were made for 2840, beyond 1.2 times that."""
    of = judged(way="step_up_drive", plate=POLE_CHANGING, load="kind: saw, torque: 0.3")
    assert "drive_winding" in codes(of.conditions)
    assert of.figures.torque_speed[-1].speed_rpm == pytest.approx(2840.0)
    one_speed = judged(way="step_up_drive", plate=SINGLE_400, load="kind: saw, torque: 0.3")
    assert one_speed.figures.speed_max_ratio.number < 1.3


def test_both_looks_at_a_winding_beyond_its_base_point_agree():
    """What the motor itself says of a drive on that winding takes rated torque times base over
    hertz; here it is the circuit's own amps and losses."""
    of = judged(way="step_up_drive", plate=POLE_CHANGING)
    low, high = next(iter(tasks_of(POLE_CHANGING).values())).motor.speeds
    there = low.on_drive.other_speed_torque * high.rated_nm.number / low.rated_nm.number
    assert points(of)[2.0].lasting_with_fan_ratio == pytest.approx(there, rel=0.1)


def test_steps_that_are_all_the_same_are_none():
    of = judged(
        machine="own_speeds: {kind: gears, steps: 3, range: 1}, ", wants="speed: [0.5, 1.0]"
    )
    assert of.figures.belt_steps is None
    assert "own_speeds_fall_short" in codes(of.reasons)
