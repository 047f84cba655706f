"""The verdicts at a glance: a row a motor, a column a way, each with its shape and a word."""

from __future__ import annotations

from collections.abc import Sequence

from rich.console import Console
from rich.table import Table
from rich.text import Text

from phasewright.command.screen import line, shape, tabled
from phasewright.plan.study import MotorSide
from phasewright.quantities.codes import WAYS, Verdict, WayName
from phasewright.quantities.words import VERDICT_WORDS, WAY_SHORT

_ANSWERS: dict[Verdict, str] = {"suits": "yes", "with_conditions": "if", "refused": "no"}
_COLUMN = 11
_LONGEST_NAME = 26


def verdict_table(
    console: Console, motors: Sequence[MotorSide], *, without: frozenset[WayName]
) -> None:
    """Every motor with its verdicts; in several tables where the width does not hold all ways."""
    there = {way.way for motor in motors for way in motor.ways}
    names = [way for way in WAYS if way in there and way not in without]
    wide = min(_LONGEST_NAME, max((len(motor.id) for motor in motors), default=0)) + 2
    fit = max(1, (console.width - 2 - wide) // _COLUMN)
    for first in range(0, len(names), fit):
        _part(console, motors, names[first : first + fit], wide)
    if names:
        line(console, _legend(console))


def _part(
    console: Console, motors: Sequence[MotorSide], names: Sequence[WayName], wide: int
) -> None:
    table = Table(box=None, pad_edge=False, padding=(0, 1, 0, 0), header_style="italic")
    table.add_column("Motor", width=wide - 1, overflow="fold")
    for name in names:
        table.add_column(WAY_SHORT[name], width=_COLUMN - 1, vertical="bottom")
    for motor in motors:
        verdicts = {way.way: way.verdict for way in motor.ways}
        table.add_row(motor.id, *(_cell(console, verdicts.get(name)) for name in names))
    tabled(console, table)


def _cell(console: Console, verdict: Verdict | None) -> Text:
    if verdict is None:
        return Text("")
    return Text.assemble(shape(console, verdict), " ", _ANSWERS[verdict])


def _legend(console: Console) -> Text:
    """What the words of the table mean."""
    parts = [
        Text.assemble(shape(console, verdict), f" {word}: {VERDICT_WORDS[verdict]}")
        for verdict, word in _ANSWERS.items()
    ]
    return Text("   ").join(parts)
