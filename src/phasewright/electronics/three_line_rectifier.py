"""A diode bridge on three lines: what it takes of each line and of each pair of lines.

Equations: see `three_line_kernel`; the lines may differ in volts and in impedance, so that one
of them may be a converter's generated line. The load is a constant current at the given mean
power. Limits checked: three equal stiff lines with a large choke (N. Mohan, T. M. Undeland,
W. P. Robbins, Power Electronics, chapter 5, from memory), a third line behind an endless
impedance (the single-phase bridge of `rectifier`), and a general circuit simulator.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from phasewright.electronics.three_line_kernel import COLLAPSED, SHORTED, Floats, settle
from phasewright.quantities.errors import NotComputable, UsageError

Three = tuple[float, float, float]
Phasors = tuple[complex, complex, complex]

_SAMPLES = 1200
_COARSE = 240
_MOST_PERIODS = 1500
_TOLERANCE = 1e-7
_PAIRS = ((0, 1), (1, 2), (2, 0))


@dataclass(frozen=True, slots=True)
class Feed:
    """Three lines as a rectifier meets them: sines behind an impedance each, no neutral.

    `volts_v` rms phasors of lines 1, 2, 3 against any common point; `impedance_ohm` of each line,
    its reactance at `frequency_hz`.
    """

    volts_v: Phasors
    impedance_ohm: Phasors
    frequency_hz: float


@dataclass(frozen=True, slots=True)
class ThreeLineBridge:
    """A bridge of six diodes on a feed. SI units. `link_power_w` is the mean power of its load,
    drawn as a constant current."""

    feed: Feed
    capacitance_f: float
    link_power_w: float
    dc_choke_h: float = 0.0
    dc_choke_ohm: float = 0.0
    diode_drop_v: float = 0.9
    diode_resistance_ohm: float = 0.010


@dataclass(frozen=True, slots=True)
class ThreeLineState:
    """The periodic state of a bridge on three lines, at its own terminals.

    `line_currents_a` rms with all harmonics, `fundamentals_a` rms phasors of lines 1, 2, 3;
    `pair_currents_a` the fundamentals of what flows from 1 to 2, 2 to 3 and 3 to 1 (while three
    lines conduct, the odd one is in a pair with each of the others), `pair_power_w` the mean
    power of each. `pair_volts_v` are the fundamentals at the terminals. Angles are the feed's.
    """

    line_currents_a: Three
    fundamentals_a: Phasors
    pair_currents_a: Phasors
    pair_volts_v: Phasors
    pair_power_w: Three
    input_power_w: float
    link_power_w: float
    link_mean_v: float
    link_min_v: float
    link_max_v: float
    periods: int

    @property
    def link_ripple_v(self) -> float:
        """Peak-to-peak ripple of the link."""
        return self.link_max_v - self.link_min_v

    @property
    def pair_shares(self) -> Three:
        """What share of its power it takes of pairs 1-2, 2-3, 3-1."""
        one, two, three = (power / self.input_power_w for power in self.pair_power_w)
        return one, two, three

    @property
    def distortion_a(self) -> float:
        """The largest rms of all harmonics together among the three lines."""
        return max(
            math.sqrt(max(rms * rms - abs(first) ** 2, 0.0))
            for rms, first in zip(self.line_currents_a, self.fundamentals_a, strict=True)
        )


@lru_cache(maxsize=2048)
def settle_on_three_lines(bridge: ThreeLineBridge) -> ThreeLineState:
    """The periodic state: after a period as before it, within 1e-6 of its range.

    Raises NotComputable for a line without any inductance, for a power the lines cannot give,
    where no periodic state is reached, and where a choke's current would turn over through the
    diodes (not modelled); UsageError for a bridge that is none.
    """
    parameters = _parameters(bridge)
    currents, link, rails = np.empty((_SAMPLES, 3)), np.empty(_SAMPLES), np.empty(_SAMPLES)
    periods = _run(bridge, parameters, currents, link, rails)
    if periods == COLLAPSED:
        raise NotComputable(
            f"the three lines cannot give {bridge.link_power_w:g} W through this rectifier: its "
            "link voltage collapses"
        )
    if periods == SHORTED:
        raise NotComputable(
            "the current of this rectifier's choke turns over through its diodes, which is not "
            "modelled on three lines"
        )
    if periods < 0:
        raise NotComputable("the rectifier does not settle to a state that repeats every period")
    return _state(bridge, parameters, currents, link, rails, periods)


def _run(
    bridge: ThreeLineBridge, parameters: Floats, currents: Floats, link: Floats, rails: Floats
) -> int:
    """Settles on a coarse grid first; the fine one then starts next to its periodic state."""
    peak_v = math.sqrt(2.0) * max(abs(pair) for pair in between(bridge.feed.volts_v))
    state = np.array([0.0, 0.0, 0.0, peak_v])
    poles = np.zeros(3, dtype=np.int64)
    parameters[17] = bridge.link_power_w / peak_v
    coarse = np.empty((_COARSE, 3)), np.empty(_COARSE), np.empty(_COARSE)
    first = settle(
        parameters, bridge.link_power_w, state, poles, _MOST_PERIODS, 1e-4, *coarse
    )  # fmt: skip
    if first <= 0:
        return first
    last = settle(
        parameters, bridge.link_power_w, state, poles, _MOST_PERIODS, _TOLERANCE,
        currents, link, rails,
    )  # fmt: skip
    return first + last if last > 0 else last


def _parameters(bridge: ThreeLineBridge) -> Floats:
    feed = bridge.feed
    numbers = (
        *(z.real for z in feed.impedance_ohm), *(z.imag for z in feed.impedance_ohm),
        bridge.dc_choke_h, bridge.dc_choke_ohm, bridge.diode_drop_v, bridge.diode_resistance_ohm,
    )  # fmt: skip
    above_zero = (feed.frequency_hz, bridge.capacitance_f, bridge.link_power_w)
    if not all(math.isfinite(number) and number >= 0.0 for number in (*numbers, *above_zero)):
        raise UsageError("a rectifier's parts must be finite and not negative")
    if min(above_zero) <= 0.0 or not min(map(abs, between(feed.volts_v))) > 0.0:
        raise UsageError("a rectifier needs volts, a frequency, a capacitor and a power above zero")
    if min(z.imag for z in feed.impedance_ohm) <= 0.0:
        raise NotComputable(
            "a line without any inductance: nothing bounds the rectifier's peak current"
        )
    omega = 2.0 * math.pi * feed.frequency_hz
    peaks = [math.sqrt(2.0) * volts for volts in feed.volts_v]
    return np.array(
        [
            omega, *(part for peak in peaks for part in (peak.real, peak.imag)),
            *(z.real + bridge.diode_resistance_ohm for z in feed.impedance_ohm),
            *(z.imag / omega for z in feed.impedance_ohm),
            bridge.dc_choke_ohm, bridge.dc_choke_h, bridge.capacitance_f, bridge.diode_drop_v, 0.0,
        ]
    )  # fmt: skip


def _state(
    bridge: ThreeLineBridge, parameters: Floats, currents: Floats, link: Floats, rails: Floats,
    periods: int,
) -> ThreeLineState:  # fmt: skip
    pairs = pair_currents(currents)
    ohm = bridge.diode_resistance_ohm
    rows = np.abs(currents)
    drops = 2.0 * bridge.diode_drop_v + ohm * np.stack(
        [rows[:, one] + rows[:, other] for one, other in _PAIRS], axis=1
    )
    powers = np.mean(np.abs(pairs) * (rails[:, None] + drops), axis=0)
    lines = _fundamental(currents)
    rms = np.sqrt(np.mean(currents * currents, axis=0))
    at_bridge = [
        e - z * current
        for e, z, current in zip(
            bridge.feed.volts_v, bridge.feed.impedance_ohm, lines, strict=True
        )
    ]  # fmt: skip
    mean = float(np.mean(link))
    return ThreeLineState(
        line_currents_a=(float(rms[0]), float(rms[1]), float(rms[2])),
        fundamentals_a=lines,
        pair_currents_a=_fundamental(pairs),
        pair_volts_v=between((at_bridge[0], at_bridge[1], at_bridge[2])),
        pair_power_w=(float(powers[0]), float(powers[1]), float(powers[2])),
        input_power_w=float(np.sum(powers)),
        link_power_w=float(parameters[17]) * mean,
        link_mean_v=mean,
        link_min_v=float(np.min(link)),
        link_max_v=float(np.max(link)),
        periods=periods,
    )


def pair_currents(currents: Floats) -> Floats:
    """Currents from 1 to 2, 2 to 3, 3 to 1 of three line currents that sum to nothing, (n, 3).

    At every instant the line that carries most is in a pair with each of the others, and the
    third pair carries nothing.
    """
    odd = np.argmax(np.abs(currents), axis=1)
    one, two, three = currents[:, 0], currents[:, 1], currents[:, 2]
    nothing = np.zeros_like(one)
    return np.stack(
        [
            np.choose(odd, [-two, one, nothing]),
            np.choose(odd, [nothing, -three, two]),
            np.choose(odd, [three, nothing, -one]),
        ],
        axis=1,
    )


def _fundamental(waves: Floats) -> Phasors:
    """Rms phasors of three sampled waves, shape (n, 3); a phasor of angle 0 is a sine."""
    turned = np.exp(-2j * math.pi * np.arange(len(waves)) / len(waves))
    one, two, three = (
        complex(math.sqrt(2.0) * 1j * np.mean(turned * waves[:, k])) for k in range(3)
    )
    return one, two, three


def between(volts: Phasors) -> Phasors:
    """Volts 1-2, 2-3, 3-1 of three lines."""
    return volts[0] - volts[1], volts[1] - volts[2], volts[2] - volts[0]
