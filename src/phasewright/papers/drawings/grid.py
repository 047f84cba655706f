"""Small drawings put side by side on sheets of their own."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from phasewright.papers.drawings.look import EDGE, HEIGHT, INSIDE, TITLE_BLOCK, WIDTH
from phasewright.papers.drawings.pages import Frame, Page, framed, lowest, note_marks
from phasewright.papers.drawings.terminal_boxes import BoxDrawing

Cell = Callable[[float, float], BoxDrawing]
"""A small drawing, made with its upper left corner at a point."""
BETWEEN = 36.0
FOR_NOTES = 40.0


def grid(cells: Sequence[Cell]) -> list[list[BoxDrawing]]:
    """The cells in rows from left to right, sheet by sheet."""
    left, top = EDGE + INSIDE, EDGE + INSIDE
    right, foot = WIDTH - left, HEIGHT - EDGE - TITLE_BLOCK - FOR_NOTES
    pages: list[list[BoxDrawing]] = [[]]
    x, y, deepest = left, top, 0.0
    for cell in cells:
        size = cell(0.0, 0.0)
        if x > left and x + size.width > right:
            x, y, deepest = left, y + deepest + BETWEEN / 2, 0.0
        if pages[-1] and y + size.height > foot:
            pages.append([])
            x, y, deepest = left, top, 0.0
        pages[-1].append(cell(x, y))
        x, deepest = x + size.width + BETWEEN, max(deepest, size.height)
    return pages


def grid_pages(
    name: str,
    title: str,
    notes: Sequence[str],
    pages: Sequence[Sequence[BoxDrawing]],
    frame: Frame,
    first: int,
) -> list[Page]:
    """The sheets of the cells, the notes below them on each."""
    made = []
    for place, here in enumerate(pages):
        marks = [each for drawing in here for each in drawing.marks]
        marks += note_marks(notes, lowest(marks) + BETWEEN / 2)
        part = f", part {place + 1}" if len(pages) > 1 else ""
        wide = max((drawing.width for drawing in here), default=0.0)
        made.append(
            framed(
                f"{first + place:02d}-{name}", title + part, first + place, marks, frame,
                (wide, HEIGHT - EDGE - TITLE_BLOCK - INSIDE),
            )
        )  # fmt: skip
    return made
