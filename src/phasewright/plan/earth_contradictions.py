"""Readings of volts to earth that cannot all be true, found before anything is computed."""

from __future__ import annotations

from phasewright.network.earth import earthed_by
from phasewright.quantities.codes import Earthed
from phasewright.quantities.finding import Finding, Remedy
from phasewright.shop.supply import Supply

RULE = "supply.earthed_point"
_READ: dict[str, str] = {
    "line_1": "line 1 at earth",
    "line_2": "line 2 at earth",
    "centre": "the centre between both at earth",
    "none": "neither wire at any volts from earth, thus nothing earthed",
}


def earth_contradictions(supply: Supply) -> tuple[Finding, ...]:
    """Where the volts to earth that were read do not fit what is told, or each other."""
    read, told = supply.volts_to_earth, supply.earthed
    if read is None:
        return ()
    one, two, between = read.line_1.number, read.line_2.number, supply.voltage.number
    readings = f"{one:.0f} V of line 1 and {two:.0f} V of line 2 to earth were read"
    point = earthed_by(one, two, between)
    if point is None:
        return (
            _told(
                f"{readings}, with {between:.0f} V between them: that fits no earthed wire, no "
                "earthed centre and no floating supply. A meter shows such volts on wires that "
                "float; or one reading is of another wire, or the earth it was read to is none",
            ),
        )  # fmt: skip
    if point == "line_1":
        return (
            _told(
                f"{readings}: the earthed wire is the one called line 1. Here line 2 is taken to "
                "be the earthed one: exchange the names of the two",
                "supply.volts_to_earth",
            ),
        )
    if told in (None, "unknown", point):
        return ()
    return (
        _told(
            f"{readings}, which is {_READ[point]}, and the file tells {_told_words(told)}; what "
            "is told is used. It may have been read to a pipe or rod that is no earth, or with a "
            "meter that shows volts on wires which float; or what is told is that of another "
            "supply",
        ),
    )  # fmt: skip


def _told_words(of: Earthed) -> str:
    return {"line_2": "line 2 earthed", "centre": "the centre earthed"}.get(of, "nothing earthed")


def _told(words: str, path: str = "supply.earthed") -> Finding:
    return Finding(
        f"{RULE}:{path}", RULE, "condition", "supply", words,
        remedy=Remedy(
            "Read both again to the main earthing terminal, with a lamp or a meter of low "
            "resistance, before anything is connected.", path,
        ),
        source="geometry of the line volts; common practice",
    )  # fmt: skip
