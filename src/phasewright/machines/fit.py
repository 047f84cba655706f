"""An equivalent circuit that gives back what a plate says.

Least squares on the logarithms of six per-unit unknowns (stator resistance, leakage,
magnetising reactance, two cages) after the usual identification from catalogue data
(Pedra and Corcoles, IEEE Transactions on Energy Conversion, from memory), then the rated point
is met exactly by Newton on stator resistance, magnetising reactance and rotor resistance.
Iron, friction and stray losses are taken from the power balance before.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from phasewright.machines.circuit import Cage, Circuit, Saturation, side_by_side
from phasewright.machines.least_squares import least_squares
from phasewright.machines.performance import Curve, Floats, at_slip, curve, no_load
from phasewright.machines.targets import (
    IRON_SHARE_OF_LOSS,
    LEAST_STATOR_SHARE,
    MOST_IRON_SHARE,
    STRAY_SHARE_OF_INPUT,
    Miss,
    Targets,
    refuse_the_impossible,
)

STARTING_TOLERANCE = 0.05
_SCAN = np.concatenate([np.geomspace(0.015, 1.0, 44), [1.5]])


@dataclass(frozen=True, slots=True)
class Fit:
    """A circuit, and the targets it does not meet (1 % at the rated point, 5 % elsewhere)."""

    circuit: Circuit
    misses: tuple[Miss, ...]
    cages: int

    @property
    def meets_rated_point(self) -> bool:
        return not any(miss.what.startswith("rated") for miss in self.misses)


@dataclass(frozen=True, slots=True)
class _Losses:
    whole_w: float
    friction_w: float
    stray_w: float
    iron_share: float


@lru_cache(maxsize=512)
def fit(targets: Targets) -> Fit:
    """A circuit for these targets, the same one every time.

    Raises NotComputable where the rated point contradicts itself (speed at or above
    synchronous, more power out than in, a loss smaller than the slip alone makes).
    """
    refuse_the_impossible(targets)
    losses = _losses(targets)
    circuit = _best(targets, losses)
    made = Fit(circuit, _misses(targets, circuit), len(circuit.cages))
    if not made.meets_rated_point and targets.stamped:
        # starting values that no motor with this rated point has: the rated point comes first
        circuit = _best(replace(targets, stamped=frozenset()), losses)
        made = Fit(circuit, _misses(targets, circuit), len(circuit.cages))
    return made


def _best(targets: Targets, losses: _Losses) -> Circuit:
    found: list[tuple[float, Circuit]] = []
    for start in _starts(targets, losses):
        cost, circuit = _least_squares(targets, losses, start)
        found.append((cost, circuit))
        if cost < _GOOD_COST:
            break
    return _polished(targets, min(found, key=lambda pair: pair[0])[1])


def with_saturation(targets: Targets, circuit: Circuit, saturation: Saturation | None) -> Circuit:
    """The same motor with another main-flux law, its rated point kept (band of idle volts)."""
    return _polished(targets, replace(circuit, saturation=saturation))


def _losses(t: Targets) -> _Losses:
    """Friction, stray and iron loss, reduced together where the slip leaves too little."""
    loss = t.input_w - t.power_w
    stray = STRAY_SHARE_OF_INPUT * t.input_w
    rotor = (t.power_w + t.friction_w + stray) * t.slip / (1.0 - t.slip)
    fixed = t.friction_w + stray + IRON_SHARE_OF_LOSS * loss
    room = (1.0 - LEAST_STATOR_SHARE) * loss - rotor
    share = min(1.0, max(room, 0.02 * loss) / fixed)
    return _Losses(loss, share * t.friction_w, share * stray, share * IRON_SHARE_OF_LOSS)


def _circuit(t: Targets, losses: _Losses, x: Floats) -> Circuit:
    """The circuit of the logarithms `x`.

    Rs, leakage, Xm, R1 in per unit, iron share; with two cages L1 - L2 and R2 - R1 as well.
    """
    base = t.line_voltage_v**2 / t.power_w
    p = np.exp(x) * base
    core_w = float(np.exp(x[4])) * losses.whole_w
    leak = float(p[1])
    inner = Cage(float(p[3]), leak)
    cages: tuple[Cage, ...] = (inner,)
    if p.size == 7:
        cages = (
            Cage(inner.resistance_ohm, leak + float(p[5])),
            Cage(inner.resistance_ohm + float(p[6]), leak),
        )
    return Circuit(
        line_voltage_v=t.line_voltage_v,
        frequency_hz=t.frequency_hz,
        poles=t.poles,
        stator_resistance_ohm=float(p[0]),
        stator_leakage_ohm=leak,
        magnetising_ohm=float(p[2]),
        saturation=t.saturation,
        core_loss_ohm=t.line_voltage_v**2 / core_w,
        cages=cages,
        friction_w=losses.friction_w,
        stray_w=losses.stray_w,
        inertia_kg_m2=t.inertia_kg_m2,
        rated_current_a=t.current_a,
        rated_speed_rpm=t.speed_rpm,
    )


def _starts(t: Targets, losses: _Losses) -> tuple[Floats, ...]:
    """First guesses in per unit of V2/P: two double cages and a single one."""
    rotor = max(t.slip, 0.005)
    short = 1.0 / (t.starting_current_ratio * t.current_a * t.line_voltage_v * math.sqrt(3.0))
    leak = 0.5 * short * t.power_w
    loss, iron = losses.whole_w / t.power_w, losses.iron_share
    guesses = (
        (0.35 * loss, leak, 2.2, 0.98 * rotor, iron, 2.0 * leak, 0.6 * rotor),
        (0.20 * loss, 0.7 * leak, 1.6, 1.05 * rotor, iron, 4.0 * leak, 3.0 * rotor),
        (0.35 * loss, leak, 2.0, rotor, iron),
    )
    return tuple(np.log(np.array(guess)) for guess in guesses)


def _top(torque: Floats) -> float:
    """Largest value by a parabola through the three highest points of the scan below 1."""
    part = torque[:44]
    i = int(np.argmax(part))
    if i in (0, part.size - 1):
        return float(part[i])
    a, b, c = float(part[i - 1]), float(part[i]), float(part[i + 1])
    bend = a - 2.0 * b + c
    return b if bend == 0.0 else b - (c - a) ** 2 / (8.0 * bend)


def _slips(t: Targets) -> Floats:
    return np.concatenate([[t.slip, 1e-4], _SCAN[:44]])


def _starting_got(t: Targets, c: Curve, row: int) -> dict[str, float]:
    amps, torque = c.current_a[row], c.airgap_torque_nm[row]
    return {
        "starting current": float(amps[-1]) / t.current_a,
        "starting torque": float(torque[-1]) / t.torque_nm,
        "breakdown torque": _top(torque[2:]) / t.torque_nm,
        "no-load current": float(amps[1]) / t.current_a,
    }


_WEIGHTS = {
    "starting current": 2.5,
    "starting torque": 1.2,
    "breakdown torque": 2.0,
    "no-load current": 2.5,
}
"""Of table defaults, by how narrow their spread is: the no-load current is known best and
decides what an idler and its capacitors do; starting values of small motors contradict their
efficiency and give way."""
_STAMPED_WEIGHT = 8.0
_GOOD_COST = 1.0
_IRON_WEIGHT = 0.5
_MOST_EXTRA_LEAKAGE = 8.0
_FENCE = 3.0
"""How far a logarithm may wander from its first guess before it is pulled back."""
_PRIOR_WEIGHT = 0.02


def _rated_residuals(t: Targets, c: Curve) -> Floats:
    """How far each row's first slip is from the rated point; shape (rows, 3)."""
    out = c.shaft_torque_nm[:, 0] / t.torque_nm - 1.0
    watts = c.input_power_w[:, 0] / t.input_w - 1.0
    amps = c.current_a[:, 0] / t.current_a - 1.0
    return np.asarray(30.0 * np.stack([out, watts, amps], axis=1))


