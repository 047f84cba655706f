"""What to link, in words: terminal names of IEC 60034-8 and NEMA MG 1 part 2 (from memory)."""

from __future__ import annotations

from phasewright.quantities.codes import Region

HANGING = " Look what else hangs on these terminals (brake coil, fan, transformer, lamp)."
DELTA_6 = (
    "Delta: links W2-U1, U2-V1 and V2-W1, the lines on U1, V1, W1 (on old plates U, V, W and "
    "X, Y, Z: U-Z, V-X, W-Y)." + HANGING
)
STAR_6 = (
    "Star: links join U2, V2 and W2, the lines on U1, V1, W1 (on old plates X, Y, Z joined)."
    + HANGING
)
DELTA_6_NEMA = (
    "Six leads, delta: T1 with T6, T2 with T4, T3 with T5, each pair to a line." + HANGING
)
STAR_6_NEMA = "Six leads, star: T4, T5 and T6 joined, the lines on T1, T2, T3." + HANGING
FIXED = "Three leads for one voltage: nothing can be linked from outside."
UNKNOWN_INSIDE = "Leave the links as they are until the diagram in the lid has been read."

_NINE_STAR_LOW = (
    "Nine leads, star, low voltage: T1 with T7, T2 with T8, T3 with T9 to the lines; T4, T5 and "
    "T6 joined." + HANGING
)
_NINE_HIGH = "high voltage: T4 with T7, T5 with T8, T6 with T9; the lines on T1, T2, T3." + HANGING
_NINE_DELTA_LOW = (
    "Nine leads, delta, low voltage: T1 with T6 and T7, T2 with T4 and T8, T3 with T5 and T9, "
    "each trio to a line." + HANGING
)
_TELL_APART = (
    " Star or delta inside? Loose leads measured in ohms: star shows one group of three (7-8-9) "
    "and three pairs, delta three groups of three."
)
_BY_LID = "follow the diagram in the lid" + "." + HANGING


def low_words(leads: int, delta: bool | None) -> str:
    """How to link for the lower of two voltages that stand 1 to 2."""
    if leads == 9:
        if delta is None:
            return f"If star: {_NINE_STAR_LOW} If delta: {_NINE_DELTA_LOW}{_TELL_APART}"
        return _NINE_DELTA_LOW if delta else _NINE_STAR_LOW
    if leads == 12:
        kind = "delta" if delta else "star"
        return f"Twelve leads, both halves side by side in {kind}, low voltage: {_BY_LID}"
    return f"Halves of the winding side by side, low voltage: {_BY_LID}"


def high_words(leads: int, delta: bool | None) -> str:
    """How to link for the higher of two voltages that stand 1 to 2."""
    if leads == 9:
        return f"Nine leads, {_NINE_HIGH}"
    if leads == 12:
        kind = "delta" if delta else "star"
        return f"Twelve leads, both halves in series in {kind}, high voltage: {_BY_LID}"
    return f"Halves of the winding in series, high voltage: {_BY_LID}"


def delta_words(region: Region) -> str:
    """How to link six leads in delta, in the region's numbering."""
    return DELTA_6_NEMA if region == "NEC" else DELTA_6


def star_words(region: Region) -> str:
    """How to link six leads in star, in the region's numbering."""
    return STAR_6_NEMA if region == "NEC" else STAR_6
