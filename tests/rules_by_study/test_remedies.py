"""Shops that break a rule by themselves: the remedy, put into the shop file, ends the finding.

Each is a small edit of one base shop. The remedy's own path and value are applied, nothing that is
written here; where the base keeps the rule, that is seen too.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from rules_by_study import custom_shops, iec_shops, kept_nec, nec_shops, safety_shops
from rules_by_study.by_hand import BY_HAND
from rules_by_study.edits import edited, entry_of, found, studied
from rules_by_study.kept import NO_FACT, REASONS, SEEN_IN

from phasewright.files.shop_file import read_text
from phasewright.rules.register import all_rules

pytestmark = pytest.mark.whole
ROOT = Path(__file__).resolve().parents[2]
TABLES = (iec_shops, custom_shops, safety_shops)
BREAKS = {rule: edit for table in TABLES for rule, edit in table.BREAKS.items()}
BASE_BREAKS = {rule for table in TABLES for rule in table.BASE_BREAKS}
OWN_SOURCES = {"battery inverter", "generator", "electronic source"}
"""Behind them little is known of what a fault draws: that is found."""


@pytest.mark.parametrize("rule", BREAKS)
def test_a_shop_that_breaks_a_rule_and_its_remedy(rule):
    broken = [(at, each) for at, each in found(edited(BREAKS[rule]), rule)]
    mended = [(at, each) for at, each in broken if each.remedy and each.remedy.value is not None]
    assert mended, broken
    at, first = mended[0]
    remedy = {first.remedy.path: entry_of(first.remedy)}
    left = found(edited(BREAKS[rule], remedy), rule)
    assert at not in [place for place, _ in left], [each.words for _, each in left]


@pytest.mark.parametrize("rule", [rule for rule in BREAKS if rule not in BASE_BREAKS])
def test_the_base_shop_keeps_it(rule):
    assert not found(edited(), rule)


@pytest.mark.parametrize("rule", sorted(BASE_BREAKS))
def test_what_the_base_shop_breaks_it_breaks(rule):
    assert found(edited(), rule)


@pytest.mark.parametrize("rule", BY_HAND)
def test_what_the_words_of_a_remedy_say_ends_it(rule):
    breaks, mends = BY_HAND[rule]
    assert found(edited(breaks), rule)
    assert not found(edited(breaks, mends), rule)


@pytest.mark.parametrize("rule", SEEN_IN)
def test_a_rule_that_no_fact_mends_fails_in_a_shop_of_ours(rule):
    text = (ROOT / f"{SEEN_IN[rule]}.shop.yaml").read_text(encoding="utf-8")
    assert found(text, rule)


def test_what_is_said_to_fail_is_seen_failing():
    assert {rule for rule, why in REASONS.items() if why.startswith(NO_FACT)} == set(SEEN_IN)


def test_every_rule_is_seen_failing_or_it_is_told_why_not():
    seen = {*BREAKS, *BY_HAND, *(rule for _, rules in nec_shops.SHOPS.values() for rule in rules)}
    told = {*REASONS, *kept_nec.REASONS}
    registered = {rule.id for rule in all_rules()}
    assert not seen & told
    assert registered - seen == told


def test_on_a_farm_every_circuit_has_a_residual_device_and_the_rule_is_kept():
    told = studied(edited({"supply.farm": True}))
    left = [each for each in told.findings if each.rule == "iec.60364_7_705.705_411_1"]
    assert {each.circuit.split(" to ")[0] for each in left} <= OWN_SOURCES
    plain = studied(edited())

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
    assert found(edited(), rule)
    assert not found(edited({"supply.dwelling": False}), rule)


def test_the_device_upstream_is_judged_where_it_is_all_that_covers_a_circuit():
    """Of a shop on an earth of its own: time to cut off, and volts on its rod."""
    coarse = {"rating": "500 mA", "type": "A", "where": "intake"}
    slow = edited({"supply.earthing": "TT", "supply.residual_current": coarse})
    shed = {"name": "shed", "feeder": {"length": "20 m", "conductor": "10 mm2"}}
    rod = edited(
        {
            "supply.earthing": "TT",
            "places": [shed | {"electrode": "2500 ohm"}],
            "machines[0].place": "shed",
        }
    )
    for text, rule in ((slow, "iec.60364_4_41.411_3_2"), (rod, "iec.60364_4_41.411_5_3")):
        remedies = [each.remedy for _, each in found(text, rule)]
        assert {each.path for each in remedies} == {"supply.residual_current.rating"}


def test_every_edit_is_a_shop():
    for edit in BREAKS.values():
        assert read_text(edited(edit)).machines
