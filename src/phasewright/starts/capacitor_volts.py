"""Volts on run and start capacitors in a run, against what is printed on them.

A run capacitor bears its rated volts rms for ever and a tenth more for a while (IEC 60252-1, from
memory). A start capacitor is asked by its highest instant, against the crest of its rated volts.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np

from phasewright.starts.halves import by_cycle, half_s
from phasewright.starts.waves import Waves
from phasewright.tables.published import table

VoltsVerdict = Literal["within", "for_a_while", "over"]
PAIRS = ("1-2", "2-3", "3-1")


@dataclass(frozen=True, slots=True)
class CapacitorVolts:
    """The greatest volts on a capacitor: rms over a cycle (run), crest (start), and its rating.

    `ratio` is over the rating (rms), over its crest for a start capacitor; `seconds_above` the
    time above it.
    """

    which: Literal["run", "start"]
    between: str
    greatest_v: float
    rating_v: float
    ratio: float
    seconds_above: float
    verdict: VoltsVerdict
    words: str


def run_capacitor_volts(waves: Waves, rating_v: float) -> tuple[CapacitorVolts, ...]:
    """Every pair of lines with a run capacitor, against its rated volts."""
    found = []
    for place, pair in enumerate(PAIRS):
        if not _has_capacitor(waves, place):
            continue
        rms = by_cycle(waves.volts_v[:, place])
        greatest = float(rms.max()) if rms.size else float(waves.volts_v[:, place].max())
        above = float(np.count_nonzero(rms > rating_v) * half_s(waves))
        found.append(_told("run", pair, greatest, rating_v, greatest / rating_v, above))
    return tuple(found)


def start_capacitor_volts(waves: Waves, rating_v: float) -> CapacitorVolts | None:
    """The start capacitor against its rated volts; None where there is none."""
    if waves.course.start is None:
        return None
    crest = math.sqrt(2.0) * rating_v
    greatest = float(waves.start_peak_v.max())
    above = float(np.count_nonzero(waves.start_peak_v > crest) * half_s(waves))
    return _told("start", "3-1", greatest, rating_v, greatest / crest, above)


def _has_capacitor(waves: Waves, place: int) -> bool:
    """Whether this pair has a run capacitor, fixed or travelling with a machine that was on."""
    banks = [waves.course.capacitance_f]
    for starter, closed in zip(waves.course.starters, waves.closed_s, strict=True):
        banks += [] if closed is None else [starter.travelling_f]
    return any((bank.c12, bank.c23, bank.c31)[place] > 0.0 for bank in banks)


def _told(
    which: Literal["run", "start"], pair: str, greatest: float, rating: float, ratio: float,
    above: float,
) -> CapacitorVolts:  # fmt: skip
    over = table("winding_heat", "run_capacitor").number("over") if which == "run" else 1.0
    verdict: VoltsVerdict = "within" if ratio <= 1.0 else "over"
    if 1.0 < ratio <= over:
        verdict = "for_a_while"
    kind = "up to" if which == "run" else "a crest of"
    said = {
        "within": "within what it bears",
        "for_a_while": f"more than it bears for ever, for {above:.2g} s",
        "over": "too much: it needs a higher rating",
    }[verdict]
    name = f"The {which} capacitor across {pair} ({rating:.0f} V)"
    words = f"{name} sees {kind} {greatest:.0f} V: {said}."
    return CapacitorVolts(which, pair, greatest, rating, ratio, above, verdict, words)
