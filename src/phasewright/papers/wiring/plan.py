"""The wiring of a plan: which circuit each of its motors, and what they share, is given."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from phasewright.machines.motor import Motor
from phasewright.papers.wiring.banks import Can, cans_of, parted
from phasewright.papers.wiring.circuits import sized
from phasewright.papers.wiring.control import ControlSupply
from phasewright.papers.wiring.converter import (
    BuiltConverter,
    Idler,
    built_converter,
    ready_converter,
)
from phasewright.papers.wiring.draft import Draft
from phasewright.papers.wiring.drive import DriveFeed, own_drive, shared_drive
from phasewright.papers.wiring.intake import Service, consumer, intake
from phasewright.papers.wiring.machine import Hanging, control_volts, on_three_lines, on_two_wires
from phasewright.papers.wiring.model import Unit, Wiring
from phasewright.papers.wiring.own_box import GENERATOR, generator, own_box
from phasewright.papers.wiring.parts import LINES
from phasewright.papers.wiring.terminals import BOXES, TerminalBox, box_of, speed_box
from phasewright.plan.facts import motors_of
from phasewright.plan.study import PlanEquipment, PlanMotor, PlanSide, Study
from phasewright.quantities.units import format as shown
from phasewright.shop.model import Shop
from phasewright.ways.figures import Buy, Part, RunCapacitance

Rails = tuple[tuple[str, str], ...]
DRIVES = ("drive_per_motor", "step_up_drive", "three_phase_input_drive")


@dataclass(frozen=True, slots=True)
class Job:
    """A shop, its answer, the plan that is drawn, and every motor as it was read."""

    shop: Shop
    study: Study
    plan: PlanSide
    motors: dict[str, Motor]

    def buys(self, motor: str, way: str) -> tuple[Buy, ...]:
        """What is bought today for this motor alone."""
        return tuple(
            each
            for each in self.plan.buys
            if each.kind == way and each.year == 0 and each.serves == (motor,)
        )

    def parts(self, motor: str, way: str) -> tuple[Part, ...]:
        """The parts of it."""
        return tuple(part for each in self.buys(motor, way) for part in each.parts)


def wiring_of(shop: Shop, study: Study, plan: PlanSide) -> Wiring:
    """The wiring of a plan, as the electrical check (`check.faults`) is to look at it."""
    job = Job(shop, study, plan, {each.id: each for each in motors_of(shop)})
    generates = any(each.way in ("rotary_converter", "static_converter", "capacitor_run")
                    for each in plan.motors)  # fmt: skip
    draft = Draft(shop.region, shop.supply.earthed, generates)
    service = _service(shop, plan)
    comes = intake(draft, f"Intake of {shop.shop}", service)
    rails = tuple(comes[each] for each in (*LINES[: service.lines], "PE"))
    pair = (comes["L1"], comes["N" if service.neutral else "L2"], comes["PE"])
    sources = _shared(draft, job, pair)
    for each in sorted(plan.motors, key=lambda one: list(job.motors).index(one.motor)):
        _motor(draft, job, each, rails, pair, sources)
    for number, other in enumerate(study.others, 1):
        amps = None if other.current_a is None else other.current_a.number
        consumer(draft, number, other.id, pair, amps)
    made = Wiring(
        plan.id,
        shop.region,
        shop.shop,
        tuple(sorted(draft.units, key=_in_order)),
        tuple(draft.devices),
        tuple(draft.conductors),
        tuple(draft.unwired),
    )  # fmt: skip
    units = {name: f"=M{number}" for number, name in enumerate(job.motors, 1)}
    units |= {other.id: f"=E{number}" for number, other in enumerate(study.others, 1)}
    units |= {each.id: "=G1" for each in plan.equipment if each.id in sources}
    return sized(made, plan, units)


def _service(shop: Shop, plan: PlanSide) -> Service:
    """What comes in today, or the three-phase service of the plan: where volts are named line to
    neutral it has a neutral, on which all that is single-phase hangs."""
    bought = next((each for each in plan.equipment if each.way == "utility_service"), None)
    if bought is not None:
        return Service(3, shop.region == "IEC", bought.rating, "main fuses of the new service")
    rating = shop.supply.service_rating
    return Service(
        3 if shop.supply.kind == "three_phase" else 2, False,
        None if rating is None else rating.number, "main fuse or breaker of the supply, as it is",
    )  # fmt: skip


def _in_order(unit: Unit) -> tuple[int, int]:
    """The intake, what is shared, the motors, the other consumers."""
    return "GME".index(unit.id[1]), int(unit.id[2:])


def _shared(draft: Draft, job: Job, pair: Rails) -> dict[str, Rails]:
    """What several motors hang on, and its outlets by the equipment's id."""
    found: dict[str, Rails] = {}
    for each in job.plan.equipment:
        buy = _shared_buy(job, each)
        kinds = () if buy is None else tuple(part.kind for part in buy.parts)
        if each.way == "rotary_converter":
            if buy is not None and "idler_motor" in kinds:
                found[each.id] = built_converter(draft, _built(job, each, buy), pair)
            else:
                found[each.id] = ready_converter(
                    draft, _words(each), pair, resistor="start_resistor" in kinds,
                    box_kind="converter",
                )  # fmt: skip
        elif each.way == "electronic_converter":
            if each.id == GENERATOR:
                found[each.id] = generator(draft, _words(each), pair[-1])
            else:
                found[each.id] = ready_converter(
                    draft, _words(each), pair, resistor=False, box_kind="electronic_source"
                )
        elif each.way == "shared_drive":
            hung = tuple(_hanging(job, one) for one in job.plan.motors if one.motor in each.serves)
            feed = DriveFeed(each.rating, "ac_choke" in kinds)
            shared_drive(draft, _words(each), feed, hung, pair)
            found[each.id] = ()
    return found


