"""What the drives of a plan do to the supply together: distorted volts, leakage to earth."""

from __future__ import annotations

import math
from collections.abc import Iterator

from phasewright.electronics.neutral import rms
from phasewright.network.shortcircuit import fault_current_a
from phasewright.plan.arrays import Choice
from phasewright.plan.case_harmonics import neutral_of_phases
from phasewright.plan.currents import running_sets
from phasewright.plan.drive_filters import filter_findings
from phasewright.plan.on_one_supply import behind_isolation, drive_figures, on_one_supply
from phasewright.plan.options import shared_of
from phasewright.plan.problem import Solution
from phasewright.quantities.finding import Finding
from phasewright.rules.harmonics import harmonics_in_the_neutral, voltage_distortion
from phasewright.rules.leakage import device_type, earth_conductor, standing_leakage
from phasewright.shop.standing import ResidualCurrent
from phasewright.ways.drive_norms import limits_of_current

SERVICE = "service"


def supply_quality_findings(choice: Choice, plan: Solution) -> list[Finding]:
    """Findings on harmonics and leakage of the plan's drives; none where it has no drive."""
    return [
        *_currents(choice, plan),
        *_distortion(choice, plan),
        *_neutral(choice, plan),
        *_leakage(choice, plan),
        *filter_findings(choice, plan),
    ]


def _currents(choice: Choice, plan: Solution) -> Iterator[Finding]:
    """Every drive's current against the limits of its region, at its own place."""
    for unit, this in enumerate(choice.facts.units):
        of = drive_figures(choice, plan, unit)
        if of is None or of.harmonics_a is None or of.input_current_a is None:
            continue
        site, power = choice.facts.site_at(this.place), of.input_power_w
        fault_a = fault_current_a(
            site.source.voltage_v, site.source.resistance_ohm, site.source.reactance_ohm
        )
        for ruling in limits_of_current(
            of.harmonics_a, of.input_current_a.expected.number,
            math.inf if power is None else power.number, fault_a, site.region,
            this.task.machine.users, this.id,
        ):  # fmt: skip
            yield from ruling.findings


def _distortion(choice: Choice, plan: Solution) -> tuple[Finding, ...]:
    """Of the volts at the service, in the set of drives that distorts them most."""
    states = (on_one_supply(choice, plan, running) for running in running_sets(choice, plan))
    found = [state.spectrum.voltage_thd for state in states if state is not None]
    return voltage_distortion(max(found, default=None), SERVICE).findings


def _neutral(choice: Choice, plan: Solution) -> Iterator[Finding]:
    """Of a service of three phases, in the set whose drives load its neutral most."""
    sets = (neutral_of_phases(choice, plan, running) for running in running_sets(choice, plan))
    worst = max((each for each in sets if each), key=lambda each: rms(each[0]), default=None)
    if worst is None:
        return
    neutral, lines = worst
    fullest = max(lines, key=rms)
    amps = rms(fullest)
    if amps > 0.0:
        third = abs(fullest[2]) / amps
        yield from harmonics_in_the_neutral(rms(neutral), amps, third, SERVICE).findings


def _leakage(choice: Choice, plan: Solution) -> Iterator[Finding]:
    """Of all drives behind the device at the intake, and behind that of each place."""
    facts, drives = choice.facts, list(_leaking(choice, plan))
    if not drives:
        return
    whole = [ma for _, ma in drives]
    yield from _device(facts.shop.supply.residual_current, whole, SERVICE, "supply")
    for number, place in enumerate(facts.shop.places):
        here = [ma for where, ma in drives if where == place.name]
        if here:
            at = f"places[{number}]"
            yield from _device(place.residual_current, here, place.name, at)
            yield from earth_conductor(sum(here), place.name).findings


def _device(
    device: ResidualCurrent | None, leak_ma: list[float], subject: str, at: str
) -> Iterator[Finding]:
    """What a residual-current device that is there says to these drives."""
    if device is None:
        return
    rating_ma = None if device.rating is None else 1000.0 * device.rating.number
    rated = f"{at}.residual_current.rating"
    yield from standing_leakage(sum(leak_ma), rating_ma, subject, rated).findings
    path = f"{at}.residual_current.type"
    yield from device_type(len(leak_ma), device.type, subject, path).findings


def _leaking(choice: Choice, plan: Solution) -> Iterator[tuple[str, float]]:
    """Place and leakage [mA] of every drive, a shared one once; behind an isolating transformer
    what leaks does not pass a device ahead of it."""
    on = shared_of(choice.facts, choice.states[plan.state])
    shared_drive_told = False
    for unit, this in enumerate(choice.facts.units):
        of = drive_figures(choice, plan, unit)
        if of is None or of.leakage_ma is None:
            continue
        option = choice.options[plan.options[unit]]
        if option.shared:
            if on is not None and not shared_drive_told:
                yield on.place, of.leakage_ma.number
            shared_drive_told = True
            continue
        if not behind_isolation(choice, unit, option):
            yield this.place, of.leakage_ma.number
