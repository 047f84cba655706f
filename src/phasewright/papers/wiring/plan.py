"""The wiring of a plan: which circuit each of its motors, and what they share, is given."""

from __future__ import annotations

import math
from dataclasses import replace

from phasewright.papers.wiring.boards import Distribution, distribution
from phasewright.papers.wiring.circuits import control_to, sized
from phasewright.papers.wiring.control import ControlSupply
from phasewright.papers.wiring.draft import Draft
from phasewright.papers.wiring.drive import own_drive, shared_drive
from phasewright.papers.wiring.halting import ON_CONTACTOR, ON_DRIVE
from phasewright.papers.wiring.hanging import control_volts
from phasewright.papers.wiring.hung import feed_of, hanging, shared_feed
from phasewright.papers.wiring.intake import Service, consumer
from phasewright.papers.wiring.job import Job, there_already
from phasewright.papers.wiring.later import later
from phasewright.papers.wiring.machine import on_three_lines, on_two_wires
from phasewright.papers.wiring.model import There, Unit, Wiring
from phasewright.papers.wiring.origin import own_residual
from phasewright.papers.wiring.own_box import own_box
from phasewright.papers.wiring.shared import shared_source
from phasewright.papers.wiring.wanted import wanted
from phasewright.plan.facts import motors_of
from phasewright.plan.study import PlanMotor, PlanSide, Study
from phasewright.shop.model import Shop
from phasewright.tables.shared_sources import three_phase_volts

Rails = tuple[tuple[str, str], ...]
NAMED = 0.03
"""Share by which volts may differ from their name: 230 and 231, 400 and 398."""


def wiring_of(shop: Shop, study: Study, plan: PlanSide) -> Wiring:
    """The wiring of a plan, as the electrical check (`check.faults`) is to look at it."""
    job = Job(shop, study, plan, {each.id: each for each in motors_of(shop)})
    generates = any(each.way in ("rotary_converter", "static_converter", "capacitor_run")
                    for each in plan.motors)  # fmt: skip
    service = _service(job)
    draft = Draft(
        shop.region, shop.supply.earthed, generates, line_v=service.line_v,
        supply_v=_single_phase_v(service, shop.supply.voltage.number),
        contacts=_stop_contacts(job),
    )  # fmt: skip
    boards = distribution(draft, job, service)
    sources = _shared(draft, job, boards)
    for each in sorted(plan.motors, key=lambda one: list(job.motors).index(one.motor)):
        _motor(draft, job, each, boards, sources)
    for number, other in enumerate(study.others, 1):
        amps = None if other.current_a is None else other.current_a.number
        pair = boards.pair(job.place(other.id))
        consumer(draft, number, other.id, pair, amps, job.origin(other.id))
    units = {name: f"=M{number}" for number, name in enumerate(job.motors, 1)}
    units |= {other.id: f"=E{number}" for number, other in enumerate(study.others, 1)}
    units |= {each.id: "=G1" for each in plan.equipment if each.id in sources}
    made = Wiring(
        plan.id,
        shop.region,
        shop.shop,
        tuple(sorted(draft.units, key=_in_order)),
        tuple(draft.devices),
        tuple(draft.conductors),
        tuple(draft.unwired),
        wanted(job, units, frozenset(draft.unwired)),
        later(job, sources),
        tuple(There(each.name, each.current.number) for each in shop.supply.other_loads),
    )  # fmt: skip
    return sized(made, plan, units, boards.feeders)


def _service(job: Job) -> Service:
    """What comes in today, or the three-phase service of the plan: where volts are named line to
    neutral it has a neutral, on which all that is single-phase hangs."""
    shop, plan = job.shop, job.plan
    volts = shop.supply.voltage.number
    bought = next((each for each in plan.equipment if each.way == "utility_service"), None)
    there = there_already(shop.supply.residual_current, plan.circuits or ())
    if bought is not None:
        neutral = shop.region == "IEC"
        line_v = three_phase_volts(shop.region, volts)[0]
        return Service(3, neutral, bought.rating, "main fuses of the new service", line_v, there)
    rating = shop.supply.service_rating
    return Service(
        3 if shop.supply.kind == "three_phase" else 2, False,
        None if rating is None else rating.number, "main fuse or breaker of the supply, as it is",
        volts, there,
    )  # fmt: skip


