"""The terminal box of a motor as it looks with the lid off: terminals, links, lines.

Terminal marks of IEC 60034-8 and NEMA MG 1 part 2 (from memory), the same as the words of the link
use. Drawn for three ends, for six in star or delta, for nine and twelve of a winding whose kind is
known, and for each speed of a two-speed motor; for anything else there is no picture, and the words
stand alone.
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
_TWELVE: dict[Region, tuple[tuple[str, str, str], ...]] = {
    "IEC": (("U1", "V1", "W1"), ("U2", "V2", "W2"), ("U5", "V5", "W5"), ("U6", "V6", "W6")),
    "NEC": (("T1", "T2", "T3"), ("T4", "T5", "T6"), ("T7", "T8", "T9"), ("T10", "T11", "T12")),
}
"""Begin and end of each phase's first half, begin and end of its second half."""
_SPEEDS: dict[Region, tuple[tuple[str, str, str], tuple[str, str, str]]] = {
    "IEC": (("1U", "1V", "1W"), ("2U", "2V", "2W")),
    "NEC": (("T1", "T2", "T3"), ("T6", "T4", "T5")),
}
"""Ends of one winding that is changed over: of the low speed, of the high speed."""
_OWN_SPEEDS: dict[Region, tuple[tuple[str, str, str], tuple[str, str, str]]] = {
    "IEC": _SPEEDS["IEC"],
    "NEC": (("T1", "T2", "T3"), ("T11", "T12", "T13")),
}
"""Ends of two windings in one frame: of the low speed, of the high speed."""
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
    if leads == 12 and delta is not None:
        return _twelve(connection, region, delta)
    return None


def _twelve(connection: Connection, region: Region, delta: bool) -> Block | None:
    """Both halves of each phase side by side for the low voltage, in series for the high one."""
    begin, end, begin_2, end_2 = _TWELVE[region]
    if connection == "low_voltage":
        if delta:
            return Block((_turned(end_2), _turned(end), begin_2, begin), down=(0, 1, 2))
        return Block((end_2, end, begin_2, begin), down=(2,), across=(0, 1))
    if connection == "high_voltage":
        if delta:
            return Block((begin_2, end, _turned(end_2), begin), down=(0, 2))
        return Block((end_2, begin_2, end, begin), down=(1,), across=(0,))
    return None


def _turned(row: tuple[str, str, str]) -> tuple[str, str, str]:
    """Ends in the order in which delta joins them to the beginnings: the last phase's first."""
    return row[2], row[0], row[1]


def speed_block(layout: str, winding: str, name: str, region: Region) -> Block | None:
    """How one speed of a two-speed motor is linked (`machines.two_speed`); the other ends stay
    apart, or are joined where the winding is a double star. None where the layout is not known."""
    if layout not in ("one_winding", "two_windings"):
        return None
    ends = (_SPEEDS if layout == "one_winding" else _OWN_SPEEDS)[region]
    used, other = ends if name == "low" else (ends[1], ends[0])
    return Block((other, used), across=(0,) if winding == "double_star" else ())


def terminal_picture(
    connection: Connection, leads: int | None, region: Region, *, delta: bool | None
) -> Mark | None:
    """The picture of the links to make, None where there is none to draw."""
    block = block_of(connection, leads, region, delta=delta)
    return None if block is None else drawn(block)


def drawn(block: Block) -> Mark:
    """The picture of a block."""
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
        chain: list[str] = []
        for row in range(len(block.rows)):
            chain.append(block.rows[row][at])
            if row not in block.down:
                if len(chain) > 1:
                    parts.append(" with ".join(chain))
                chain = []
    parts.append(f"the lines on {', '.join(block.rows[-1])}")
    return "; ".join(parts) + "."
