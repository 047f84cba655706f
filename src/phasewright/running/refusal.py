"""Why a network has no running point, in words: which machine fails, and how far."""

from __future__ import annotations

import numpy as np

from phasewright.running import newton, outcome
from phasewright.running.kernel import load_torque
from phasewright.running.network import Network
from phasewright.running.rows import PAIRS, START_SLIP, Floats, line_row, machine_rows

_SCAN = np.linspace(0.0, 1.0, 201)


def refusal(network: Network, last_slips: Floats) -> str:
    """One sentence naming the machine that fails and its greatest torque against its load.

    `last_slips` is where the search ended. The greatest torque is that of a scan of the
    machine's slip from synchronous speed to standstill, the others at small slips.
    """
    found = [greatest_torque(network, k) for k in range(len(network.machines))]
    worst = max(
        range(len(found)),
        key=lambda k: (found[k][2] > found[k][0], _shortfall(network, k, last_slips, found[k])),
    )
    torque, speed, wanted = found[worst]
    name = network.machines[worst].name
    if wanted > torque:
        return (
            f"{name} cannot carry its load: on this network its greatest torque is "
            f"{torque:.3g} N m, at {speed:.0f} rpm, and the load wants {wanted:.3g} N m there"
        )
    return (
        f"no stable running point was found; {name} is the first to fall out of step "
        f"(greatest torque {torque:.3g} N m at {speed:.0f} rpm, the load wants {wanted:.3g} N m)"
    )


def greatest_torque(network: Network, k: int) -> tuple[float, float, float]:
    """(torque [N m], speed [rpm], load torque wanted at that speed) of machine k.

    Shaft torque along its slip with the other machines at small slips.
    """
    line, rows = line_row(network), machine_rows(network)
    m = len(network.machines)
    best, at = -np.inf, 0.0
    out, each = np.empty(outcome.LINE_OUTCOMES), np.empty((m, outcome.MACHINE_OUTCOMES))
    levels = np.empty((m, 2))
    newton.first_levels(rows, levels)
    held, ones = np.ones(m, dtype=np.bool_), np.ones(m)
    for slip in _SCAN:
        slips = rows[:, START_SLIP].copy()
        slips[k] = slip
        status = newton.settle_one(line, rows, ones, held, slips, levels, 0.0, newton.MOST_STEPS)
        if status != newton.SETTLED:
            continue
        outcome.outcome_of(line, rows, slips, levels, out, each)
        if each[k, outcome.SHAFT_NM] > best:
            best, at = float(each[k, outcome.SHAFT_NM]), float(slip)
    speed_rad_s = (1.0 - at) * 2.0 * np.pi * network.source.frequency_hz / rows[k, PAIRS]
    wanted, _ = load_torque(rows, k, float(speed_rad_s))
    return best, float(speed_rad_s) * 60.0 / (2.0 * np.pi), float(wanted)


def _shortfall(
    network: Network, k: int, last_slips: Floats, found: tuple[float, float, float]
) -> float:
    """How far the load exceeds the greatest torque, else how far the machine fell in slip."""
    torque, _, wanted = found
    if wanted > torque:
        return wanted / max(torque, 1e-9)
    return float(last_slips[k]) / max(abs(network.machines[k].circuit.rated_slip), 1e-3)
