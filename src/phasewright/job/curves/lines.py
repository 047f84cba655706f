"""Volts, unbalance and amps of made lines: against a motor's load, and against run capacitors."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from phasewright.job.curves.chart import Chart, Curve, Number, Sheet, Spot, numbers
from phasewright.job.curves.hung import Hung
from phasewright.network.unbalance import nema_unbalance
from phasewright.running import outcome
from phasewright.running.converter import IDLER
from phasewright.running.network import Network
from phasewright.running.settle import Sweep, settle_many

Floats = NDArray[np.float64]
FORMULA = "running.settle.settle_many"
SOURCE = "two-sequence three-line network, every point settled by itself"
MOST_LOAD, MOST_CAPACITORS = 1.25, 2.0
POINTS = 41
PAIRS = ("lines 1–2", "lines 2–3", "lines 3–1")
_LOAD = ("load of the motor", "% of its rated torque")
_BANK = ("run capacitors, all together", "µF")


def against_load(of: Hung) -> Sheet:
    """Everything on the lines while one motor's load goes from nothing to beyond the rated one."""
    ratios = np.linspace(0.0, MOST_LOAD, POINTS)
    scale = np.ones((POINTS, len(of.network.machines)))
    scale[:, of.place] = ratios
    sweep = settle_many(of.network, _banks(of.network, np.ones(POINTS)), scale)
    name = of.motor.motor.id
    spots = (Spot(100.0 * of.usual, "usual load"), Spot(100.0, "rated"))
    across = numbers(100.0 * ratios)
    found = [
        _chart("load-volts", f"Volts between the lines, {name} loaded more and more", _LOAD,
               ("volts", "V"), across, _volts(sweep), of, spots),
        _chart("load-unbalance", "Unbalance of the lines", _LOAD, ("unbalance", "%"), across,
               _unbalance(sweep, ""), of, spots),
        _chart("load-amps", f"Amps in the lines and windings of {name}", _LOAD, ("amps", "A"),
               across, _amps(sweep, of), of, spots),
        _chart("load-supply", "Amps of the supply" + (" and of the idler" if of.idle else ""),
               _LOAD, ("amps", "A"), across, _supply(sweep, of), of, spots),
    ]  # fmt: skip
    return Sheet(f"The lines against the load of {name}", _said(of, sweep), tuple(found))


def against_capacitors(of: Hung) -> Sheet:
    """The lines while all run capacitors are made smaller and larger together, the motor at its
    usual load, and with no machine on."""
    shares = np.linspace(0.0, MOST_CAPACITORS, POINTS)
    scale = np.ones((POINTS, len(of.network.machines)))
    scale[:, of.place] = of.usual
    work = settle_many(of.network, _banks(of.network, shares), scale)
    bank = of.network.capacitance_f
    whole_uf = 1e6 * (bank.c12 + bank.c23 + bank.c31)
    across = numbers(whole_uf * shares)
    spots = (Spot(whole_uf, "as chosen"),)
    uneven = _unbalance(work, "at work")
    idle = of.idle
    if idle is not None:
        uneven += _unbalance(settle_many(idle, _banks(idle, shares)), "idling")[:1]
    found = [
        _chart("capacitors-volts", "Volts between the lines at usual work", _BANK, ("volts", "V"),
               across, _volts(work), of, spots),
        _chart("capacitors-unbalance", "Unbalance of the lines", _BANK, ("unbalance", "%"), across,
               uneven, of, spots),
        _chart("capacitors-amps", f"Amps in the lines and windings of {of.motor.motor.id}", _BANK,
               ("amps", "A"), across, _amps(work, of), of, spots),
    ]  # fmt: skip
    words = ("Every pair of lines keeps its share of the whole.", *_said(of, work))
    return Sheet("The lines against the run capacitors", words, tuple(found))


def _said(of: Hung, sweep: Sweep) -> tuple[str, ...]:
    words = []
    if of.beside:
        words.append(f"Beside it turn at their usual load: {', '.join(of.beside)}.")
    if not sweep.settled.all():
        words.append("Where a curve ends the machines do not all keep running.")
    return tuple(words)


def _chart(
    key: str, title: str, across: tuple[str, str], up: tuple[str, str],
    at: tuple[Number, ...], curves: tuple[Curve, ...], of: Hung, spots: tuple[Spot, ...],
) -> Chart:  # fmt: skip
    points = tuple(value for value in at if value is not None)
    return Chart(key, title, "", *across, *up, points, curves, FORMULA, of.inputs, SOURCE, spots)


def _banks(network: Network, shares: Floats) -> Floats:
    bank = network.capacitance_f
    return np.asarray(np.outer(shares, (bank.c12, bank.c23, bank.c31)), dtype=np.float64)


def _volts(sweep: Sweep) -> tuple[Curve, ...]:
    return tuple(
        Curve(name, numbers(sweep.lines[:, outcome.V12 + k], sweep.settled))
        for k, name in enumerate(PAIRS)
    )


def _unbalance(sweep: Sweep, when: str) -> tuple[Curve, ...]:
    nema = [
        100.0 * nema_unbalance((row[outcome.V12], row[outcome.V23], row[outcome.V31]))
        if there else np.nan
        for row, there in zip(sweep.lines, sweep.settled, strict=True)
    ]  # fmt: skip
    return (
        Curve(f"negative sequence {when}".rstrip(), numbers(100.0 * sweep.vuf, sweep.settled)),
        Curve(f"farthest from the mean {when}".rstrip(), numbers(nema, sweep.settled), broken=True),
    )


def _amps(sweep: Sweep, of: Hung) -> tuple[Curve, ...]:
    mine = sweep.machines[:, of.place]
    found = [Curve(f"line {k + 1}", numbers(mine[:, outcome.I1 + k], sweep.settled))
             for k in range(3)]  # fmt: skip
    found += [
        Curve(f"winding {k + 1}", numbers(mine[:, outcome.J1 + k], sweep.settled), broken=True)
        for k in range(3)
    ]
    return tuple(found)


def _supply(sweep: Sweep, of: Hung) -> tuple[Curve, ...]:
    found = [Curve("supply", numbers(sweep.lines[:, outcome.SUPPLY_A], sweep.settled))]
    names = [each.name for each in of.network.machines]
    if IDLER in names:
        idler = sweep.machines[:, names.index(IDLER)]
        found += [
            Curve(f"idler, line {k + 1}", numbers(idler[:, outcome.I1 + k], sweep.settled), True)
            for k in range(3)
        ]
    return tuple(found)
