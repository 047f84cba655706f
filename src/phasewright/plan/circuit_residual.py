"""Which residual-current device covers a circuit, and within how long it has opened a fault.

In an IEC shop: sockets have one of their own; so has a circuit whose breaker alone is too slow over
an earth fault; where the earth is a rod of the shop's own, and on a generated line, nothing else
opens a fault, so one at the converter's input covers what hangs behind it, unless the converter
isolates. On a farm and in dust every circuit stands behind one. A device the shop has already is
used where it sees the fault and is fine enough. In a North American shop none is chosen: the
breaker's time is told.
"""

from __future__ import annotations

from dataclasses import replace

from phasewright.circuits.installation import ResidualCurrentDevice
from phasewright.network.shortcircuit import LEAST
from phasewright.plan.circuit_jobs import Job
from phasewright.plan.circuit_supply import Ground
from phasewright.tables.circuits import residual, residual_ratings_ma
from phasewright.tables.limits import standing_leakage_share

TOUCH_V = 50.0
"""Volts a rod may lift the frames to at the device's rating (IEC 60364-4-41, 411.5.3; from
memory)."""
USUAL_FIRST = (100.0, 300.0, 30.0)
"""Ratings for what is wired in, the usual one first."""
MILLI = 1e-3


def residual_of(job: Job, *, wanted: bool = False) -> ResidualCurrentDevice | None:
    """The device that covers this circuit, without its time; None where none is needed.

    `wanted`: its breaker alone is too slow over an earth fault.
    """
    if job.region == "NEC":
        return None
    leak = job.leakage_ma or None
    if job.socket or job.cord:
        own = ResidualCurrentDevice(residual("socket_ma"), job.residual_type, leak)
        return _covered(own, job) if job.cord else own
    if job.tap is None:
        return None
    ground = job.tap.ground
    needed = (
        wanted
        or ground.through_rods
        or job.isolates
        or job.tap.own is not None
        or job.line3 is not None
        or job.role == "supply_to_converter"
        or ground.every_circuit_ma is not None
    )
    if not needed:
        return None
    if ground.upstream is not None and not job.isolates and _fine_enough(ground):
        return ResidualCurrentDevice(
            ground.upstream.rating_ma, ground.upstream.type or "AC", leak, upstream=True
        )
    own = ResidualCurrentDevice(_rating(job), job.residual_type, leak)
    return own if job.isolates else _covered(own, job)


def _covered(own: ResidualCurrentDevice, job: Job) -> ResidualCurrentDevice:
    """The device of the circuit ahead, as it is told; one of its own where that has none."""
    if job.covering == "none":
        return own
    if job.covering is None:
        return replace(own, at=job.covered_by)
    ahead = job.covering
    at = None if ahead.upstream else job.covered_by
    return replace(own, rating_ma=ahead.rating_ma, type=ahead.type, at=at, upstream=ahead.upstream)


def _fine_enough(ground: Ground) -> bool:
    """Whether the device that is there is no coarser than what every circuit here must have."""
    most, there = ground.every_circuit_ma, ground.upstream
    return most is None or there is None or there.rating_ma <= most


def _rating(job: Job) -> float:
    """The usual rating that bears the standing leakage and whose touch volts the rod keeps low."""
    rod = job.tap.electrode_high_ohm if job.tap is not None else 0.0
    for rating in USUAL_FIRST:
        bears = job.leakage_ma <= standing_leakage_share() * rating
        if bears and rod * rating * MILLI <= TOUCH_V:
            return rating
    return residual_ratings_ma()[0]


def trips_s(device: ResidualCurrentDevice, current_a: float | None) -> float | None:
    """Within how long it has opened at this least earth-fault current; None below its rating."""
    if current_a is None or current_a * LEAST < MILLI * device.rating_ma:
        return None
    five = current_a * LEAST >= 5.0 * MILLI * device.rating_ma
    return residual("at_five_s") if five else residual("at_rating_s")
