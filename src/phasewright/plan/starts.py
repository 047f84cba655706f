"""Every start of a plan: each motor in its hardest case on what makes its three phases.

On a rotary converter the hardest case of a motor is taken from every set that may turn together:
the one in which it does not run up, else takes longest. Motors that start by capacitors of their
own, or straight on a supply of three lines, start alone. What makes three lines by itself:
`line_starts`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from phasewright.machines.leakage import STRONG
from phasewright.network.supply import Source
from phasewright.plan.arrays import Choice, once_all_have_come
from phasewright.plan.currents import StartAt, running_sets
from phasewright.plan.facts import Facts
from phasewright.plan.line_starts import NOT_JUDGED, pairs_on_lines, start_on_lines, three_lines
from phasewright.plan.options import offer_of, shared_of
from phasewright.plan.problem import Solution
from phasewright.plan.start_told import start_told
from phasewright.plan.study import PlanStart
from phasewright.quantities.codes import Starter, WayName
from phasewright.quantities.errors import NoOperatingPoint, TableEnds
from phasewright.running.converter import Converter
from phasewright.starts.brief import Brief, brief
from phasewright.starts.overload import Overload, overload_trip
from phasewright.starts.trips import Device, DeviceKind, Trip, band_of, supply_trip
from phasewright.starts.waves import Waves
from phasewright.ways.converter_drive_inside import has_drive_inside
from phasewright.ways.hardest_start import hardest_start, hardest_waves
from phasewright.ways.on_two_lines import Linked, linked
from phasewright.ways.shared_source import softest
from phasewright.ways.starting_order import Pair, in_order, running_before, starting_with
from phasewright.ways.turning_on_converter import OnConverter

HOW = "three-line network in time"
CURVES: dict[str, tuple[DeviceKind, ...]] = {"NEC": ("inverse_time",)}
USUAL_CURVES: tuple[DeviceKind, ...] = ("B", "C", "gG")
"""Curves a main fuse or breaker is judged by where the file does not say which it is."""


def starts_of(choice: Choice, plan: Solution) -> tuple[PlanStart, ...]:
    """The hardest start of every motor that starts on lines of the plan: of those there are now,
    then of those to come, in the plan as it is once all have come."""
    there = [unit for unit, index in enumerate(plan.options) if index >= 0]
    found = [start for unit in there for start in _start(choice, plan, unit)]
    come = once_all_have_come(choice, plan)
    if come is not None:
        coming, _ = come
        later = [unit for unit in range(len(plan.options)) if unit not in there]
        found += [
            replace(start, planned=True) for unit in later for start in _start(choice, coming, unit)
        ]
    return tuple(found)


def _start(choice: Choice, plan: Solution, unit: int) -> list[PlanStart]:
    index = plan.options[unit]
    if index < 0 or choice.options[index].way is None:
        return []
    if choice.options[index].shared:
        return _on_converter(choice, plan, unit) or start_on_lines(choice, plan, unit)
    return _alone(choice, plan, unit)


def starting_order(choice: Choice, plan: Solution) -> tuple[str, ...]:
    """The order in which the motors on a plan's three lines are best started; empty without."""
    own, converter = three_lines(choice, plan), converter_of(choice, plan)
    if own is None and converter is None:
        return ()
    hung = {
        unit for running in running_sets(choice, plan) for unit in choice.admission.hung(running)
    }
    units = tuple(sorted(hung))
    pairs = pairs_of(choice, units) if own is None else pairs_on_lines(choice, own, units)
    return tuple(pair[1].motor.id for pair in in_order(pairs))


def converter_of(choice: Choice, plan: Solution) -> OnConverter | None:
    """The rotary converter of a plan; None where it has none."""
    on = shared_of(choice.facts, choice.states[plan.state])
    turning = None if on is None else on.turning
    return turning if isinstance(turning, OnConverter) else None


def pairs_of(choice: Choice, units: Sequence[int]) -> tuple[Pair, ...]:
    """Units as tasks and linked motors, without those that have a drive inside."""
    found = []
    for unit in units:
        task = choice.facts.units[unit].task
        motor = linked(task.motor)
        if isinstance(motor, Linked) and not has_drive_inside(task):
            found.append((task, motor))
    return tuple(found)


@dataclass(frozen=True, slots=True)
class Hardest:
    """The hardest case of a motor on a converter: where it is fed, the set it starts in, itself."""

    source: Source
    converter: Converter
    motors: tuple[Pair, ...]
    one: Pair

    @property
    def beside(self) -> tuple[Pair, ...]:
        """What runs already."""
        return running_before(self.motors, self.one)

    @property
    def at_once(self) -> tuple[Pair, ...]:
        """What the same event switches on."""
        return starting_with(self.motors, self.one)


