"""What was found, what is to be confirmed, what was assumed, what is missing, and the sources."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from phasewright.papers.assumed_words import AssumedLine, assumed_lines, built_in
from phasewright.papers.plan_words import about, findings_of, sentence
from phasewright.papers.report.blocks import SPAN, Block, Column, Heading, Words, bullets, table
from phasewright.plan.study import PlanSide, Study
from phasewright.quantities.codes import Severity
from phasewright.quantities.finding import Assumed, Finding, Missing
from phasewright.quantities.told import amount, money
from phasewright.quantities.words import SEVERITY_WORDS
from phasewright.shop.model import Shop

FEW = 2
"""More things of which the same was assumed are counted, not named."""
SHAPES: dict[Severity, str] = {"stop": "■", "condition": "▲", "caution": "△", "info": "·"}


def found(study: Study, plan: PlanSide | None) -> Iterator[Block]:
    """Findings on the plan and the shop, the worst first, like ones of several subjects once."""
    yield Heading("What was found", 1)
    groups: dict[tuple[Severity, str, str, str], list[Finding]] = {}
    for each in findings_of(study, plan):
        remedy = "" if each.remedy is None else sentence(each.remedy.words)
        groups.setdefault((each.severity, each.rule, remedy, each.source), []).append(each)
    if not groups:
        yield Words("Nothing stands against the plan.")
    rows: list[tuple[str, ...]] = []
    graves: set[Severity] = set()
    for (severity, _, remedy, source), alike in groups.items():
        if severity not in graves:
            graves.add(severity)
            rows.append((SPAN, f"{SHAPES[severity]} {SEVERITY_WORDS[severity]}"))
        rows.append((*_together(alike), f"{remedy}{f' ({source})' if source else ''}".strip()))
    columns = (Column("Of", 1.0), Column("What", 3.2), Column("To change it (source)", 2.6))
    yield from table(columns, rows, small=True)


def _together(alike: Sequence[Finding]) -> tuple[str, str]:
    """Findings of one rule: those of the same words once; of others the first, and of which too."""
    by_words: dict[str, list[str]] = {}
    for each in alike:
        by_words.setdefault(sentence(each.words), []).append(each.subject)
    first, subjects = next(iter(by_words.items()))
    others = [name for words, names in by_words.items() if words != first for name in names]
    too = f" With other figures (study.json): {', '.join(dict.fromkeys(others))}." if others else ""
    return ", ".join(dict.fromkeys(subjects)), first + too


def to_confirm(plan: PlanSide | None) -> Iterator[Block]:
    """What only the finished installation shows, to be ticked off before it is used."""
    confirms = () if plan is None else plan.to_confirm or ()
    if not confirms:
        return
    yield Heading("To confirm on the finished installation")
    groups: dict[tuple[str, str], list[str]] = {}
    for each in confirms:
        groups.setdefault((each.words, each.how or ""), []).append(each.subject)
    entries = (
        (f"{', '.join(dict.fromkeys(of))}:", f"{words} {how}".strip())
        for (words, how), of in groups.items()
    )
    yield from bullets(entries, "tick")


def assumed(facts: Sequence[Assumed], shop: Shop) -> Iterator[Block]:
    """What was taken for granted, one line a kind of fact: what it was taken as, of what, why."""
    yield Heading("What was assumed", 1)
    if not facts:
        yield Words("Nothing: every fact was told.")
        return
    yield Words(
        "Each of them by itself, with its lowest and highest credible value and its source: "
        "study.json.",
        look="small",
    )
    rows = [
        (each.field, each.told, _whose(each, shop), each.origin) for each in assumed_lines(facts)
    ]
    if said := built_in(facts):
        rows.append(("what no plate says", said, "", "as usual for such motors"))
    yield from table(
        (Column("What", 1.2), Column("Taken as", 3.2), Column("Of", 1.0), Column("Because", 1.2)),
        rows, small=True,
    )  # fmt: skip


def _whose(of: AssumedLine, shop: Shop) -> str:
    found = dict.fromkeys(filter(None, (about(fact.path, shop) for fact in of.facts)))
    return "; ".join(found) if len(found) <= FEW else f"{len(found)} of them"


def missing(facts: Sequence[Missing], currency: str | None) -> Iterator[Block]:
    """What is worth finding out, and how."""
    if not facts:
        return
    yield Heading("What is worth finding out")
    groups: dict[tuple[str, str, str], list[Missing]] = {}
    for fact in facts:
        groups.setdefault((fact.words, fact.how_to_measure, fact.would_change), []).append(fact)
    yield from table(
        (Column("What", 2.0), Column("How", 2.0), Column("What it would change", 1.6),
         Column("Worth", side="right")),
        (
            (words, how, changes, _worth(alike, currency))
            for (words, how, changes), alike in groups.items()
        ),
        small=True,
    )  # fmt: skip


def _worth(alike: Sequence[Missing], currency: str | None) -> str:
    worth = max((fact.worth or 0.0 for fact in alike), default=0.0)
    return money(worth, currency) if worth else ""


def changes(study: Study) -> Iterator[Block]:
    """Thresholds at which another plan wins."""
    if not study.answer.changes_if:
        return
    yield Heading("What would change the answer")
    yield from table(
        (Column("What", 1.6), Column("From", side="right"), Column("To", side="right"),
         Column("Then", 2.4)),
        (
            (each.what, amount(each.from_, each.unit), amount(each.to, each.unit), each.then)
            for each in study.answer.changes_if
        ),
        small=True,
    )  # fmt: skip


def sources(study: Study) -> Iterator[Block]:
    """Every published figure in use, and what made these papers."""
    yield Heading("Sources", 1)
    yield Words(
        "From memory: written down without the book at hand, to be checked before it is relied "
        "on. Common practice: a fact of the trade without one printed source.",
        look="small",
    )
    groups: dict[str, list[str]] = {}
    for each in study.sources:
        groups.setdefault(each.status, []).append(f"{each.title} {each.edition}".strip())
    yield from bullets(
        ((f"{status[:1].upper()}{status[1:]}:", "; ".join(titles))
         for status, titles in groups.items()),
        "small",
    )  # fmt: skip
    made = study.made
    yield Words(
        f"Made by Phasewright {made.version}, tables {made.tables}, from the shop file with the "
        f"SHA-256 sum {made.shop_sha256}. The same file gives the same papers.",
        look="small",
    )
