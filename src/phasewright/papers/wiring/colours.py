"""Colours and marks of conductors, by what they carry.

IEC 60445 (from memory): L1 brown, L2 black, L3 grey, neutral blue, protective green and yellow.
North America: black, red, blue; a line at more than 120 V to earth beside an earthed centre orange
(NEC 110.15), the generated line marked at every end (NEC 455.6(B)). Control wires red: IEC 60204-1
(from memory).
"""

from __future__ import annotations

from phasewright.quantities.codes import Earthed, Region

IEC = {"L1": "brown", "L2": "black", "L3": "grey", "N": "blue", "PE": "green-yellow",
       "U": "brown", "V": "black", "W": "grey"}  # fmt: skip
NEC = {"L1": "black", "L2": "red", "L3": "blue", "N": "white", "PE": "green",
       "U": "black", "V": "red", "W": "blue"}  # fmt: skip
CONTROL = "red"


def colour_of(potential: str, region: Region, earthed: Earthed | None) -> str:
    """Colour of the insulation of a conductor that carries this."""
    if potential == "screen":
        return "bare"
    if potential == "L2" and earthed == "line_2":
        return IEC["N"] if region == "IEC" else NEC["N"]
    if potential == "L3" and region == "NEC" and earthed == "centre":
        return "orange"
    return (IEC if region == "IEC" else NEC).get(_plain(potential), CONTROL)


def mark_of(potential: str, generated: bool) -> str:
    """What is written at both ends of the conductor."""
    return "L3 generated" if potential == "L3" and generated else potential


def _plain(potential: str) -> str:
    """A motor's U, V, W whatever winding they belong to."""
    letter = potential.lstrip("0123456789")
    return letter if letter in ("U", "V", "W") else potential
