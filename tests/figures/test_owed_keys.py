"""The figures that the result file owes are there in every example and story, wherever they apply.

What applies where is written here from the contract, not read from the program.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from stories.judged import studied

from phasewright.files.shop_file import read

pytestmark = pytest.mark.whole
EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
SHOPS = [*sorted(path.name for path in EXAMPLES.glob("*.shop.yaml")), "pond_pump", "off_grid",
         "threaded_nose", "hoist_and_brake", "dough"]  # fmt: skip

TAKES = {"input_current_a", "input_power_w", "input_power_factor"}
STARTS = {"starting_torque_ratio", "starting_current_a", "voltage_dip_ratio"}
LASTS = {"usable_power_w", "usable_by_heat_w", "usable_by_overload_w"}
DRIVE = TAKES | {
    "usable_power_w", "starting_torque_ratio", "idle_power_w", "price", "drive_rating_w",
    "drive_rating_a", "output_current_a", "efficiency", "base_frequency_hz", "speed_min_ratio",
    "speed_max_ratio", "link", "harmonics_a", "harmonics_deg", "input_current_thd",
    "input_displacement_factor", "service_voltage_thd", "leakage_ma", "ramp_up_s", "stopping",
    "emergency_stop", "motor_on_drive", "current_limit_a", "carrier_hz", "settings", "rewiring",
    "torque_speed", "boost_v", "insulation",
}  # fmt: skip
ALONE = TAKES | STARTS | LASTS | {"idle_power_w", "start_capacitance_f", "price"}
OWED = {
    "drive_per_motor": DRIVE,
    "shared_drive": DRIVE,
    "step_up_drive": DRIVE,
    "rotary_converter": ALONE | {
        "idler_power_w", "run_capacitance_f", "line_voltages_v", "unbalance", "line_currents_a",
        "efficiency_loaded",
    },
    "static_converter": ALONE,
    "capacitor_run": ALONE | {"run_capacitance_f", "capacitor_voltage_v"},
    "electronic_converter": TAKES | STARTS
    | {"usable_power_w", "idle_power_w", "output_current_a", "efficiency", "price"},
    "utility_service": TAKES | STARTS | {"usable_power_w", "price"},
    "motor_swap": TAKES | {"usable_power_w", "starting_torque_ratio", "idle_power_w", "price"},
    "direct": {"input_current_a", "usable_power_w", "starting_current_a", "price"},
}  # fmt: skip
BATTERY = OWED["electronic_converter"] | {"charger_power_w", "battery_kwh", "round_trip_efficiency"}
GENERATOR = OWED["electronic_converter"] - {
    # of what the supply gives, which is nothing; its own energy is told in litres
    "input_power_w",
    "input_power_factor",
    "voltage_dip_ratio",
    "efficiency",
} | {"source_dip_ratio", "fuel_l_per_h", "own_energy_price"}
VARIANTS = {"battery inverter": BATTERY, "generator": GENERATOR}
MOTOR = {
    "id", "connection", "connection_words", "line_voltage_v", "full_load_current_a", "poles",
    "synchronous_speed_rpm", "equivalent_circuit", "torque", "locked_rotor_current_a", "ways",
}  # fmt: skip
CIRCUIT = {
    "frequency_hz", "stator_resistance_ohm", "stator_leakage_ohm", "magnetising_ohm",
    "saturation", "core_loss_ohm", "cages", "friction_w", "stray_w", "inertia_kg_m2",
}  # fmt: skip
PLAN = {
    "id", "title", "feasible", "buys", "purchase", "labour", "hours_of_work", "energy_per_year",
    "idle_energy_per_year_kwh", "years", "lifetime_cost", "gives", "gives_up", "motors",
    "equipment", "cases", "findings",
}  # fmt: skip


def told_of(shop):
    return studied(read(EXAMPLES / shop)) if shop.endswith(".yaml") else studied(shop)


def owed_by_variant(way, figures):
    """What a way owes a motor, told by what only one variant of it has."""
    if "battery_kwh" in figures:
        return BATTERY
    return GENERATOR if "fuel_l_per_h" in figures else OWED[way]


def on_converter(plan, motor):
    ways = {each["motor"]: each.get("way") for each in plan["motors"]}
    return ways[motor] == "rotary_converter"


LAID = {
    "id", "role", "from", "to", "design_current_a", "conductor", "length_m", "ampacity_a",
    "voltage_drop", "protective_conductor", "undervoltage_release", "upstream_blind",
    "findings", "sources",
}  # fmt: skip


def owed_missing(of, owed):
    return sorted(owed - of.keys())


@pytest.fixture(params=SHOPS)
def told(request):
    return told_of(request.param)


def test_the_top_is_whole(told):
    assert not owed_missing(told, {
        "made", "shop", "region", "answer", "supply", "motors", "others", "plans", "findings",
        "assumed", "missing", "sources",
    })  # fmt: skip
    assert not owed_missing(told["answer"], {
        "headline", "plan", "reasons", "cautions", "obstacles", "changes_if"})  # fmt: skip
    assert not owed_missing(told["supply"], {"impedance_ohm", "fault_current_a", "headroom_a"})
    assert told["answer"]["plan"] in {plan["id"] for plan in told["plans"]}


def test_every_three_phase_motor_is_computed(told):
    for motor in told["motors"]:
        if "equivalent_circuit" not in motor:  # single-phase ones and what is no cage motor
            assert all(
                way["verdict"] == "refused" for way in motor["ways"] if way["way"] != "direct"
            )
            continue
        assert not owed_missing(motor, MOTOR), motor["id"]
        assert not owed_missing(motor["equivalent_circuit"], CIRCUIT)
        assert not owed_missing(motor["torque"], {"rated_nm", "locked_nm", "breakdown_nm"})
        assert len(motor["ways"]) == 10


def test_a_motor_of_two_speeds_has_both():
    motors = [m for shop in ("bakery.shop.yaml", "dough") for m in told_of(shop)["motors"]]
    both = [motor["speeds"] for motor in motors if "speeds" in motor]
    assert both
    for low, high in both:
        assert (low["name"], high["name"]) == ("low", "high")
        assert low["synchronous_speed_rpm"] < high["synchronous_speed_rpm"]
        for speed in (low, high):
            assert not owed_missing(speed["equivalent_circuit"], CIRCUIT)
            assert speed["on_drive"]["base_frequency_hz"] == pytest.approx(
                speed["equivalent_circuit"]["frequency_hz"] * speed["on_drive"]["output_voltage_v"]
                / speed["line_voltage_v"]
            )  # fmt: skip


def test_every_way_that_may_be_taken_has_its_figures(told):
    for motor in told["motors"]:
        for way in motor["ways"]:
            if way["verdict"] == "refused" or way["way"] not in OWED:
                continue
            owed = owed_by_variant(way["way"], way["figures"])
            assert not owed_missing(way["figures"], owed), (motor["id"], way["way"])
            assert way["reasons"]
            if way["way"] not in ("direct", "motor_swap"):
                assert not owed_missing(way, {"connection", "line_voltage_v",
                                              "full_load_current_a"})  # fmt: skip


def test_every_plan_is_whole_as_built(told):
    for plan in told["plans"]:
        assert not owed_missing(plan, PLAN), plan["id"]
        hung = [motor for motor in plan["motors"] if "way" in motor]
        if plan["feasible"]:
            assert not owed_missing(plan, {"regret", "supply_current_a"})
            assert len(hung) == len(plan["motors"])
        for motor in hung:
            if motor["way"] not in ("direct", "motor_swap"):
                assert not owed_missing(motor, {"connection", "overload_setting_a", "equipment"})
            on = motor.get("equipment")
            owed = VARIANTS.get(on, OWED.get(motor["way"], set())) - {"price"}
            assert not owed_missing(motor["figures"], owed), (plan["id"], motor["motor"])
        for each in plan["equipment"]:
            assert not owed_missing(each, {"id", "way", "rating", "unit", "serves", "figures"})
            if each["way"] == "rotary_converter":
                assert not owed_missing(each, {"equivalent_circuit", "supply_lost"})
                assert not owed_missing(each["figures"], {
                    "idler_power_w", "run_capacitance_f", "start_capacitance_f", "idle_power_w"})  # fmt: skip
                if plan["id"] == told["answer"]["plan"]:
                    assert not owed_missing(each, {"largest_starts", "wrong_direction"})
                assert "line3_earth_fault_a" in each["figures"]
        assert {each["to"] for each in plan["circuits"]} >= {
            motor["motor"] for motor in hung if plan["feasible"]
        }
        for each in plan["circuits"]:
            assert not owed_missing(each, LAID), (plan["id"], each["id"])
        for start in plan["starts"]:
            if start["planned"]:  # told closely is what is there now
                continue
            if plan["id"] == told["answer"]["plan"] and on_converter(plan, start["motor"]):
                assert not owed_missing(start, {"beside"})
                assert ("starts_per_hour" in start) == start["runs_up"]
        for case in plan["cases"]:
            assert not owed_missing(
                case, {"running", "supply_current_a", "supply_power_w", "room_left_a"}
            )
            on = {motor["motor"]: motor["way"] for motor in hung}
            if "rotary_converter" in {on[name] for name in case["running"]}:
                assert not owed_missing(case, {"line_voltages_v", "unbalance", "line_currents_a"})
                left = case["room_left_starting_a"]
                assert left <= case["room_left_a"]


def test_the_plans_hold_every_kind_of_sharing_and_doing_nothing(told):
    ways = [{motor.get("way") for motor in plan["motors"]} for plan in told["plans"]]
    assert {None} in ways
    kinds = {plan["id"].split("-")[0] for plan in told["plans"]}
    assert "none" in kinds
    for shared in ("rotary_converter", "electronic_converter", "utility_service"):
        able = [
            motor for motor in told["motors"]
            if any(w["way"] == shared and w["verdict"] != "refused" for w in motor["ways"])
        ]  # fmt: skip
        assert (shared in kinds) == bool(able), shared
