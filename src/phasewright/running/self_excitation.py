"""Loss of supply: what idlers and capacitors hold by themselves while the shafts still turn.

Without a source the two-sequence bus at frequency w must be singular: two real equations, for w
and for the flux. Asked the other way round the answer is unique: for every amplitude there is
one factor on the capacitors that holds it, and the factor grows with the amplitude as the iron
saturates. At a vanishing amplitude it gives the onset, at rated volts the sum that holds full
volts, and where it is 1 the volts the fitted capacitors hold.

Whether a dead machine builds up from its remanence is not computed: only what is held, as after
a loss of supply. Frequency follows the shaft; friction and what the shafts drive are outside.
Source: steady state of the self-excited induction generator with two sequences; checked against
computed reference cases, three independent methods (self-excitation, speed held).
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Literal

from phasewright.network.phasors import line_to_line, phasors_of
from phasewright.network.unbalance import Volts
from phasewright.quantities.errors import NotComputable, UsageError
from phasewright.running.excited_bus import (
    AMPLITUDE,
    FACTOR,
    Point,
    SpunBus,
    flux_ratios,
    machine_currents,
    solved,
)  # fmt: skip
from phasewright.running.network import Between, Network

MEASURED_TO = 1.1
"""Flux over rated flux up to which the main-flux law rests on measured curves."""
USABLE_TO = 1.35
"""Flux up to which the law is carried on as a power; its soft and hard forms bracket it there."""
_LARGEST_FLUX = 2.0
_VANISHING = 1e-6
_FIRST, _PACE = 0.05, 0.05
_UP_TO_RATED = (0.25, 0.5, 0.7, 0.85, 1.0)


@dataclass(frozen=True, slots=True)
class Spun:
    """One machine that turns without supply. `braking_nm` is what its air gap takes from the
    shaft; line currents are rms, iron loss included."""

    name: str
    slip: float
    flux_ratio: float
    braking_nm: float
    line_currents_a: tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class SelfExcitation:
    """Capacitor sums C12 + C23 + C31 [F] that matter, and what the fitted ones hold.

    `onset_sum_f` and `full_volts_sum_f` (rated volts of the first machine; None where these
    shafts turn too slowly for them) are for the fitted spread. `volts` (v12, v23, v31) and the
    rest are None or empty where nothing is held.
    """

    sum_f: float
    onset_sum_f: float
    full_volts_sum_f: float | None
    volts: Volts | None
    frequency_hz: float | None
    machines: tuple[Spun, ...]

    @property
    def braking_nm(self) -> float:
        """Torque all air gaps together take from their shafts."""
        return sum(machine.braking_nm for machine in self.machines)

    @property
    def law(self) -> Literal["measured", "extended", "beyond"]:
        """How far the volts rest on the main-flux law: within what has been measured, on its
        extension as a power, or beyond even that."""
        flux = max((machine.flux_ratio for machine in self.machines), default=0.0)
        if flux <= MEASURED_TO:
            return "measured"
        return "extended" if flux <= USABLE_TO else "beyond"


def onset(network: Network, speeds_rpm: tuple[float, ...]) -> tuple[float, float]:
    """(sum of capacitances [F], frequency [Hz]) from which volts are held at these shaft speeds.

    The sum is for the spread of the network's capacitors over the three pairs of lines (an even
    spread where it has none). The supply of the network is left out. Raises NotComputable where
    no sum excites the machines at these speeds.
    """
    if network.machines and network.machines[0].reversed:
        return onset(_turned(network), speeds_rpm)
    bus = _bus(network, speeds_rpm)
    point = _at(bus, bus.first_guess(), _VANISHING)
    return point.factor * sum(bus.capacitances_f), point.w / (2.0 * math.pi)


def self_excitation(network: Network, speeds_rpm: tuple[float, ...]) -> SelfExcitation:
    """What the network holds at these shaft speeds [rpm], one a machine, once its supply is gone.

    Raises NotComputable where the iron is taken as linear and the capacitors exceed the onset
    (nothing would end the rise), or where no state is found that they hold.
    """
    if network.machines and network.machines[0].reversed:
        return _told_turned(self_excitation(_turned(network), speeds_rpm))
    bus = _bus(network, speeds_rpm)
    fitted = _sum(network.capacitance_f)
    spread = sum(bus.capacitances_f)
    low = _at(bus, bus.first_guess(), _VANISHING)
    onset_f = low.factor * spread
    full = _full_volts(bus, low)
    nothing = SelfExcitation(
        fitted, onset_f, None if full is None else full * spread, None, None, ()
    )  # fmt: skip
    if fitted <= onset_f:
        return nothing
    if not bus.saturates:
        raise NotComputable(
            "the iron of these machines is taken as linear: nothing ends the rise of the volts"
        )
    point = _held(bus, low)
    phases = line_to_line(point.v_p, point.v_n)
    return replace(
        nothing,
        volts=(abs(phases[0]), abs(phases[1]), abs(phases[2])),
        frequency_hz=point.w / (2.0 * math.pi),
        machines=_spun(network, bus, point),
    )


def _turned(network: Network) -> Network:
    """The same network with lines 1 and 2 exchanged: the first machine then turns 1-2-3."""
    c, g = network.capacitance_f, network.conductance_s
    return replace(
        network,
        capacitance_f=Between(c.c12, c.c31, c.c23),
        conductance_s=Between(g.c12, g.c31, g.c23),
        machines=tuple(replace(each, reversed=not each.reversed) for each in network.machines),
    )


def _told_turned(found: SelfExcitation) -> SelfExcitation:
    """The figures of a network with lines 1 and 2 exchanged, told for the lines as they are."""
    volts = found.volts
    machines = []
    for machine in found.machines:
        one, two, three = machine.line_currents_a
        machines.append(replace(machine, line_currents_a=(two, one, three)))
    return replace(
        found,
        volts=None if volts is None else (volts[0], volts[2], volts[1]),
        machines=tuple(machines),
    )


def _bus(network: Network, speeds_rpm: tuple[float, ...]) -> SpunBus:
    if len(speeds_rpm) != len(network.machines):
        raise UsageError(f"{len(network.machines)} speeds are wanted, {len(speeds_rpm)} were given")
    if not all(speed > 0.0 for speed in speeds_rpm):
        raise UsageError("self-excitation is asked for shafts that turn forwards")
    if _sum(network.capacitance_f) > 0.0:
        return SpunBus(network, speeds_rpm)
    return SpunBus(replace(network, capacitance_f=Between(1e-6, 1e-6, 1e-6)), speeds_rpm)


def _sum(capacitance_f: Between) -> float:
    return capacitance_f.c12 + capacitance_f.c23 + capacitance_f.c31


def _at(bus: SpunBus, start: Point, amplitude: float) -> Point:
    """The state at an amplitude (over rated volts): its frequency and capacitor factor."""
    point = solved(bus, replace(start, amplitude=amplitude), AMPLITUDE)
    if point is None:
        raise NotComputable("no capacitors excite these machines at these shaft speeds")
    return point


def _full_volts(bus: SpunBus, low: Point) -> float | None:
    """The factor on the capacitors that holds rated volts; None where no factor does."""
    point = low
    for amplitude in _UP_TO_RATED:
        after = _within_law(bus, replace(point, amplitude=amplitude))
        if after is None:
            return None
        point = after
    return point.factor


def _within_law(bus: SpunBus, start: Point) -> Point | None:
    """The state at the amplitude of `start`; None where there is none within the law."""
    point = solved(bus, start, AMPLITUDE)
    if point is None or max(flux_ratios(bus, point)) > _LARGEST_FLUX:
        return None
    return point


def _held(bus: SpunBus, low: Point) -> Point:
    """The state at which the factor on the fitted capacitors is 1: amplitudes upwards, then
    the last stretch at once."""
    before, amplitude = low, _FIRST
    while True:
        after = _within_law(bus, replace(before, amplitude=amplitude))
        if after is None:
            raise NotComputable(
                "the capacitors are too great for a state that these machines hold within the "
                f"main-flux law (up to {_LARGEST_FLUX:g} times rated flux)"
            )
        if after.factor >= 1.0:
            break
        before, amplitude = after, amplitude + _PACE
    point = solved(bus, replace(after, factor=1.0), FACTOR)
    if point is None or not before.amplitude <= point.amplitude <= after.amplitude:
        raise NotComputable("the volts these capacitors hold could not be settled")
    return point


def _spun(network: Network, bus: SpunBus, point: Point) -> tuple[Spun, ...]:
    found = []
    ratios = flux_ratios(bus, point)
    for machine, ratio, state in zip(
        network.machines, ratios, machine_currents(bus, point), strict=True
    ):
        one, two, three = phasors_of(state.i_p, state.i_n)
        currents = (abs(one), abs(two), abs(three))
        found.append(Spun(machine.name, state.slip, ratio, state.braking_nm, currents))
    return tuple(found)
