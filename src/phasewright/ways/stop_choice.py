"""Which way of stopping a motor on a drive gets.

In this order, where a stop in a time is asked for: the ramp, the machine's own brake, direct
current, a brake resistor; else as such machines usually are. Common practice, no source.
"""

from __future__ import annotations

from phasewright.machines.performance import rated
from phasewright.quantities.codes import StopsBy
from phasewright.quantities.errors import TableEnds
from phasewright.quantities.units import format as printed
from phasewright.quantities.value import Value, figure
from phasewright.rules.register import below
from phasewright.rules.stopping import resistor_ohms
from phasewright.tables.stopping import (
    injection_heat_share,
    pulls_its_shaft,
    resistor_size_w,
    stops_by_ramp,
)
from phasewright.ways.asked import Asked, by_rules, condition, told
from phasewright.ways.drive_in_time import braked
from phasewright.ways.figures import BrakeResistorFigures, DcInjectionFigures
from phasewright.ways.purchase import item
from phasewright.ways.stop_case import Chosen, StopCase
from phasewright.ways.stop_means import ResistorStop, by_resistor


def chosen_of(case: StopCase, coasts: Value | None) -> Chosen:
    """The way of stopping; `coasts`: seconds until it rests with the drive off."""
    seconds, ramp = case.within_s, case.ramp
    if seconds is None:
        return _usual(case, coasts)
    if case.threaded and below(seconds, case.least_s):
        return Chosen("ramp" if ramp else "coasting", ramp or coasts, condition(
            "no_quick_stop",
            f"A stop within {seconds:g} s is not to be set while the chuck can unscrew: a ramp of "
            f"{printed(case.least_s, 's', 2)} is the least (common practice).",
        ))  # fmt: skip
    if below(seconds, case.least_s):
        load = case.motor.load
        assert load is not None
        return Chosen("ramp" if ramp else "coasting", ramp or coasts, condition(
            "no_quick_stop",
            f"A stop within {seconds:g} s is quicker than such a machine bears; a ramp of "
            f"{printed(case.least_s, 's', 2)} is the least (common practice): "
            f"{load.kind.stopping}.",
        ))  # fmt: skip
    if ramp is not None and ramp.number <= seconds:
        words = f"It stops within {seconds:g} s by the drive's ramp."
        return Chosen("ramp", ramp, told("stop_by_ramp", words))
    if case.own_brake:
        return Chosen("own_brake", None, told(
            "stop_by_own_brake",
            f"A stop within {seconds:g} s is for its own brake, the drive's output off first: the "
            f"ramp alone takes {'longer' if ramp is None else printed(ramp.number, 's', 2)}.",
        ))  # fmt: skip
    return _quicker(case, coasts, seconds)


def _usual(case: StopCase, coasts: Value | None) -> Chosen:
    """How such a machine is stopped where nobody asks for more."""
    load, ramp = case.motor.load, case.ramp
    assert load is not None
    if pulls_its_shaft(load.name) and case.own_brake:
        words = "Ramped down by the drive, then held by its own brake."
        return Chosen("own_brake", None, told("stops_by_own_brake", words))
    if ramp is not None and (stops_by_ramp(load.name) or pulls_its_shaft(load.name)):
        words = f"Stopped by the drive's ramp, set to {printed(ramp.number, 's', 2)} or more."
        return Chosen("ramp", ramp, told("stops_by_ramp", words))
    words = "Stopped by switching the drive's output off: it coasts."
    if load.name == "fan":
        words += " Let the drive catch it turning (flying start), or wait until it rests."
    if load.name == "hydraulic_pump":
        words += " Its oil stops it at once; no ramp is needed."
    return Chosen("coasting", coasts, told("stops_by_coasting", words))


