"""What a plan's starts do to the supply and its lights, and what the network operator asks.

Every start that is not softened is a fall of the volts that comes again; a drive's is none.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from phasewright.network.flicker import Change, long_term, of_starts, of_starts_over_hours
from phasewright.network.impedance import supply_impedance
from phasewright.plan.arrays import Choice
from phasewright.plan.network_study import NetworkEffects, StartEffect
from phasewright.plan.options import shared_of
from phasewright.plan.problem import Solution
from phasewright.plan.study import PlanMotor, PlanSide
from phasewright.quantities.codes import Region
from phasewright.quantities.finding import Finding, Remedy
from phasewright.quantities.value import Value, figure, spread
from phasewright.rules.flicker import (
    conditional_connection,
    flicker_of_supply,
    long_term_flicker,
    operator_told,
    short_term_flicker,
    steady_change,
)
from phasewright.rules.supply import hold_in
from phasewright.shop.supply import Supply
from phasewright.tables.circuits import start_power_factor
from phasewright.tables.limits import reference_step
from phasewright.tables.operators import asked_from
from phasewright.tables.published import table
from phasewright.ways.figures import Range

SUPPLY = "supply"
PRODUCT_MOST_A = 16.0
"""IEC 61000-3-3 is for equipment up to this (from memory)."""
OWN = ("generator", "inverter")
"""Supplies that no network operator brings."""
FLICKER = "network.flicker.of_starts"
METHOD = "analytical method of IEC 61000-3-3 (from memory)"


@dataclass(frozen=True, slots=True)
class _Start:
    """A start that comes again, what the thing draws once it runs [A rms], at which factor, and
    whether no hand switches it."""

    effect: StartEffect
    running_a: float
    power_factor: float = 1.0
    by_itself: bool = False


def with_network_effects(
    choice: Choice, plan: Solution, side: PlanSide
) -> tuple[PlanSide, tuple[Finding, ...]]:
    """A plan with what its starts do to the supply; the findings' ids are made unique by it."""
    found = (_idler(choice, plan, side), *(_start(choice, side, each) for each in side.motors))
    starts = [each for each in found if each is not None]
    if not starts:
        return side, ()
    effects = NetworkEffects(
        tuple(each.effect for each in starts),
        _severity([each.effect for each in starts], at_intake=True),
        _severity([each.effect for each in starts], at_intake=False),
        _severity([each.effect for each in starts], at_intake=True, long=True),
        _severity([each.effect for each in starts], at_intake=False, long=True),
    )
    named = tuple(
        replace(each, id=f"{side.id}:{each.id}", plan=side.id)
        for each in (*_found(choice, starts, effects), *_others_hold_in(side))
    )
    whole = replace(
        side,
        network_effects=effects,
        findings=(*side.findings, *(each.id for each in named)),
    )
    return whole, named


def _start(choice: Choice, side: PlanSide, motor: PlanMotor) -> _Start | None:
    """A motor's start; None of one that draws nothing much from the supply."""
    dip, amps = motor.figures.voltage_dip_ratio, motor.figures.starting_current_a
    timed = next((s for s in side.starts if s.motor == motor.motor and not s.planned), None)
    if timed is not None:
        dip = timed.dip
    unit = next(each for each in choice.facts.units if each.id == motor.motor)
    load = unit.motor.load
    if dip is None or load is None or not dip.number > 0.0:
        return None
    taken = motor.figures.input_current_a
    effect = StartEffect(
        motor.motor, load.starts_per_hour, amps, _at_intake(choice, unit.place, dip), dip,
        _on_reference(amps),
    )  # fmt: skip
    factor = motor.figures.input_power_factor
    return _Start(
        effect,
        0.0 if taken is None else taken.expected.number,
        1.0 if factor is None else factor.number,
        load.kind.by_itself,
    )


def _idler(choice: Choice, plan: Solution, side: PlanSide) -> _Start | None:
    """The start of the converter's idler, once an hour."""
    on = shared_of(choice.facts, choice.states[plan.state])
    own = next((f for m in side.motors if (f := m.figures.idler_start) is not None), None)
    if on is None or on.own_start is None or own is None:
        return None
    inputs = {"idler": (on.rating, on.unit)}
    amps = figure(
        on.own_start.supply_a,
        "A",
        "ways.start_figures.idler_start_figures",
        inputs,
        "its start in time",
    )
    once = spread(
        1.0, 0.2, 4.0, "1/h", "common practice", "switched on once an hour, common practice"
    )
    effect = StartEffect(
        on.name, once, amps, _at_intake(choice, on.place, own.dip), own.dip, _on_reference(amps)
    )
    return _Start(effect, 0.0)


def _at_intake(choice: Choice, place: str, dip: Value) -> Value:
    """The fall ahead of the place's own feeder: by the share of its impedance that is there."""
    here, intake = choice.facts.site_at(place).source, choice.facts.site.source
    ohm = [math.hypot(each.resistance_ohm, each.reactance_ohm) for each in (intake, here)]
    inputs = {"in its place": (dip.number, ""), "impedance there": (ohm[1], "ohm"),
              "impedance at the intake": (ohm[0], "ohm")}  # fmt: skip
    return figure(
        dip.number * ohm[0] / ohm[1],
        "",
        "plan.network_effects.with_network_effects",
        inputs,
        "the same amps through less impedance",
    )


