"""Motors that need no conversion: single-phase ones on lines 1 and 2, all on three real lines."""

from __future__ import annotations

import math

from phasewright.quantities.codes import WayName
from phasewright.quantities.finding import Reason
from phasewright.quantities.value import Value, exact, figure
from phasewright.ways import wishes
from phasewright.ways.asked import Asked, condition
from phasewright.ways.conditions import demand_ratio, typical_ratio
from phasewright.ways.figures import Figures, Range
from phasewright.ways.mains import over_room, over_surge, surge_not_known
from phasewright.ways.motor_kind import kept_out
from phasewright.ways.site import Site
from phasewright.ways.three_phase_supply import judged_on_three_lines
from phasewright.ways.way import Draw, Judgement, Offer, Service, Task, refused, verdict_of

NAME: WayName = "direct"
STARTING_RATIO = 6.0
"""Starting amps of a single-phase motor over its plate's where none are stamped (common
practice, no source)."""
FITS = 0.15
"""Stamped volts this close to the supply's are taken to be meant for it."""


def judge(task: Task, site: Site) -> Judgement:
    """A single-phase motor of the supply's own volts runs directly; a three-phase one does not."""
    if task.motor.three_phase:
        return _three_phase(task, site)
    current = _stamped_current(task, site)
    if current is None:
        return refused(
            NAME,
            Reason(
                "current_not_known",
                "A single-phase motor runs directly on a supply of its stamped volts; give the "
                "plate's volts and amps, so that the circuit can be judged.",
            ),
        )
    return _single_phase(task, site, current)


def _three_phase(task: Task, site: Site) -> Judgement:
    """A three-phase motor: refused on two lines; on three of its volts it runs as it is."""
    against = kept_out(task.motor, task.machine, "utility_service")
    if against and task.motor.kind in ("dc", "commutator", "torque"):
        return refused(NAME, *against)
    if site.supply_kind != "three_phase":
        return refused(
            NAME,
            Reason("needs_three_lines", "A three-phase motor does not start on two lines."),
        )
    if against:
        return refused(NAME, *against)
    return judged_on_three_lines(NAME, task, site)


def _single_phase(task: Task, site: Site, current: Value) -> Judgement:
    stamped = task.motor.plate.starting_current
    start_a = (STARTING_RATIO if stamped is None else stamped) * current.number
    figures = _figures(task, site, current, start_a)
    against = over_room(site, current.number, "It draws") + over_surge(site, start_a, "It")
    if against:
        return refused(NAME, *against, figures=figures)
    asked: Asked = wishes.without_drive(task.machine, task.motor, lone=None)
    asked += surge_not_known(site, start_a) + _of_neutral(task, site)
    return Judgement(
        NAME,
        verdict_of(asked.conditions),
        reasons=(Reason("no_conversion", "It needs no third line."), *asked.told),
        conditions=asked.conditions,
        figures=figures,
        offers=(
            Offer(
                service=_service(task, site, current.number, start_a),
                buys=(),
                items=(),
                labour_h=exact(0.0, "h", "assumed", "nothing to do"),
                upkeep_h_per_year=0.0,
            ),
        ),
    )


def _figures(task: Task, site: Site, current: Value, start_a: float) -> Figures:
    """From the plate alone: watts and power factor stand only where a power factor is stamped."""
    plate, volts = task.motor.plate, _single_volts(task, site)
    stamped = "plate" if plate.starting_current is not None else "common practice, no source"
    factor, watts = plate.power_factor, None
    if factor is not None:
        inputs = {"volts": (volts, "V"), "amps": (current.number, "A"), "factor": (factor, "")}
        watts = figure(volts * current.number * factor, "W", "ways.direct.judge", inputs, "plate")
    return Figures(
        input_current_a=Range(current.low, current, current.high),
        input_power_w=watts,
        input_power_factor=None if factor is None else exact(factor, "", "plate", "plate"),
        usable_power_w=task.motor.power_w,
        starting_current_a=figure(
            start_a, "A", "ways.direct.judge", {"amps": (current.number, "A")},
            f"times its starting amps over those ({stamped})",
        ),
        price=exact(0.0, "", "assumed", "nothing to buy"),
    )  # fmt: skip


def _stamped_current(task: Task, site: Site) -> Value | None:
    """The stamped amps that belong to the supply's volts; None where the plate gives none."""
    plate = task.motor.plate
    if not plate.current or not plate.voltage:
        return None
    volts = [value.number for value in plate.voltage]
    amps = sorted((value.number for value in plate.current), reverse=True)
    if len(amps) != len(volts):
        return plate.current[0] if len(amps) == 1 and len(volts) == 1 else None
    pairs = zip(sorted(volts), amps, strict=True)
    supply_v = _single_volts(task, site)
    near = min(pairs, key=lambda pair: abs(pair[0] / supply_v - 1.0))
    if abs(near[0] / supply_v - 1.0) > FITS:
        return None
    return figure(
        near[1], "A", "plate current at the supply's volts",
        {"plate volts": (near[0], "V"), "supply": (supply_v, "V")}, "plate",
    )  # fmt: skip


def _single_volts(task: Task, site: Site) -> float:
    """Volts the motor hangs on: of a three-phase supply those to the neutral where they fit."""
    between = site.source.voltage_v
    to_neutral = between / math.sqrt(3.0)
    stamped = [value.number for value in task.motor.plate.voltage]
    fits = any(abs(volts / to_neutral - 1.0) <= FITS for volts in stamped)
    return to_neutral if site.supply_kind == "three_phase" and fits else between


def _of_neutral(task: Task, site: Site) -> Asked:
    if _single_volts(task, site) == site.source.voltage_v:
        return Asked()
    return condition(
        "between_line_and_neutral",
        "It hangs between one line and the neutral: its place needs a neutral, and several such "
        "loads are to be spread over the three lines.",
    )


def _service(task: Task, site: Site, current_a: float, start_a: float) -> Service:
    """Draws from the plate; a single-phase motor is not computed, so every load is the plate's."""
    plate, volts = task.motor.plate, _single_volts(task, site)
    apparent = volts * current_a
    power = apparent * plate.power_factor if plate.power_factor is not None else apparent
    reactive = max(0.0, apparent**2 - power**2) ** 0.5
    load = task.motor.load
    share = 1.0 if load is None else min(1.0, typical_ratio(load) / max(demand_ratio(load), 1e-9))

    def draw(power_w: float) -> Draw:
        if volts == site.source.voltage_v:
            return Draw(power_w, reactive)
        return Draw(power_w, reactive, neutral_w=power_w, neutral_var=reactive)

    whole = draw(power)
    return Service(whole, draw(power * share), whole, start_a)