def _quicker(case: StopCase, coasts: Value | None, seconds: float) -> Chosen:
    """A stop that the ramp alone does not reach."""
    of = case.injection
    if of is not None and case.wished and of.time_s.number <= seconds and _stays_cool(case, of):
        return Chosen("dc_injection", of.time_s, told(
            "stop_by_injection",
            f"It stops within {seconds:g} s by direct current of {of.current_a.number:.2g} A: in "
            f"{printed(of.time_s.number, 's', 2)}, with {of.heat_j.number:.0f} J of heat in the "
            "motor each time. It holds nothing at rest and is no emergency stop.",
        ))  # fmt: skip
    try:
        quick = None if case.threaded else braked(case.on)
        if quick is not None and quick.seconds is not None and quick.seconds <= seconds:
            found = by_resistor(case.on, case.motor, seconds)
            if found is not None:
                return _with_resistor(case, found, seconds)
    except TableEnds as end:
        return _unreached(case, coasts, "stop_not_known",
                          f"Whether it stops within {seconds:g} s: {end}.")  # fmt: skip
    reach = "quicker only by a mechanical brake"
    if quick is None or quick.seconds is None:
        reach = f"It needs {'a locking nose or ' if case.threaded else ''}a mechanical brake"
    else:
        reach = f"With a brake resistor about {printed(quick.seconds, 's', 2)}; {reach}"
    return _unreached(
        case, coasts, "stop_out_of_reach",
        f"A stop within {seconds:g} s is out of reach of a drive: {case.energy_words(seconds)} "
        f"would ask for {case.torque_ratio(seconds):.1f} times rated torque. {reach}.",
    )  # fmt: skip


def _unreached(case: StopCase, coasts: Value | None, code: str, words: str) -> Chosen:
    by: StopsBy = "ramp" if case.ramp is not None else "coasting"
    return Chosen(by, case.ramp or coasts, condition(code, words))


def _with_resistor(case: StopCase, found: ResistorStop, seconds: float) -> Chosen:
    of = found.figures
    size_w = resistor_size_w(of.w.number)
    bought = item("brake_resistor", size_w, "W", case.site.quotes)
    inputs = {"wished": (seconds, "s"), "ohms": (of.ohm.number, "ohm")}
    time, ramp = (
        figure(each, "s", "ways.stop_means.by_resistor", inputs, "the stop run in time, computed")
        for each in (found.seconds, found.ramp_s)
    )
    part_words = (
        f"{of.least_ohm.number:.2g} to {of.ohm.number:.2g} ohm, {size_w:g} W for ever and "
        f"{of.peak_w.number / 1e3:.2g} kW at its peak, at work {of.duty.number:.2%} of the time"
    )
    asked = condition(
        "stop_by_resistor",
        f"A stop within {seconds:g} s takes {case.energy_words(seconds)} away: the drive wants a "
        f"brake resistor ({part_words}), which is counted in the price. It gets hot enough to "
        "burn: clear of dust and hands, its thermal switch in the drive's enable.",
    )
    asked += by_rules(resistor_ohms(of.ohm.number, of.least_ohm.number, case.motor.id))
    asked += _owned_resistor(case, of, size_w)
    return Chosen("ramp_with_resistor", time, asked, ramp, found, (bought,))


def _owned_resistor(case: StopCase, of: BrakeResistorFigures, size_w: float) -> Asked:
    """A resistor on the shelf that would do; it is told, not counted: one serves one drive."""
    for part in case.site.owned:
        ohm, power = part.resistance, part.power
        if part.kind == "brake_resistor" and ohm is not None and power is not None:
            fits = of.least_ohm.number <= ohm.number <= of.ohm.number
            if fits and power.number >= of.w.number:
                return told(
                    "own_resistor",
                    f"Your brake resistor of {ohm.number:g} ohm and {power.number:g} W would do in "
                    f"place of one of {size_w:g} W; the price here is that of a new one.",
                )
    return Asked()


def _stays_cool(case: StopCase, of: DcInjectionFigures) -> bool:
    """Whether the heat of its stops, as a mean, is little beside its losses at rated load."""
    load = case.motor.load
    assert load is not None
    mean_w = of.heat_j.number * load.starts_per_hour.number / 3600.0
    return mean_w <= injection_heat_share() * rated(case.on.circuit).loss_w
