"""Every story told with other names and in another order, and with every number moved by 2 %.

Verdicts stay, way by way, but where a figure stands at its limit: those are listed with it. Supply
against plates are 4 % of volts, which iron near saturation answers with a good tenth of its
current: what a motor on two lines may give for ever turns on that.
"""

from functools import cache

import pytest
from stories.moved import HOW, STORIES, moved, renamed, shop_of, tree_of, verdicts

pytestmark = pytest.mark.whole
TOP = "3 hp is the largest single-phase motor of its row within the 3 kW the table ends at: 3.06 hp asks for 5 hp"
SPINDLE = "a run capacitor suits a spindle of up to 1.5 kW, 2 hp are 1.49: 2 % more are beyond"
IDLE = "of 4 % more volts than the plate's its winding gets too hot unloaded, "
AT_THE_LIMIT = {
    ("compressor", "Compressor/main", "motor_swap"): TOP,
    ("mill_and_drum", "Mill/main", "motor_swap"): TOP,
    ("press_shop", "Cold saw/main", "motor_swap"): TOP,
    ("three_sizes", "Mill/main", "motor_swap"): TOP,
    ("dead_buttons", "Lathe/main", "motor_swap"): TOP,
    ("four_sizes", "Mill/main", "motor_swap"): TOP,
    ("mixed_fabrication", "Cold saw/main", "motor_swap"): TOP,
    ("mixed_fabrication", "Mill/main", "motor_swap"): TOP,
    ("two_fixed_machines", "Cutter/main", "motor_swap"): TOP,
    ("one_outlet", "Mill/main", "capacitor_run"): SPINDLE,
    ("two_fixed_machines", "Polisher/main", "capacitor_run"): SPINDLE,
    ("cabinet_lathe", "Lathe/spindle", "capacitor_run"): SPINDLE,
    ("two_buildings", "Lathe/spindle", "capacitor_run"): SPINDLE,
    ("four_sizes", "Compressor/main", "drive_per_motor"):
    "54.8 A of the 56 A that dryer and heater leave; then 57.3 of 54.9",
    ("high_mains", "Drill/main", "capacitor_run"):
    "245 V on a 220 V plate keep its winding too hot below 14 % of its load; 2 % less on 2 % more "
    "are 1.07 and not 1.11 times its volts, and it stays cool unloaded",
    ("bench_lathe", "Lathe/main", "capacitor_run"): IDLE + "with every can; 72 % before",
    ("dead_buttons", "Not told/main", "capacitor_run"): IDLE + "with every can; 62 % before",
    ("universal_grinder", "Grinder/lift", "capacitor_run"): IDLE + "with every can; 65 % before",
    ("harness_loft", "Drill/main", "capacitor_run"): IDLE + "and so it does of 240 V as they are",
    ("harness_loft", "Scroll/main", "capacitor_run"): IDLE + "and so it does of 240 V as they are",
    ("harness_loft", "Bandsaw/main", "rotary_converter"): IDLE + "61 % before",
    ("harness_loft", "Drill/main", "rotary_converter"): IDLE + "66 % before",
    ("harness_loft", "Scroll/main", "rotary_converter"): IDLE + "66 % before",
    ("dead_buttons", "Not told/main", "static_converter"): IDLE + "23 % before, 20 % asked",
    ("four_sizes", "Grinder/main", "static_converter"): IDLE + "32 % before, 23 % asked",
    ("low_third_line", "Drill press/main", "static_converter"): IDLE + "31 % before, 27 % asked",
    ("mixed_fabrication", "Grinder/main", "static_converter"): IDLE + "32 % before, 23 % asked",
    ("two_fixed_machines", "Polisher/main", "static_converter"): IDLE + "32 % before, 27 % asked",
    ("mill_and_drum", "Drum mill/main", "capacitor_run"): IDLE + "with every can; 69 % before",
    ("mill_and_drum", "Drum mill/main", "static_converter"): IDLE + "as it is; 35 % with 4 % less",
    ("mill_and_drum", "Mill/main", "static_converter"): IDLE + "35 % before, 27 % asked",
    ("six_poles", "Planer/main", "static_converter"): IDLE + "33 % before, 27 % asked",
    ("tuned_0_75", "Polisher/main", "static_converter"): IDLE + "26 % before, 23 % asked",
    ("line_neutral", "Clean/main", "static_converter"): "31 % by heat, 27 % asked; then 17 %",
    ("line_neutral", "Lathe/main", "static_converter"): "31 % by heat, 27 % asked; then 17 %",
    ("one_outlet", "Mill/main", "static_converter"): "32 % by heat, 27 % asked; then 15 %",
    ("threaded_nose", "Locking/main", "static_converter"): "31 % by heat, 27 % asked; then 16 %",
    ("threaded_nose", "Threaded/main", "static_converter"): "31 % by heat, 27 % asked; then 16 %",
    ("spark_erosion", "Controlled mill/spindle", "static_converter"):
    "35 % by heat, 27 % asked; then 26 %",
    ("high_mains", "Drill/main", "utility_service"):
    "424 V on a 380 V plate are 1.12 times its volts, of 1.15 at most; then 1.16",
    ("pond_pump", "Rigged/main", "electronic_converter"):
    "a source's 230 V at 60 Hz on a 50 Hz plate are 0.83 times its volts per hertz, of 0.85 at "
    "least; then 0.85",
    ("direct_current", "Slip rings/main", "shared_drive"):
    "3 kW: the price curve of a place on a shared drive ends there",
    ("small_pumps", "Coolant/main", "shared_drive"):
    "0.12 kW: the price curve of a place on a shared drive begins there",
    ("three_tools", "Bandsaw/main", "capacitor_run"): IDLE + "with every can; 55 % with 4 % less",
    ("three_tools", "Bandsaw/main", "rotary_converter"): IDLE + "50 % before",
    ("three_tools", "Drill/main", "capacitor_run"): IDLE + "with every can; 62 % with 4 % less",
    ("three_tools", "Scroll saw/main", "capacitor_run"): IDLE + "with every can; 62 % with 4 % less",
    ("cabinet_lathe", "Drill/main", "static_converter"): "31 % by heat, 27 % asked; then 16 %",
    ("cabinet_lathe", "Lathe/spindle", "static_converter"): "33 % by heat, 27 % asked; then 23 %",
    ("cabinet_lathe", "Lathe/pump", "capacitor_run"): IDLE + "with every can; 71 % before",
    ("spare_room", "Lathe/main", "motor_swap"):
    "the code's 115 V column of full-load currents serves 110 to 120 V: 122.4 V are beyond",
    ("oil_transfer", "Transfer/main", "rotary_converter"): "90 % by heat, 88 % asked; then 75 %",
}  # fmt: skip


