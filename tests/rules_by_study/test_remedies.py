"""Shops that break a rule by themselves: the remedy, put into the shop file, ends the finding.

Each is a small edit of one base shop. The remedy's own path and value are applied, nothing that is
written here; where the base keeps the rule, that is seen too.
"""

from __future__ import annotations

import copy
import json
import re
from functools import lru_cache
from pathlib import Path

import pytest
from ruamel.yaml import YAML

import phasewright
from phasewright.files.shop_file import read_text

pytestmark = pytest.mark.whole
BASE = Path(__file__).resolve().parents[1] / "figures" / "base_shop.yaml"
SHED = {"name": "shed", "feeder": {"length": "20 m", "conductor": "10 mm2"}}
OWN_SOURCES = {"battery inverter", "generator", "electronic source"}
"""Behind them nothing is chosen, for what they give a fault is not known: that is found."""
BREAKS = {
    "iec.60364_4_41.411_3_2": {  # the device that is there lets a fault stand too long on a rod
        "supply.earthing": "TT",
        "supply.residual_current": {"rating": "500 mA", "type": "A", "where": "intake"},
    },
    "iec.60364_4_41.411_5_3": {  # a rod of so many ohms for the device that is chosen
        "supply.earthing": "TT",
        "places": [SHED | {"electrode": "2500 ohm"}],
        "machines[0].place": "shed",
    },
    "leakage.device_type": {
        "supply.residual_current": {"rating": "300 mA", "type": "AC", "where": "intake"},
    },
    "circuit.cable_too_thin": {
        "machines[0].cable": {"length": "12 m", "conductor": "1.5 mm2"},
    },
    "iec.61000_3_11.4": {  # a start for which the operator must agree to so soft a supply
        "supply.feeder": None,
        "supply.heater_test": None,
        "supply.loop_impedance": "0.6 ohm",
    },
}


def put(shop, path, entry):
    """Set, or with None take away, what stands at a path of the shop file."""
    *rooms, last = re.findall(r"[^.\[\]]+", path)
    at = shop
    for room in rooms:
        at = at[int(room)] if room.isdigit() else at.setdefault(room, {})
    if entry is None:
        at.pop(last, None)
    else:
        at[last] = entry


@lru_cache(maxsize=1)
def base():
    with BASE.open(encoding="utf-8") as text:
        shop = YAML(typ="safe").load(text)
    shop["machines"] = shop["machines"][:1]
    shop["machines"][0].pop("others")
    shop.pop("quotes")
    put(shop, "supply.earthing", "TN-S")
    return shop


@lru_cache(maxsize=32)
def findings(text, rule):
    study = phasewright.study(read_text(text), quick=True)
    return tuple(each for each in study.findings if each.rule == rule)


def edited(*edits):
    shop = copy.deepcopy(base())
    for edit in edits:
        for path, entry in edit.items():
            put(shop, path, entry)
    return json.dumps(shop)


def entry_of(remedy):
    """The remedy's value as a shop file has it, a little inside the limit, as an owner would."""
    if isinstance(remedy.value, float):
        return f"{0.999 * remedy.value:.6g} {remedy.unit}"
    return remedy.value


def least(found):
    """The remedy that asks most of those found."""
    return min(
        (each.remedy for each in found),
        key=lambda each: each.value if isinstance(each.value, float) else 0.0,
    )


@pytest.mark.parametrize("rule", BREAKS)
def test_a_shop_that_breaks_a_rule_and_its_remedy(rule):
    broken = findings(edited(BREAKS[rule]), rule)
    assert broken
    assert all(each.severity != "info" for each in broken)
    remedy = least(broken)
    assert remedy.path is not None
    after = findings(edited(BREAKS[rule], {remedy.path: entry_of(remedy)}), rule)
    assert not after, [(each.found, each.allowed) for each in after]


@pytest.mark.parametrize("rule", [rule for rule in BREAKS if rule != "iec.61000_3_11.4"])
def test_the_base_shop_keeps_it(rule):
    assert not findings(edited(), rule)


def test_on_a_farm_every_circuit_has_a_residual_device_and_the_rule_is_kept():
    told = phasewright.study(read_text(edited({"supply.farm": True})), quick=True)
    left = [each for each in told.findings if each.rule == "iec.60364_7_705.705_411_1"]
    assert {each.circuit.split(" to ")[0] for each in left} <= OWN_SOURCES
    plain = phasewright.study(read_text(edited()), quick=True)

    def bare(study):
        return sum(
            circuit.residual_current is None
            for plan in study.plans
            for circuit in plan.circuits or ()
            if circuit.role not in ("capacitor_branch", "drive_to_motor")
        )

    assert bare(told) < bare(plain)


def test_where_no_dwelling_shares_the_supply_the_radio_category_is_not_judged():
    rule = "iec.61800_3.category"
    assert findings(edited(), rule)
    assert not findings(edited({"supply.dwelling": False}), rule)
