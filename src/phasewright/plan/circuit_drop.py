"""What of the volts is lost along a circuit, with its working."""

from __future__ import annotations

from phasewright.circuits.cables import between_lines, ohm_per_m
from phasewright.circuits.need import USUAL_POWER_FACTOR
from phasewright.circuits.sizing import Sized
from phasewright.plan.circuit_jobs import Job
from phasewright.plan.circuit_study import PlanDrop
from phasewright.quantities.value import Value, figure
from phasewright.tables.circuits import start_power_factor, usual

DROP = "circuits.cables.drop_ratio"
SOURCE = "IEC 60364-5-52, annex G; hot conductor"


def plan_drop(job: Job, of: Sized) -> PlanDrop:
    """The drop of a sized circuit, running and at its hardest start."""
    amps = max((start.current_a for start in job.starts), default=0.0)
    return PlanDrop(
        _drop(job, of, of.drop, max(job.design.number, job.design.high), USUAL_POWER_FACTOR),
        None
        if of.starting_drop is None
        else _drop(job, of, of.starting_drop, amps, start_power_factor()),
    )


def _drop(job: Job, of: Sized, ratio: float, amps: float, power_factor: float) -> Value:
    ohm = ohm_per_m(of.size.area_m2, usual("fault_c")) * job.length.number
    return figure(
        ratio, "", DROP,
        {
            "ways of the current": (between_lines(job.laid.loaded), ""), "current": (amps, "A"),
            "resistance": (ohm.real, "ohm"), "reactance": (ohm.imag, "ohm"),
            "power factor": (power_factor, ""), "volts": (job.voltage_v, "V"),
        },
        SOURCE,
    )  # fmt: skip
