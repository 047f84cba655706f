"""Judging a shop file without computing the answer: what is assumed, contradicts or is missing."""

from __future__ import annotations

from dataclasses import dataclass

from phasewright.machines.motor import Motor, motor_of
from phasewright.network.impedance import supply_impedance
from phasewright.plan.circuit_runs import cable_assumptions
from phasewright.plan.earth_contradictions import earth_contradictions
from phasewright.plan.measurements import Measurement, measurements
from phasewright.plan.questions import questions_of
from phasewright.quantities.finding import Assumed, Finding, Missing
from phasewright.shop.check import cautions
from phasewright.shop.check_circuit import circuits_not_used
from phasewright.shop.model import Shop
from phasewright.ways.place_of import place_assumptions, place_findings
from phasewright.ways.site_of import mains_volts


@dataclass(frozen=True, slots=True)
class Checked:
    """What a look at the file alone says."""

    motors: int
    findings: tuple[Finding, ...]
    assumed: tuple[Assumed, ...]
    missing: tuple[Missing, ...]
    measure: tuple[Measurement, ...]


def motors_of(shop: Shop) -> list[Motor]:
    """Every motor as its plate is read for this supply, in file order."""
    readings = shop.supply.measured_voltage
    measured = None if readings is None else (readings.low.number, readings.high.number)
    return [
        motor_of(
            machine,
            motor,
            supply_voltage_v=shop.supply.voltage.number,
            frequency_hz=shop.supply.frequency.number,
            region=shop.region,
            path=f"machines[{place}].motors[{seat}]",
            measured_voltage_v=measured,
        )
        for place, machine in enumerate(shop.machines)
        for seat, motor in enumerate(machine.motors)
    ]


def check(shop: Shop) -> Checked:
    """Judge a shop file: findings, assumptions and what is worth finding out."""
    motors = motors_of(shop)
    supply = supply_impedance(shop.supply, shop.region)
    return Checked(
        len(motors),
        (
            *cautions(shop),
            *supply.findings,
            *earth_contradictions(shop.supply),
            *place_findings(shop),
            *circuits_not_used(shop),
            *(entry for motor in motors for entry in motor.findings),
        ),
        (
            *supply.assumed,
            *place_assumptions(shop),
            *cable_assumptions(shop),
            *(entry for motor in motors for entry in motor.assumed),
        ),
        (
            *questions_of(shop, supply.resistance, mains_volts(shop)),
            *(entry for motor in motors for entry in motor.missing),
        ),
        measurements(shop, motors),
    )
