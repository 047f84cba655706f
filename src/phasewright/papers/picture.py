"""A drawing as a picture of dots (PNG), in the font that is shipped, the same bytes every time."""

from __future__ import annotations

from phasewright.papers.typeset import typeset

DOTS_A_POINT = 2.0
_SHEET = b"""#set page(width: auto, height: auto, margin: 0pt, fill: white)
#image(bytes(sys.inputs.drawing), format: "svg")
"""


def png(drawing: str) -> bytes:
    """The picture of an SVG text, two dots for each of its units, on white."""
    return typeset(_SHEET, {"drawing": drawing}, "png", ppi=72.0 * DOTS_A_POINT)