def _least_squares(t: Targets, losses: _Losses, start: Floats) -> tuple[float, Circuit]:
    slips = _slips(t)
    asked = t.starting_asked
    weights = {
        name: _STAMPED_WEIGHT if name in t.stamped else weight for name, weight in _WEIGHTS.items()
    }

    def misses(points: Floats) -> Floats:
        circuits = [_circuit(t, losses, x) for x in points]
        c = curve(side_by_side(circuits), slips)
        wanted = []
        for row, circuit in enumerate(circuits):
            got = _starting_got(t, c, row)
            off = [weights[name] * math.log(got[name] / ratio) for name, ratio in asked.items()]
            if t.stator_resistance_ohm is not None:
                ratio = circuit.stator_resistance_ohm / t.stator_resistance_ohm
                off.append(5.0 * math.log(ratio))
            wanted.append(off)
        return np.hstack([_rated_residuals(t, c), np.array(wanted), _held(points, start)])

    cost, x = least_squares(misses, start)
    return cost, _circuit(t, losses, x)


def _held(points: Floats, start: Floats) -> Floats:
    """Residuals that keep the unknowns near their first guess and within what motors are."""
    drift = points - start
    fence = np.maximum(np.abs(drift) - _FENCE, 0.0)
    pull = np.full(start.size, _PRIOR_WEIGHT)
    pull[4] = _IRON_WEIGHT
    limits = [10.0 * np.maximum(points[:, 4:5] - math.log(MOST_IRON_SHARE), 0.0)]
    if start.size == 7:
        extra = points[:, 5:6] - points[:, 1:2]
        limits.append(2.0 * np.maximum(extra - math.log(_MOST_EXTRA_LEAKAGE), 0.0))
    return np.hstack([pull * drift, fence, *limits])


