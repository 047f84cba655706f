"""Drives, motors, capacitors and heaters on one supply impedance, settled together in time.

Every drive sees the volts that all others leave it; what is linear beside them takes its share of
each harmonic. A machine hangs there as three windings at standstill (against harmonics its rotor
nearly stands), its fundamental corrected to what it takes as it turns. Checked against a general
circuit simulator.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from phasewright.electronics.common_kernel import Floats, Ints, run_period
from phasewright.electronics.harmonics import Spectrum, spectrum_of
from phasewright.electronics.rectifier import HARMONICS
from phasewright.network.supply import Source
from phasewright.quantities.errors import NotComputable, UsageError

_STEPS = 2000
_MOST_PERIODS = 1200
_TOLERANCE = 1e-6
_LEAST_OHM = 1e-4

Lines = tuple[int, int]
"""Two of lines 1, 2, 3; line 3 is a load's own, generated one."""


@dataclass(frozen=True, slots=True)
class Branch:
    """Resistance, inductance and capacitance (None: none) in series between two lines."""

    lines: Lines
    resistance_ohm: float
    inductance_h: float = 0.0
    capacitance_f: float | None = None


@dataclass(frozen=True, slots=True)
class Linear:
    """A linear load: its branches; `taken_va` is what it takes of the fundamental at the supply's
    volts (watts + j vars) where its branches would take something else, as a turning motor's."""

    branches: tuple[Branch, ...]
    taken_va: complex | None = None


@dataclass(frozen=True, slots=True)
class BridgeThere:
    """A drive's bridge on the supply: choke or lead before it, link, the mean power it gives."""

    capacitance_f: float
    link_power_w: float
    choke_h: float = 0.0
    choke_ohm: float = 0.0
    diode_drop_v: float = 0.9
    diode_resistance_ohm: float = 0.010


@dataclass(frozen=True, slots=True)
class BridgeFound:
    """One bridge beside the others: rms, peak and harmonic amps (angles as in `Spectrum`), link."""

    current_a: float
    peak_a: float
    harmonics_a: tuple[complex, ...]
    link_mean_v: float
    link_min_v: float


@dataclass(frozen=True, slots=True)
class Common:
    """What stands on one supply. `drawn` are harmonic currents 1 to 40 of what is not settled
    with the rest (angles against n times that of the service's volts)."""

    source: Source
    bridges: tuple[BridgeThere, ...]
    linear: tuple[Linear, ...] = ()
    drawn: tuple[tuple[complex, ...], ...] = ()


@dataclass(frozen=True, slots=True)
class CommonState:
    """The settled period: the supply's current and the volts at the service, and each bridge."""

    spectrum: Spectrum
    peak_a: float
    bridges: tuple[BridgeFound, ...]
    periods: int

    @property
    def crest(self) -> float:
        """Peak over rms of the supply's current."""
        return self.peak_a / self.spectrum.current_a


def settle_common(common: Common) -> CommonState:
    """The periodic state: state after a period equal to that before, within 1e-6 of its range.

    Raises UsageError for parts that are none, NotComputable for a supply without any impedance,
    one that cannot give the power, and where no periodic state is reached.
    """
    return _Run(common).settled()