def _single_phase_v(of: Service, named_v: float) -> float:
    """Volts on which all that is single-phase hangs: as the shop names them, where the service
    gives them to within a few per cent."""
    given = of.line_v / math.sqrt(3.0) if of.neutral else of.line_v
    return named_v if abs(given / named_v - 1.0) <= NAMED else given


def _stop_contacts(job: Job) -> dict[str, int]:
    """How many contacts the emergency stop of each machine needs for all its motors."""
    found: dict[str, int] = {}
    for each in job.plan.motors:
        kind = job.wiring_kind(each)
        if kind == "none":
            continue
        machine = each.motor.partition("/")[0]
        count = ON_DRIVE if kind in ("drive", "shared_drive") else ON_CONTACTOR
        found[machine] = found.get(machine, 0) + count
    return found


def _in_order(unit: Unit) -> tuple[int, int]:
    """The intake, what is shared, the boards, the motors, the other consumers."""
    return "GME".index(unit.id[1]), int(unit.id[2:])


def _shared(draft: Draft, job: Job, boards: Distribution) -> dict[str, Rails]:
    """What several motors hang on, and its outlets by the equipment's id."""
    found: dict[str, Rails] = {}
    for each in job.plan.equipment:
        place = job.place(each.id)
        if each.way == "shared_drive":
            on = [one for one in job.plan.motors if one.motor in each.serves]
            words = each.id[0].upper() + each.id[1:]
            shared_drive(
                draft, words, shared_feed(job, each, on), [hanging(job, one) for one in on],
                boards.feed(place, _three_lines(job, each.id)),
            )  # fmt: skip
            found[each.id] = ()
        elif each.way in ("rotary_converter", "electronic_converter"):
            found[each.id] = shared_source(draft, job, each, boards.pair(place))
    return found


def _three_lines(job: Job, *ends: str) -> bool:
    return any(each.lines == "1-2-3" for each in job.circuits(*ends))


def _motor(
    draft: Draft, job: Job, each: PlanMotor, boards: Distribution, sources: dict[str, Rails]
) -> None:
    kind = job.wiring_kind(each)
    if kind == "none":
        draft.unwired.append(each.motor)
        return
    if kind == "shared_drive":
        return
    of = hanging(job, each)
    if kind != "drive":
        control = _control_supply(draft, job, each, boards)
        of = replace(of, control=replace(control, plugged=of.origin.socket is not None))
    place = job.place(each.motor, each.equipment or "", f"transformer {each.motor}")
    pair = boards.pair(place)
    if kind == "three_lines":
        shared = sources.get(each.equipment or "")
        rails = boards.lines(place) if shared is None else shared
        neutral = [rail for rail in rails if rail[1] == "N" and of.machine.needs_neutral]
        rails = (*(rail for rail in rails if rail[1] != "N"), *neutral)
        on_three_lines(draft, of, rails)
    elif kind == "drive":
        feed = feed_of(job, each)
        three = feed.transformer is None and _three_lines(job, each.equipment or "")
        own_drive(draft, of, feed, boards.feed(place, three))
    elif kind == "own_box":
        own_box(draft, of, pair, (each.way or "").replace("_", " "))
    else:
        on_two_wires(draft, of, pair)


def _control_supply(draft: Draft, job: Job, each: PlanMotor, boards: Distribution) -> ControlSupply:
    """The control circuit of a machine on three lines: from its board, where the volts are the
    shop's own, for its first motor that has control terminals; from these for the others."""
    machine = job.machine(each.motor)
    pair = boards.pair(job.place(control_to(machine.name)))
    volts = control_volts(machine, draft.supply_v)
    carry = (pair[0][1], pair[1][1])
    made = draft.controls.get(machine.name)
    if made is not None:
        return ControlSupply(
            (made[0][0], made[1][0]), volts, ready=True, carry=carry, volts=draft.supply_v
        )
    return ControlSupply(
        (pair[0][0], pair[1][0]), volts, own_circuit=True, carry=carry, volts=draft.supply_v,
        residual=next((leak for each in job.controls(control_to(machine.name))
                       if (leak := own_residual(each)) is not None), None),
    )  # fmt: skip
