"""Stories of services, feeders, breakers, residual current and sources of one's own, whole shops.

Common practice and arithmetic, no source, unless one is named.
"""

from __future__ import annotations

import math

import pytest
from stories.judged import studied
from stories.moved import shop_of, tree_of

MILL = {"power": "1.5 kW", "voltage": "230/400 V", "frequency": "50 Hz", "speed": "1420 rpm", "leads": 6}  # fmt: skip


def workshop(supply, **machine):
    """One mill of 1.5 kW behind a supply that is told otherwise each time."""
    tree = tree_of("bench_lathe")
    base = {"kind": "single_phase", "earthed": "line_2", "country": "GB", "voltage": "230 V",
            "frequency": "50 Hz", "earthing": "TN-S"}  # fmt: skip
    tree["supply"] = base | supply
    tree["machines"] = [
        {"name": "Mill", "motors": [{"name": "main", "plate": MILL, "load": {"kind": "spindle"}}]}
        | machine
    ]
    return shop_of(tree)


def told(**supply):
    return studied(workshop(supply))


def best(study):
    return next(each for each in study["plans"] if each["id"] == study["answer"]["plan"])


def rules(study, plan=None):
    return {each["rule"] for each in study["findings"] if plan in (None, each.get("plan"))}


CHARGER = {"name": "car charger", "current": "32 A", "type": "electronic"}
LIGHTS = {"name": "lights", "current": "6 A"}


def test_a_car_charger_that_can_wait_leaves_its_32_a_to_the_machines():
    waits = told(service_rating="60 A", other_loads=[LIGHTS, CHARGER | {"can_wait": True}])
    stays = told(service_rating="60 A", other_loads=[LIGHTS, CHARGER])
    more = waits["supply"]["headroom_a"] - stays["supply"]["headroom_a"]
    assert more == pytest.approx(32.0, abs=0.1)
    # 60 less 6 and 32 leave 22 A, of which a mill of 1.5 kW takes 8 to 14
    assert 8.0 <= stays["supply"]["headroom_a"] <= 14.0


def test_a_charger_that_does_not_wait_on_40_a_leaves_no_mill():
    """40 less 6 and 32 are 2 A: nothing but a source or a service of its own serves the mill."""
    full = told(service_rating="40 A", other_loads=[LIGHTS, CHARGER])
    ways = {m["way"] for plan in full["plans"] if plan["feasible"] for m in plan["motors"]}
    assert ways <= {"utility_service", "electronic_converter"}
    room = told(service_rating="40 A", other_loads=[LIGHTS])
    assert best(room)["motors"][0]["way"] == "drive_per_motor"


FARM_LINE = {
    "transformer": "25 kVA", "earthing": "TT", "farm": True,
    "feeder": {"length": "80 m", "conductor": "16 mm2", "method": "overhead"},
}  # fmt: skip


def test_a_farm_line_is_soft_by_its_transformer_and_its_80_m_there_and_back():
    """25 kVA, 4 %: 0.085 ohm. 160 m of 16 mm2 at 1.15 ohm/km, warm: 0.2 ohm. A line between."""
    ohms = told(**FARM_LINE)["supply"]["impedance_ohm"]
    cable = 160.0 * 1.15e-3
    assert cable < ohms["r"] < 1.25 * cable + 0.5
    whole = math.hypot(ohms["r"], ohms["x"])
    assert told(**FARM_LINE)["supply"]["fault_current_a"] == pytest.approx(230.0 / whole, rel=0.1)


def test_on_a_farm_every_circuit_stands_behind_300_ma_or_finer():
    study = told(**FARM_LINE)
    for plan in study["plans"]:
        for each in plan.get("circuits", ()):
            if each["role"] not in ("capacitor_branch", "drive_to_motor"):
                assert each["residual_current"]["rating_ma"] <= 300.0, each["id"]


def test_a_longer_farm_line_never_starts_better_and_never_faults_more():
    ladder = [
        told(**(FARM_LINE | {"feeder": FARM_LINE["feeder"] | {"length": f"{metres} m"}}))
        for metres in (40, 80, 160)
    ]
    faults = [each["supply"]["fault_current_a"] for each in ladder]
    assert faults == sorted(faults, reverse=True)


def test_a_socket_for_the_mill_has_30_ma_whatever_the_earthing():
    for earthing in ("TN-S", "TT"):
        study = studied(workshop({"earthing": earthing}, connects_by="plug"))
        for plan in study["plans"]:
            for each in plan.get("circuits", ()):
                if "socket" in each:
                    assert each["residual_current"]["rating_ma"] <= 30.0


def test_an_inverter_of_8_7_a_opens_no_breaker_and_says_what_does():
    """4.3 kVA for a while are 18.7 A: a breaker of 6 A and curve B needs 30 A to act at once."""
    study = studied("off_grid")
    found = [each for each in study["findings"] if each["rule"] == "circuit.source_limits_fault"
             and each["subject"] == "the supply"]  # fmt: skip
    assert found
    assert all(each["found"] == pytest.approx(4300.0 / 230.0) for each in found)
    assert all(each["allowed"] >= 30.0 for each in found)
    assert study["supply"]["fault_current_a"] <= 18.7 * 1.01


@pytest.mark.parametrize("story", ["pole_changing", "star_delta"])
def test_a_transformer_before_a_drive_blinds_what_is_ahead_and_has_its_own_device(story):
    """400 V with the centre earthed: 200 V over half of its own ohms and what stands ahead."""
    study = studied(story)
    behind = [
        each for plan in study["plans"] for each in plan.get("circuits", ())
        if each["role"] == "transformer_to_drive"
    ]  # fmt: skip
    assert behind
    for each in behind:
        assert each["upstream_blind"]
        assert not each["residual_current"].get("upstream")
        assert 20.0 < each["earth_fault_a"] < 400.0
        assert each["earth_fault_a"] == pytest.approx(200.0 / each["loop_ohm"], rel=0.02)
    assert "circuit.upstream_blind" in rules(study)


def test_the_centre_read_at_earth_contradicts_a_neutral_that_was_told():
    read = {"line_1": "116 V", "line_2": "114 V"}
    assert "supply.earthed_point" in rules(told(volts_to_earth=read))
    right = {"line_1": "231 V", "line_2": "1 V"}
    assert "supply.earthed_point" not in rules(told(volts_to_earth=right))


def test_a_supply_says_which_of_its_lines_stands_where_and_what_is_never_tied():
    line_neutral = told()["supply"]
    assert line_neutral["lines_to_earth_v"][0] == pytest.approx(230.0, rel=0.05)
    assert line_neutral["lines_to_earth_v"][1] == 0.0
    split = studied("press_shop")["supply"]
    assert split["lines_to_earth_v"] == pytest.approx([120.0, 120.0], rel=0.05)
    assert {"lines_1_and_2", "one_bond"} <= {each["code"] for each in split["never"]}
