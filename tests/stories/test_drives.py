"""Drives in invented shops: which amps count, what they draw, what they cannot do.

Ranges of input current are common practice checked by arithmetic: shaft power over motor and
drive efficiency, over volts and a power factor of 0.6 to 0.9. No source unless one is named.
"""

import pytest
from stories.judged import codes, judged, motor, studied, told_of, within, words


def drive(shop, machine):
    return judged(shop, f"{machine}/main", "drive_per_motor")


def test_an_old_bench_lathe_is_linked_in_delta_and_its_larger_amps_count():
    of, one = drive("bench_lathe", "Lathe"), motor("bench_lathe", "Lathe/main")
    assert (one.poles, one.synchronous_speed_rpm) == (4, 1500.0)
    assert of.verdict == "suits"
    assert of.link.connection == "delta"
    assert one.current_at(of.link) == pytest.approx(2.6, rel=0.01)
    assert of.figures.drive_rating_a.number >= 2.6
    assert within(of.figures.input_current_a.expected, 4.0, 6.0)
    assert "old_winding" in codes(of.reasons)
    assert "10 m" in words(of.reasons)


@pytest.mark.parametrize(
    ("shop", "machine", "low", "high"),
    [
        ("mill_and_drum", "Mill", 13.0, 20.0),
        ("mill_and_drum", "Drum mill", 9.0, 14.0),
        ("one_outlet", "Mill", 9.0, 14.0),
        ("one_outlet", "Lathe", 22.0, 31.0),
        ("gear_lathes", "Marked for both", 32.0, 46.0),
        ("compressor", "Compressor", 14.0, 20.0),
    ],
)
def test_single_phase_input_lies_where_arithmetic_puts_it(shop, machine, low, high):
    """A habit divides watts by root three and gets 4.2 A for 2 hp: wrong on one phase."""
    current = drive(shop, machine).figures.input_current_a
    assert within(current.expected, low, high)
    assert current.low <= current.expected.number <= current.high


def test_a_drive_made_for_three_phases_gives_half_and_asks_its_maker():
    of = drive("gear_lathes", "Marked for both")
    assert of.figures.drive_rating_a.number >= motor("gear_lathes", "Marked for both/main") \
        .current_at(of.link)  # fmt: skip
    assert of.figures.drive_rating_w.number >= 2 * 5600.0 * 0.9
    assert {"maker_allows", "phase_loss_off", "input_choke"} <= codes(of.conditions)


def test_a_mill_of_8_9_a_takes_a_single_phase_drive_of_no_less():
    of = drive("mill_and_drum", "Mill")
    assert of.figures.drive_rating_a.number >= 8.9
    assert "maker_allows" not in codes(of.conditions)


def test_an_owned_three_phase_drive_of_10_a_is_too_small_for_9_6_a_on_one_phase():
    """Half of its 10 A is 5 A; a single-phase one of 10 A or more is bought instead."""
    of = drive("compressor", "Compressor")
    assert [offer.owned_item for offer in of.offers] == [None]
    assert of.figures.drive_rating_a.number >= 9.6


def test_a_drum_switch_behind_the_drive_is_moved_to_its_inputs():
    of = drive("mill_and_drum", "Drum mill")
    assert "drive.nothing_opens_behind" in codes(of.conditions)
    assert "inputs" in words(of.conditions)
    assert "early-break" in words(of.reasons)
    assert "reverse_by_input" in codes(of.reasons)


def test_an_outlet_too_small_names_the_power_that_would_fit():
    """Lamps hang on the service, not on the outlet, and take nothing from its 15 A."""
    of = drive("one_outlet", "Lathe")
    assert codes(of.reasons) == {"supply_too_small"}
    assert "15.0 A" in words(of.reasons)
    assert within(of.figures.usable_power_w, 1500.0, 2300.0)
    assert f"{of.figures.usable_power_w.number / 1000:.2g} kW" in words(of.reasons)


def test_415_v_motors_take_7_to_8_a_in_star_and_root_three_times_that_in_delta():
    one = motor("one_outlet", "Lathe/main")
    by = {link.connection: link for link in one.links}
    assert by["delta"].line_voltage_v == 240.0
    assert by["star"].line_voltage_v == 415.0
    assert 7.0 <= one.current_at(by["star"]) <= 8.0
    assert one.current_at(by["delta"]) == pytest.approx(
        3**0.5 * one.current_at(by["star"]), rel=0.01
    )


