"""Motor defaults, load kinds, price curves and hours typed a second time, as text.

All of it is common practice, from memory or invented: what is checked is that the tables hold
what was written down, with its check figures, not that it is true.
"""

from __future__ import annotations

import pytest

from phasewright.tables.labour import hours
from phasewright.tables.loads import load_kind
from phasewright.tables.motors import (
    default_breakdown_ratio,
    default_efficiency,
    default_friction_ratio,
    default_inertia_kg_m2,
    default_no_load_current_ratio,
    default_power_factor,
    default_slip,
    default_starting_current_ratio,
    default_starting_torque_ratio,
    default_winding_ohm,
)
from phasewright.tables.prices import price, standing_per_year

DEFAULTS = [
    (
        default_power_factor,
        "0.25: 0.71, 0.75: 0.75, 2.2: 0.79, 4: 0.81, 7.5: 0.83, 15: 0.86",
        0.005,
    ),
    (default_slip, "0.75: 0.050, 2.2: 0.038, 4: 0.033, 7.5: 0.028, 15: 0.023", 0.0006),
    (
        default_starting_current_ratio,
        "0.25: 4.4, 0.75: 5.0, 2.2: 5.7, 4: 6.1, 7.5: 6.6, 15: 7.2",
        0.05,
    ),
    (
        default_no_load_current_ratio,
        "0.25: 0.76, 0.75: 0.64, 2.2: 0.54, 4: 0.49, 7.5: 0.44, 15: 0.40",
        0.006,
    ),
    (
        default_inertia_kg_m2,
        "0.75: 0.0020, 2.2: 0.0069, 4: 0.0138, 7.5: 0.028, 15: 0.063",
        0.0005,
    ),
    (default_winding_ohm, "0.25: 38.8, 0.75: 9.9, 1.5: 4.5, 2.2: 2.85, 4: 1.46", None),
    (default_starting_torque_ratio, "0.75: 2.3, 4: 2.3, 5.5: 2.1, 15: 2.1", 1e-9),
    (default_friction_ratio, "0.25: 0.03, 2.2: 0.012, 15: 0.012", 1e-9),
    (default_breakdown_ratio, "0.75: 2.7, 15: 2.7", 1e-9),
]


@pytest.mark.parametrize(("default", "text", "room"), DEFAULTS)
def test_check_figures_of_the_motor_defaults(default, text: str, room: float | None) -> None:
    for entry in text.split(", "):
        power_kw, number = (float(x) for x in entry.split(": "))
        value = default(power_kw * 1000.0)
        # winding ohms: the power law through five motors, within a tenth of each
        limit = 0.1 * number if room is None else room
        assert abs(value.number - number) <= limit * (1.0 + 1e-9)
        assert value.low < value.number < value.high
        assert value.source


def test_poles_age_and_class_move_the_defaults() -> None:
    kw4 = 4000.0
    base = default_power_factor(kw4).number
    for poles, shift in ((2, 0.05), (6, -0.07), (8, -0.13)):
        assert default_power_factor(kw4, poles).number == pytest.approx(base + shift)
    current = default_starting_current_ratio(kw4).number
    for poles, factor in ((2, 1.08), (6, 0.88)):
        got = default_starting_current_ratio(kw4, poles).number
        assert got == pytest.approx(current * factor)
    assert default_starting_current_ratio(kw4, 4, 1950).number == pytest.approx(0.9 * current)
    assert default_starting_current_ratio(kw4, 4, 2018).number == pytest.approx(1.15 * current)
    assert default_slip(kw4, 4, 1950).number == pytest.approx(1.25 * default_slip(kw4).number)
    inertia = default_inertia_kg_m2(kw4).number
    for poles, factor in ((2, 0.5), (6, 1.7)):
        assert default_inertia_kg_m2(kw4, poles).number == pytest.approx(factor * inertia)
    assert default_inertia_kg_m2(kw4, 4, 1950).number == pytest.approx(1.4 * inertia)
    # IE1 of a 4 kW 4-pole motor is 83.1 %, IE2 86.6, IE3 88.6
    for year, percent in ((1950, 80.1), (1975, 82.1), (1995, 83.1), (2005, 86.6), (2015, 88.6)):
        got = 100.0 * default_efficiency(kw4, 4, year).number
        assert got == pytest.approx(percent, abs=0.051)


