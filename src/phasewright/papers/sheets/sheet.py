"""A sheet to take to the machine, as plain data: no renderer is known here.

A sheet has sections, a section has parts in the order in which they are read. In a table the
columns named in `blank` are left for the owner to write in, whatever stands in their cells.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Words; `caution` where the work can hurt someone, to be marked by a word or a shape."""

    words: str
    kind: Literal["text", "caution"] = "text"


@dataclass(frozen=True, slots=True)
class Table:
    """Rows of text under their columns; every row has as many cells as there are columns.

    `widths` are the columns' shares of the width (any sum); empty: as the renderer likes. One that
    is `wide` wants the whole width of a page.
    """

    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    blank: tuple[str, ...] = ()
    widths: tuple[int, ...] = ()
    title: str = ""
    wide: bool = False


@dataclass(frozen=True, slots=True)
class Kept:
    """A machine in a record: its title, what it runs on now, how it is linked, and of each part of
    the record what is changed ("" where nothing is)."""

    title: str
    runs_on: str
    linked: str
    changed: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Record:
    """Machines as found and as changed, with room to write how each part was found; `back` tells
    of each part how it is put back."""

    parts: tuple[str, ...]
    back: tuple[str, ...]
    machines: tuple[Kept, ...]


@dataclass(frozen=True, slots=True)
class Measure:
    """What to measure in a step: between which points, with which meter, what to expect.

    `expected` is the figure with its tolerance and unit, "" where the answer has none;
    `differs` what it means when the reading is another. `of` is the motor, circuit or equipment
    that is read, in the words in which `between` names it, if it does; `at` the designations of
    the device at which it is read.
    """

    between: str
    meter: str
    expected: str
    differs: str
    of: str = ""
    at: str = ""

    @property
    def points(self) -> str:
        """The points as they are of each thing that is read in this way."""
        return self.between.replace(self.of, "each") if self.of else self.between


@dataclass(frozen=True, slots=True)
class Step:
    """One step in order: what to do, the caution that comes before it, what is measured.

    A reading leaves a space to write in behind every measure, a step a box to tick.
    """

    words: str
    caution: str = ""
    measures: tuple[Measure, ...] = ()


@dataclass(frozen=True, slots=True)
class Steps:
    """Steps in order, numbered through from `first`."""

    steps: tuple[Step, ...]
    first: int = 1


Part = Paragraph | Table | Steps | Record


@dataclass(frozen=True, slots=True)
class Section:
    """Parts under a heading ("" for none). `stands` is the part of the report that holds the same;
    a sheet on its own has it all."""

    title: str
    parts: tuple[Part, ...]
    stands: str = ""


@dataclass(frozen=True, slots=True)
class Sheet:
    """One paper. `name` is that of its file without an ending, lower case with hyphens."""

    name: str
    title: str
    sections: tuple[Section, ...]


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A sheet for which this shop gives no figures, and why."""

    name: str
    title: str
    words: str


@dataclass(frozen=True, slots=True)
class Sheets:
    """All papers of a plan, in the order in which they are used, and what was left out."""

    sheets: tuple[Sheet, ...]
    left_out: tuple[LeftOut, ...]
