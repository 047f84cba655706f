"""What the mains really gives against the plate: flux and idle current at the highest reading.

Flags above 1.06 and conditions above 1.10 of the plate's volts per hertz (common practice, no
source; the lowest reading by the usual -10 % of NEMA MG 1 12.44, from memory).
"""

from __future__ import annotations

from phasewright.machines.circuit import Circuit
from phasewright.machines.fit_motor import CIRCUIT_SOURCE
from phasewright.machines.frequency import (
    FLUX_CONDITION,
    FLUX_TOLD,
    FLUX_WEAK,
    FLUX_WEAK_CONDITION,
)
from phasewright.machines.link import Link
from phasewright.machines.notes import Notes
from phasewright.machines.performance import no_load
from phasewright.quantities.finding import Reason
from phasewright.quantities.value import Value, figure


def idle_current(
    circuits: tuple[Circuit, Circuit, Circuit], line_voltage_v: float, frequency_hz: float
) -> Value:
    """No-load current [A] of a circuit with its soft and its hard iron, at these volts."""
    middle, soft, hard = (no_load(of, line_voltage_v, frequency_hz).current_a for of in circuits)
    return figure(
        middle, "A", "machines.performance.no_load",
        {"volts": (line_voltage_v, "V"), "frequency": (frequency_hz, "Hz")},
        f"{CIRCUIT_SOURCE}; spread: soft and hard iron",
        low=min(middle, soft, hard), high=max(middle, soft, hard),
    )  # fmt: skip


def mains_reasons(
    circuits: tuple[Circuit, Circuit, Circuit],
    link: Link,
    readings_v: tuple[float, float] | None,
    supply_voltage_v: float,
    frequency_hz: float,
    notes: Notes,
) -> tuple[Reason, ...]:
    """Reasons for a link at the lowest and highest reading; the same noted as findings.

    Without readings the supply's own volts are judged, and only where they are high: what low
    volts cost stands with the link. `circuits` are linked as `link` says: the usual one, with
    soft, with hard iron.
    """
    found: list[Reason] = []
    plate_hz = circuits[0].frequency_hz
    low, high = readings_v or (None, supply_voltage_v)
    flux = link.flux_ratio(high, frequency_hz, plate_hz)
    if flux > FLUX_TOLD:
        at = f"{high:.0f} V, the highest reading" if readings_v else f"{high:.0f} V"
        found.append(_high(circuits, flux, (high, frequency_hz), at, notes))
    if low is not None:
        flux = link.flux_ratio(low, frequency_hz, plate_hz)
        if flux < FLUX_WEAK:
            found.append(_low(flux, low, notes))
    return tuple(found)


def _high(
    circuits: tuple[Circuit, Circuit, Circuit],
    flux: float,
    volts_hertz: tuple[float, float],
    at: str,
    notes: Notes,
) -> Reason:
    idle = idle_current(circuits, *volts_hertz)
    usual = no_load(circuits[0]).current_a
    rated = circuits[0].rated_current_a
    hard = flux > FLUX_CONDITION
    words = (
        f"At {at}, its iron carries {flux - 1.0:.0%} more flux than at the plate's volts. With "
        f"nothing to turn it takes {idle.number:.2g} A ({idle.low:.2g} to {idle.high:.2g} A): "
        f"{idle.number / usual - 1.0:.0%} more than at its own volts, {idle.number / rated:.0%} of "
        "its rated current."
    )
    if hard:
        words += " A drive set to the plate's volts cures it; else let it cool and do not idle it."
    notes.ask(
        "mains_high", "condition" if hard else "caution", words,
        found=flux, allowed=FLUX_CONDITION if hard else FLUX_TOLD, key="plate.voltage",
        remedy="Measure the no-load current on the lines it will have; a drive gives the plate's "
        "volts.",
    )  # fmt: skip
    return Reason("mains_high_condition" if hard else "mains_high", words)


def _low(flux: float, volts: float, notes: Notes) -> Reason:
    hard = flux < FLUX_WEAK_CONDITION
    words = (
        f"At {volts:.0f} V, the lowest reading, starting and breakdown torque are "
        f"{flux * flux:.0%} of the plate's."
    )
    notes.ask(
        "mains_low", "condition" if hard else "caution", words,
        found=flux, allowed=FLUX_WEAK_CONDITION if hard else FLUX_WEAK, key="plate.voltage",
        remedy="Measure again under load; a thicker feeder or less load beside it lifts the volts.",
    )  # fmt: skip
    return Reason("mains_low_condition" if hard else "mains_low", words)
