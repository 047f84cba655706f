"""What a motor on a three-line network may give for ever, by each thing that limits it.

Three limits, each a torque over the plate's torque:
- total loss: all losses of the motor may not exceed those at its rated point (mean heating);
- hot spot: the rise of the winding with the greatest current may not exceed that of the rated
  point. Of a winding's rise the share `COMMON_HEAT` goes with the losses of the whole motor
  (frame and air), the rest with the winding's own copper loss; the share is common practice, no
  source (two bodies: winding to frame, frame to air);
- winding: the strict form of the same, all of the rise from its own copper (for information);
- relay: the greatest line current may not exceed the relay's setting, by default the current
  of the plate. Relays that sense phase loss trip earlier at unequal currents.
Winding heat is the lesser of total loss and hot spot. Common practice, no source; the loss and
current of every point are computed from the circuit.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from phasewright.machines.performance import rated
from phasewright.quantities.errors import UsageError
from phasewright.running import outcome
from phasewright.running.network import LoadLaw, Network
from phasewright.running.rows import Floats
from phasewright.running.settle import Sweep, settle_many

Limit = Literal["total loss", "hot spot", "relay", "no running point"]
Windings = Literal["delta", "star"]
COMMON_HEAT = 0.65

_COARSE, _FINE, _STRIDE = 61, 41, 8


@dataclass(frozen=True, slots=True)
class Span:
    """Torque ratios a limit allows, from lowest to highest; a light load may be the worse one."""

    lowest: float
    highest: float


@dataclass(frozen=True, slots=True)
class Usable:
    """Spans of torque over rated torque; None where a limit allows no torque at all.

    `running` is the span over which the motor runs stably, up to `asked` at most.
    """

    rated_torque_nm: float
    running: Span | None
    by_total_loss: Span | None
    by_hot_spot: Span | None
    by_winding: Span | None
    by_relay: Span | None

    @property
    def by_heat(self) -> float:
        """What winding heat allows: the lesser of total loss and hot spot (0 for none)."""
        return min(_highest(self.by_total_loss), _highest(self.by_hot_spot))

    @property
    def torque_ratio(self) -> float:
        """What heat and relay allow together, at most 1: the plate is never exceeded."""
        return min(self.by_heat, _highest(self.by_relay), 1.0)

    @property
    def governing(self) -> Limit:
        """The limit that is met first."""
        limits: tuple[tuple[Limit, Span | None], ...] = (
            ("no running point", self.running),
            ("hot spot", self.by_hot_spot),
            ("relay", self.by_relay),
            ("total loss", self.by_total_loss),
        )
        return min(limits, key=lambda each: _highest(each[1]))[0]


def usable(
    network: Network,
    name: str,
    *,
    relay_a: float | None = None,
    windings: Windings = "delta",
    asked: float = 1.2,
    heat_share: float = 1.0,
) -> Usable:
    """What the named motor of a network may give for ever, the others loaded as they are.

    Its load is taken as a constant torque of 0 to `asked` times the torque of its plate.
    `relay_a` is the relay's setting (the circuit's rated current where missing); `windings`
    says how its windings are joined, `heat_share` which share of its rated losses it bears (below
    1 in warm or thin air). Accuracy: a thousandth of the rated torque.
    """
    if not asked > 0.0:
        raise UsageError("a torque ratio to ask for is greater than zero")

    def judge(ratios: Floats) -> dict[str, NDArray[np.bool_]]:
        return _verdicts(network, name, ratios, relay_a, windings, heat_share)

    coarse = np.linspace(0.0, asked, _COARSE)
    verdicts = judge(coarse)

    def span(limit: str) -> Span | None:
        passing = np.flatnonzero(verdicts[limit])
        if len(passing) == 0:
            return None
        return Span(
            _edge(coarse, int(passing[0]), -1, lambda fine: judge(fine)[limit]),
            _edge(coarse, int(passing[-1]), +1, lambda fine: judge(fine)[limit]),
        )

    circuit = next(machine.circuit for machine in network.machines if machine.name == name)
    return Usable(
        rated(circuit).shaft_torque_nm, span("running"), span("total"), span("hot spot"),
        span("winding"), span("relay"),
    )  # fmt: skip


def stays_cool(
    network: Network, name: str, ratio: float, *, windings: Windings, heat_share: float = 1.0
) -> bool:
    """Whether the named motor bears this torque over its rated one for ever by winding heat.

    The same two limits as `Usable.by_heat`, at one torque; the others are loaded as they are.
    """
    at = _verdicts(network, name, np.array([ratio]), None, windings, heat_share)
    return bool(at["running"][0] and at["total"][0] and at["hot spot"][0])


def _verdicts(
    network: Network,
    name: str,
    ratios: Floats,
    relay_a: float | None,
    windings: Windings,
    heat_share: float,
) -> dict[str, NDArray[np.bool_]]:
    """For every torque ratio of the named motor, whether it keeps each limit."""
    k = [machine.name for machine in network.machines].index(name)
    circuit = network.machines[k].circuit
    point = rated(circuit)
    allowed = point.stator_loss_w + point.rotor_loss_w + point.core_loss_w
    allowed += point.friction_loss_w + point.stray_loss_w
    relay = circuit.rated_current_a if relay_a is None else relay_a
    winding = point.current_a / np.sqrt(3.0) if windings == "delta" else point.current_a
    first = outcome.J1 if windings == "delta" else outcome.I1
    sweep = _loaded(network, k, point.shaft_torque_nm, ratios)
    x = sweep.machines[:, k, :]
    loss = x[:, outcome.STATOR_W] + x[:, outcome.ROTOR_W] + x[:, outcome.CORE_W]
    loss = loss + x[:, outcome.FRICTION_W] + x[:, outcome.STRAY_W]
    with np.errstate(invalid="ignore"):
        own = np.max(x[:, first : first + 3], axis=1) / winding
        return {
            "running": sweep.settled,
            "total": loss <= heat_share * allowed,
            "hot spot": COMMON_HEAT * loss / allowed + (1.0 - COMMON_HEAT) * own**2 <= heat_share,
            "winding": own**2 <= heat_share,
            "relay": np.max(x[:, outcome.I1 : outcome.I1 + 3], axis=1) <= relay,
        }


def _loaded(network: Network, k: int, torque_nm: float, ratios: Floats) -> Sweep:
    """The network with machine k at constant torques of `ratios` times torque_nm."""
    machines = list(network.machines)
    machines[k] = replace(machines[k], load=LoadLaw("constant", torque_nm))
    scale = np.ones((len(ratios), len(machines)))
    scale[:, k] = ratios
    c = network.capacitance_f
    capacitances = np.tile([c.c12, c.c23, c.c31], (len(ratios), 1))
    return settle_many(replace(network, machines=tuple(machines)), capacitances, scale)


def _edge(
    coarse: Floats, at: int, towards: int, passes: Callable[[Floats], NDArray[np.bool_]]
) -> float:
    """Where passing ends between the coarse point `at` and its neighbour towards -1 or +1, where it
    ends once: looked for in strides, then step by step."""
    if not 0 <= at + towards < len(coarse):
        return float(coarse[at])
    fine, held = np.linspace(coarse[at], coarse[at + towards], _FINE), 0
    for stride in (_STRIDE, 1):
        ahead = fine[held + stride :: stride][:_STRIDE]
        failing = np.flatnonzero(~passes(ahead))
        held += stride * int(failing[0] if len(failing) else len(ahead))
    return float(fine[held])


def _highest(span: Span | None) -> float:
    return 0.0 if span is None else span.highest