@cache
def told(story, how=""):
    return verdicts(shop_of(moved(story, how) if how else tree_of(story)))


@pytest.mark.parametrize("story", STORIES)
def test_names_and_order_change_no_verdict(story):
    other, ids = renamed(tree_of(story))
    assert {(ids[motor], way): of for (motor, way), of in verdicts(shop_of(other)).items()} == told(
        story
    )


@pytest.mark.parametrize("how", HOW)
@pytest.mark.parametrize("story", STORIES)
def test_two_percent_change_no_verdict(story, how):
    other = told(story, how)
    turned = {
        (*key, verdict, other[key]) for key, verdict in told(story).items() if other[key] != verdict
    }
    assert {each for each in turned if (story, *each[:2]) not in AT_THE_LIMIT} == set()


def test_the_numbers_do_move():
    """50 Hz, 220/380 V and 1400 rpm a fiftieth up; a speed moved alone goes by its slip."""
    up = moved("high_mains", "up")
    plate = up["machines"][0]["motors"][0]["plate"]
    assert up["supply"]["frequency"] == "51.0 Hz"
    assert plate["voltage"] == "224.4/387.6 V"
    assert plate["speed"] == "1428.0 rpm"
    assert plate["leads"] == 6
    one, other = (
        moved("high_mains", how)["machines"][0]["motors"][0]["plate"]
        for how in ("plates down", "plates up")
    )
    assert {one["speed"], other["speed"]} == {"1398.0 rpm", "1402.0 rpm"}
    assert one["power"] != other["power"]


@pytest.mark.parametrize(("story", "motor", "way"), AT_THE_LIMIT)
def test_what_stands_at_its_limit_does_turn(story, motor, way):
    """The list holds nothing that stays."""
    assert len({told(story, how)[motor, way] for how in ("", *HOW)}) > 1
