"""What was found, what was assumed and what is worth finding out, on the screen."""

from __future__ import annotations

from collections.abc import Sequence

from rich.console import Console
from rich.text import Text

from phasewright.command.screen import heading, line, money, shape
from phasewright.papers.assumed_words import assumed_lines, built_in
from phasewright.plan.measurements import Measurement
from phasewright.quantities.finding import Assumed, Finding, Missing
from phasewright.quantities.words import SEVERITY_WORDS


def findings(console: Console, found: Sequence[Finding]) -> None:
    """What was found, with what would change it."""
    if not found:
        return
    heading(console, "What was found")
    groups: dict[tuple[str, str, str], list[Finding]] = {}
    for entry in found:
        change = "" if entry.remedy is None else f" To change it: {entry.remedy.words}"
        groups.setdefault((entry.severity, entry.words, change), []).append(entry)
    for (_, words, change), alike in groups.items():
        severity, of = alike[0].severity, ", ".join(dict.fromkeys(each.subject for each in alike))
        told = f"{words.rstrip('.')}.{change}" if change else words
        line(console, f"{SEVERITY_WORDS[severity]}: {of}: {told}", mark=shape(console, severity))


def assumed(console: Console, facts: Sequence[Assumed]) -> None:
    """What was taken for granted, one line a kind of fact over all motors."""
    if not facts:
        return
    heading(console, "What was assumed")
    for each in assumed_lines(facts):
        times = f", {len(each.facts)} times" if len(each.facts) > 1 else ""
        line(console, f"{each.field}: {each.told} ({each.origin}{times})", mark=Text("-"))
    if said := built_in(facts):
        line(console, f"what no plate says, as usual for such motors: {said}", mark=Text("-"))


def measure_first(console: Console, of: Sequence[Measurement]) -> None:
    """The measurement at the supply that is most worth making, then what others would tell."""
    if not of:
        return
    heading(console, "What to measure first at the supply")
    for number, each in enumerate(of):
        decides = " It decides." if each.decides else " It decides nothing by itself."
        words = f"{each.words}{decides} {each.how}" if number == 0 else f"{each.words}{decides}"
        line(console, words, mark=Text(f"{number + 1}."))


def missing(console: Console, facts: Sequence[Missing], currency: str | None) -> None:
    """What is worth finding out, in the order given, the same fact of several motors once."""
    if not facts:
        return
    heading(console, "What is worth finding out")
    groups: dict[tuple[str, str, str], list[Missing]] = {}
    for fact in facts:
        key = (fact.words, fact.how_to_measure, fact.would_change)
        groups.setdefault(key, []).append(fact)
    for (words, how, changes), alike in groups.items():
        worth = max((fact.worth or 0.0 for fact in alike), default=0.0)
        told = [
            words,
            how,
            f"It would change: {changes.rstrip('.')}." if changes else "",
            f"Worth about {money(worth, currency)}." if worth else "",
            f"For {len(alike)} {_owners(alike)}." if len(alike) > 1 else "",
        ]
        line(console, " ".join(part for part in told if part), mark=Text("-"))


def _owners(alike: Sequence[Missing]) -> str:
    """What the same question is asked about."""
    return "motors" if all(".motors[" in fact.path for fact in alike) else "machines"
