"""What a report consists of, as data: headings, words, lists, tables, pictures, in their order.

Nothing here knows what a block looks like; `report.typ` does. Every text is data: none of it is
ever part of the template.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any, Literal

Side = Literal["left", "right"]
_LONG_WORD = re.compile(r"(\S{22})(?=\S)")
_CONTROL = re.compile(r"[\x00-\x08\x0b-\x1f\x7f]")


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading; those of level 1 stand in the list of contents, `page` begins a page."""

    words: str
    level: int = 2
    page: bool = False


@dataclass(frozen=True, slots=True)
class Words:
    """A paragraph; `lead` stands before it in bold, `look` says how it is set."""

    words: str
    lead: str = ""
    look: Literal["plain", "headline", "small", "caution"] = "plain"


@dataclass(frozen=True, slots=True)
class Bullets:
    """A list; every entry has words in bold before it (may be empty) and words."""

    entries: tuple[tuple[str, str], ...]
    look: Literal["plain", "small", "tick"] = "plain"


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a table: its head, the side its words stand on, its share of the width (0: as
    wide as its words), whether it is left to be written in."""

    head: str
    share: float = 0.0
    side: Side = "left"
    blank: bool = False


@dataclass(frozen=True, slots=True)
class Table:
    """A table; a row whose first cell is `SPAN` is one line over the whole width. One that is
    `wide` does not stand in a column of half a page."""

    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]
    small: bool = False
    wide: bool = False


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing as SVG text; `about` is read to those who cannot see. `width` [1/96 inch], 0: as
    wide as there is room; one that `fills` takes what its page leaves."""

    drawing: str
    about: str
    width: float = 0.0
    fills: bool = False


@dataclass(frozen=True, slots=True)
class Halves:
    """Blocks in two columns, `first` of them in the left one; 0: as they flow, over pages too."""

    blocks: tuple[Block, ...]
    first: int = 0


@dataclass(frozen=True, slots=True)
class Contents:
    """Every heading of level 1, with its page."""


@dataclass(frozen=True, slots=True)
class Step:
    """A step with a box to tick: the caution before it, what to do, and what is measured; `differs`
    are the meanings of other readings that were not told before, with their numbers. `headed`: the
    columns of what is measured are named."""

    number: int
    words: str
    caution: str = ""
    measured: tuple[Measured, ...] = ()
    differs: tuple[tuple[int, str], ...] = ()
    headed: bool = True


@dataclass(frozen=True, slots=True)
class Measured:
    """A reading, with room for it: between which points, with which meter ("" for the same as
    before it), what to expect, and the number of what another reading means (0: nothing said)."""

    between: str
    meter: str
    expected: str
    differs: int


Block = Heading | Words | Bullets | Table | Picture | Halves | Step | Contents
SPAN = "\N{ZERO WIDTH SPACE}"
"""First cell of a row that is a heading inside a table; the second is its words."""


def bullets(
    entries: Iterable[str | tuple[str, str]], look: Literal["plain", "small", "tick"] = "plain"
) -> tuple[Block, ...]:
    """A list, or nothing where there is nothing to say."""
    pairs = tuple(("", each) if isinstance(each, str) else each for each in entries)
    return (Bullets(pairs, look),) if pairs else ()


def table(
    columns: Sequence[Column], rows: Iterable[Sequence[str]], *, small: bool = False
) -> tuple[Block, ...]:
    """A table, or nothing where it has no rows."""
    found = tuple(tuple(row) for row in rows)
    return (Table(tuple(columns), found, small),) if found else ()


def written(block: Block) -> dict[str, Any]:
    """A block as plain data for the template."""
    match block:
        case Heading(words, level, page):
            return {"kind": "heading", "words": shown(words), "level": level, "page": page}
        case Words(words, lead, look):
            return {"kind": "words", "words": shown(words), "lead": shown(lead), "look": look}
        case Bullets(entries, look):
            told = [{"lead": shown(lead), "words": shown(words)} for lead, words in entries]
            return {"kind": "bullets", "entries": told, "look": look}
        case Table(columns, rows, small, _):
            return {
                "kind": "table",
                "heads": [shown(column.head) for column in columns],
                "shares": [column.share for column in columns],
                "sides": [column.side for column in columns],
                "rows": [[shown(cell) for cell in row] for row in rows],
                "small": small,
                "blanks": [column.blank for column in columns],
            }
        case Contents():
            return {"kind": "contents"}
        case Step(number, words, caution, measured, differs, headed):
            return {
                "kind": "step", "number": number, "words": shown(words),
                "caution": shown(caution), "measured": [_measured(each) for each in measured],
                "differs": [[str(mark), shown(told)] for mark, told in differs], "headed": headed,
            }  # fmt: skip
        case Picture(drawing, about, width, fills):
            return {
                "kind": "picture", "drawing": drawing, "about": shown(about), "width": width,
                "fills": fills,
            }  # fmt: skip
        case Halves(blocks, first):
            return {
                "kind": "halves", "left": [written(each) for each in blocks[:first]],
                "right": [written(each) for each in blocks[first:]],
            }  # fmt: skip


def _measured(of: Measured) -> dict[str, str]:
    return {
        "between": shown(of.between), "meter": shown(of.meter), "expected": shown(of.expected),
        "differs": str(of.differs or ""),
    }  # fmt: skip


def shown(text: str) -> str:
    """Text that can be set: no control letters, and long words may break at a slash or anywhere."""
    if text == SPAN:
        return text
    clean = _CONTROL.sub("\N{REPLACEMENT CHARACTER}", text)
    return _LONG_WORD.sub("\\1\N{ZERO WIDTH SPACE}", clean)
