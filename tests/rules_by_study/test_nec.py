"""Sections of the National Electrical Code broken through a study, and mended by their remedies.

One shop breaks several rules at once; their remedies, each at its own path, are put into the shop
file together, and where a rule was found it is found no more.
"""

from __future__ import annotations

import pytest
from rules_by_study.edits import entry_of, studied
from rules_by_study.kept_nec import REASONS
from rules_by_study.nec_shops import BASE_BREAKS, BY_THE_WAY, MILL, SHOPS, edited

from phasewright.rules.register import all_rules

pytestmark = pytest.mark.whole
BROKEN = [(shop, rule) for shop, (_, rules) in SHOPS.items() for rule in sorted(rules)]


def found(text: str, rule: str):
    """(plan and circuit, finding) of a rule, the plan that was found first."""
    return [
        ((each.plan, each.circuit or each.subject), each)
        for each in studied(text).findings
        if each.rule == rule and (rule in BY_THE_WAY or each.severity != "info")
    ]


def remedy_of(shop: str, rule: str):
    """The first finding of a rule whose remedy says a place and a value; where it was found."""
    broken = found(edited(SHOPS[shop][0]), rule)
    return next((at, each.remedy) for at, each in broken if each.remedy and each.remedy.value)


def mended(shop: str) -> str:
    """The shop with the remedies of all its rules."""
    edit, rules = SHOPS[shop]
    remedies: dict[str, str] = {}
    for rule in sorted(rules):
        _, remedy = remedy_of(shop, rule)
        assert remedies.setdefault(remedy.path, entry_of(remedy)) == entry_of(remedy), rule
    return edited(edit, remedies)


@pytest.mark.parametrize(("shop", "rule"), BROKEN)
def test_a_shop_that_breaks_it_and_its_remedy(shop: str, rule: str) -> None:
    at, remedy = remedy_of(shop, rule)
    assert remedy.words
    left = found(mended(shop), rule)
    assert at not in [place for place, _ in left], [each.words for _, each in left]


def test_less_load_ends_what_the_derating_curve_says() -> None:
    """NEMA MG 1: unequal lines change with the load, so it is halved and not set to the curve."""
    rule, load = "nema.mg1.12_45", f"{MILL}.motors[0].load.torque"
    broken = found(edited({load: 1.0}), rule)
    remedy = broken[0][1].remedy
    assert remedy.path.endswith("load.torque")
    assert remedy.value < 1.0
    assert not found(edited({load: 0.5}), rule)


def test_every_section_is_seen_failing_or_it_is_told_why_not() -> None:
    seen = {rule for _, rule in BROKEN} | {"nema.mg1.12_45"}
    known = {rule.id for rule in all_rules() if rule.id.startswith(("nec.", "nema."))}
    assert not seen & set(REASONS)
    assert seen | set(REASONS) == known


@pytest.mark.parametrize("rule", sorted({rule for _, rule in BROKEN}))
def test_the_base_shop_keeps_it_or_is_known_to_break_it(rule: str) -> None:
    assert bool(found(edited(), rule)) == (rule in BASE_BREAKS)
