"""Reading a sheet back from its marks: words, strokes, and what is joined to what."""

from __future__ import annotations

import math
from itertools import pairwise

from phasewright.papers.svg import Box, Mark, boxes
from phasewright.papers.wiring.check import Nets

BELOW = set("gjpqyQ,;()[]{}|µ_")
"""Letters of the font that reach below the base line."""
NEAR = 0.02


def inked(whole: Mark) -> list[Box]:
    """The room of the ink of every line of words: no letter is higher than 0.76 em (the font's
    capitals and ascenders; its table OS/2 gives 0.729 and 0.76)."""
    found = []

    def walk(part: Mark) -> None:
        if part.name == "text":
            of = dict(part.attributes)
            size, y = float(of["font-size"]), float(of["y"])
            box = next(boxes(part))
            deep = 0.24 * size if BELOW & set(box.words) else 0.02 * size
            found.append(Box(box.words, box.left, y - 0.76 * size, box.right, y + deep))
        for each in part.holds:
            if isinstance(each, Mark):
                walk(each)

    walk(whole)
    return found


def strokes(whole: Mark, looks: set[str] | None = None):
    """Every straight piece of ink: ((x, y), (x, y)); circles as polygons, where no looks are asked."""
    of = dict(whole.attributes)
    look = of.get("class", "")
    if looks is None or look in looks:
        if whole.name == "line":
            yield tuple((float(of[f"x{k}"]), float(of[f"y{k}"])) for k in (1, 2))
        elif whole.name == "polyline":
            points = [tuple(map(float, pair.split(","))) for pair in of["points"].split()]
            yield from pairwise(points)
        elif whole.name == "rect":
            x, y, w, h = (float(of[key]) for key in ("x", "y", "width", "height"))
            corners = [(x, y), (x + w, y), (x + w, y + h), (x, y + h), (x, y)]
            yield from pairwise(corners)
        elif whole.name == "circle":
            x, y, r = (float(of[key]) for key in ("cx", "cy", "r"))
            turn = [2 * math.pi * k / 24 for k in range(25)]
            yield from pairwise([(x + r * math.cos(a), y + r * math.sin(a)) for a in turn])
    for each in whole.holds:
        if isinstance(each, Mark):
            yield from strokes(each, looks)


def dots(whole: Mark):
    """Where wires are joined by a dot."""
    of = dict(whole.attributes)
    if whole.name == "circle" and of.get("class") == "dot":
        yield float(of["cx"]), float(of["cy"])
    for each in whole.holds:
        if isinstance(each, Mark):
            yield from dots(each)


def crosses(stroke, box: Box) -> bool:
    """Whether a straight piece goes through a box (Liang and Barsky's clipping)."""
    (x1, y1), (x2, y2) = stroke
    first, last = 0.0, 1.0
    for run, low, high in (
        (x2 - x1, box.left - x1, box.right - x1),
        (y2 - y1, box.top - y1, box.bottom - y1),
    ):
        if abs(run) < 1e-12:
            if low >= 0.0 or high <= 0.0:
                return False
            continue
        one, other = sorted((low / run, high / run))
        first, last = max(first, one), min(last, other)
    return first < last


def joined(pages) -> dict[str, str]:
    """Net of every terminal as the sheets show it: wires that meet end to end or at a dot."""
    nets = Nets()
    for number, page in enumerate(pages):
        pieces = list(strokes(page.marks, {"wire", "earth", "rail"}))
        places = [*dots(page.marks), *(end for piece in pieces for end in piece)]
        for k, piece in enumerate(pieces):
            for end in piece:
                nets.join(_at(number, end), f"{number} piece {k}")
        for at in dots(page.marks):
            for k, piece in enumerate(pieces):
                if _on(at, piece):
                    nets.join(_at(number, at), f"{number} piece {k}")
        del places
        for terminal, at in page.spots:
            nets.join(terminal, _at(number, at))
    return {terminal: nets.of(terminal) for page in pages for terminal, _ in page.spots}


def _at(number, point) -> str:
    return f"{number} at {point[0]:.2f},{point[1]:.2f}"


def _on(point, piece) -> bool:
    (x1, y1), (x2, y2) = piece
    length = math.hypot(x2 - x1, y2 - y1)
    off = abs((x2 - x1) * (y1 - point[1]) - (x1 - point[0]) * (y2 - y1)) / length
    along = ((point[0] - x1) * (x2 - x1) + (point[1] - y1) * (y2 - y1)) / length
    return off < NEAR and -NEAR < along < length + NEAR
