"""The one writer of drawings: SVG text from marks, with every word's place known.

Lines are drawn in `currentColor`, so that a page gives its own; other inks are classes. Words are
measured in the font of the papers, so that a drawing can be laid out without overlaps and a test
can tell one (`boxes`). The same marks give the same bytes.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from html import escape
from typing import Literal

from phasewright.papers.font import FAMILY, metrics, width_of

Anchor = Literal["start", "middle", "end"]
Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Mark:
    """One element: its name, its attributes, and what it holds."""

    name: str
    attributes: tuple[tuple[str, str], ...] = ()
    holds: tuple[Mark | str, ...] = ()


@dataclass(frozen=True, slots=True)
class Box:
    """The room a line of words takes."""

    words: str
    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: Box) -> bool:
        """Whether two boxes share room."""
        across = self.left < other.right and other.left < self.right
        return across and self.top < other.bottom and other.top < self.bottom


def mark(name: str, *holds: Mark | str, **attributes: float | str) -> Mark:
    """Any element; `look` is its class, an underscore in a name stands for a hyphen."""
    pairs = (
        ("class" if key == "look" else key.replace("_", "-"), _text(value))
        for key, value in attributes.items()
        if value != ""
    )
    return Mark(name, tuple(pairs), holds)


def group(*marks: Mark, title: str = "", look: str = "") -> Mark:
    """Marks that belong together; a title is what a pointer or a screen reader is told."""
    named = (mark("title", title),) if title else ()
    return mark("g", *named, *marks, look=look)


def line(start: Point, end: Point, look: str = "") -> Mark:
    """A straight line."""
    return mark("line", x1=start[0], y1=start[1], x2=end[0], y2=end[1], look=look)


def polyline(points: Sequence[Point], look: str = "") -> Mark:
    """A line through points, nothing filled."""
    return mark("polyline", points=" ".join(f"{_text(x)},{_text(y)}" for x, y in points), look=look)


def words(text: str, at: Point, size: float, anchor: Anchor = "start", look: str = "") -> Mark:
    """A line of words; `at` is on its base line."""
    return mark(
        "text", text, x=at[0], y=at[1], font_size=size, text_anchor=anchor,
        look=look or "words",
    )  # fmt: skip


UNITS = (
    r"(?:[kM]?VA?|[mµ]?A|kWh?|W|Hz|k?ohm|milliohm|mH|[µu]F|mm[2²]|AWG|Nm|rpm|dB|m?s|h|m|[A-Z]{3})\b"
)
BREAKS = re.compile(rf"(?<!\d)[ \t\r\n]+|(?<=\d)[ \t\r\n]+(?!{UNITS})")
"""Where a line may end: at a space, but not between a number and the unit that belongs to it."""


def wrapped(text: str, size: float, widest: float) -> list[str]:
    """Words in lines none of which is wider than `widest`; a word that is wider is cut. Words
    with a no-break space between them stay together."""
    lines: list[str] = []
    for word in filter(None, BREAKS.split(text)):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and width_of(longer, size) <= widest:
            lines[-1] = longer
            continue
        lines.append("")
        for letter in word:
            if lines[-1] and width_of(lines[-1] + letter, size) > widest:
                lines.append("")
            lines[-1] += letter
    return lines


def boxes(whole: Mark) -> Iterator[Box]:
    """The room of every line of words in a mark (nothing may be turned or moved by a transform)."""
    if whole.name == "text":
        yield _box(whole)
    for part in whole.holds:
        if isinstance(part, Mark):
            yield from boxes(part)


def drawing(
    width: float,
    height: float,
    title: str,
    about: str,
    *marks: Mark,
    look: str = "",
    role: str = "img",
    corner: Point = (0.0, 0.0),
) -> Mark:
    """A whole drawing with its view box; `title` and `about` are read to those who cannot see,
    `look` is the class that its style is bound to, `role` is `group` where parts of it lead on,
    `corner` the point of the marks that stands at the upper left."""
    begins = " ".join(map(_text, (*corner, width, height)))
    return mark(
        "svg", mark("title", title), mark("desc", about), *marks,
        xmlns="http://www.w3.org/2000/svg", viewBox=begins,
        width=width, height=height, role=role, font_family=f"{FAMILY}, sans-serif",
        look=look,
    )  # fmt: skip


def size_of(whole: Mark) -> tuple[float, float]:
    """Width and height of a whole drawing."""
    of = dict(whole.attributes)
    return float(of["width"]), float(of["height"])


def svg(whole: Mark) -> str:
    """The text of a drawing."""
    return "".join(_written(whole)) + "\n"


def _written(whole: Mark) -> Iterator[str]:
    attributes = "".join(f' {name}="{escape(value)}"' for name, value in whole.attributes)
    if not whole.holds:
        yield f"<{whole.name}{attributes}/>"
        return
    yield f"<{whole.name}{attributes}>"
    for part in whole.holds:
        if isinstance(part, Mark):
            yield from _written(part)
        else:
            yield escape(_printable(part), quote=False)
    yield f"</{whole.name}>\n"


def _box(text: Mark) -> Box:
    of = dict(text.attributes)
    shown = "".join(part for part in text.holds if isinstance(part, str))
    size, x, y = float(of["font-size"]), float(of["x"]), float(of["y"])
    wide = width_of(shown, size)
    left = x - {"start": 0.0, "middle": 0.5, "end": 1.0}[of["text-anchor"]] * wide
    found = metrics()
    return Box(shown, left, y - size * found.ascent, left + wide, y + size * found.descent)


def _printable(text: str) -> str:
    """The text without letters that XML does not allow."""
    return "".join(c if c >= " " or c in "\t\n" else "\N{REPLACEMENT CHARACTER}" for c in text)


def _text(value: float | str) -> str:
    if isinstance(value, str):
        return _printable(value)
    shown = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if shown == "-0" else shown