def _words(each: PlanEquipment) -> str:
    words = f"{each.id} of {shown(each.rating, each.unit)}" if each.unit else each.id
    return words[0].upper() + words[1:]


def _shared_buy(job: Job, each: PlanEquipment) -> Buy | None:
    return next(
        (buy for buy in job.plan.buys if buy.kind == each.way and buy.serves == each.serves
         and buy.year == 0), None,
    )  # fmt: skip


def _motor(
    draft: Draft,
    job: Job,
    each: PlanMotor,
    rails: Rails,
    pair: Rails,
    sources: dict[str, Rails],
) -> None:
    if each.way is None:
        draft.unwired.append(each.motor)
        return
    of = _hanging(job, each)
    on_three = replace(of, control=_control_supply(draft, job, each, pair))
    kinds = of.parts
    if each.equipment in sources:
        if sources[each.equipment]:
            on_three_lines(draft, on_three, sources[each.equipment])
    elif kinds & set(DRIVES):
        own_drive(draft, of, _feed(job, each), pair)
    elif each.way in ("static_converter", "capacitor_run"):
        own_box(draft, of, pair, each.way.replace("_", " "))
    elif "motor_swap" in kinds or (each.way == "direct" and of.motor.phases == 1):
        on_two_wires(draft, of, pair)
    elif len(rails) == len(LINES) + 1:
        on_three_lines(draft, on_three, rails)
    else:
        draft.unwired.append(each.motor)


def _control_supply(draft: Draft, job: Job, each: PlanMotor, pair: Rails) -> ControlSupply:
    """The control circuit of a machine on three lines: from the intake, where the volts are the
    shop's own, for its first motor that has control terminals; from these for the others."""
    machine = each.motor.partition("/")[0]
    volts = control_volts(
        next(one for one in job.shop.machines if one.name == machine),
        job.shop.supply.voltage.number,
    )
    for unit in draft.units:
        if unit.subject.partition("/")[0] == machine and unit.id.startswith("=M"):
            made = [d for d in draft.devices if d.id == f"{unit.id}-X3" and f"{unit.id}-F2" in
                    {other.id for other in draft.devices}]  # fmt: skip
            if made:
                return ControlSupply(
                    (made[0].at("1"), made[0].at("2")), volts, ready=True,
                    carry=(pair[0][1], pair[1][1]),
                )  # fmt: skip
    return ControlSupply(
        (pair[0][0], pair[1][0]), volts, own_circuit=True, carry=(pair[0][1], pair[1][1])
    )


