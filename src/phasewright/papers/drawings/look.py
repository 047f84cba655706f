"""Measures and inks that all sheets share."""

from __future__ import annotations

from collections.abc import Sequence

from phasewright.papers.drawings.symbols import Point, Shape
from phasewright.papers.svg import Mark, line, mark, polyline, words

WIDTH, HEIGHT, EDGE = 1123.0, 794.0, 22.0
"""An A4 sheet lying, in 1/96 inch; a sheet grows where one column is larger."""
TITLE_BLOCK = 46.0
INSIDE = 14.0
"""From the frame to what is drawn in it."""
LEG, WIDE_LEG, LEAD = 32.0, 50.0, 6.0
NAME, SAYS, TERMINAL, CAPTION = 10.4, 9.4, 9.4, 11.0
"""Sizes of letters [1/96 inch]: none is smaller than 7 pt, 9.33 of these, on paper."""
PITCH, WRAP = 11.3, 116.0
RAIL = 13.0
STYLE = """
.sheet .wire{stroke:currentColor;stroke-width:1;fill:none}
.sheet .rail{stroke:currentColor;stroke-width:1.6;fill:none}
.sheet .earth{stroke:currentColor;stroke-width:1;stroke-dasharray:6 2 1 2;fill:none}
.sheet .sign{stroke:currentColor;stroke-width:1.1;fill:none;stroke-linejoin:round}
.sheet .bond{stroke:currentColor;stroke-width:.7;stroke-dasharray:2 2;fill:none}
.sheet .frame{stroke:currentColor;stroke-width:.8;fill:none}
.sheet .later .wire,.sheet .later .rail,.sheet .later .sign{stroke-dasharray:4 3}
.sheet .dot{fill:currentColor;stroke:none}
.sheet .eye{fill:none;stroke:currentColor;stroke-width:1}
.sheet .words{fill:currentColor}
.sheet .quiet{fill:currentColor;fill-opacity:.75}
"""


def drawn(shape: Shape, at: Point) -> list[Mark]:
    """A symbol with its beginning at a point."""
    x, y = at
    marks = [polyline([(x + dx, y + dy) for dx, dy in stroke], "sign") for stroke in shape.strokes]
    marks += [circle((x + dx, y + dy), radius, "sign") for (dx, dy), radius in shape.circles]
    return [*marks, *(dot((x + dx, y + dy)) for dx, dy in shape.dots)]


def circle(centre: Point, radius: float, look: str) -> Mark:
    """A circle."""
    return mark("circle", cx=centre[0], cy=centre[1], r=radius, look=look)


def rectangle(corner: Point, width: float, height: float, look: str = "sign") -> Mark:
    """A rectangle from its upper left corner."""
    return mark("rect", x=corner[0], y=corner[1], width=width, height=height, look=look)


def dot(at: Point) -> Mark:
    """Where wires join."""
    return circle(at, 2.0, "dot")


def wire(start: Point, end: Point, potential: str = "") -> list[Mark]:
    """A conductor from point to point; nothing where it has no length."""
    if start == end:
        return []
    return [line(start, end, "earth" if potential in ("PE", "screen") else "wire")]


def block(lines: Sequence[str], at: Point) -> list[Mark]:
    """A designation with the words below it."""
    return [
        words(text, (at[0], at[1] + PITCH * k), NAME if k == 0 else SAYS)
        for k, text in enumerate(lines)
    ]
