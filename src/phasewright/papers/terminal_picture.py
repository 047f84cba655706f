"""The terminal box of a motor as it looks with the lid off: terminals, links, lines.

Terminal marks of IEC 60034-8 and NEMA MG 1 part 2 (from memory), the same as the words of the link
use. Drawn for three ends, for six in star or delta, and for nine of a winding whose kind is known;
for anything else there is no picture, and the words stand alone.
"""

from __future__ import annotations

from dataclasses import dataclass

from phasewright.papers.svg import Mark, drawing, line, mark, words
from phasewright.quantities.codes import Connection, Region

STEP = 56.0
SIZE = 13.0
_LINES = ("L1", "L2", "L3")


@dataclass(frozen=True, slots=True)
class Block:
    """Terminals in rows of three from the top; lines come to the lowest row from below.

    `down` are rows linked to the row below them, `across` rows whose three are joined.
    """

    rows: tuple[tuple[str, str, str], ...]
    down: tuple[int, ...] = ()
    across: tuple[int, ...] = ()


_SIX: dict[Region, tuple[tuple[str, str, str], ...]] = {
    "IEC": (("W2", "U2", "V2"), ("U1", "V1", "W1")),
    "NEC": (("T6", "T4", "T5"), ("T1", "T2", "T3")),
}
_THREE: dict[Region, tuple[str, str, str]] = {"IEC": ("U", "V", "W"), "NEC": ("T1", "T2", "T3")}
_TS = ("T1", "T2", "T3"), ("T4", "T5", "T6"), ("T7", "T8", "T9")


def block_of(
    connection: Connection, leads: int | None, region: Region, *, delta: bool | None
) -> Block | None:
    """How the terminals are linked; None where that cannot be drawn without guessing."""
    if leads == 6 and connection == "delta":
        return Block(_SIX[region], down=(0,))
    if leads == 6 and connection == "star":
        return Block(_SIX[region], across=(0,))
    if leads == 3 and connection == "fixed":
        return Block((_THREE[region],))
    if leads == 9 and connection == "high_voltage":
        return Block((_TS[2], _TS[1], _TS[0]), down=(0,))
    if leads == 9 and connection == "low_voltage" and delta is True:
        return Block((("T6", "T4", "T5"), _TS[2], _TS[0]), down=(0, 1))
    if leads == 9 and connection == "low_voltage" and delta is False:
        return Block((_TS[1], _TS[2], _TS[0]), down=(1,), across=(0,))
    return None


def terminal_picture(
    connection: Connection, leads: int | None, region: Region, *, delta: bool | None
) -> Mark | None:
    """The picture of the links to make, None where there is none to draw."""
    block = block_of(connection, leads, region, delta=delta)
    if block is None:
        return None
    places = {
        (row, at): (44.0 + STEP * at, 36.0 + STEP * row)
        for row in range(len(block.rows))
        for at in range(3)
    }
    last = len(block.rows) - 1
    marks: list[Mark] = []
    for row in block.down:
        for at in range(3):
            marks.append(line(places[row, at], places[row + 1, at], "link"))
    for row in block.across:
        marks.append(line(places[row, 0], places[row, 2], "link"))
    for at in range(3):
        x, y = places[last, at]
        marks.append(line((x, y), (x, y + 46.0), "lead"))
        marks.append(words(_LINES[at], (x, y + 62.0), SIZE, "middle"))
    for (row, at), (x, y) in places.items():
        marks.append(mark("circle", cx=x, cy=y, r=8.0, look="stud"))
        marks.append(words(block.rows[row][at], (x + 12.0, y - 10.0), SIZE))
    width, height = 44.0 + 2.0 * STEP + 56.0, 36.0 + STEP * last + 74.0
    box = mark("rect", x=8.0, y=8.0, width=width - 16.0, height=height - 48.0, rx=6.0, look="lid")
    return drawing(
        width, height, "The terminal box with its links", told(block), box, *marks, look="terminals"
    )


def told(block: Block) -> str:
    """The links in words."""
    parts = []
    for row in block.across:
        parts.append(f"{', '.join(block.rows[row])} joined")
    for at in range(3):
        linked = [block.rows[row][at] for row in block.down]
        if linked:
            linked.append(block.rows[block.down[-1] + 1][at])
            parts.append(" with ".join(linked))
    parts.append(f"the lines on {', '.join(block.rows[-1])}")
    return "; ".join(parts) + "."