# kind: running, breakaway, inertia, duty, starts, wrong direction harms
LOADS = """
spindle 0.35 (0.1-1.0) 0.2 4 0.35 20 yes
pump 0.85 (0.6-1.0) 0.15 0.7 1.0 4 yes
fan 0.9 (0.5-1.1) 0.05 15 0.8 3 no
compressor 0.95 (0.6-1.05) 0.4 8 0.5 8 yes
hydraulic_pump 0.6 (0.2-1.3) 0.3 0.4 0.4 6 yes
saw 0.4 (0.15-1.2) 0.15 3 0.3 10 yes
flywheel 0.3 (0.1-0.6) 0.25 200 0.3 4 no
crusher 0.7 (0.3-1.3) 0.3 10 0.6 6 no
conveyor 0.5 (0.3-1.0) 0.5 2 0.7 8 yes
mixer 0.6 (0.3-1.2) 0.6 2 0.6 8 no
feed 0.25 (0.05-0.8) 0.5 1.2 0.3 60 no
coolant_pump 0.7 (0.5-1.0) 0.05 0.3 0.5 20 yes
grinder 0.3 (0.1-1.0) 0.1 20 0.3 6 yes
lift 1.0 (0.6-1.2) 1.3 1.5 0.25 60 yes
other 0.8 (0.3-1.0) 0.5 5 0.5 6 yes
"""


@pytest.mark.parametrize("line", LOADS.strip().splitlines())
def test_load_kinds(line: str) -> None:
    name, running, span, breakaway, inertia, duty, starts, harms = line.split()
    kind = load_kind(name)
    low, high = (float(x) for x in span.strip("()").split("-"))
    assert (kind.running.number, kind.running.low, kind.running.high) == (float(running), low, high)
    assert kind.breakaway.number == float(breakaway)
    assert kind.inertia_ratio.number == float(inertia)
    assert kind.duty.number == float(duty)
    assert kind.starts_per_hour.number == float(starts)
    assert kind.wrong_direction_harms == (harms == "yes")


def test_loaded_starts() -> None:
    rows = {"compressor": 1.3, "crusher": 2.0, "conveyor": 1.5, "mixer": 1.3, "refrigeration": 1.5}
    for name, ratio in rows.items():
        kind = load_kind(name)
        assert kind.breakaway_for("loaded").number == ratio
        assert kind.breakaway_for("unloaded").number == kind.breakaway.number < ratio
    assert load_kind("fan").breakaway_for("loaded") == load_kind("fan").breakaway


# kind, origin, text of kW: price
PRICES = [
    ("drive_per_motor", "new", "0.37: 147, 0.55: 161, 0.75: 178, 1.1: 209, 1.5: 245, 2.2: 310"),
    ("rotary_converter", "new", "1.5: 675, 2.2: 766, 3: 870, 4: 1000, 5.5: 1195, 7.5: 1455, "
     "11: 1910, 15: 2430, 22: 3340"),
    ("rotary_converter", "self_built", "2.2: 340, 4: 440, 7.5: 630, 11: 815, 15: 1025"),
    ("idler_motor", "used", "2.2: 69, 4: 104, 7.5: 167, 15: 295"),
    ("step_up_drive", "new", "1.5: 555, 2.2: 674, 4: 980"),
    ("electronic_converter", "new", "4: 2220, 7.5: 3375, 11: 4530, 15: 5850"),
    ("motor_swap", "new", "0.75: 154, 1.5: 218, 2.2: 277, 3: 345"),
    ("isolating_transformer", "new", "5: 355, 10: 630, 15: 905"),
    ("three_phase_input_drive", "new", "8: 780, 11: 1005, 15: 1305, 22: 1830"),
]  # fmt: skip


