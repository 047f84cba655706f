"""The sheet of the shop's drawing and its lines: thick by their amps, with dots and devices."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from urllib.parse import quote

from phasewright.papers.font import width_of
from phasewright.papers.shop_parts import Told, Wrong
from phasewright.papers.svg import (
    BREAKS,
    Mark,
    Point,
    boxes,
    group,
    line,
    mark,
    polyline,
    words,
    wrapped,
)
from phasewright.papers.workings.sentences import spans
from phasewright.quantities.codes import WayName
from phasewright.quantities.words import SEVERITY_WORDS

SIZE = 12.0
LEADING = 15.0
MARGIN = 10.0
RISER = 12.0
_SHAPES = {"stop": "■", "condition": "▲", "caution": "△", "info": ""}


@dataclass(slots=True)
class Sheet:
    """A sheet while it is drawn: `left` is where floors begin, `y` how far down it is filled.

    `at` is the address below which the pages of its parts stand, empty on paper. Lines lie below
    everything else.
    """

    width: float
    left: float
    at: str
    y: float
    wires: list[Mark] = field(default_factory=list)
    marks: list[Mark] = field(default_factory=list)
    figures: list[Mark] = field(default_factory=list)
    """Figures of the thing that is being drawn: they lead elsewhere than the thing itself."""

    def put(self, page: str, says: str, *marks: Mark) -> None:
        """A thing that leads to a page of the shop, where there are pages, and over it its figures,
        each of which leads to where it comes from. Whoever hears the drawing hears the words and
        what touching it does."""
        if not self.at:
            self.marks.append(group(*marks))
            return
        told = " ".join(box.words for one in marks for box in boxes(one))
        self.marks.append(mark("a", *marks, href=f"{self.at}/{page}", aria_label=f"{told} {says}"))
        self.marks += self.figures
        self.figures.clear()

    def figure(self, text: str, pointer: str, at: Point, of: str, size: float = SIZE) -> None:
        """Room over a figure that is drawn at `at`, which leads to where it comes from; `of` is
        what it is of."""
        wide, (x, y) = width_of(text, size), at
        self.figures.append(
            mark(
                "a", self.touch(x - 1.0, y - SIZE, wide + 2.0, LEADING),
                line((x, y + 2.5), (x + wide, y + 2.5), "dots"),
                href=f"{self.at}/figure?at={quote(pointer)}", look="figure",
                aria_label=f"{of}: {text}, where it comes from",
            )
        )  # fmt: skip

    def tell(
        self, sentence: Told, left: float, wide: float, y: float, into: list[Mark], *, of: str,
        look: str = "words", size: float = SIZE,
    ) -> float:  # fmt: skip
        """A sentence in rows, and room over its figures; how far down it reaches."""
        text = " ".join(filter(None, BREAKS.split(sentence.words)))
        figures: list[tuple[int, int, str]] = []
        after = 0
        for span in spans(text, sentence.at, sentence.figures) if self.at else ():
            figures += [(after, after + len(span.words), span.at)] if span.at else []
            after += len(span.words)
        start = 0
        for row in wrapped(text, size, wide):
            y += LEADING
            into.append(words(row, (left, y - 3.0), size, look=look))
            start = text.index(row, start)
            for first, last, pointer in figures:
                piece = row[max(first - start, 0) : max(last - start, 0)]
                if piece.strip():
                    x = left + width_of(row[: max(first - start, 0)], size)
                    self.figure(piece.strip(), pointer, (x, y - 3.0), of, size)
            start += len(row)
        return y

    def touch(self, x: float, y: float, width: float, height: float) -> Mark:
        """The room that answers to a finger."""
        return mark("rect", x=x, y=y, width=width, height=height, look="room")

    def wrong(
        self, wrong: Wrong, left: float, wide: float, y: float, into: list[Mark], *, of: str
    ) -> float:
        """What is wrong, with its shape and its word; how far down it reaches."""
        shape = _SHAPES[wrong.severity]
        whose = f", {wrong.of}" if wrong.of else ""
        lead = f"{shape} {SEVERITY_WORDS[wrong.severity]}{whose}: " if shape else ""
        told = Told(f"{lead}{wrong.words}", at=wrong.at)
        return self.tell(told, left, wide, y, into, of=of, look=f"words {wrong.severity}")


def thickness(amps: float | None) -> float:
    """How thick a line is that carries so many amps: 1.3 for 1 A, 2.8 for 16 A, 4.7 for 60 A."""
    return 1.0 if amps is None else 0.8 + 0.5 * math.sqrt(abs(amps))


def wire(sheet: Sheet, points: Sequence[Point], amps: float | None, *, made: bool = False) -> None:
    """A line of the supply, or one that is made in the shop."""
    look = "wire made" if made else "wire"
    drawn = polyline(points, look)
    thick = ("stroke-width", f"{thickness(amps):.2f}")
    sheet.wires.append(Mark(drawn.name, (*drawn.attributes, thick), drawn.holds))


def dot(sheet: Sheet, at: Point) -> None:
    """A joint."""
    sheet.marks.append(mark("circle", cx=at[0], cy=at[1], r=3.2, look="dot"))


def fuse(at: Point) -> Mark:
    """A fuse on a line that runs down: a long box with the line through it."""
    x, y = at
    return group(
        mark("rect", x=x - 4.5, y=y - 9.0, width=9.0, height=18.0, look="box"),
        line((x, y - 9.0), (x, y + 9.0), "thin"),
    )


def strokes(at: Point, count: int, *, across: bool = False) -> list[Mark]:
    """How many conductors a line stands for, as short strokes over it."""
    x, y = at
    marks = []
    for number in range(count):
        shift = 4.0 * number
        one, other = (
            ((x + shift - 2.5, y + 5.0), (x + shift + 2.5, y - 5.0))
            if across
            else ((x - 5.0, y + shift + 2.5), (x + 5.0, y + shift - 2.5))
        )
        marks.append(line(one, other, "thin"))
    return marks


def device(way: WayName | None, at: Point) -> Mark:
    """What stands in a motor's line: 18 wide and 16 high, by its middle."""
    x, y = at
    if way is None:
        return group(
            line((x - 5.0, y - 5.0), (x + 5.0, y + 5.0), "cross"),
            line((x - 5.0, y + 5.0), (x + 5.0, y - 5.0), "cross"),
        )
    if way in ("drive_per_motor", "step_up_drive"):
        return group(
            mark("rect", x=x - 9.0, y=y - 9.0, width=18.0, height=18.0, look="box"),
            line((x - 9.0, y + 9.0), (x + 9.0, y - 9.0), "thin"),
        )
    if way in ("capacitor_run", "static_converter"):
        return group(
            mark("rect", x=x - 8.0, y=y - 3.0, width=16.0, height=6.0, look="blank"),
            line((x - 8.0, y - 3.0), (x + 8.0, y - 3.0), "plate"),
            line((x - 8.0, y + 3.0), (x + 8.0, y + 3.0), "plate"),
        )
    return group(
        mark("rect", x=x - 8.0, y=y - 8.0, width=16.0, height=14.0, look="blank"),
        line((x, y + 8.0), (x - 7.0, y - 7.0), "thin"),
        line((x - 3.0, y - 10.0), (x + 3.0, y - 6.0), "thin"),
        line((x - 3.0, y - 6.0), (x + 3.0, y - 10.0), "thin"),
    )