def _scaled(circuit: Circuit, step: Floats) -> Circuit:
    """Stator resistance, magnetising reactance and rotor resistance times exp(step)."""
    a, b, r = (float(f) for f in np.exp(step))
    return replace(
        circuit,
        stator_resistance_ohm=circuit.stator_resistance_ohm * a,
        magnetising_ohm=circuit.magnetising_ohm * b,
        cages=tuple(Cage(cage.resistance_ohm * r, cage.leakage_ohm) for cage in circuit.cages),
    )


def _polished(t: Targets, circuit: Circuit) -> Circuit:
    """The rated point met by Newton on three of the parameters, where it can be met."""

    slips = np.array([t.slip])

    def residuals(steps: Floats) -> Floats:
        c = curve(side_by_side([_scaled(circuit, step) for step in steps]), slips)
        return _rated_residuals(t, c) / 30.0

    x = np.zeros(3)
    miss = residuals(x[None])[0]
    for _ in range(30):
        if float(np.max(np.abs(miss))) < 1e-10:
            break
        moved = residuals(x + 1e-6 * np.eye(3))
        slope = np.ascontiguousarray(((moved - miss) / 1e-6).T)
        try:
            step = np.clip(np.linalg.solve(slope, -miss), -0.3, 0.3)
        except np.linalg.LinAlgError:
            break
        share = 1.0
        while share > 1e-3:
            trial = residuals((x + share * step)[None])[0]
            if float(np.max(np.abs(trial))) < float(np.max(np.abs(miss))):
                break
            share *= 0.5
        else:
            break
        x, miss = x + share * step, trial
    return _scaled(circuit, x)


def _misses(t: Targets, circuit: Circuit) -> tuple[Miss, ...]:
    now = at_slip(circuit, t.slip)
    got = _starting_got(t, curve(side_by_side([circuit]), _slips(t)), 0)
    if t.no_load_current_ratio is not None:
        got["no-load current"] = no_load(circuit).current_a / t.current_a
    pairs = [
        Miss("rated current", t.current_a, now.current_a),
        Miss("rated input", t.input_w, now.input_power_w),
        Miss("rated power", t.power_w, now.shaft_power_w),
    ]
    out = [miss for miss in pairs if abs(miss.got / miss.asked - 1.0) > 0.01]
    for name, ratio in t.starting_asked.items():
        if abs(got[name] / ratio - 1.0) > STARTING_TOLERANCE:
            out.append(Miss(f"{name} ratio", ratio, got[name]))
    return tuple(out)
