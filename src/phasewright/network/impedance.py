"""The impedance of the supply between its two lines, from whatever the owner could find out.

Ranked by how far it can be trusted: a loop tester's reading or a stated fault current at the
intake, a heater test at the outlet, the transformer's rating, else what is usual. Each gives
resistance and reactance with a spread. The most trusted counts; another of the same loop
narrows its spread, and two that exclude each other are told, not averaged.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from phasewright.network.conductors import cable_temperature_c, feeder_impedance
from phasewright.network.impedance_readings import Impedance, contradictions, narrowed
from phasewright.network.shortcircuit import fault_current_a, loop_ohm
from phasewright.network.supply import Source
from phasewright.quantities.finding import Assumed, Finding
from phasewright.quantities.value import Origin, Value, figure, spread
from phasewright.shop.supply import Feeder, Supply
from phasewright.tables.published import Table, table


@dataclass(frozen=True, slots=True)
class SupplyImpedance:
    """The loop from the source to where lines 1 and 2 are tapped, and what is to be said of it."""

    resistance: Value
    reactance: Value
    words: str
    findings: tuple[Finding, ...] = ()
    assumed: tuple[Assumed, ...] = ()

    def source(self, voltage_v: float, frequency_hz: float) -> Source:
        """The supply as a source with the expected impedance."""
        return Source(voltage_v, self.resistance.number, self.reactance.number, frequency_hz)

    def stiffest(self, voltage_v: float, frequency_hz: float) -> Source:
        """The supply with the lowest credible impedance."""
        return Source(voltage_v, self.resistance.low, self.reactance.low, frequency_hz)

    def softest(self, voltage_v: float, frequency_hz: float) -> Source:
        """The supply with the highest credible impedance."""
        return Source(voltage_v, self.resistance.high, self.reactance.high, frequency_hz)


def of_heater_test(
    unloaded_v: float, loaded_v: float, current_a: float, digit_v: float = 1.0
) -> Impedance:
    """From volts without and with a heater: R = (U0 - U)/I.

    A heater draws no reactive current, so it shows the resistance only; the reactance is
    taken as a share of it. Spread: one digit of the meter in the difference.
    """
    drop = unloaded_v - loaded_v
    inputs = {
        "unloaded": (unloaded_v, "V"), "loaded": (loaded_v, "V"), "current": (current_a, "A"),
    }  # fmt: skip
    resistance = figure(
        max(drop, 0.25 * digit_v) / current_a, "ohm", "network.impedance.of_heater_test", inputs,
        "drop over current at power factor 1",
        low=max(drop - digit_v, 0.1 * digit_v) / current_a,
        high=(max(drop, 0.0) + digit_v) / current_a,
    )  # fmt: skip
    share = table("supplies_impedance", "reactance_share")
    typical = math.sqrt(share.number("low") * share.number("high"))
    reactance = spread(
        typical * resistance.number,
        share.number("low") * resistance.low,
        share.number("high") * resistance.high,
        "ohm", share.origin, share.words,
    )  # fmt: skip
    return Impedance(resistance, reactance, "heater test", with_feeder=True)


def of_loop(loop: Value, words: str = "loop impedance") -> Impedance:
    """From the modulus of a loop impedance, split by the usual share of reactance."""
    share = table("supplies_impedance", "reactance_share")
    inputs = {"loop": (loop.number, "ohm")}

    def part(which: Callable[[float], float], low: str, high: str) -> Value:
        return figure(
            loop.number * which(share.number("typical")), "ohm",
            "network.impedance.of_loop", inputs, share.words,
            low=loop.low * which(share.number(low)), high=loop.high * which(share.number(high)),
        )  # fmt: skip

    return Impedance(
        part(lambda x: 1.0 / math.hypot(1.0, x), "high", "low"),
        part(lambda x: x / math.hypot(1.0, x), "low", "high"),
        words,
    )


def of_fault_current(current: Value, voltage_v: float) -> Impedance:
    """From a prospective fault current between the two lines."""
    loop = spread(
        loop_ohm(voltage_v, current.number), loop_ohm(voltage_v, current.high),
        loop_ohm(voltage_v, current.low), "ohm", current.origin, current.source,
    )  # fmt: skip
    return of_loop(loop, "prospective fault current")


def of_transformer(rating_va: float, voltage_v: float) -> Impedance:
    """From the rating of the utility's transformer, with a usual service line behind it.

    A large one is taken as three-phase feeding line to neutral: three times the impedance.
    """
    rows = table("supplies_impedance", "transformer")
    phases = 3.0 if rating_va >= rows.number("three_phase_from_va") else 1.0
    rated = phases * voltage_v * voltage_v / rating_va
    r = rows.number("resistance") * rated
    x = math.sqrt(rows.number("impedance") ** 2 - rows.number("resistance") ** 2) * rated
    line, low, high = (
        rows.column(f"service_line_{end}") for end in ("ohm", "low", "high")
    )  # fmt: skip
    inputs = {"transformer": (rating_va, "VA"), "voltage": (voltage_v, "V")}
    return Impedance(
        figure(r + line[0], "ohm", "network.impedance.of_transformer", inputs,
               rows.words,
               low=0.7 * r + low[0], high=1.5 * r + high[0]),
        figure(x + line[1], "ohm", "network.impedance.of_transformer", inputs,
               rows.words,
               low=0.7 * x + low[1], high=1.5 * x + high[1]),
        "transformer",
    )  # fmt: skip


def usual(supply: Supply, region: str) -> Impedance:
    """What is usual for such a supply where nothing is known (common practice)."""
    if supply.kind in ("generator", "inverter"):
        return _of_machine(supply)
    small = supply.transformer is not None and supply.transformer.number <= 50e3
    name = "nec_panel" if region == "NEC" else "farm" if small else "town"
    rows = table("supplies_impedance", name)
    ohm, low, high = rows.column("ohm"), rows.column("low"), rows.column("high")
    return Impedance(
        spread(ohm[0], low[0], high[0], "ohm", rows.origin, rows.words),
        spread(ohm[1], low[1], high[1], "ohm", rows.origin, rows.words),
        f"what is usual ({name.replace('_', ' ')})",
    )


def supply_impedance(
    supply: Supply, region: str, feeder: Feeder | None = None, ambient_c: float | None = None
) -> SupplyImpedance:
    """The loop up to the end of the supply's feeder (and of `feeder`, a building's own).

    `ambient_c` is the air round the building's own feeder, where it is told.

    A heater test is taken to be made where the power is used (feeder of the supply included),
    a loop tester's reading and a stated fault current at the intake.
    """
    known = _known(supply)
    chosen = known[0] if known else usual(supply, region)
    for other in known[1:]:
        chosen = narrowed(chosen, other)
    resistance, reactance = chosen.resistance, chosen.reactance
    own = None if ambient_c is None else cable_temperature_c(ambient_c)
    sections = [(feeder, own)] if chosen.with_feeder else [(supply.feeder, None), (feeder, own)]
    for section, at_c in sections:
        if section is not None and section.length is not None and section.conductor is not None:
            r, x = feeder_impedance(
                section.length.number, section.conductor.number, section.material, at_c
            )
            resistance, reactance = in_series(resistance, r), in_series(reactance, x)
    assumed: list[Assumed] = []
    if not known:
        assumed.append(Assumed("supply resistance", "supply.loop_impedance", chosen.resistance))
    if not any(item.words in ("prospective fault current", "loop impedance") for item in known):
        assumed.append(Assumed("supply reactance", "supply.loop_impedance", chosen.reactance))
    findings = contradictions(known, supply, _cable_ohm(supply.feeder))
    return SupplyImpedance(resistance, reactance, chosen.words, findings, tuple(assumed))


def _cable_ohm(feeder: Feeder | None) -> float | None:
    """Resistance of the feeder's own loop; None where it is not told whole."""
    if feeder is None or feeder.length is None or feeder.conductor is None:
        return None
    r, _ = feeder_impedance(feeder.length.number, feeder.conductor.number, feeder.material)
    return r.number


