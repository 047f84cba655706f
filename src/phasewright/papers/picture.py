"""A drawing as a picture of dots (PNG), in the font that is shipped, the same bytes every time."""

from __future__ import annotations

from phasewright.papers.font import FOLDER

DOTS_A_POINT = 2.0
_SHEET = b"""#set page(width: auto, height: auto, margin: 0pt, fill: white)
#image(bytes(sys.inputs.drawing), format: "svg")
"""


def png(drawing: str) -> bytes:
    """The picture of an SVG text, two dots for each of its units, on white."""
    import typst  # loaded where it is used: it is large

    fonts = typst.Fonts(
        include_system_fonts=False, include_embedded_fonts=False, font_paths=[FOLDER]
    )
    made = typst.compile(
        _SHEET,
        font_paths=fonts,
        format="png",
        ppi=72.0 * DOTS_A_POINT,
        sys_inputs={"drawing": drawing},
        timestamp=0,
    )
    if not isinstance(made, bytes):
        raise TypeError("one drawing makes one page")
    return made
