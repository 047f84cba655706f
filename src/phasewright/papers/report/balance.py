"""Blocks in two columns: about how tall blocks are, and where to cut them."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from phasewright.papers.report.blocks import (
    Block,
    Bullets,
    Halves,
    Heading,
    Measured,
    Step,
    Table,
    Words,
)

LETTERS = 56.0
"""Letters in a line of a column, as wide as the paper's font sets them at 8 pt."""
PAGE = 92.0
"""Lines in a column of a whole page."""


def halves(blocks: Sequence[Block]) -> Halves:
    """Blocks in two columns about as long as each other; what is long flows through columns."""
    return Halves(tuple(blocks), 0 if _long(blocks) else _cut(blocks))


def _cut(blocks: Sequence[Block]) -> int:
    """How many blocks stand in the first column, so that the longer one is shortest; a heading is
    never the last of them."""
    tall = [lines(block) for block in blocks]
    whole, so_far, best, at = sum(tall), 0.0, math.inf, len(blocks)
    for place, block in enumerate(blocks):
        so_far += tall[place]
        longer = max(so_far, whole - so_far)
        if longer < best and not isinstance(block, Heading):
            best, at = longer, place + 1
    return at


def _long(blocks: Iterable[Block]) -> bool:
    """True of what does not stand in two columns of one page."""
    return sum(map(lines, blocks)) > 1.3 * PAGE


def lines(block: Block) -> float:
    """About how many lines a block takes."""
    match block:
        case Heading():
            return 2.4
        case Words(words, lead):
            return _lines(f"{lead} {words}", LETTERS) + 0.7
        case Bullets(entries):
            return sum(_lines(f"{lead} {words}", LETTERS - 3) + 0.4 for lead, words in entries)
        case Table():
            return _table(block)
        case Step(_, words, caution, measured, differs, headed):
            own = _lines(words, LETTERS - 6) + (_lines(caution, LETTERS - 14) if caution else 0)
            means = sum(_lines(f"12: {told}", LETTERS) for _, told in differs)
            return (
                own
                + 0.8
                + (1.6 if headed and measured else 0.0)
                + sum(map(_measured, measured))
                + means
            )
        case _:
            return 0.0


def _lines(words: str, letters: float) -> float:
    return float(math.ceil(max(1, len(words)) / letters))


def _table(table: Table) -> float:
    shares = [column.share or 0.6 for column in table.columns]
    letters = [max(4.0, LETTERS * share / sum(shares)) - 1.5 for share in shares]
    heads = [column.head for column in table.columns]
    rows = [heads, *table.rows] if any(heads) else list(table.rows)
    return sum(
        max(_lines(cell, wide) for cell, wide in zip(row, letters, strict=False)) + 0.45
        for row in rows
    )


def _measured(of: Measured) -> float:
    meter = _lines(of.meter, LETTERS) + 0.45 if of.meter else 0.0
    return meter + max(_lines(of.between, 23), _lines(of.expected, 19)) + 0.45
