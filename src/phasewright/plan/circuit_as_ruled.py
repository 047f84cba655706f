"""A circuit of a plan as the rules look at it, with what only its job knows."""

from __future__ import annotations

import math
from dataclasses import replace

from phasewright.circuits.installation import Circuit
from phasewright.plan.circuit_jobs import Job
from phasewright.plan.circuit_study import PlanCircuit, installed


def as_ruled(circuit: PlanCircuit, job: Job) -> Circuit:
    """The circuit with the volts of its lines to earth and the electrode behind them."""
    return replace(
        installed(circuit, job.equipment, job.nameplate_input_a),
        to_earth_v=_to_earth_v(job),
        electrode_ohm=_electrode_ohm(job),
        fixed_loads_a=job.fixed_loads_a,
        path=None if job.run.path is None else job.run.path.removesuffix(".cable"),
    )


def _to_earth_v(job: Job) -> float | None:
    """Volts of a circuit's highest line to earth; None behind a drive or a source of its own.

    Of three lines of which one is generated, taken as equal: line 3 stands at the tip of an
    equilateral triangle over lines 1 and 2.
    """
    if job.tap is None or job.unseen or job.lines == "drive output":
        return None
    of_supply = job.tap.line_to_earth_v
    if of_supply is None or job.lines != "1-2-3" or job.tap.three_phase or job.tap.phase_v:
        return of_supply
    centre = job.tap.ground.point == "centre"
    return math.sqrt(3.0) / 2.0 * job.voltage_v if centre else job.voltage_v


def _electrode_ohm(job: Job) -> float | None:
    """The electrode in a circuit's earth-fault loop."""
    if job.tap is None or not job.tap.ground.through_rods or job.tap.ground.electrode is None:
        return None
    return job.tap.ground.electrode.number
