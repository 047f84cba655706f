"""Writes docs/calculations/rules.md: every registered rule, by what it looks at."""

from __future__ import annotations

import runpy
from pathlib import Path

from phasewright.rules.register import Rule, all_rules

PAGE = Path(__file__).resolve().parents[1] / "docs" / "calculations" / "rules.md"
PARAGRAPHS = (
    "What it answers: which clause or custom of the trade every finding rests on. This page is "
    "made from the register by `tools/rules.py`; `phasewright sources` prints the same.",
    "A rule is one function over plain figures. It does not apply where a fact it needs is "
    "missing or it speaks of something else; else it is kept or finds one thing: what was found, "
    "what is allowed, what to change. A figure equal to its limit keeps it; one that is no number "
    "never does. A limit from memory makes a condition to be confirmed, never a stop by itself; "
    "what lies beyond a published table is a condition too. IEC texts were not at hand: their "
    "clauses and years of issue are from memory, also where a third-party page gave the value "
    "(published). The National Electrical Code was read in a third-party transcription.",
    "`rules/over.py` asks every rule of a region's family of each circuit of a plan; a plan with "
    "a stop among them is not offered.",
)
BY_STUDY = PAGE.parents[2] / "tests" / "rules_by_study"
KEPT = (
    "Every other rule is seen failing in a study of a whole shop, and kept again once its remedy "
    "stands in the shop file (`tests/rules_by_study`). Not so these:"
)
ORDER = ("supply", "circuit", "equipment", "motor", "machine", "installation")


def told(rule: Rule) -> str:
    """One row: id, rule in words, source, how sure."""
    words = " ".join(rule.words.split("\n\n")[0].split()).replace("|", "/")
    return f"| `{rule.id}` | {words} | {rule.source} | {rule.status} |\n"


def generated() -> str:
    """The whole page."""
    rules = all_rules()
    parts = ["# Rules\n", *(f"\n{each}\n" for each in PARAGRAPHS)]
    for looks_at in ORDER:
        rows = [told(rule) for rule in rules if rule.looks_at == looks_at]
        parts.append(f"\n## Of {_a(looks_at)}\n| rule | in words | source | how sure |\n")
        parts += ["|---|---|---|---|\n", *rows]
    return "".join([*parts, *_kept()])


def _kept() -> list[str]:
    """Rules that no shop makes fail with a remedy, by the tables of the tests."""
    reasons: dict[str, str] = {}
    for table in sorted(BY_STUDY.glob("kept*.py")):
        reasons |= runpy.run_path(str(table))["REASONS"]
    rows = [f"| `{rule}` | {reasons[rule]} |\n" for rule in sorted(reasons)]
    return [f"\n## Kept by construction\n{KEPT}\n\n| rule | why |\n|---|---|\n", *rows]


def _a(looks_at: str) -> str:
    return f"{'an' if looks_at[0] in 'aeiou' else 'a'} {looks_at}"


if __name__ == "__main__":
    PAGE.write_text(generated(), encoding="utf-8")
