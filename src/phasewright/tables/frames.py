"""Frames of motors: shaft height and diameter, and the powers that come in them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from phasewright.quantities.codes import Region
from phasewright.quantities.errors import TableEnds
from phasewright.quantities.value import Origin
from phasewright.tables.published import table

HEIGHT_TOLERANCE = 0.03
SHAFT_TOLERANCE = 0.04
"""How near a rule's reading must come to the frame's figure."""
MM_PER_IN = 25.4


@dataclass(frozen=True, slots=True)
class Frame:
    """A frame: shaft height and diameter [mm], smallest and largest four-pole power [kW]."""

    name: str
    height_mm: float
    shaft_mm: float
    low_kw: float
    high_kw: float
    origin: Origin
    source: str


def frames(region: Region) -> tuple[Frame, ...]:
    """Every frame of the region's numbering, smallest first."""
    if region == "NEC":
        of = table("motors", "nema_frames")
        return tuple(
            Frame(
                str(int(number)), _nema_height_mm(int(number)), MM_PER_IN * float(shaft),
                0.7457 * float(low), 0.7457 * float(high), of.origin, of.words,
            )
            for number, low, high, shaft in of.rows["rows"]
        )  # fmt: skip
    of = table("motors", "iec_frames")
    return tuple(
        Frame(str(int(height)), height, shaft, low, high, of.origin, of.words)
        for height, shaft, low, high in (
            tuple(float(entry) for entry in row) for row in of.rows["rows"]
        )
    )


def _nema_height_mm(number: int) -> float:
    """Shaft height: a frame number of three figures begins with quarters of an inch, one of two
    is in sixteenths (NEMA MG 1 part 4, from memory)."""
    return MM_PER_IN * (number // 10 / 4.0 if number >= 100 else number / 16.0)


def frames_near(
    region: Region, *, height_mm: float | None = None, shaft_mm: float | None = None
) -> tuple[Frame, ...]:
    """The frames with this height or this shaft: the region's own, else those of the other."""
    other: Region = "IEC" if region == "NEC" else "NEC"
    for numbering in (region, other):
        found = tuple(
            frame
            for frame in frames(numbering)
            if (height_mm is None or abs(height_mm / frame.height_mm - 1.0) < HEIGHT_TOLERANCE)
            and (shaft_mm is None or abs(shaft_mm / frame.shaft_mm - 1.0) < SHAFT_TOLERANCE)
        )
        if found:
            return found
    return ()


def stepped_kw(four_pole_kw: float, poles: int | None, end: Literal["low", "high"]) -> float:
    """The power [kW] in the same frame with other poles, by steps of the usual ratings.

    Unknown poles give the lowest (`low`) or the highest (`high`) of two, four and six poles.
    Raises TableEnds for other than 2, 4, 6 or 8 poles and where the ratings end.
    """
    of = table("motors", "frame_steps")
    by = {int(key): row for key, row in of.rows["poles"].items()}
    if poles is not None and poles not in by:
        raise TableEnds(f"no frame steps for {poles} poles")
    known = [by[poles]] if poles is not None else [by[2], by[4], by[6]]
    step = min(row[0] for row in known) if end == "low" else max(row[1] for row in known)
    ratings = of.column("ratings_kw")
    near = min(range(len(ratings)), key=lambda i: abs(ratings[i] - four_pole_kw))
    place = near + int(step)
    if not 0 <= place < len(ratings):
        raise TableEnds(f"no usual rating {step:+d} steps from {four_pole_kw:g} kW")
    return four_pole_kw * ratings[place] / ratings[near]
