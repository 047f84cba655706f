"""How hot a start makes the stator winding and the rotor, from the losses of its half cycles.

No heat is let out meanwhile (adiabatic): true for the seconds of a start, too severe beyond. Copper
masses are known of no plate. The winding's heating follows from the density of its rated current,
which lies within a narrow band for small fan-cooled motors (common practice), and is set beside
the 12 s of locked-rotor current that NEMA MG 1, 12.49 asks of a motor (from memory). The rotor's is
set beside the start that IEC 60034-12 asks of a design N motor of its size (from memory).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from phasewright.machines.circuit import Circuit
from phasewright.machines.performance import locked, rated
from phasewright.quantities.errors import TableEnds, UsageError
from phasewright.starts.halves import at_the_end, half_of, half_s
from phasewright.starts.outcome import Outcome
from phasewright.starts.waves import Waves
from phasewright.tables.winding_heat import (
    densities_a_mm2,
    design_n_inertia_kg_m2,
    greatest_winding_c,
    heated_c,
    squares_to_a2s_mm4,
    stall_s,
)

Floats = NDArray[np.float64]
HeatVerdict = Literal["bears", "may_not_bear", "too_hot", "not_judged"]
USUAL_CLASS = "B"
SOURCE = (
    "current densities of common practice; NEMA MG 1, 12.49 and IEC 60034-12 from memory, to be "
    "confirmed with the motor's maker"
)
WARM_C = 120.0
"""A winding at running temperature: class B, 40 °C air and its lasting rise of 80 K."""
COLD_C = 40.0
"""A winding that has stood, in the warmest air a motor is made for (IEC 60034-1, from memory)."""


MOST_SQUARES_S = 3e5
"""Square of the current over its rated one, times seconds: six times rated current for two hours.
What is beyond cannot be a motor with this rated current."""


@dataclass(frozen=True, slots=True)
class StartHeat:
    """Heat of one start, from the closing of the contactor until run up or the end of the run.

    `winding_c`: hottest winding at the end, at the usual density and (low, high) of its band.
    `stall_ratio`: the winding's heat over what it has from its locked-rotor current in the seconds
    a motor stands that. `rotor_ratio`: the rotor's heat over that of the start with the largest
    inertia a design N motor of this size makes; one such from warm, two from cold. `stator_j` and
    `rotor_j` are the joules of stator copper and cages.
    """

    machine: str
    runs_up: bool | None
    seconds: float
    stator_j: float
    rotor_j: float
    before_c: float
    winding_c: float
    winding_low_c: float
    winding_high_c: float
    greatest_c: float | None
    stall_ratio: float
    rotor_ratio: float
    verdict: HeatVerdict
    words: str
    source: str


def start_heat(
    waves: Waves, of: int, told: Outcome, *, before_c: float = WARM_C,
    insulation_class: str = USUAL_CLASS, delta: bool | None = None,
) -> StartHeat | None:  # fmt: skip
    """What machine `of` has taken up in its start; None where its contactor never closed, and where
    its rated current and speed cannot be those of its circuit: there is nothing to judge by.

    `delta`: how its winding is linked, None where that is not known.
    """
    if told.closed_s is None:
        return None
    circuit, step = waves.course.starters[of].machine.circuit, half_s(waves)
    if not rated(circuit).shaft_power_w > 0.0:
        return None
    first = half_of(waves, told.closed_s)
    stop = len(waves.time_s)
    if told.time_s is not None:
        stop = min(stop, first + max(1, round(told.time_s / step)))
    squares = float(hottest_squares(waves, of, delta)[first:stop].sum() * step)
    if squares > MOST_SQUARES_S:
        return None
    low, usual, high = (heated_c(before_c, d * d * squares) for d in densities_a_mm2())
    try:
        limit, limits = greatest_winding_c(insulation_class)
        source = f"{SOURCE}; {limits.words}"
    except TableEnds:
        limit, source = None, SOURCE
    rotor_j = float(waves.rotor_w[first:stop, of].sum() * step)
    stall = squares / (_locked_multiple(circuit) ** 2 * stall_s())
    rotor = rotor_j / _design_n_joules(circuit)
    verdict = _verdict(low, high, limit, stall, rotor, told.runs_up)
    name = told.machine
    return StartHeat(
        machine=name,
        runs_up=told.runs_up,
        seconds=(stop - first) * step,
        stator_j=float(waves.stator_w[first:stop, of].sum() * step),
        rotor_j=rotor_j,
        before_c=before_c,
        winding_c=usual,
        winding_low_c=low,
        winding_high_c=high,
        greatest_c=limit,
        stall_ratio=stall,
        rotor_ratio=rotor,
        verdict=verdict,
        words=_words(name, before_c, low, high, limit, stall, rotor, verdict),
        source=source,
    )


def too_hot_after_s(
    waves: Waves, of: int, *, insulation_class: str = USUAL_CLASS, delta: bool | None = None
) -> tuple[float, float, float]:
    """(low, usual, high) seconds from the closing of its contactor until the winding of machine
    `of` is as hot as its class bears, its current at the end of the run going on; infinite without
    current.

    Low: a warm winding of the greatest density; usual and high: a cold one of the usual and of the
    least. Raises TableEnds for a class of which nothing is at hand, UsageError
    for a machine that was never switched on.
    """
    limit, _ = greatest_winding_c(insulation_class)
    closed = waves.closed_s[of]
    if closed is None:
        raise UsageError("a winding is heated by a start: this machine was never switched on")
    first = half_of(waves, closed)
    squares = hottest_squares(waves, of, delta)[first:]
    least, usual, most = densities_a_mm2()

    def until(before_c: float, density: float) -> float:
        wanted = squares_to_a2s_mm4(before_c, limit) / density**2
        taken = np.cumsum(squares) * half_s(waves)
        if taken[-1] >= wanted:
            return float((int(np.argmax(taken >= wanted)) + 1) * half_s(waves))
        rate = float(at_the_end(squares))
        more_s = (wanted - float(taken[-1])) / rate if rate > 0.0 else math.inf
        return squares.size * half_s(waves) + more_s

    return until(WARM_C, most), until(COLD_C, usual), until(COLD_C, least)


def hottest_squares(waves: Waves, of: int, delta: bool | None = None) -> Floats:
    """Square of the hottest winding's current over its rated one, by half cycle.

    In star a winding carries its line. In delta it carries a third of the difference of two lines,
    whose rms follows from the three lines' because they sum to nothing: |a-b|^2 = 2 a^2 + 2 b^2 -
    c^2. `delta` None: not known, the hotter of the two.
    """
    lines = (waves.lines_a[:, of] / waves.course.starters[of].machine.circuit.rated_current_a) ** 2
    star = lines.max(axis=1)
    in_delta = ((2.0 * lines.sum(axis=1, keepdims=True) - 3.0 * lines) / 3.0).max(axis=1)
    if delta is None:
        return np.asarray(np.maximum(star, in_delta), dtype=np.float64)
    return np.asarray(in_delta if delta else star, dtype=np.float64)


@lru_cache(maxsize=256)
def _locked_multiple(circuit: Circuit) -> float:
    return locked(circuit).current_a / circuit.rated_current_a


@lru_cache(maxsize=256)
def _design_n_joules(circuit: Circuit) -> float:
    """Rotor heat of the design N start: the kinetic energy of rotor and load at full speed."""
    synchronous = circuit.synchronous_speed_rpm * math.pi / 30.0
    load = design_n_inertia_kg_m2(rated(circuit).shaft_power_w, circuit.poles)
    return 0.5 * (load + circuit.inertia_kg_m2) * synchronous**2


def _verdict(
    low: float, high: float, limit: float | None, stall: float, rotor: float, runs_up: bool | None
) -> HeatVerdict:
    """Too hot where every density is; borne where none is and both comparisons are kept."""
    if limit is None:
        return "not_judged"
    if low > limit:
        return "too_hot"
    borne = high <= limit and stall <= 1.0 and rotor <= 1.0 and runs_up is True
    return "bears" if borne else "may_not_bear"


def _words(
    name: str, before: float, low: float, high: float, limit: float | None, stall: float,
    rotor: float, verdict: HeatVerdict,
) -> str:  # fmt: skip
    told = (
        f"The winding of {name}, {before:.0f} °C before, comes to {low:.0f} to {high:.0f} °C; it "
        f"takes {stall:.0%} of what a motor stands with its rotor held, its rotor {rotor:.0%} of "
        "the heaviest start made for its size"
    )
    endings = {
        "bears": f"it bears that (up to {limit:.0f} °C)" if limit else "",
        "may_not_bear": "give it time to cool, and do not let it stand stalled",
        "too_hot": f"that is more than the {limit:.0f} °C it bears" if limit else "",
        "not_judged": "what its insulation bears in a start is not known",
    }
    return f"{told}: {endings[verdict]}."
