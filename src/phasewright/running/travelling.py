"""Run capacitors that travel with a machine: switched with its motor, ahead of its overload relay.

The fixed bank balances the converter as it stands alone (the idler, or the idler with small
loads). Every motor then brings across 2-3 and 3-1 the capacitors that keep the lines most even
over its own loads, so that neither end is a compromise. What travels cannot take away: where a
loaded motor would want less across 2-3 than the fixed bank has, some unbalance stays.

The contactor of the machine switches them with the motor; they stand ahead of its overload
relay, which then carries the motor's current only. Each needs its own discharge resistor.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from phasewright.running.capacitors import OVER_EXCITED, Bank, Case, Choice, choose
from phasewright.running.converter import Converter
from phasewright.running.network import Between


@dataclass(frozen=True, slots=True)
class Carried:
    """Capacitors that one machine carries, and the cans they are made of. `with_fixed` is what
    they and the fixed bank do together in each of the machine's cases, in their order."""

    capacitance_f: Between
    cans_23_f: tuple[float, ...]
    cans_31_f: tuple[float, ...]
    with_fixed: Bank


@dataclass(frozen=True, slots=True)
class Travelling:
    """The fixed bank for the converter alone, and what every machine carries, by its name."""

    fixed: Bank
    cans_23_f: tuple[float, ...]
    cans_31_f: tuple[float, ...]
    carried: Mapping[str, Carried]

    @property
    def worst_vuf(self) -> float:
        """The greatest unbalance over all cases, the converter alone included."""
        banks = [self.fixed, *(each.with_fixed for each in self.carried.values())]
        return max(bank.worst_vuf for bank in banks)

    def on(self, converter: Converter) -> Converter:
        """The converter with this fixed bank and what every machine carries."""
        carried = tuple((name, each.capacitance_f) for name, each in self.carried.items())
        return replace(converter, run_f=self.fixed.capacitance_f, carried=carried)


def travelling(
    alone: tuple[Case, ...],
    machines: Mapping[str, tuple[Case, ...]],
    stock_f: tuple[float, ...],
    *,
    most_cans: int = 4,
    rated_voltage_v: float | None = None,
    highest_ratio: float = OVER_EXCITED,
) -> Travelling:
    """Choose the fixed bank for the cases of the converter alone, then for each machine what it
    carries, for its cases (the converter with that machine at its loads).

    Each leg of a bank is the sum of at most `most_cans` cans of the stock. A machine carries
    what makes the worst VUF of its cases least (then the weighted mean), nothing where nothing
    is best. Raises NoOperatingPoint where a case runs with no bank.
    """

    def best(cases: tuple[Case, ...], beside_f: Between) -> Choice:
        return choose(
            cases, stock_f, most_cans=most_cans, rated_voltage_v=rated_voltage_v,
            highest_ratio=highest_ratio, beside_f=beside_f,
        )  # fmt: skip

    fixed = best(alone, Between())
    carried = {}
    for name, cases in machines.items():
        own = best(cases, fixed.stocked.capacitance_f)
        cans_23, cans_31 = own.cans_23_f, own.cans_31_f
        bank = Between(0.0, sum(cans_23), sum(cans_31))
        carried[name] = Carried(bank, cans_23, cans_31, own.stocked)
    return Travelling(fixed.stocked, fixed.cans_23_f, fixed.cans_31_f, carried)