def test_a_50_hz_motor_of_six_poles_keeps_its_own_base_point_on_60_hz():
    of, one = drive("six_poles", "Planer"), motor("six_poles", "Planer/main")
    assert one.poles == 6
    assert of.link.line_voltage_v == 190.0
    assert within(of.figures.base_frequency_hz, 60.0, 64.0)
    assert of.figures.drive_rating_a.number >= one.current_at(of.link) > 14.0
    assert "base_point" in codes(of.conditions)
    assert "1.20 times" in words(of.conditions)
    assert "1.73 times the power" in words(of.conditions)
    top = of.figures.torque_speed[-1]
    assert top.speed_ratio == pytest.approx(1.2)
    assert top.speed_rpm == pytest.approx(1176.0)
    assert top.frequency_hz == pytest.approx(60.0, rel=0.02)


def test_a_pump_at_full_torque_must_not_turn_slowly_for_ever():
    """Its fan blows about as fast as it turns: 22 % of the air at 22 % speed, not 1 %."""
    of = drive("oil_transfer", "Transfer")
    assert "too_slow_for_ever" in codes(of.conditions)
    assert "fan of its own" in words(of.conditions)
    assert "belt" in words(of.conditions)
    assert of.figures.speed_min_ratio.number > 0.9
    slow = next(at for at in of.figures.torque_speed if at.speed_ratio == 0.2)
    assert 0.5 < slow.lasting_ratio < 0.75 < slow.lasting_with_fan_ratio  # 20 to 25 Hz and below
    assert " 1%" not in words(of.reasons + of.conditions)


def test_a_compressor_keeps_its_lowest_hertz_and_needs_an_unloader():
    """30 to 40 Hz of 60: half to two thirds; at nearly full torque its own fan asks for more."""
    of = drive("compressor", "Compressor")
    assert of.verdict == "with_conditions"
    assert of.figures.speed_min_ratio.number >= 35.0 / 60.0
    assert "unloader" in words(of.conditions)
    assert "too_slow_for_ever" in codes(of.conditions)
    assert "pressure switch" in words(of.reasons)
    assert "start again by itself" in words(of.reasons)


def test_a_single_phase_pump_motor_gets_no_drive_and_runs_as_it_is():
    of = judged("pond_pump", "Pond/main", "drive_per_motor")
    assert of.verdict == "refused"
    direct = judged("pond_pump", "Pond/main", "direct")
    assert direct.verdict == "with_conditions"
    assert codes(direct.conditions) == {"one_speed"}
    assert direct.figures.input_current_a.expected.number == 9.0


def test_a_three_phase_motor_rigged_with_a_capacitor_loses_it_first():
    of = judged("pond_pump", "Rigged/main", "drive_per_motor")
    assert of.verdict == "with_conditions"
    assert "motor_kind_rigged_with_capacitor" in codes(of.conditions)


def test_a_wide_bandsaw_does_not_stop_in_5_s_on_a_drive():
    """2.95 kg m2 at 1440 rpm is 34 kJ; 5 s is 6.7 kW (arithmetic)."""
    energy = 0.5 * 2.95 * (1440 * 3.14159 / 30) ** 2
    assert energy == pytest.approx(33.5e3, rel=0.02)
    of = drive("wide_bandsaw", "Bandsaw")
    assert "stop_out_of_reach" in codes(of.conditions)
    assert "34 kJ, 6.7 kW" in words(of.conditions)
    assert "stop_by_resistor" in codes(drive("wide_bandsaw", "Slow stop").conditions)


def test_a_threaded_nose_is_neither_reversed_nor_stopped_quickly():
    of = drive("threaded_nose", "Threaded")
    assert {"threaded_nose", "no_quick_stop", "brake_unit_off"} <= codes(of.conditions)
    assert "5 s" in words(of.conditions)
    assert "reverse_by_input" not in codes(of.reasons)
    other = drive("threaded_nose", "Locking")
    assert "threaded_nose" not in codes(other.conditions)
    assert {"reverse_by_input", "soft_start_by_ramp"} <= codes(other.reasons)


def test_an_inverter_bears_a_drive_whose_input_it_can_give():
    of = drive("off_grid", "Planer")
    assert of.verdict != "refused"
    assert of.figures.input_current_a.expected.number <= 8.7


# a supply of 120 V


def test_a_small_motor_on_120_v_takes_a_drive_that_doubles_inside():
    """0.5 hp: 373 W / (0.68 x 0.92) / (120 V x 0.6 to 0.7) is 7.1 to 8.3 A without a choke, 5.5 to
    6.5 A at a power factor of 0.8 to 0.9 with one: it hangs on a 20 A outlet."""
    of = judged("spare_room", "Lathe/main", "step_up_drive")
    assert of.verdict == "with_conditions"
    assert of.link.line_voltage_v == 230.0
    assert of.figures.drive_rating_a.number >= 2.0
    assert within(of.figures.input_current_a.expected, 5.5, 8.5)
    assert "doubled_link" in codes(of.conditions)
    assert "ordinary 200 to 240 V drive does not start" in words(of.conditions)
    assert 0.8 < of.figures.dc_link_v.mean.number / (2.0 * 2.0**0.5 * 120.0) < 1.0
    assert within(of.figures.undistorted_output_v, 180.0, 235.0)


