"""Circuits told as they stand: kept where they serve, else the smallest change that mends them."""

from __future__ import annotations

import pytest
from rules_by_study.edits import base, edited, entry_of, found, studied

from phasewright.files.shop_file import read_text
from phasewright.files.shop_writing import shop_text
from phasewright.quantities.errors import ShopFileError

pytestmark = pytest.mark.whole
DRIVE = "supply to drive_per_motor Mill/cutter"
CIRCUIT = "machines[0].circuit"


def circuit(text, id=DRIVE):
    """The circuit of this id in the first plan that has it."""
    return next(
        each for plan in studied(text).plans for each in plan.circuits or () if each.id == id
    )


def wrong(text, id=DRIVE):
    """Rules that find something in what stands there of a circuit."""
    return {
        each.rule
        for each in studied(text).findings
        if each.circuit == id and each.words.startswith("as it stands today")
    }


def test_what_serves_is_kept_and_nothing_is_said():
    told = {CIRCUIT: {"breaker": "C20", "breaking": "6 kA", "residual_current": "none",
                      "isolator": {"rating": "25 A", "poles": 3, "lockable": True}}}  # fmt: skip
    kept = circuit(edited(told))
    assert (kept.device.curve, kept.device.rating_a, kept.device.breaking_ka) == ("C", 20.0, 6.0)
    assert kept.isolator.rating_a == 25.0
    assert set(kept.there) == {"breaker", "breaking", "residual_current", "isolator"}
    assert not wrong(edited(told))


def test_what_stands_there_and_serves_is_not_bought():
    told = edited({CIRCUIT: {"breaker": "C20", "isolator": {"rating": "25 A"}}})
    plan = next(p for p in studied(told).plans if any(c.id == DRIVE for c in p.circuits or ()))
    assert {"breaker", "isolator"} <= set(circuit(told).there)
    bought = [each.kind for each in plan.circuit_parts if each.circuit == DRIVE]
    assert bought == ["cable"]


def test_what_is_told_and_breaks_a_rule_is_new_in_the_plan_which_stays_feasible():
    told = {CIRCUIT: {"breaker": "B40"}, "machines[0].cable": {"conductor": "2.5 mm2"}}
    kept, anew = circuit(edited(told)), circuit(edited())
    assert "breaker" not in kept.there
    assert "conductor" in kept.there
    assert kept.device.rating_a == anew.device.rating_a
    assert kept.conductor == "2.5 mm2"
    feasible = [plan.feasible for plan in studied(edited()).plans]
    assert [plan.feasible for plan in studied(edited(told)).plans] == feasible


@pytest.mark.parametrize("there", ["B32", "C40", "gG 32 A", "D50"])
def test_the_breaker_of_the_remedy_is_the_nearest_that_serves(there):
    cable = {"machines[0].cable": {"conductor": "2.5 mm2"}}
    broken = edited({CIRCUIT: {"breaker": there}} | cable)
    told = [each for at, each in found(broken, "iec.60364_4_43.433_1_b") if at[1] == DRIVE]
    assert told
    remedy = told[0].remedy
    assert remedy.path == f"{CIRCUIT}.breaker"
    assert not found(edited({CIRCUIT: {"breaker": remedy.value}} | cable), told[0].rule)
    rated = float(remedy.value.strip("BCDgG A"))
    larger = [a for a in (16.0, 20.0, 25.0, 32.0, 40.0) if rated < a <= told[0].allowed]
    assert not larger


def test_the_smallest_change_of_a_device_that_is_blind_to_a_drive_is_its_type():
    broken = edited({CIRCUIT: {"residual_current": {"rating": "30 mA", "type": "AC"}}})
    told = next(e for at, e in found(broken, "leakage.device_type") if at[1] == DRIVE)
    assert told.remedy.path == f"{CIRCUIT}.residual_current.type"
    mended = edited(
        {CIRCUIT: {"residual_current": {"rating": "30 mA", "type": "AC"}}},
        {told.remedy.path: entry_of(told.remedy)},
    )
    assert "residual_current" in circuit(mended).there


def test_of_a_machine_with_two_motors_nothing_is_used_and_that_is_told():
    second = {"name": "pump", "plate": {"power": "0.25 kW", "voltage": "230/400 V"}}
    told = {CIRCUIT: {"breaker": "B63", "isolator": "none"}}
    assert wrong(edited(told))
    motors = [*base()["machines"][0]["motors"], second]
    two = edited(told, {"machines[0].motors": motors})
    assert not wrong(two)
    assert any(each.rule == "circuit.there_not_used" for each in studied(two).findings)


def test_a_shop_with_circuits_reads_back_and_a_marking_that_is_none_is_told():
    told = {
        CIRCUIT: {"breaker": "gG 25 A", "residual_current": "none", "behind_drive": ["drum"],
                  "isolator": "none", "overload": "8.4 A", "undervoltage_release": False},
        "supply.converter_circuit": {"discharge_resistor": "none", "tied": "earth",
                                     "cable": {"length": "3 m"}, "phase_relay": True},
    }  # fmt: skip
    shop = read_text(edited(told))
    assert read_text(shop_text(shop)) == shop
    for marked in ("20 A", "X16", "B", "16"):
        with pytest.raises(ShopFileError, match=r"circuit\.breaker"):
            read_text(edited({CIRCUIT: {"breaker": marked}}))
    with pytest.raises(ShopFileError, match="connects_by: plug"):
        read_text(edited({CIRCUIT: {"socket": {"rating": "16 A"}}}))


def test_the_breaker_of_a_feeder_is_judged_and_the_remedy_ends_it():
    shed = {"name": "shed", "feeder": {"length": "20 m", "conductor": "6 mm2", "breaker": "C63"}}
    told = {"places": [shed], "machines[0].place": "shed"}
    rule = "iec.60364_4_43.433_1_b"
    at, each = found(edited(told), rule)[0]
    assert at[1] == "feeder shed"
    assert each.severity == "condition"
    mended = edited(told, {each.remedy.path: each.remedy.value})
    assert each.remedy.path == "places[0].feeder.breaker"
    assert not found(mended, rule)
    small = edited(told, {each.remedy.path: "B6"})
    assert found(small, "iec.60364_4_43.433_1_a")
    for path, marked in (("places[0].feeder.breaker", "63"), ("supply.feeder.breaker", "C63")):
        with pytest.raises(ShopFileError, match="breaker"):
            read_text(edited(told, {path: marked}))
