"""The page of all rules is the register's own words."""

import runpy
from pathlib import Path

from phasewright.rules.register import all_rules

ROOT = Path(__file__).resolve().parents[2]
PAGE = (ROOT / "docs" / "calculations" / "rules.md").read_text(encoding="utf-8")

LISTED = PAGE.split("## Kept by construction")[0]


def test_the_page_is_what_the_register_says():
    tool = runpy.run_path(str(ROOT / "tools" / "rules.py"))
    assert tool["generated"]() == PAGE, "run: python tools/rules.py"


def test_every_rule_stands_on_the_page_once():
    for rule in all_rules():
        assert LISTED.count(f"| `{rule.id}` |") == 1


def test_a_clause_names_its_body_edition_and_place():
    for rule in all_rules():
        if rule.id.startswith(("iec.6", "nec.", "nema.")):
            named = (rule.body, rule.edition, rule.clause)
            assert all(named) or rule.source, rule.id
        assert not rule.clause or (rule.body and rule.edition and rule.body in rule.source)
