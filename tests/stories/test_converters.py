"""Rotary converters in invented shops: coils, neutral, brakes, sizes, high mains.

Common practice, no source, unless a clause is named.
"""

import pytest
from stories.judged import codes, judged, within, words


def rotary(shop, machine):
    return judged(shop, f"{machine}/main", "rotary_converter")


def test_coils_lamps_and_neutral_stay_on_the_two_supply_lines():
    of = rotary("line_neutral", "Lathe")
    assert {"line3.control", "nec.455.9", "line3.neutral"} <= codes(of.conditions)
    assert "lines 1 and 2" in words(of.conditions)


def test_coils_that_hang_there_already_ask_for_nothing():
    of = rotary("line_neutral", "Clean")
    assert not codes(of.conditions) & {"line3.control", "nec.455.9", "line3.neutral"}


@pytest.mark.parametrize("way", ["rotary_converter", "capacitor_run"])
def test_every_way_with_a_generated_line_checks_the_coils(way):
    assert "line3.control" in codes(judged("line_neutral", "Lathe/main", way).conditions)


def test_a_drive_leaves_the_machine_s_own_controls_on_the_supply():
    of = judged("line_neutral", "Lathe/main", "drive_per_motor")
    assert {"controls_on_supply", "neutral_from_supply"} <= codes(of.conditions)


def test_a_compressor_wants_an_idler_larger_than_itself():
    """The trade takes twice the motor; what is computed may be less and then says so."""
    of = rotary("compressor", "Compressor")
    assert of.verdict == "with_conditions"
    ratio = of.figures.idler_power_w.number / (3 * 745.7)
    assert ratio >= 1.3
    assert ("idler_below_habit" in codes(of.conditions)) == (ratio < 2.0)
    assert ratio <= 2.2


def test_the_press_brake_takes_an_idler_of_20_to_30_hp():
    """Watts in are watts out over a converter near 0.9 and a motor near 0.9 (arithmetic).

    A habit reckons its amps at a power factor near one; the network computes some 0.7 with such
    an idler, and the computed figure stands.
    """
    of = rotary("press_shop", "Press brake")
    assert 19.9 <= of.figures.idler_power_w.number / 745.7 <= 30.1
    asked = 0.6 * 15 * 745.7  # the high end of a press's usual torque
    assert 1.15 <= of.figures.input_power_w.number / asked <= 1.45
    assert 0.5 <= of.figures.input_power_factor.number <= 0.95


def test_high_mains_are_a_condition_on_a_converter_and_cured_by_a_drive():
    """252 V on a 220 V plate is 1.145 of its flux (arithmetic)."""
    of = rotary("high_mains", "Drill")
    assert "supply.high_mains" in codes(of.conditions)
    assert "15% more volts per hertz" in words(of.conditions)
    drive = judged("high_mains", "Drill/main", "drive_per_motor")
    assert drive.verdict == "suits"
    assert "plate_volts" in codes(drive.reasons)


def test_a_small_old_motor_whose_relay_trips_idle_says_so_and_gives_both_figures():
    of = rotary("high_mains", "Drill")
    assert "relay_trips_unloaded" in codes(of.conditions)
    assert of.figures.usable_by_overload_w.number < of.figures.usable_by_heat_w.number
    assert of.figures.usable_power_w.number > 0.0


def test_a_refrigerating_motor_asks_for_nearly_balanced_lines():
    of = rotary("cold_room", "Sealed")
    assert "motor_kind_hermetic" in codes(of.conditions + of.reasons)
    if of.verdict != "refused":
        assert of.figures.unbalance.loaded.vuf <= 0.02
    assert judged("cold_room", "Sealed/main", "drive_per_motor").verdict == "refused"


def test_a_hoist_s_brake_gets_its_own_volts():
    for machine, way in [
        ("Hoist", "drive_per_motor"), ("Shear", "drive_per_motor"), ("Shear", "rotary_converter"),
    ]:  # fmt: skip
        of = judged("hoist_and_brake", f"{machine}/main", way)
        assert of.verdict == "with_conditions"
        assert "motor_kind_brake_motor" in codes(of.conditions)


def test_an_inverter_with_little_surge_starts_no_idler_and_no_pump():
    """18.7 A for a while; the pump starts at 50 A (6.6 A times 7.6)."""
    assert rotary("off_grid", "Planer").verdict == "refused"
    of = judged("off_grid", "Pump/main", "direct")
    assert of.verdict == "refused"
    assert codes(of.reasons) == {"surge_too_small"}
    assert "50 A" in words(of.reasons)


def test_wishes_a_converter_cannot_grant_are_conditions():
    of = rotary("threaded_nose", "Locking")
    assert {"starts_hard", "reverse_from_rest"} <= codes(of.conditions)
    assert "threaded_nose" in codes(rotary("threaded_nose", "Threaded").conditions)
    assert "coasts" in codes(rotary("wide_bandsaw", "Bandsaw").conditions)


def test_ten_horsepower_and_two_lathes_on_100_a():
    """Running alone on a converter each asks for what arithmetic says; drives serve 3 and 5 hp."""
    big = rotary("three_sizes", "Compressor")
    assert 14.9 <= big.figures.idler_power_w.number / 745.7 <= 20.1
    assert within(big.figures.input_current_a.expected, 35.0, 75.0)
    for machine in ("Lathe", "Mill"):
        of = judged("three_sizes", f"{machine}/main", "drive_per_motor")
        assert of.verdict == "suits"


def test_an_unknown_blade_is_never_driven_faster_and_a_known_one_to_its_limit():
    unknown = judged("wood_and_fans", "Saw/main", "drive_per_motor")
    assert unknown.figures.speed_max_ratio.number == 1.0
    assert "too_fast" in codes(unknown.conditions)
    known = judged("wood_and_fans", "Known blade/main", "drive_per_motor")
    assert known.figures.speed_max_ratio.number == pytest.approx(2900 / 2850, abs=0.005)
    assert "too_fast" not in codes(known.conditions)


def test_a_fan_may_turn_slowly_but_hardly_faster():
    """Power goes with the cube of the speed (affinity law)."""
    of = judged("wood_and_fans", "Extractor/main", "drive_per_motor")
    assert of.figures.speed_min_ratio.number == pytest.approx(0.1)
    assert of.figures.speed_max_ratio.number <= (1 / 0.9) ** (1 / 3) + 0.01


def test_shocks_beyond_the_pull_out_torque_are_told():
    """A flywheel's and a saw's shocks reach twice rated torque (common practice, no source)."""
    for shop, machine in (("wide_bandsaw", "Bandsaw"), ("wood_and_fans", "Saw")):
        of = rotary(shop, machine)
        told = [each for each in of.conditions if each.code == "shocks"]
        assert len(told) == 1
        pull_out = float(told[0].words.split("pulls out at ")[1].split(" times")[0])
        assert of.figures.usable_power_w.number / 4000 < pull_out < 2.0
    assert "shocks" not in codes(rotary("threaded_nose", "Locking").conditions)
