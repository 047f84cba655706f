"""What a circuit is fitted with beside its device: isolator, socket, resistors that discharge."""

from __future__ import annotations

import math
from typing import Literal

from phasewright.circuits.installation import Device, Isolator, Socket
from phasewright.plan.circuit_jobs import Job
from phasewright.quantities.errors import TableEnds
from phasewright.quantities.value import Value, figure
from phasewright.tables.circuits import capacitor_circuit, isolator_a, nec_socket_a
from phasewright.tables.protection import share
from phasewright.tables.sizes import SOCKETS_A, next_size


def isolator_of(job: Job, device: Device | None) -> Isolator | None:
    """One with a pole for every line, of the least rating sold; None where it has none."""
    if not job.isolator:
        return None
    amps = max(job.design.number, 0.0 if device is None else device.rating_a, _by_plate_a(job))
    poles = 3 if job.laid.loaded == 3 else 2
    try:
        return Isolator(isolator_a(amps, job.region), poles, early_break=job.early_break)
    except TableEnds:
        return None


def _by_plate_a(job: Job) -> float:
    """What a disconnect of a converter or drive is rated for by their plates: NFPA 70-2023, 455.8
    and 430.128."""
    if job.region != "NEC" or job.nameplate_input_a is None:
        return 0.0
    return share("nec_455", "disconnect") * job.nameplate_input_a


def socket_of(job: Job, device: Device | None) -> Socket | None:
    """The least socket of the pattern of its volts; None where it has none."""
    if not job.socket:
        return None
    amps = job.design.number if device is None else device.rating_a
    three = job.laid.loaded == 3
    try:
        if job.region == "NEC":
            pattern: Literal["L15", "L6"] = "L15" if three else "L6"
            return Socket(nec_socket_a(amps), pattern, 3 if three else 2, job.voltage_v)
        rating = next_size(amps, SOCKETS_A, "socket")
    except TableEnds:
        return None
    return Socket(rating, pattern_of(three=three, volts=job.voltage_v), 3 if three else 2,
                  job.voltage_v)  # fmt: skip


def pattern_of(*, three: bool, volts: float) -> str:
    """Colour and earth position, which keep a plug out of sockets of other volts (IEC 60309)."""
    low = volts < 300.0
    if three:
        return "blue 3P+E 9 h" if low else "red 3P+E 6 h"
    return "blue 2P+E 6 h" if low else "red 2P+E 9 h"


def discharge_ohm(capacitance: Value, voltage_v: float) -> Value:
    """The largest resistor that discharges a capacitor in time: t/(C ln(peak/safe)).

    Source: first principles; volts and seconds of NFPA 70-2023, 460.6.
    """
    safe, seconds = capacitor_circuit("safe_v"), capacitor_circuit("within_s")
    ohm = seconds / (capacitance.number * math.log(math.sqrt(2.0) * voltage_v / safe))
    inputs = {
        "capacitance": (capacitance.number, "F"), "volts": (voltage_v, "V"),
        "safe": (safe, "V"), "within": (seconds, "s"),
    }  # fmt: skip
    return figure(
        ohm, "ohm", "plan.circuit_fittings.discharge_ohm", inputs, "NFPA 70-2023, 460.6"
    )  # fmt: skip
