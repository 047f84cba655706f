"""Motors on two lines with capacitors: small ones, tuned; never a compressor or a flywheel.

The recommended capacitors are computed reference cases (33 to 45 uF per kW of shaft power at
230 V 50 Hz, no line beyond its rating unloaded or loaded); the habit's larger one is 1 A of
delta current = 13.85 uF (1/(2 pi 50 230)). Habits: common practice, no source.
"""

import math

import pytest
from stories.judged import codes, judged, within, words

UF = 1e-6


@pytest.mark.parametrize(
    ("shop", "low", "high", "habit_low", "habit_high"),
    [("tuned_0_75", 25, 35, 45, 53), ("tuned_2_2", 75, 100, 120, 155)],
)
def test_the_capacitor_keeps_every_line_in_rating_and_the_habit_is_told(
    shop, low, high, habit_low, habit_high
):
    of = judged(shop, "Polisher/main", "capacitor_run")
    assert within(of.figures.run_capacitance_f, low * UF, high * UF)
    amps = {"tuned_0_75": 3.3, "tuned_2_2": 8.7}[shop]
    habit = amps / (2 * math.pi * 50 * 230)
    assert habit_low * UF <= habit <= habit_high * UF
    if of.verdict != "refused":
        assert f"{habit / UF:.0f} µF" in words(of.reasons)
    assert of.figures.capacitor_voltage_v.number < 450 / 1.1


def test_2_2_kw_is_not_advised_but_its_figures_are_told():
    of = judged("tuned_2_2", "Polisher/main", "capacitor_run")
    assert of.verdict == "refused"
    assert of.offers == ()
    assert "not_advised_at_this_power" in codes(of.reasons)
    assert 0.55 <= of.figures.usable_power_w.number / 2200 <= 0.85


def test_power_lost_is_about_a_third():
    """About 70 % of the power (common practice)."""
    of = judged("tuned_0_75", "Polisher/main", "capacitor_run")
    assert of.verdict == "with_conditions"
    assert 0.55 <= of.figures.usable_power_w.number / 750 <= 0.80
    assert of.figures.starting_torque_ratio.number < 0.4


@pytest.mark.parametrize("way", ["capacitor_run", "static_converter"])
@pytest.mark.parametrize(
    ("shop", "machine"),
    [
        ("tuned_0_75", "Compressor"), ("tuned_2_2", "Compressor"), ("wide_bandsaw", "Bandsaw"),
        ("cold_room", "Sealed"), ("cold_room", "Separator"), ("hoist_and_brake", "Hoist"),
    ],
)  # fmt: skip
def test_hard_starters_and_great_inertia_are_refused_on_two_lines(shop, machine, way):
    of = judged(shop, f"{machine}/main", way)
    assert of.verdict == "refused"
    assert any(code.startswith("load_kind_") for code in codes(of.reasons))


def test_start_only_and_tuned_are_two_things_with_two_figures():
    """Start-only leaves 0.3 to 0.5 of the power, a run capacitor about two thirds (computed)."""
    for machine in ("Polisher", "Compressor"):
        of = judged("tuned_2_2", f"{machine}/main", "static_converter").figures
        assert of.usable_power_w.number < 0.5 * 2200
        assert of.tuned_usable_power_w.number > 1.3 * of.usable_power_w.number


def test_a_coolant_pump_runs_on_a_capacitor_with_its_windings_watched():
    of = judged("small_pumps", "Coolant/main", "capacitor_run")
    assert of.verdict == "with_conditions"
    assert {"pauses", "relay_trips"} <= codes(of.conditions)
    assert of.figures.usable_by_overload_w.number < of.figures.usable_by_heat_w.number
    assert of.figures.usable_power_w.number > 0.0


def test_a_reversed_lathe_keeps_its_capacitor_before_the_switch():
    of = judged("threaded_nose", "Locking/main", "capacitor_run")
    assert "reverse_from_rest" in codes(of.conditions)
    assert "supply side" in words(of.conditions)


def test_a_wide_saw_above_a_kilowatt_is_no_work_for_a_start_capacitor():
    of = judged("wood_and_fans", "Saw/main", "static_converter")
    assert "load_kind_saw" in codes(of.reasons)