def hardest_case(choice: Choice, plan: Solution, unit: int) -> Hardest | None:
    """The hardest case of a unit on the plan's converter; None where there is none."""
    converter = converter_of(choice, plan)
    if converter is None:
        return None
    tried: list[tuple[Brief, Hardest]] = []
    for running in running_sets(choice, plan):
        hung = choice.admission.hung(running)
        motors = pairs_of(choice, hung)
        one = next((m for m in motors if m[1].motor.id == choice.facts.units[unit].id), None)
        if unit not in hung or one is None:
            continue
        source = softest(
            converter.source, converter.feeders,
            tuple(choice.facts.units[each].task for each in hung),
        )  # fmt: skip
        case = Hardest(source, converter.converter, motors, one)
        try:
            tried.append((hardest_start(source, converter.converter, motors, one), case))
        except NoOperatingPoint:
            continue
    if not tried:
        return None
    return max(tried, key=lambda each: (not each[0].runs_up, each[0].seconds, each[0].peak_a))[1]


def beside_others(choice: Choice, plan: Solution) -> tuple[StartAt, ...]:
    """What the supply sees of every hardest start on the plan's converter."""
    found = []
    for unit, index in enumerate(plan.options):
        if index < 0 or not choice.options[index].shared:
            continue
        of = hardest_case(choice, plan, unit)
        if of is not None:
            start = hardest_start(of.source, of.converter, of.motors, of.one)
            place = choice.facts.units[unit].place
            found.append(StartAt(start.supply_a, 1.0 - start.service_ratio, place))
    return tuple(found)


def _on_converter(choice: Choice, plan: Solution, unit: int) -> list[PlanStart]:
    """The hardest start of a motor on the plan's converter."""
    of = hardest_case(choice, plan, unit)
    if of is None:
        return []
    found, place = hardest_waves(of.source, of.converter, of.motors, of.one)
    stiff = brief(*hardest_waves(of.source, of.converter, of.motors, of.one, STRONG))
    return [_side(choice, of.one, (*of.beside, *of.at_once), found, place, stiff)]


def _side(
    choice: Choice, one: Pair, before: tuple[Pair, ...], found: Waves, place: int, stiff: Brief
) -> PlanStart:
    told = brief(found, place)
    source = found.course.source
    inputs = {
        "supply": (source.voltage_v, "V"),
        "supply resistance": (source.resistance_ohm, "ohm"),
        "supply reactance": (source.reactance_ohm, "ohm"),
        "inertia": (found.course.starters[place].inertia_kg_m2, "kg m2"),
    }

    relay = Overload(one[1].circuit.rated_current_a)
    trips = [overload_trip(found, place, relay), *_supply_trips(choice, found)]
    return start_told(
        one, before, told, stiff, dip_ratio=told.dip_ratio, peak_a=told.peak_a,
        lines_v=source.voltage_v, trips=trips, inputs=inputs, how=HOW,
    )  # fmt: skip


def _method(starter: Starter | None, way: WayName | None) -> str:
    if way not in ("direct", "utility_service"):
        return "start_capacitor"
    return "star_delta" if starter == "star_delta" else "direct"


def _supply_trips(choice: Choice, found: Waves) -> list[Trip]:
    """What the main fuse or breaker does, by each curve it may have."""
    return [supply_trip(found, device) for device in supply_devices(choice.facts)]


def supply_devices(facts: Facts) -> tuple[Device, ...]:
    """The main fuse or breaker, by each curve it may have; none where its amps are not known."""
    rating = facts.shop.supply.service_rating
    if rating is None:
        return ()
    kinds = CURVES.get(facts.site.region, USUAL_CURVES)
    devices = tuple(Device("main fuse or breaker", kind, rating.number) for kind in kinds)
    return tuple(each for each in devices if _printed(each)) or devices[:1]


def _printed(device: Device) -> bool:
    """Whether a band of the device is printed."""
    try:
        band_of(device)
    except TableEnds:
        return False
    return True


def _alone(choice: Choice, plan: Solution, unit: int) -> list[PlanStart]:
    """A motor that starts alone, by capacitors or on a supply of three lines, as it was judged."""
    option = choice.options[plan.options[unit]]
    offer = offer_of(choice.facts, unit, option)
    judgement = next((j for j in choice.facts.judgements[unit] if j.way == option.way), None)
    if offer is None or judgement is None or judgement.figures.starts is None:
        return []
    of = judgement.figures.starts
    method = _method(choice.facts.units[unit].task.machine.starter, option.way)
    return [
        PlanStart(
            motor=choice.facts.units[unit].id,
            method=method,
            with_=(),
            runs_up=of.runs_up,
            time_s=of.time_s,
            time_high_s=of.time_high_s,
            dip=of.dip,
            supply_peak_a=of.supply_peak_a,
            line3_lowest_v=None,
            trips=() if method == "start_capacitor" else (NOT_JUDGED,),
            words="",
        )
    ]