def test_on_120_v_nothing_that_wants_twice_as_much_is_offered_as_an_ordinary_drive():
    for name in ("Lathe/main", "Mill/main"):
        for way in ("drive_per_motor", "shared_drive"):
            of = judged("spare_room", name, way)
            assert of.verdict == "refused"
            assert codes(of.reasons) == {"no_drive_at_these_volts"}
        assert not any("drive" in offer.words for offer in
                       judged("spare_room", name, "motor_swap").offers)  # fmt: skip


def test_two_horsepower_are_beyond_120_v():
    """1490 W / (0.8 x 0.94) / (120 V x 0.6 to 0.9) is 18 to 27 A, and no doubling drive gives 6.2 A."""
    of = judged("spare_room", "Mill/main", "step_up_drive")
    assert of.verdict == "refused"
    assert {"no_drive_fits", "supply_too_small"} <= codes(of.reasons)
    assert within(of.figures.input_current_a.expected, 18.0, 27.0)


# a 60 Hz motor on 50 Hz


def test_a_60_hz_motor_on_50_hz_keeps_its_own_volts_and_hertz():
    """230 V at 60 Hz is 3.83 V a hertz; straight on 50 Hz it would have a fifth more flux and turn
    1450 rpm: the drive gives it its plate's 230 V at 60 Hz and its own speed."""
    of = drive("imported_press", "Turret mill")
    told = {each.code: each for each in of.figures.settings}
    assert (told["base_voltage"].value, told["base_frequency"].value) == (230.0, 60.0)
    assert told["rated_current"].value == 6.0
    assert told["highest_frequency"].value == 60.0
    assert told["slip_compensation"].value == pytest.approx(2.0)
    assert "base_point" in codes(of.conditions)
    assert "0.83 times as fast" in words(of.conditions)
    assert within(of.figures.input_current_a.expected, 9.0, 14.0)


def test_a_60_hz_pump_on_50_hz_would_give_little_more_than_half_its_power():
    """The cube of 50/60 is 0.58."""
    of = drive("imported_press", "Pump")
    assert "0.58 times the power" in words(of.conditions)
    assert {each.code: each.value for each in of.figures.settings}["volts_over_hertz"] == "square"


# what is set


def test_a_compressors_sheet_moves_its_pressure_switch_and_keeps_it_locked():
    of = drive("compressor", "Compressor")
    told = {each.code: each for each in of.figures.settings}
    assert told["lowest_frequency"].value >= 35.0
    assert told["restart_lock"].value.startswith("locked")
    assert any("run permit" in str(each.value) for each in of.figures.settings)
    steps = {step.code: step for step in of.figures.rewiring}
    assert "unload" in steps["move_pressure_switch"].words
    assert "unloaded" in steps["move_pressure_switch"].caution


def test_a_drum_switch_becomes_two_inputs_and_reverse_is_allowed():
    of = drive("mill_and_drum", "Drum mill")
    told = {each.code: each for each in of.figures.settings}
    assert "forward" in told["input_1"].value
    assert "reverse" in told["input_2"].value
    assert told["reverse"].value.startswith("allowed")
    steps = {step.code: step for step in of.figures.rewiring}
    assert "milliamps" in steps["move_drum_switch"].caution


def test_a_threaded_chucks_sheet_brakes_softly_and_never_reverses():
    of = drive("threaded_nose", "Threaded")
    told = {each.code: each.value for each in of.figures.settings}
    assert told["ramp_down"] >= 5.0
    assert told["reverse"] == "locked"
    assert told["dc_injection"] == "off"


def test_a_pump_at_full_torque_is_not_set_slower_than_it_bears():
    of = drive("oil_transfer", "Transfer")
    told = {each.code: each.value for each in of.figures.settings}
    assert told["lowest_frequency"] >= 0.9 * told["base_frequency"]


# the residual-current device that is there


@pytest.mark.whole
def test_a_device_of_type_ac_is_wrong_for_drives_and_their_leakage_counts():
    """Type AC does not see the direct current a drive's rectifier can leak; drives together may let
    30 % of what trips it flow all the time: 9 of 30 mA (both common practice)."""
    for plan in studied("imported_press")["plans"]:
        drives = [each for each in plan["motors"] if "settings" in each["figures"]]
        if not drives:
            continue
        kinds = told_of("imported_press", "leakage.device_type", plan["id"])
        assert {kind["found"] for kind in kinds} == {"AC"}
        assert all(1.0 <= each["figures"]["leakage_ma"] <= 10.0 for each in drives)
        whole = sum(each["figures"]["leakage_ma"] for each in drives)
        share = told_of("imported_press", "leakage.share", plan["id"])
        assert bool(share) == (whole > 9.0)