@dataclass(slots=True)
class _Run:
    """A run of periods: the arrays of the kernel and what is carried from one to the next."""

    common: Common
    ends: Ints = field(init=False)
    part: Floats = field(init=False)
    bridge: Floats = field(init=False)
    drive: Floats = field(init=False)
    wave: Floats = field(init=False)
    sine: Floats = field(init=False)

    def __post_init__(self) -> None:
        common, source = self.common, self.common.source
        _check(common)
        omega = 2.0 * math.pi * source.frequency_hz
        own_h = source.reactance_ohm / omega
        ends, parts, node = [(1, 0)], [(source.resistance_ohm, own_h, 0.0)], 2
        for load in common.linear:
            own = {1: 1, 2: 0, 3: node}
            node += any(3 in each.lines for each in load.branches)
            ends += [(own[each.lines[0]], own[each.lines[1]]) for each in load.branches]
            parts += [_rlc(each) for each in load.branches]
        self.ends, self.part = np.array(ends), np.array(parts)
        self.bridge = np.array(
            [
                (each.choke_ohm + 2.0 * each.diode_resistance_ohm, each.choke_h,
                 1.0 / each.capacitance_f, 2.0 * each.diode_drop_v, 0.0)
                for each in common.bridges
            ]
        ).reshape(-1, 5)  # fmt: skip
        peak = math.sqrt(2.0) * source.voltage_v
        full = np.array([max(peak - 2.0 * each.diode_drop_v, 1.0) for each in common.bridges])
        self.drive = np.column_stack((np.zeros(full.size), full))
        self.bridge[:, 4] = [each.link_power_w for each in common.bridges] / full
        step = 1.0 / (source.frequency_hz * _STEPS)
        at = np.arange(2 * _STEPS + 1) * (0.5 * step)
        self.wave = np.append(peak * np.sin(omega * at), step)
        self.sine = np.exp(1j * omega * step * np.arange(_STEPS + 1))

    def settled(self) -> CommonState:
        powers = np.array([each.link_power_w for each in self.common.bridges])
        h = float(self.wave[-1])
        g = 1.0 / (self.part[:, 0] + 2.0 * self.part[:, 1] / h + 0.5 * h * self.part[:, 2])
        held = self.bridge[:, 0] + 2.0 * self.bridge[:, 1] / h + 0.5 * h * self.bridge[:, 2]
        conducts: Floats = 1.0 / held
        count, nodes = powers.size, np.zeros(int(self.ends.max()) + 1)
        inverse: Floats = np.linalg.inv(_conductances(self.ends, g, nodes.size)).astype(np.float64)
        branch, means = np.zeros((g.size, 3)), np.empty(count)
        line, supply = np.empty(_STEPS), np.empty(_STEPS)
        taken, link = np.empty((count, _STEPS)), np.empty((count, _STEPS))
        inject, owed = np.zeros(_STEPS + 1), self._owed()
        rows: list[tuple[Floats, Floats]] = []
        for period in range(_MOST_PERIODS):
            before = np.concatenate((branch[:, 0], self.drive.ravel(), nodes))
            run_period(
                self.wave, self.ends, self.part, branch, g, inverse, self.bridge, self.drive,
                conducts, nodes, inject, line, supply, taken, link, means,
            )  # fmt: skip
            if not np.all(means > 0.02 * abs(self.wave[: 2 * _STEPS]).max()):
                raise NotComputable("the supply cannot give all these loads their power together")
            after = np.concatenate((branch[:, 0], self.drive.ravel(), nodes))
            fed = self._injected(owed, line)
            wanted = powers / means
            moved = max(
                float(
                    np.max(np.abs(after - before) / self._ranges(supply, branch.shape[0], nodes))
                ),
                float(np.max(np.abs(wanted / self.bridge[:, 4] - 1.0), initial=0.0)),
                float(np.max(np.abs(fed - inject))) / float(np.max(np.abs(supply))),
            )
            self.bridge[:, 4], inject = wanted, fed
            if moved <= _TOLERANCE:
                return self._state(line, supply, taken, link, period + 1)
            rows.append((self.drive[:, 1].copy(), wanted.copy()))
            if len(rows) == 3:
                self.drive[:, 1] = _limits([row[0] for row in rows])
                self.bridge[:, 4] = _limits([row[1] for row in rows])
                rows = []
        raise NotComputable("the drives together do not settle to a state that repeats")

    def _ranges(self, supply: Floats, branches: int, nodes: Floats) -> Floats:
        """What each part of the state is measured by: the supply's peak amps and peak volts."""
        amps, volts = float(np.max(np.abs(supply))), float(np.max(np.abs(self.wave[:-1])))
        drives = np.tile([amps, volts], self.drive.shape[0])
        return np.concatenate((np.full(branches, amps), drives, np.full(nodes.size, volts)))

    def _owed(self) -> complex:
        """Admittance of the fundamental that the linear loads' branches leave to be added."""
        source, whole = self.common.source, 0j
        for load in self.common.linear:
            if load.taken_va is not None:
                whole += load.taken_va.conjugate() / source.voltage_v**2
                whole -= admittance(load, source.frequency_hz)
        return whole

    def _injected(self, owed: complex, line: Floats) -> Floats:
        """Amps into line 1 at the grid points: what branches take too much, what others draw."""
        first = 2j * complex(np.mean(line * self.sine[:-1].conjugate()))  # of a sine, peak
        turned = cmath.exp(1j * cmath.phase(first))
        found: Floats = -np.imag(owed * first * self.sine)
        for phasors in self.common.drawn:
            for n, each in enumerate(phasors, start=1):
                if each:
                    found -= math.sqrt(2.0) * np.imag(each * (turned * self.sine) ** n)
        return found

    def _state(
        self, line: Floats, supply: Floats, taken: Floats, link: Floats, periods: int
    ) -> CommonState:  # fmt: skip
        volts = _phasors(line)
        turn = np.exp(-1j * np.angle(volts[0]) * np.arange(1, HARMONICS + 1))
        bridges = tuple(
            BridgeFound(
                math.sqrt(float(np.mean(amps * amps))), float(np.max(np.abs(amps))),
                tuple(complex(each) for each in _phasors(amps) * turn),
                float(np.mean(dc)), float(np.min(dc)),
            )
            for amps, dc in zip(taken, link, strict=True)
        )  # fmt: skip
        found = spectrum_of(_phasors(supply) * turn, np.abs(volts), abs(complex(volts[0])))
        return CommonState(found, float(np.max(np.abs(supply))), bridges, periods)


