"""A single-phase diode bridge with a link capacitor: what a drive draws from its supply.

Equations: line and choke inductance in series while the bridge conducts, the capacitor alone
while it does not, and a turning-over mode with a choke in the link (see `bridge_kernel`). The
load is a constant current at the given mean power, or a resistance. Checked against a general
circuit simulator and a computed reference case (bridge at 2.2 kW, 230 V 50 Hz), 0.3 %.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from phasewright.electronics.bridge_kernel import OFF, Floats, settle
from phasewright.network.supply import Source
from phasewright.quantities.errors import NotComputable, UsageError

HARMONICS = 40
_SAMPLES = 1000
_COARSE = 100
_MOST_PERIODS = 1500
_TOLERANCE = 1e-7
_NO_INDUCTANCE_S = 1e-6
"""Time constant of what stands for no inductance at all: resistances alone bound the pulse then."""


@dataclass(frozen=True, slots=True)
class Bridge:
    """A bridge rectifier behind a supply. SI units.

    `source.reactance_ohm` is turned into an inductance at the source's frequency. Exactly one of
    `link_power_w` (mean power into the load, drawn as a constant current) and
    `load_resistance_ohm` is given.

    `doubler`: two diodes and two capacitors of `capacitance_f` each, the line between them, each
    charged in its own half wave through one diode; the link is both in series. Its load is a power,
    and there is no choke in its link.
    """

    source: Source
    capacitance_f: float
    link_power_w: float | None = None
    load_resistance_ohm: float | None = None
    ac_choke_h: float = 0.0
    dc_choke_h: float = 0.0
    ac_choke_ohm: float = 0.0
    dc_choke_ohm: float = 0.0
    diode_drop_v: float = 0.9
    diode_resistance_ohm: float = 0.010
    doubler: bool = False


@dataclass(frozen=True, slots=True)
class BridgeState:
    """The periodic state of a bridge, at the service (behind the source's impedance).

    `harmonics_a[n - 1]` is the rms phasor of harmonic n = 1 to 40 of the supply current, its
    angle against n times that of the fundamental voltage at the service. Ratios are fractions.
    """

    current_a: float
    peak_a: float
    crest: float
    harmonics_a: tuple[complex, ...]
    thd: float
    displacement_factor: float
    power_factor: float
    input_power_w: float
    link_power_w: float
    service_voltage_v: float
    service_voltage_thd: float
    link_mean_v: float
    link_min_v: float
    link_max_v: float
    periods: int

    @property
    def link_ripple_v(self) -> float:
        """Peak-to-peak ripple of the link."""
        return self.link_max_v - self.link_min_v


@dataclass(frozen=True, slots=True)
class BridgeWave:
    """One period of the settled bridge: evenly spaced samples from the source's zero upward."""

    time_s: tuple[float, ...]
    current_a: tuple[float, ...]
    link_v: tuple[float, ...]


def settle_bridge(bridge: Bridge) -> BridgeState:
    """The periodic state of a bridge: state after a period equal to that before, within 1e-6.

    A supply without inductance is bounded by the resistances, one without any impedance by the
    diodes' alone. Raises NotComputable where these are none too, for a power the supply cannot
    give, and where no periodic state is reached; UsageError for a bridge that is none.
    """
    return _settled(bridge)[0]


def bridge_wave(bridge: Bridge) -> BridgeWave:
    """One period of supply current and link voltage of the settled bridge; raises as above."""
    _, current, link = _settled(bridge)
    step = 1.0 / (bridge.source.frequency_hz * _SAMPLES)
    times = tuple(step * n for n in range(_SAMPLES))
    return BridgeWave(times, tuple(current.tolist()), tuple(link.tolist()))


@lru_cache(maxsize=2048)
def _settled(bridge: Bridge) -> tuple[BridgeState, Floats, Floats]:
    parameters = parameters_of(bridge)
    current, link = np.empty(_SAMPLES), np.empty(_SAMPLES)
    periods = _run(bridge, parameters, current, link)
    if periods == 0:
        raise NotComputable(
            f"the supply cannot give {bridge.link_power_w or 0.0:g} W through this rectifier: "
            "its link voltage collapses"
        )
    if periods < 0:
        raise NotComputable("the rectifier does not settle to a state that repeats every period")
    if bridge.doubler:
        # both halves alike, half a period apart: their pulses never overlap, for one diode holds
        # the line at its capacitor while it conducts
        current -= np.roll(current, _SAMPLES // 2)
        link += np.roll(link, _SAMPLES // 2)
    return _state(bridge, parameters, current, link, periods), current, link


def _run(bridge: Bridge, parameters: Floats, current: Floats, link: Floats) -> int:
    """Settles on a coarse grid first (the steps are exact, the grid only finds events)."""
    power_w = (0.5 if bridge.doubler else 1.0) * (bridge.link_power_w or 0.0)
    peak_v = float(parameters[0])
    parameters[9] = power_w / peak_v
    state = np.array([0.0, 0.0, peak_v - 2.0 * bridge.diode_drop_v, OFF])
    coarse = np.empty(_COARSE), np.empty(_COARSE)
    first = settle(parameters, power_w, state, _MOST_PERIODS, _TOLERANCE, *coarse)
    if first <= 0:
        return first
    last = settle(parameters, power_w, state, _MOST_PERIODS, _TOLERANCE, current, link)
    return first + last if last > 0 else last


def parameters_of(bridge: Bridge) -> Floats:
    """A bridge as the kernel wants it; raises UsageError and NotComputable as above."""
    source = bridge.source
    numbers = (
        source.voltage_v, source.frequency_hz, bridge.capacitance_f, source.resistance_ohm,
        source.reactance_ohm, bridge.ac_choke_h, bridge.dc_choke_h, bridge.ac_choke_ohm,
        bridge.dc_choke_ohm, bridge.diode_drop_v, bridge.diode_resistance_ohm,
    )  # fmt: skip
    if not all(math.isfinite(number) and number >= 0.0 for number in numbers):
        raise UsageError("a rectifier's parts must be finite and not negative")
    if min(source.voltage_v, source.frequency_hz, bridge.capacitance_f) <= 0.0:
        raise UsageError("a rectifier needs a voltage, a frequency and a capacitor above zero")
    power_w, resistance = bridge.link_power_w, bridge.load_resistance_ohm
    load = power_w if power_w is not None else resistance
    if (power_w is None) == (resistance is None) or load is None:
        raise UsageError("a rectifier's load is either a power or a resistance")
    if not 0.0 < load < math.inf:
        raise UsageError("a rectifier's load must be above zero")
    if bridge.doubler and (power_w is None or bridge.dc_choke_h > 0.0):
        raise UsageError("a doubler's load is a power, and there is no choke in its link")
    omega = 2.0 * math.pi * source.frequency_hz
    # one diode is in the path of a doubler instead of two
    share = 0.5 if bridge.doubler else 1.0
    inductance = source.reactance_ohm / omega + bridge.ac_choke_h
    if inductance <= 0.0:
        inductance = _NO_INDUCTANCE_S * _path_ohm(bridge, share)
    conductance = 0.0 if resistance is None else 1.0 / resistance
    return np.array(
        [
            math.sqrt(2.0) * source.voltage_v, omega,
            source.resistance_ohm + bridge.ac_choke_ohm, inductance,
            bridge.dc_choke_ohm, bridge.dc_choke_h, bridge.capacitance_f,
            share * bridge.diode_drop_v, share * bridge.diode_resistance_ohm, 0.0, conductance,
            float(bridge.doubler),
        ]
    )  # fmt: skip


def _path_ohm(bridge: Bridge, share: float) -> float:
    """Resistance in the path of a pulse, the diodes' with it."""
    ohm = bridge.source.resistance_ohm + bridge.ac_choke_ohm
    ohm += 2.0 * share * bridge.diode_resistance_ohm
    if ohm <= 0.0:
        raise NotComputable(
            "a supply without any impedance and diodes without any resistance: nothing bounds the "
            "rectifier's peak current"
        )
    return ohm


def _state(
    bridge: Bridge, parameters: Floats, current: Floats, link: Floats, periods: int
) -> BridgeState:
    source = bridge.source
    # rms phasors against the source, which is a sine: angle 0 stands for sin(wt)
    spectrum = np.fft.rfft(current) * (2.0 / _SAMPLES) / math.sqrt(2.0)
    order = np.arange(spectrum.size)
    phasors = spectrum * 1j
    impedance = source.resistance_ohm + 1j * order * source.reactance_ohm
    volts = -impedance * phasors
    volts[1] += source.voltage_v
    volts[0] = 0.0
    rms = math.sqrt(float(np.mean(current * current)))
    peak = float(np.max(np.abs(current)))
    angle = float(np.angle(volts[1]))
    turned = phasors[1 : HARMONICS + 1] * np.exp(-1j * angle * (order[1 : HARMONICS + 1]))
    first = complex(phasors[1])
    input_w = source.voltage_v * first.real - source.resistance_ohm * rms * rms
    volts_rms = math.sqrt(float(np.sum(np.abs(volts) ** 2)))
    mean = float(np.mean(link))
    conductance = float(parameters[10])
    link_w = float(parameters[9]) * mean + conductance * float(np.mean(link * link))
    distortion = float(np.sum(np.abs(volts[2 : HARMONICS + 1]) ** 2))
    return BridgeState(
        current_a=rms,
        peak_a=peak,
        crest=peak / rms,
        harmonics_a=tuple(complex(entry) for entry in turned),
        thd=math.sqrt(max(rms * rms - abs(first) ** 2, 0.0)) / abs(first),
        displacement_factor=math.cos(angle - math.atan2(first.imag, first.real)),
        power_factor=input_w / (volts_rms * rms),
        input_power_w=input_w,
        link_power_w=link_w,
        service_voltage_v=volts_rms,
        service_voltage_thd=math.sqrt(distortion) / abs(complex(volts[1])),
        link_mean_v=mean,
        link_min_v=float(np.min(link)),
        link_max_v=float(np.max(link)),
        periods=periods,
    )