def _hanging(job: Job, each: PlanMotor) -> Hanging:
    motor = job.motors[each.motor]
    number = list(job.motors).index(each.motor) + 1
    machine = next(one for one in job.shop.machines if one.name == motor.machine)
    wants = machine.motor(motor.name).wants
    parts = job.parts(each.motor, each.way or "")
    return Hanging(
        f"=M{number}", motor, machine, _box(job, each, motor),
        None if each.overload_setting_a is None else each.overload_setting_a.number,
        job.shop.supply.voltage.number, frozenset(part.kind for part in parts),
        _carried(job, each, parts), reverses=wants.reverse, speed_wanted=wants.speed is not None,
    )  # fmt: skip


def _box(job: Job, each: PlanMotor, motor: Motor) -> TerminalBox:
    region = job.shop.region
    if motor.speeds:
        own = motor.layout == "two_windings"
        strong = max(
            motor.speeds,
            key=lambda speed: (speed.on_drive.worst if speed.on_drive else 0.0,
                               speed.power_w.number),
        )  # fmt: skip
        return speed_box(
            region, own_windings=own, high=strong.name == "high",
            double_star=strong.winding == "double_star", words=strong.words,
        )  # fmt: skip
    link = next((one for one in motor.links if one.connection == each.connection), motor.link)
    return box_of(link, motor.plate.leads, region)


def _feed(job: Job, each: PlanMotor) -> DriveFeed:
    parts = {part.kind: part for part in job.parts(each.motor, each.way or "")}
    drive = next(parts[kind] for kind in DRIVES if kind in parts)
    steps = drive.kind == "step_up_drive"
    box = job.motors[each.motor]
    link = next((one for one in box.links if one.connection == each.connection), box.link)
    before = any("transformer" in kind for kind in parts)
    return DriveFeed(
        drive.rating, "ac_choke" in parts,
        link.line_voltage_v if before and link is not None else None, steps, "isolator" in parts,
    )  # fmt: skip


def _carried(
    job: Job, each: PlanMotor, parts: Sequence[Part]
) -> tuple[tuple[Can, ...], tuple[Can, ...]]:
    """The cans that are switched with this motor, by their pair of lines."""
    figures = each.figures.travelling_capacitance_f or ()
    own = next((one for one in figures if one.motor == each.motor), None)
    if own is None:
        return (), ()
    second, first = parted(cans_of(parts), own.c23.number, own.c31.number)
    return first, second


def _built(job: Job, each: PlanEquipment, buy: Buy) -> BuiltConverter:
    figures = each.figures
    run = figures.run_capacitance_f
    start = figures.idler_start
    banks: tuple[tuple[Can, ...], tuple[Can, ...]] = ((), ())
    if isinstance(run, RunCapacitance):
        banks = parted(cans_of(buy.parts), run.c31.number, run.c23.number)
    relays = [part.rating for part in buy.parts if part.kind == "overload_relay"]
    idlers = [
        part for part in buy.parts if part.kind == "idler_motor" for _ in range(part.quantity)
    ]
    settings = [*relays, *[None] * len(idlers)]
    contactors = [part.rating for part in buy.parts if part.kind == "contactor"]
    method = "direct" if start is None else start.method
    kinds = {part.kind for part in buy.parts}
    return BuiltConverter(
        _words(each),
        tuple(
            Idler(part.rating, settings[k], _idler_box(job))
            for k, part in enumerate(idlers)
        ),
        banks,
        tuple(
            Can(part.rating, owned=part.owned)
            for part in buy.parts if part.kind == "start_capacitor" for _ in range(part.quantity)
        ),
        "series_resistor" if "start_resistor" in kinds
        else "pony_motor" if "pony_motor" in kinds or method == "pony_motor" else "direct",
        None if start is None or start.resistor_ohm is None else start.resistor_ohm.number,
        max(contactors, default=None),
    )  # fmt: skip


def _idler_box(job: Job) -> TerminalBox:
    """An idler is linked for the supply's own volts: six ends in delta, or nine for the low
    voltage in star, as such idlers are sold (common practice, no source)."""
    if job.shop.region == "NEC":
        return replace(BOXES["9", False, "low_voltage"], words="nine leads, low voltage")
    return replace(BOXES["6", True, "delta"], words="six ends, delta")