def admittance(load: Linear, frequency_hz: float) -> complex:
    """Of a load's branches between lines 1 and 2, its line 3 left to itself [S]."""
    omega = 2.0 * math.pi * frequency_hz
    whole = np.zeros((3, 3), dtype=np.complex128)
    for each in load.branches:
        r, ind, per_c = _rlc(each)
        own = 1.0 / complex(r, omega * ind - per_c / omega)
        a, b = (line - 1 for line in each.lines)
        whole[a, a] += own
        whole[b, b] += own
        whole[a, b] -= own
        whole[b, a] -= own
    behind = complex(whole[2, 2])
    straight = complex(whole[0, 0])
    if behind == 0j:
        return straight
    return straight - complex(whole[0, 2]) * complex(whole[2, 0]) / behind


def windings(ohm: complex, frequency_hz: float) -> tuple[Branch, ...]:
    """Three equal star impedances as what they are between the lines: three times as much each."""
    inductance = 3.0 * ohm.imag / (2.0 * math.pi * frequency_hz)
    return tuple(Branch(pair, 3.0 * ohm.real, inductance) for pair in ((1, 2), (2, 3), (3, 1)))


def _rlc(branch: Branch) -> tuple[float, float, float]:
    per_c = 0.0 if branch.capacitance_f is None else 1.0 / branch.capacitance_f
    return max(branch.resistance_ohm, _LEAST_OHM), branch.inductance_h, per_c


def _check(common: Common) -> None:
    source = common.source
    numbers = [
        number
        for each in common.bridges
        for number in (each.choke_h, each.choke_ohm, each.diode_drop_v, each.diode_resistance_ohm)
    ]
    wanted = [
        source.voltage_v, source.frequency_hz,
        *(number for each in common.bridges for number in (each.capacitance_f, each.link_power_w)),
        *(n for load in common.linear for b in load.branches for n in (_size(b),)),
    ]  # fmt: skip
    if not all(0.0 <= each < math.inf for each in numbers):
        raise UsageError("a drive's parts must be finite and not negative")
    if not all(0.0 < each < math.inf for each in wanted):
        raise UsageError("volts, hertz, capacitors, powers and branches must be above zero")
    if not source.resistance_ohm + source.reactance_ohm > 0.0:
        raise NotComputable("a supply without any impedance: no load there disturbs another")


def _size(branch: Branch) -> float:
    return branch.resistance_ohm + branch.inductance_h + (1.0 if branch.capacitance_f else 0.0)


def _conductances(ends: Ints, g: Floats, nodes: int) -> Floats:
    """The linear nodes' conductances, line 2 left out."""
    whole = np.zeros((nodes, nodes))
    for (a, b), own in zip(ends, g, strict=True):
        whole[a, a] += own
        whole[b, b] += own
        whole[a, b] -= own
        whole[b, a] -= own
    return whole[1:, 1:]


def _limits(rows: Sequence[Floats]) -> Floats:
    """Where three rows that draw together in equal ratios end (Aitken); else the last."""
    last, bend = rows[2] - rows[1], rows[2] - 2.0 * rows[1] + rows[0]
    shrinks = (np.abs(last) < 0.8 * np.abs(rows[1] - rows[0])) & (bend != 0.0)
    found = rows[2].copy()
    found[shrinks] -= last[shrinks] ** 2 / bend[shrinks]
    return found


def _phasors(wave: Floats) -> np.ndarray[tuple[int], np.dtype[np.complex128]]:
    """Rms phasors 1 to 40 of a wave; angle 0 stands for sin(n w t)."""
    return np.fft.rfft(wave)[1 : HARMONICS + 1] * (1j * math.sqrt(2.0) / wave.size)
