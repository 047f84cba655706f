"""Which measurement at the supply is most worth making, before any plan is computed.

Each unknown of the supply is put at its lowest and its highest, and what follows from it is
compared with the limit that it is judged by: the share of the limit that it moves ranks them, and
one whose ends lie on both sides of the limit decides a verdict and comes first.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from phasewright.machines.motor import Motor
from phasewright.network.impedance import of_heater_test, supply_impedance
from phasewright.network.impedance_readings import Impedance
from phasewright.quantities.units import format as printed
from phasewright.shop.model import Shop
from phasewright.tables.circuits import start_power_factor
from phasewright.tables.clauses import limit
from phasewright.tables.published import table
from phasewright.tables.usage import default_service_a
from phasewright.ways.site_of import mains_volts, others_a

HEATER_W = 2500.0
"""A heater that most shops have (common practice)."""
DIGIT_V = 0.1
"""What a usual meter shows last, at mains volts, where it shows tenths (common practice)."""


@dataclass(frozen=True, slots=True)
class Measurement:
    """A measurement worth making.

    `low` and `high` are what it may turn out to mean, in the unit of `allowed`, the limit it is
    judged by; `then` what is left of that spread once it is made (None where it is exact).
    """

    field: str
    path: str
    low: float
    high: float
    allowed: float
    words: str
    how: str
    then: tuple[float, float] | None = None

    @property
    def moves(self) -> float:
        """The spread over the limit."""
        return (self.high - self.low) / self.allowed

    @property
    def decides(self) -> bool:
        """Whether a verdict hangs on it: the limit lies within the spread."""
        return self.low <= self.allowed < self.high


def measurements(shop: Shop, motors: Sequence[Motor]) -> tuple[Measurement, ...]:
    """What is not known of the supply, the measurement that decides or moves most first."""
    found = [_impedance(shop, motors), _volts(shop), _service(shop, motors)]
    known = [each for each in found if each is not None and each.moves > 0.0]
    return tuple(sorted(known, key=lambda each: (not each.decides, -each.moves)))


def locked_dip(apparent_va: float, source_ohm: complex, voltage_v: float) -> float:
    """Fall of the volts as a fraction when a motor of so many VA at standstill is switched on.

    The supply's impedance and that of the motor in series: 1 - |Zm / (Zm + Zs)|.
    """
    factor = start_power_factor()
    motor = voltage_v**2 / apparent_va * complex(factor, math.sqrt(1.0 - factor * factor))
    return 1.0 - abs(motor / (motor + source_ohm))


def _impedance(shop: Shop, motors: Sequence[Motor]) -> Measurement | None:
    supply = shop.supply
    known = supply.loop_impedance or supply.heater_test or supply.prospective_fault_current
    hardest = max(motors, key=_locked_va, default=None)
    grid = supply.kind in ("single_phase", "split_phase")
    if known is not None or not grid or hardest is None or not _locked_va(hardest):
        return None
    place = next((each for each in shop.places if each.name == _place_of(shop, hardest)), None)
    of = supply_impedance(supply, shop.region, None if place is None else place.feeder)
    volts = supply.voltage.number

    def dip(ohm: complex) -> float:
        return locked_dip(_locked_va(hardest), ohm, volts)

    usual, low, high = (
        complex(of.resistance.number, of.reactance.number),
        complex(of.resistance.low, of.reactance.low),
        complex(of.resistance.high, of.reactance.high),
    )
    amps = HEATER_W / volts
    after = of_heater_test(volts, volts - usual.real * amps, amps, DIGIT_V)
    falls = tuple(amps * ohm.real for ohm in (low, high))
    most = 1.0 - table("limits", "coils").number("pull_in")
    ends = dip(low), dip(high)
    then = _left(after, dip)
    return Measurement(
        "supply impedance", "supply.heater_test", *ends, most,
        f"Switched straight on, {hardest.id} would pull the volts down by {ends[0]:.0%} to "
        f"{ends[1]:.0%}; beyond {most:.0%} contactors chatter.",
        f"Two readings between the wires, other loads off, without and with a heater of "
        f"{printed(HEATER_W, 'power')}: the volts should fall by {falls[0]:.2g} to {falls[1]:.2g} "
        f"V. Read to {DIGIT_V:g} V that leaves {then[0]:.0%} to {then[1]:.0%}; a meter that shows "
        "whole volts, or a smaller heater, leaves more.",
        then,
    )  # fmt: skip


def _left(after: Impedance, dip: Callable[[complex], float]) -> tuple[float, float]:
    """The dip's spread once the heater test is made."""
    r, x = after.resistance, after.reactance
    return dip(complex(r.low, x.low)), dip(complex(r.high, x.high))


def _volts(shop: Shop) -> Measurement | None:
    if shop.supply.measured_voltage is not None:
        return None
    volts = mains_volts(shop)
    nominal = shop.supply.voltage.number
    most = limit("machine_supply", "high") - 1.0
    ends = tuple(abs(v / nominal - 1.0) for v in (volts.low, volts.high))
    return Measurement(
        "mains volts", "supply.measured_voltage", 0.0, max(ends), most,
        f"The mains may stand {max(ends):.0%} off their {nominal:g} V; a machine bears {most:.0%} "
        "for long.",
        "Meter between the two wires by day, in the evening and at the weekend.",
    )  # fmt: skip


def _service(shop: Shop, motors: Sequence[Motor]) -> Measurement | None:
    supply = shop.supply
    told = supply.service_rating or supply.outlet_rating or supply.contracted_power
    largest = max((_running_a(shop, motor) for motor in motors), default=0.0)
    if told is not None or supply.kind == "three_phase" or not largest:
        return None
    usual, taken = default_service_a(shop.region, supply.country), others_a(shop).number
    low, high = (max(0.0, amps - taken) / largest for amps in (usual.low, usual.high))
    return Measurement(
        "service rating", "supply.service_rating", low, high, 1.0,
        f"The main fuse may leave {low * largest:.3g} to {high * largest:.3g} A for the machines; "
        f"the largest motor alone takes {largest:.3g} A at its full load.",
        "Read the number on the main fuse carrier or breaker.",
    )  # fmt: skip


def _locked_va(motor: Motor) -> float:
    """Volt-amperes at standstill; 0 where they are not known."""
    return _apparent_va(motor, None if (of := motor.locked_rotor_current_a) is None else of.number)


def _running_a(shop: Shop, motor: Motor) -> float:
    """Amps of the supply for a motor's volt-amperes at full load, drawn from its two lines."""
    of = motor.full_load_current_a
    return _apparent_va(motor, None if of is None else of.number) / shop.supply.voltage.number


def _apparent_va(motor: Motor, amps: float | None) -> float:
    link = motor.circuit_link
    if amps is None or link is None:
        return 0.0
    return (math.sqrt(3.0) if motor.three_phase else 1.0) * link.line_voltage_v * amps


def _place_of(shop: Shop, motor: Motor) -> str:
    return shop.machine(motor.machine).place