@pytest.mark.parametrize(("kind", "origin", "text"), PRICES)
def test_check_figures_of_the_price_curves(kind: str, origin, text: str) -> None:
    for entry in text.split(", "):
        rating_kw, amount = (float(x) for x in entry.split(": "))
        got = price(kind, rating_kw * 1000.0, origin=origin)
        assert got.amount == pytest.approx(amount, rel=0.011)
        assert got.low == pytest.approx(0.6 * got.amount)
        assert got.high == pytest.approx(1.7 * got.amount)
        assert "invented" in got.origin


def test_scarce_drives_cost_a_fifth_more() -> None:
    # the curve's own figures at 3 and 4 kW are 388 and 488
    assert price("drive_per_motor", 3000.0).amount == pytest.approx(1.2 * 388.0, rel=0.002)
    assert price("drive_per_motor", 4000.0).amount == pytest.approx(1.2 * 488.0, rel=0.002)


def test_prices_of_parts() -> None:
    assert price("run_capacitor", 50e-6).amount == pytest.approx(3.0 + 0.22 * 50.0)
    assert price("run_capacitor_600", 50e-6).amount == pytest.approx(1.6 * 14.0)
    assert price("start_capacitor", 200e-6).amount == pytest.approx(5.0 + 0.04 * 200.0)
    assert price("contactor", 18.0).amount == pytest.approx(15.0 + 1.1 * 18.0)
    assert price("overload_relay", 10.0).amount == pytest.approx(25.0)
    assert price("cable", 4.0).amount == pytest.approx(1.0 + 0.45 * 4.0)
    assert price("cable_armoured", 4.0).amount == pytest.approx(1.7 * 2.8)
    assert price("rotary_converter_400", 4000.0).amount == pytest.approx(1.45 * 1000.0)
    assert price("rotary_converter", 4000.0, origin="used").amount == pytest.approx(500.0)
    assert price("autotransformer", 5000.0).amount == pytest.approx(0.55 * 355.0)
    assert [price("plug_and_socket", a).amount for a in (16.0, 30.0, 63.0)] == [18.0, 30.0, 80.0]
    utility = price("utility_service", 0.0)
    assert (utility.amount, utility.low, utility.high) == (6000.0, 1500.0, 25000.0)
    standing = standing_per_year("utility_service")
    assert (standing.number, standing.low, standing.high) == (300.0, 150.0, 800.0)


def test_lives_and_resale() -> None:
    rows = {
        "drive_per_motor": (11, 0.45, 4), "step_up_drive": (10, 0.4, 3),
        "rotary_converter": (25, 0.5, 7), "electronic_converter": (10, 0.45, 3.5),
        "isolating_transformer": (40, 0.5, 12),
    }  # fmt: skip
    for kind, (life, share, halving) in rows.items():
        got = price(kind, 3000.0)
        assert (got.life_years, got.resale_share, got.resale_halving_years) == (
            life,
            share,
            halving,
        )
        assert got.resale(0.0) == pytest.approx(share * got.amount)
        assert got.resale(2.0 * halving) == pytest.approx(0.25 * share * got.amount)


def test_hours_of_work() -> None:
    rows = {
        "drive": (3, 2, 5), "drive_original_switches": (5, 3, 8),
        "drive_with_pump_and_lights": (7, 5, 10), "drive_settings": (1, 0.5, 2),
        "converter_ready_made": (4, 3, 6), "relinking": (1.5, 1, 3), "motor_swap": (5, 3, 9),
        "star_point_out": (4, 3, 8), "transformer": (4, 3, 6),
    }  # fmt: skip
    for job, numbers in rows.items():
        value = hours(job)
        assert (value.number, value.low, value.high) == numbers
    assert hours("converter_self_built", 4000.0).number == pytest.approx(14.0 + 0.8 * 4.0)
    assert hours("outlet_circuit", 20.0).number == pytest.approx(2.0 + 0.15 * 20.0)
