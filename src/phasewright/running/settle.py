"""Settled operation of a three-line network: where every torque and every flux is in balance.

Equations: two-sequence circuits of induction machines and nodal analysis, see `kernel`; they
are checked against published worked examples, against a general circuit simulator and against
a dense formulation solved by another method.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from phasewright.network.unbalance import nema_unbalance
from phasewright.quantities.errors import NoOperatingPoint, UsageError
from phasewright.running import newton, outcome
from phasewright.running.network import MachineState, Network, Settled
from phasewright.running.refusal import refusal
from phasewright.running.rows import Floats, line_row, machine_rows

_PACE = 0.02
_PACED_STEPS = 4000


@dataclass(frozen=True, slots=True)
class Sweep:
    """Many points of one network in arrays; columns are named in `outcome`.

    `settled` (n,) says which points are operating points; the rows of the others are NaN.
    `lines` (n, LINE_OUTCOMES); `machines` (n, machines, MACHINE_OUTCOMES). `vuf` is the ratio
    of negative to positive sequence of the line volts.
    """

    settled: NDArray[np.bool_]
    lines: Floats
    machines: Floats

    @property
    def vuf(self) -> Floats:
        column: Floats = self.lines[:, outcome.VUF]
        return column


def settle(network: Network, start_slips: tuple[float, ...] | None = None) -> Settled:
    """The running point of all machines together.

    The search starts from small slips (or from `start_slips`, one a machine). Where the plain
    method finds nothing or a false root (stall, reverse), the road of the run is followed
    from small slips. Raises NoOperatingPoint naming the machine that cannot carry its load.
    """
    slips, levels = settled_slips(network, start_slips)
    return report(network, slips, levels)


def settled_slips(
    network: Network, start_slips: tuple[float, ...] | None = None
) -> tuple[Floats, Floats]:
    """Slips (machines,) and saturations (machines, 2) of the running point; see `settle`."""
    line, rows = line_row(network), machine_rows(network)
    m = len(network.machines)
    ones, held = np.ones(m), np.zeros(m, dtype=np.bool_)
    slips, levels = np.empty(m), np.empty((m, 2))
    newton.first_guess(line, rows, ones, slips, levels)
    if start_slips is not None:
        slips[:] = _one_each(network, start_slips)
    if newton.settle_one(line, rows, ones, held, slips, levels, 0.0, newton.MOST_STEPS) == 0:
        return slips, levels
    newton.first_guess(line, rows, ones, slips, levels)
    for _ in range(2):
        status = newton.settle_one(line, rows, ones, held, slips, levels, _PACE, _PACED_STEPS)
        if status == newton.SETTLED:
            return slips, levels
    raise NoOperatingPoint(refusal(network, slips))


def at_slips(network: Network, slips: tuple[float, ...] | Mapping[str, float]) -> Settled:
    """The network with every slip held (standstill is 1): torques are then not in balance.

    `slips` are one a machine in order, or by machine name. Raises NoOperatingPoint where the
    fluxes find no balance.
    """
    held_slips = _one_each(network, slips)
    return report(network, held_slips, held_levels(network, held_slips))


def held_levels(network: Network, slips: Floats) -> Floats:
    """Saturations (machines, 2) with every slip held."""
    line, rows = line_row(network), machine_rows(network)
    m = len(network.machines)
    levels = np.empty((m, 2))
    newton.first_levels(rows, levels)
    status = newton.settle_one(
        line, rows, np.ones(m), np.ones(m, dtype=np.bool_), slips.copy(), levels,
        0.0, 4 * newton.MOST_STEPS,
    )  # fmt: skip
    if status != newton.SETTLED:
        raise NoOperatingPoint(f"no balance of the main fluxes at slips {list(map(float, slips))}")
    return levels


def locked(network: Network, name: str) -> Settled:
    """The named machine at standstill, the others at the slips they run at without it.

    This is the moment in which a machine is switched on. The shaft torque of the machine is
    its locked-rotor torque on this network; see `stalled` for what remains of it.
    """
    others = replace(network, machines=tuple(x for x in network.machines if x.name != name))
    if len(others.machines) + 1 != len(network.machines):
        raise UsageError(f"no machine, or more than one, is called {name!r} on this network")
    slips = {name: 1.0}
    if others.machines:
        running, _ = settled_slips(others)
        slips |= {x.name: float(s) for x, s in zip(others.machines, running, strict=True)}
    return at_slips(network, slips)


def stalled(network: Network, name: str) -> Settled:
    """The named machine kept at standstill until the others have settled beside it.

    They slow down under the power the standing machine draws through them, so its torque is a
    little lower than at the first moment (`locked`). Raises NoOperatingPoint where one of them
    is pulled down to below half speed.
    """
    return held_at(network, name, 1.0)


def held_at(network: Network, name: str, slip: float) -> Settled:
    """The named machine kept at a slip (standstill is 1) until the others have settled beside it.

    Raises NoOperatingPoint where one of them is pulled down to below half speed.
    """
    line, rows = line_row(network), machine_rows(network)
    m = len(network.machines)
    held = np.array([machine.name == name for machine in network.machines])
    if held.sum() != 1:
        raise UsageError(f"no machine, or more than one, is called {name!r} on this network")
    slips, levels = np.empty(m), np.empty((m, 2))
    for pace, steps in ((0.0, newton.MOST_STEPS), (_PACE, _PACED_STEPS)):
        newton.first_guess(line, rows, np.ones(m), slips, levels)
        slips[held] = slip
        status = newton.settle_one(line, rows, np.ones(m), held, slips, levels, pace, steps)
        if status == newton.SETTLED:
            return report(network, slips, levels)
    at = "at standstill" if slip == 1.0 else f"held at a slip of {slip:.3g}"
    raise NoOperatingPoint(
        f"with {name} {at} the other machines on this network do not keep running"
    )


def settle_many(
    network: Network, capacitances_f: Floats, torque_scale: Floats | None = None
) -> Sweep:
    """Settle the network for n sets of capacitors in one compiled call.

    `capacitances_f` (n, 3) in the order 12, 23, 31 [F]; `torque_scale` (n, machines)
    multiplies every load torque (ones where missing). Every point is solved by itself.
    """
    return settle_rows(line_row(network), machine_rows(network), capacitances_f, torque_scale)


def settle_rows(
    line: Floats, rows: Floats, capacitances_f: Floats, torque_scale: Floats | None = None
) -> Sweep:
    """The same with the rows of the line and of the machines laid out before, for many calls."""
    capacitances = np.ascontiguousarray(capacitances_f, dtype=np.float64)
    n, m = len(capacitances), len(rows)
    scale = np.ones((n, m)) if torque_scale is None else np.ascontiguousarray(torque_scale)
    if capacitances.shape != (n, 3) or scale.shape != (n, m):
        raise UsageError("capacitances are (n, 3) and torque scales (n, machines)")
    status = np.empty(n, dtype=np.int64)
    lines = np.empty((n, outcome.LINE_OUTCOMES))
    machines = np.empty((n, m, outcome.MACHINE_OUTCOMES))
    scale = np.asarray(scale, dtype=np.float64)
    outcome.sweep(line, rows, capacitances, scale, status, lines, machines)
    return Sweep(status == newton.SETTLED, lines, machines)


def report(network: Network, slips: Floats, levels: Floats) -> Settled:
    """What a point with these slips and saturations means."""
    m = len(network.machines)
    lines, each = np.empty(outcome.LINE_OUTCOMES), np.empty((m, outcome.MACHINE_OUTCOMES))
    outcome.outcome_of(line_row(network), machine_rows(network), slips, levels, lines, each)
    volts = (
        float(lines[outcome.V12]), float(lines[outcome.V23]), float(lines[outcome.V31])
    )  # fmt: skip
    return Settled(
        line_voltages_v=volts,
        vuf=float(lines[outcome.VUF]),
        nema=nema_unbalance(volts),
        supply_current_a=float(lines[outcome.SUPPLY_A]),
        supply_power_w=float(lines[outcome.SUPPLY_W]),
        supply_reactive_var=float(lines[outcome.SUPPLY_VAR]),
        resistive_loads_w=float(lines[outcome.LOADS_W]),
        supply_line_loss_w=float(lines[outcome.LINE_LOSS_W]),
        capacitor_currents_a=(
            float(lines[outcome.CAP12_A]),
            float(lines[outcome.CAP23_A]),
            float(lines[outcome.CAP31_A]),
        ),
        machines=tuple(_state(network, k, [float(x) for x in each[k]]) for k in range(m)),
    )


def _state(network: Network, k: int, x: list[float]) -> MachineState:
    machine = network.machines[k]
    synchronous = 120.0 * network.source.frequency_hz / machine.circuit.poles
    return MachineState(
        name=machine.name,
        slip=x[outcome.SLIP],
        speed_rpm=(1.0 - x[outcome.SLIP]) * synchronous,
        shaft_torque_nm=x[outcome.SHAFT_NM],
        shaft_power_w=x[outcome.SHAFT_W],
        input_power_w=x[outcome.INPUT_W],
        line_currents_a=(x[outcome.I1], x[outcome.I2], x[outcome.I3]),
        winding_currents_a=(x[outcome.J1], x[outcome.J2], x[outcome.J3]),
        stator_loss_w=x[outcome.STATOR_W],
        rotor_loss_w=x[outcome.ROTOR_W],
        core_loss_w=x[outcome.CORE_W],
        friction_loss_w=x[outcome.FRICTION_W],
        stray_loss_w=x[outcome.STRAY_W],
        flux_ratio=x[outcome.FLUX],
    )


def _one_each(network: Network, slips: tuple[float, ...] | Mapping[str, float]) -> Floats:
    names = [machine.name for machine in network.machines]
    if isinstance(slips, Mapping):
        if set(slips) != set(names):
            raise UsageError(f"slips are wanted for exactly {', '.join(names)}")
        return np.array([slips[name] for name in names], dtype=np.float64)
    if len(slips) != len(names):
        raise UsageError(f"{len(names)} slips are wanted, {len(slips)} were given")
    return np.array(slips, dtype=np.float64)
