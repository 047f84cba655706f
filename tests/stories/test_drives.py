"""Drives in invented shops: which amps count, what they draw, what they cannot do.

Ranges of input current are common practice checked by arithmetic: shaft power over motor and
drive efficiency, over volts and a power factor of 0.6 to 0.9. No source unless one is named.
"""

import pytest
from stories.judged import codes, judged, motor, within, words


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


def test_a_pump_at_full_torque_must_not_turn_slowly_for_ever():
    """Its fan blows about as fast as it turns: 22 % of the air at 22 % speed, not 1 %."""
    of = drive("oil_transfer", "Transfer")
    assert "too_slow_for_ever" in codes(of.conditions)
    assert "fan of its own" in words(of.conditions)
    assert "belt" in words(of.conditions)
    assert of.figures.speed_min_ratio.number > 0.9


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