def _on_reference(amps: Value | None) -> Value | None:
    if amps is None:
        return None
    factor = start_power_factor()
    return figure(
        reference_step(amps.number, factor), "", "tables.limits.reference_step",
        {"starting amps": (amps.number, "A"), "power factor at standstill": (factor, "")},
        table("limits", "reference_impedance").words,
    )  # fmt: skip


def _severity(effects: list[StartEffect], *, at_intake: bool, long: bool = False) -> Range:
    """Short-term or long-term severity of all starts, as often as they are usual or told."""
    dips = [each.change_at_intake if at_intake else each.change_in_place for each in effects]
    changes = [
        Change(dip.number, each.starts_per_hour.number)
        for dip, each in zip(dips, effects, strict=True)
    ]
    low, usual, high = of_starts_over_hours(changes) if long else of_starts(changes)
    inputs = {each.motor: (dip.number, "") for dip, each in zip(dips, effects, strict=True)}
    return Range(low, figure(usual, "", FLICKER, inputs, METHOD), high)


def _found(choice: Choice, starts: list[_Start], effects: NetworkEffects) -> list[Finding]:
    supply, region = choice.facts.shop.supply, choice.facts.shop.region
    deepest = max(starts, key=lambda each: each.effect.change_at_intake.number)
    dip = deepest.effect.change_at_intake.number
    of = effects.flicker_at_intake
    found = [
        *short_term_flicker(of.low, of.high, dip, SUPPLY).findings,
        *flicker_of_supply(
            effects.long_flicker_at_intake.low,
            effects.long_flicker_at_intake.expected.number,
            SUPPLY,
        ).findings,
    ]
    if region == "IEC":
        found += [each for one in starts for each in _by_itself(one)]
    known = [each for each in starts if each.effect.starting_current_a is not None]
    if not known:
        return found
    hardest = max(known, key=_amps)
    if region == "IEC" and hardest.effect.change_on_reference is not None:
        source = choice.facts.site.source
        service = None if supply.service_rating is None else supply.service_rating.number
        found += conditional_connection(
            math.hypot(source.resistance_ohm, source.reactance_ohm),
            hardest.effect.change_on_reference.number,
            table("limits", "voltage_change").number("attended"),
            service,
            hardest.running_a,
            hardest.effect.motor,
            hardest.effect.change_at_intake.number,
            _feeder_ohm(supply, region),
        ).findings
    if supply.kind not in OWN and asked_from(supply.country) is None:
        found.append(_operator_asked(hardest, supply.country))
    found += operator_told(
        _amps(hardest),
        supply.country,
        hardest.running_a,
        hardest.effect.starts_per_hour.number,
        hardest.effect.change_at_intake.number,
        hardest.effect.motor,
    ).findings
    return found


def _feeder_ohm(supply: Supply, region: Region) -> float:
    """Impedance of the supply's feeder [ohm]."""
    supply = replace(supply, heater_test=None)  # which is made behind it
    whole, ahead = (
        supply_impedance(each, region) for each in (supply, replace(supply, feeder=None))
    )
    return math.hypot(
        whole.resistance.number - ahead.resistance.number,
        whole.reactance.number - ahead.reactance.number,
    )


def _others_hold_in(side: PlanSide) -> Iterator[Finding]:
    """Whether contactors of what already runs hold in while a motor starts beside it."""
    for each in side.starts:
        if each.with_ and each.runs_up and not each.planned:
            yield from hold_in(1.0 - each.dip.number, each.motor).findings


def _by_itself(of: _Start) -> tuple[Finding, ...]:
    """What one piece of equipment of up to 16 A is held to on the reference supply."""
    change = of.effect.change_on_reference
    if change is None or of.running_a > PRODUCT_MOST_A:
        return ()
    name, often = of.effect.motor, of.effect.starts_per_hour.number
    both = 2 * (Change(change.number, often),)
    lasting = long_term(both) if of.by_itself else None
    return (
        *long_term_flicker(lasting, name).findings,
        *steady_change(of.running_a, of.power_factor, of.running_a, name).findings,
    )


def _operator_asked(hardest: _Start, country: str) -> Finding:
    """That operators of whose country no figure is at hand must be asked, and for what."""
    of, rule = hardest.effect, "operator.asked"
    where = f"in {country}" if country else "here, for no country is told"
    return Finding(
        f"{rule}:{of.motor}", rule, "info", of.motor,
        f"no figure is at hand of what a supply may start without asking {where}: ask the network "
        f"operator. They will want the starting amps ({_amps(hardest):.0f}), how often "
        f"({of.starts_per_hour.number:.2g} an hour), the running amps ({hardest.running_a:.0f}), "
        f"the dip at the service ({of.change_at_intake.number:.1%}) and the way of starting",
        found=_amps(hardest), unit="A",
        remedy=None if country else Remedy("Tell the country.", "supply.country"),
        source="network operators' conditions of connection differ; computed figures",
    )  # fmt: skip


def _amps(of: _Start) -> float:
    amps = of.effect.starting_current_a
    return 0.0 if amps is None else amps.number