def fault_current(impedance: SupplyImpedance, voltage_v: float) -> Value:
    """Prospective fault current between the lines with its spread [A]."""
    r, x = impedance.resistance, impedance.reactance
    return figure(
        fault_current_a(voltage_v, r.number, x.number), "A", "network.impedance.fault_current",
        {"voltage": (voltage_v, "V"), "resistance": (r.number, "ohm"),
         "reactance": (x.number, "ohm")},
        "V/|Z|", low=fault_current_a(voltage_v, r.high, x.high),
        high=fault_current_a(voltage_v, r.low, x.low),
    )  # fmt: skip


def _known(supply: Supply) -> list[Impedance]:
    """What the owner gave, the most trusted first."""
    found: list[Impedance] = []
    volts = supply.voltage.number
    if supply.loop_impedance is not None:
        found.append(of_loop(supply.loop_impedance))
    if supply.prospective_fault_current is not None:
        found.append(of_fault_current(supply.prospective_fault_current, volts))
    if supply.heater_test is not None:
        test = supply.heater_test
        found.append(of_heater_test(test.unloaded.number, test.loaded.number, test.current.number))
    if supply.transformer is not None:
        found.append(of_transformer(supply.transformer.number, volts))
    return found


def _of_machine(supply: Supply) -> Impedance:
    """A generator or an inverter: reactance over V squared per rating."""
    rows: Table = table("supplies_impedance", "machine_source")
    rating = machine_rating_va(supply)
    base = supply.voltage.number**2 / rating
    origin: Origin = rows.origin
    return Impedance(
        spread(rows.number("resistance") * base, 0.5 * rows.number("resistance") * base,
               2.0 * rows.number("resistance") * base, "ohm", origin, rows.words),
        spread(rows.number("reactance") * base, rows.number("low") * base,
               rows.number("high") * base, "ohm", origin, rows.words),
        f"a source of {rating / 1000:.3g} kVA",
    )  # fmt: skip


def machine_rating_va(supply: Supply) -> float:
    """Lasting volt-amperes of a generator or an inverter, by what is told of it, else as usual."""
    if supply.contracted_power is not None:
        return supply.contracted_power.number
    if supply.service_rating is not None:
        return supply.service_rating.number * supply.voltage.number
    if supply.surge is not None:
        return 0.5 * supply.surge.rating.number
    return table("supplies_impedance", "machine_source").number("rating_va")


def in_series(one: Value, other: Value) -> Value:
    """Two impedances in series; the trail names both."""
    return figure(
        one.number + other.number, "ohm", "network.impedance.in_series",
        {"before": (one.number, "ohm"), "cable": (other.number, "ohm")},
        f"{one.source}; {other.source}", low=one.low + other.low, high=one.high + other.high,
    )  # fmt: skip
