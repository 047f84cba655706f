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

from phasewright.running.capacitors import OVER_EXCITED, Bank, Case, choose
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

    fixed = choose(
        alone, stock_f, most_cans=most_cans, rated_voltage_v=rated_voltage_v,
        highest_ratio=highest_ratio,
    )  # fmt: skip
    carried = {
        name: carried_beside(
            fixed.stocked.capacitance_f, cases, stock_f, most_cans=most_cans,
            rated_voltage_v=rated_voltage_v, highest_ratio=highest_ratio,
        )
        for name, cases in machines.items()
    }  # fmt: skip
    return Travelling(fixed.stocked, fixed.cans_23_f, fixed.cans_31_f, carried)


def carried_beside(
    fixed_f: Between,
    cases: tuple[Case, ...],
    stock_f: tuple[float, ...],
    *,
    most_cans: int = 4,
    rated_voltage_v: float | None = None,
    highest_ratio: float = OVER_EXCITED,
    within_f: float = 0.0,
) -> Carried:
    """What one machine carries beside a given fixed bank, for its own cases.

    Arguments as of `choose`. Raises NoOperatingPoint where a case runs with no bank.
    """
    own = choose(
        cases, stock_f, most_cans=most_cans, rated_voltage_v=rated_voltage_v,
        highest_ratio=highest_ratio, within_f=within_f, beside_f=fixed_f,
    )  # fmt: skip
    bank = Between(0.0, sum(own.cans_23_f), sum(own.cans_31_f))
    return Carried(bank, own.cans_23_f, own.cans_31_f, own.stocked)
