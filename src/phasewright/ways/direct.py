"""Motors and consumers that need no conversion: single-phase ones on lines 1 and 2."""

from __future__ import annotations

from phasewright.quantities.codes import WayName
from phasewright.quantities.finding import Reason
from phasewright.quantities.value import Value, exact, figure
from phasewright.ways import wishes
from phasewright.ways.asked import Asked
from phasewright.ways.conditions import demand_ratio, typical_ratio
from phasewright.ways.figures import Figures, Range
from phasewright.ways.mains import over_room, over_surge, surge_not_known
from phasewright.ways.site import Site
from phasewright.ways.way import Draw, Judgement, Offer, Service, Task, refused, verdict_of

NAME: WayName = "direct"
STARTING_RATIO = 6.0
"""Starting amps of a single-phase motor over its plate's where none are stamped (common
practice, no source)."""


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
    motor = task.motor
    if motor.circuit is None and motor.kind in ("dc", "commutator", "torque"):
        return refused(NAME, *motor.reasons)
    if site.supply_kind != "three_phase":
        return refused(
            NAME,
            Reason("needs_three_lines", "A three-phase motor does not start on two lines."),
        )
    if motor.link is None:
        return refused(NAME, *motor.link_reasons)
    return Judgement(
        NAME,
        "suits",
        link=motor.link,
        reasons=(
            Reason("three_lines_are_there", "The supply has the three lines of its volts."),
            Reason("link", motor.link.words),
            Reason("in_plans", "In plans it hangs on the three-phase service that is there."),
        ),
        figures=Figures(usable_power_w=motor.power_w),
    )


def _single_phase(task: Task, site: Site, current: Value) -> Judgement:
    stamped = task.motor.plate.starting_current
    start_a = (STARTING_RATIO if stamped is None else stamped) * current.number
    figures = Figures(
        input_current_a=Range(current.low, current, current.high),
        usable_power_w=task.motor.power_w,
        price=exact(0.0, "", "assumed", "nothing to buy"),
    )
    against = over_room(site, current.number, "It draws") + over_surge(site, start_a, "It")
    if against:
        return refused(NAME, *against, figures=figures)
    asked: Asked = wishes.without_drive(task.machine, task.motor, lone=None)
    asked += surge_not_known(site, start_a)
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
    near = min(pairs, key=lambda pair: abs(pair[0] / site.source.voltage_v - 1.0))
    if abs(near[0] / site.source.voltage_v - 1.0) > 0.15:
        return None
    return figure(
        near[1], "A", "plate current at the supply's volts",
        {"plate volts": (near[0], "V"), "supply": (site.source.voltage_v, "V")}, "plate",
    )  # fmt: skip


def _service(task: Task, site: Site, current_a: float, start_a: float) -> Service:
    """Draws from the plate; a single-phase motor is not computed, so every load is the plate's."""
    plate, volts = task.motor.plate, site.source.voltage_v
    apparent = volts * current_a
    power = apparent * plate.power_factor if plate.power_factor is not None else apparent
    reactive = max(0.0, apparent**2 - power**2) ** 0.5
    whole = Draw(power, reactive)
    load = task.motor.load
    share = 1.0 if load is None else min(1.0, typical_ratio(load) / max(demand_ratio(load), 1e-9))
    return Service(whole, Draw(power * share, reactive), whole, start_a)
