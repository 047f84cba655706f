"""A motor's terminal box: which ends are there, which are joined, where the lines go.

Numbering: IEC 60034-8 (U1 V1 W1 begin, U2 V2 W2 end) and NEMA MG 1 part 2 (T1 to T12), both from
memory; nine and twelve leads bear NEMA numbers in both regions. `windings` are the windings between
the ends, `neutral` the ends that meet inside; from them a test finds the volts each link makes.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass, replace

from phasewright.machines.link import Link
from phasewright.papers.wiring.model import Pairs
from phasewright.quantities.codes import Region

Joint = tuple[str, ...]
UNSURE = (
    "Star or delta inside is not known: measure as the answer says, or follow the diagram in the "
    "lid; the links are not drawn."
)


@dataclass(frozen=True, slots=True)
class TerminalBox:
    """`joints`: ends joined to each other, the three that take the lines first (`lines`)."""

    terminals: tuple[str, ...]
    joints: tuple[Joint, ...]
    lines: tuple[str, ...]
    windings: Pairs = ()
    neutral: tuple[str, ...] = ()
    words: str = ""
    sure: bool = True

    @property
    def links(self) -> Pairs:
        """The links to fit, end by end."""
        return tuple(
            (one, other) for joint in self.joints for one, other in itertools.pairwise(joint)
        )

    @property
    def open(self) -> tuple[str, ...]:
        """Ends that stay apart and insulated."""
        joined = {end for joint in self.joints for end in joint}
        return tuple(end for end in self.terminals if end not in joined)


def _box(joints: str, windings: str, neutral: str = "", lines: int = 3) -> TerminalBox:
    parted = tuple(tuple(joint.split("+")) for joint in joints.split())
    pairs = tuple((one, other) for one, _, other in (w.partition("-") for w in windings.split()))
    ends = {end for pair in pairs for end in pair if end not in ("star", *"ABC")}
    order = sorted(ends, key=lambda end: (len(end), end))
    return TerminalBox(
        tuple(order), parted, tuple(joint[0] for joint in parted[:lines]), pairs,
        tuple(neutral.split()),
    )  # fmt: skip


SIX = "U1-U2 V1-V2 W1-W2"
SIX_T = "T1-T4 T2-T5 T3-T6"
NINE_STAR = "T1-T4 T2-T5 T3-T6 T7-star T8-star T9-star"
NINE_DELTA = "T1-T4 T7-T2 T2-T5 T8-T3 T3-T6 T9-T1"
TWELVE = "T1-T4 T2-T5 T3-T6 T7-T10 T8-T11 T9-T12"

BOXES: dict[tuple[str, bool, str], TerminalBox] = {
    ("6", True, "delta"): _box("U1+W2 V1+U2 W1+V2", SIX),
    ("6", False, "star"): _box("U1 V1 W1 W2+U2+V2", SIX),
    ("6T", True, "delta"): _box("T1+T6 T2+T4 T3+T5", SIX_T),
    ("6T", False, "star"): _box("T1 T2 T3 T4+T5+T6", SIX_T),
    ("9", False, "low_voltage"): _box("T1+T7 T2+T8 T3+T9 T4+T5+T6", NINE_STAR),
    ("9", False, "high_voltage"): _box("T1 T2 T3 T4+T7 T5+T8 T6+T9", NINE_STAR),
    ("9", True, "low_voltage"): _box("T1+T6+T7 T2+T4+T8 T3+T5+T9", NINE_DELTA),
    ("9", True, "high_voltage"): _box("T1 T2 T3 T4+T7 T5+T8 T6+T9", NINE_DELTA),
    ("12", False, "low_voltage"): _box(
        "T1+T7 T2+T8 T3+T9 T4+T5+T6 T10+T11+T12", TWELVE
    ),
    ("12", False, "high_voltage"): _box("T1 T2 T3 T4+T7 T5+T8 T6+T9 T10+T11+T12", TWELVE),
    ("12", True, "low_voltage"): _box("T1+T6+T7+T12 T2+T4+T8+T10 T3+T5+T9+T11", TWELVE),
    ("12", True, "high_voltage"): _box("T1+T12 T2+T10 T3+T11 T4+T7 T5+T8 T6+T9", TWELVE),
}  # fmt: skip
"""By leads, delta or star, and the connection that is used."""


def box_of(link: Link | None, leads: int | None, region: Region) -> TerminalBox:
    """The terminal box of a motor of one speed for the connection that is used."""
    if link is None or link.connection in ("fixed", "none", "unknown"):
        return _three(region, "" if link is None else link.words)
    if link.connection in ("delta", "star"):
        key = "6T" if region == "NEC" else "6"
        return replace(BOXES[key, link.connection == "delta", link.connection], words=link.words)
    key = "12" if leads == 12 else "9"
    if link.delta is None or leads not in (9, 12):
        ends = tuple(f"T{k}" for k in range(1, (leads or 9) + 1))
        return TerminalBox(
            ends, (), (), words=f"{link.words} {UNSURE}" if leads else UNSURE, sure=False
        )
    return replace(BOXES[key, link.delta, link.connection], words=link.words)


def _three(region: Region, words: str) -> TerminalBox:
    ends = ("T1", "T2", "T3") if region == "NEC" else ("U", "V", "W")
    return TerminalBox(ends, tuple((end,) for end in ends), ends, words=words)


def two_wire(region: Region) -> TerminalBox:
    """A single-phase motor."""
    ends = ("T1", "T4") if region == "NEC" else ("U1", "U2")
    return TerminalBox(ends, tuple((end,) for end in ends), ends)


TWO_SPEED: dict[Region, tuple[Joint, Joint]] = {
    "IEC": (("1U", "1V", "1W"), ("2U", "2V", "2W")),
    "NEC": (("T1", "T2", "T3"), ("T6", "T4", "T5")),
}
"""Ends of the low and of the high speed, in the order of the lines; two windings of their own
bear T11 to T13 for the high speed in North America."""


def speed_ends(region: Region, own_windings: bool) -> tuple[Joint, Joint]:
    """Ends for the low and the high speed."""
    low, high = TWO_SPEED[region]
    if own_windings and region == "NEC":
        return low, ("T11", "T12", "T13")
    return low, high


def speed_box(
    region: Region, *, own_windings: bool, high: bool, double_star: bool, words: str
) -> TerminalBox:
    """The box of a two-speed motor wired for one of its speeds for good; the other winding's ends
    are joined where this speed is a double star, else open."""
    ends = speed_ends(region, own_windings)
    used, other = ends[high], ends[not high]
    joints = (*((end,) for end in used), *((other,) if double_star else ()))
    return TerminalBox((*ends[0], *ends[1]), joints, used, words=words)
