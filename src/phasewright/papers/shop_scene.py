"""What the drawing of a shop tells: service, sources of three phases, machines, in words and amps.

Made from the shop alone, or from the shop with its study and one plan; nothing is computed, every
figure is the study's. Where something is wrong its words go with the thing itself.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from urllib.parse import urlencode

from phasewright.papers.shop_parts import Drop, Room, Scene, Source, Stand
from phasewright.papers.shop_wrong import NO_POWER, called, findings_here, wrong_at
from phasewright.plan.study import PlanEquipment, PlanSide, Study
from phasewright.quantities.codes import Connection, WayName
from phasewright.quantities.finding import Finding
from phasewright.quantities.told import amount
from phasewright.quantities.words import WAY_SHORT, WAY_WORDS
from phasewright.shop.machine import Consumer, Machine, Motor, motor_id
from phasewright.shop.model import Shop
from phasewright.shop.supply import Feeder, Place

LEAST_UNBALANCE = 0.0005
"""An unbalance below this is none."""
LEAST_FALL = 0.01
"""A fall of the supply's volts below this is not told by its size."""
SUPPLY_WORDS = {
    "single_phase": "two wires", "split_phase": "two lines and a centre",
    "three_phase": "three phases", "generator": "a generator", "inverter": "a battery inverter",
}  # fmt: skip
_LINKED: dict[Connection, str] = {
    "delta": "in delta", "star": "in star", "low_voltage": "low-voltage link",
    "high_voltage": "high-voltage link",
}  # fmt: skip


_VARIANTS = (
    ("star_point_out", "its star point brought out, with a drive"),
    ("rewind", "rewound, with a drive"),
    ("single_phase_motor", "a single-phase motor in its place"),
)
"""Variants of `motor_swap` by the part that makes them."""


def scene(shop: Shop, study: Study | None, plan: PlanSide | None) -> Scene:
    """The shop with what a plan makes of it; without one the machines stand there unconnected."""
    findings = findings_here(study, plan)
    sources = () if plan is None else tuple(_source(one, plan, findings) for one in _shared(plan))
    stands = tuple(
        _stand(place, machine, study, plan, {s.id for s in sources}, findings)
        for place, machine in enumerate(shop.machines)
    )
    return Scene(
        name=shop.shop,
        plan="" if plan is None else plan.title,
        lines=3 if shop.supply.kind == "three_phase" else 2,
        supply=_supply(shop, study, plan),
        fuse=_fuse(shop),
        feeder=_feeder(shop),
        amps=None if plan is None else plan.supply_current_a.running,
        wrong=wrong_at(findings, dict.fromkeys(("supply", "service", "feeder"), "")),
        sources=sources,
        stands=stands,
        rooms=tuple(_rooms(shop, stands, findings)),
    )


def _rooms(shop: Shop, stands: tuple[Stand, ...], findings: list[Finding]) -> Iterator[Room]:
    """The machines by where they stand: those at the intake first, then place by place."""
    at_intake = tuple(stand for stand in stands if not stand.room)
    if at_intake:
        yield Room("", "", (), (), at_intake)
    for number, place in enumerate(shop.places):
        here = tuple(stand for stand in stands if stand.room == place.name)
        if here:
            wrong = wrong_at(findings, {place.name: "", f"feeder to {place.name}": ""})
            yield Room(place.name, f"things/place/{number}", _of_place(place), wrong, here)


def _of_place(place: Place) -> tuple[str, ...]:
    """What is told of a place, in one sentence; none where nothing is."""
    told = [_cable(place.feeder)] if place.feeder is not None else []
    if place.electrode is not None:
        told.append(f"an earth rod of {amount(place.electrode.number, 'ohm')}")
    device = place.residual_current
    if device is not None and device.rating is not None:
        told.append(f"a residual-current device of {1000.0 * device.rating.number:g} mA")
    told += [word for word, is_so in (("dusty", place.dust), ("damp", place.damp)) if is_so]
    told = [part for part in told if part]
    return (_sentence("", told),) if told else ()


def _shared(plan: PlanSide) -> Iterable[PlanEquipment]:
    """Equipment that several motors hang on, or that stands between supply and all."""
    alone = ("drive_per_motor", "step_up_drive", "motor_swap", "direct", "capacitor_run")
    return (one for one in plan.equipment if one.way not in alone)


def _supply(shop: Shop, study: Study | None, plan: PlanSide | None) -> tuple[str, ...]:
    supply = shop.supply
    told = [
        f"Supply: {SUPPLY_WORDS[supply.kind]}, {amount(supply.voltage.number, 'V')}, "
        f"{amount(supply.frequency.number, 'Hz')}."
    ]
    if plan is not None and plan.supply_current_a.running is not None:
        amps = f"It gives {amount(plan.supply_current_a.running.number, 'A')} at the most"
        room = None if study is None else study.supply.headroom_a
        chosen = study is not None and plan.id == study.answer.plan
        if room is not None and chosen:
            amps += f"; {amount(room.number, 'A')} are left"
        told.append(amps + ".")
    if plan is not None and plan.voltage_dip is not None:
        fall = plan.voltage_dip.ratio.number
        share = f"{fall:.0%}" if fall >= LEAST_FALL else "less than 1%"
        told.append(f"At the hardest start it falls by {share}.")
    return tuple(told)


def _fuse(shop: Shop) -> str:
    rating = shop.supply.service_rating
    if rating is not None:
        return f"main fuse {amount(rating.number, 'A')}"
    limit = shop.supply.contracted_power
    return "" if limit is None else f"limit {amount(limit.number, 'VA')}"


def _feeder(shop: Shop) -> str:
    return "" if shop.supply.feeder is None else _cable(shop.supply.feeder)


def _cable(feeder: Feeder) -> str:
    """A feeder in words; empty where nothing is told of it."""
    parts = []
    if feeder.length is not None:
        parts.append(amount(feeder.length.number, "m"))
    if feeder.conductor is not None:
        parts.append(f"{feeder.conductor.number * 1e6:.3g} mm² {feeder.material}")
    return f"feeder {' of '.join(parts)}" if parts else ""


def _source(one: PlanEquipment, plan: PlanSide, findings: list[Finding]) -> Source:
    told = [f"It makes three phases for {_count(one.serves)}."]
    if one.way == "shared_drive":
        told = [f"It drives {_count(one.serves)}, one at a time."]
    cases = [case for case in plan.cases if set(case.running) & set(one.serves)]
    uneven = [case.unbalance.vuf.number for case in cases if case.unbalance is not None]
    if uneven and max(uneven) >= LEAST_UNBALANCE:
        told.append(f"Unbalance up to {max(uneven):.1%}.")
    idle = one.figures.idle_power_w
    if idle is not None:
        told.append(f"Idle it takes {amount(idle.number, 'W')}.")
    told.append(_protected(plan, {one.id}))
    page = f"source?{urlencode({'plan': plan.id, 'id': one.id})}"
    return Source(
        one.id, page, one.way, f"{WAY_SHORT[one.way].capitalize()}, {amount(one.rating, one.unit)}",
        _carried(one, plan), tuple(filter(None, told)), wrong_at(findings, {one.id: ""}),
    )  # fmt: skip


def _protected(plan: PlanSide, ends: set[str]) -> str:
    """The breaker and the wire of the circuit that leads there, and its socket, in a sentence."""
    for circuit in plan.circuits or ():
        if circuit.to not in ends or circuit.device is None:
            continue
        device = circuit.device
        size = f"{device.curve}{device.rating_a:g}" if device.curve else f"{device.rating_a:g} A"
        told = [f"{device.kind.replace('_', ' ')} {size}"]
        if circuit.conductor is not None:
            told.append(circuit.conductor.replace("mm2", "mm²"))
        if circuit.socket is not None:
            told.append(f"socket {circuit.socket.rating_a:g} A")
        return _sentence("", told)
    return ""


def _carried(one: PlanEquipment, plan: PlanSide) -> float | None:
    """Amps of the motors that turn together on it, where most do."""
    amps = {
        m.motor: m.overload_setting_a.number for m in plan.motors
        if m.equipment == one.id and m.overload_setting_a is not None
    }  # fmt: skip
    sums = [sum(amps.get(motor, 0.0) for motor in case.running) for case in plan.cases]
    return max(sums, default=0.0) or None


def _count(serves: tuple[str, ...]) -> str:
    return "one motor" if len(serves) == 1 else f"{len(serves)} motors"


def _stand(
    place: int,
    machine: Machine,
    study: Study | None,
    plan: PlanSide | None,
    sources: set[str],
    findings: list[Finding],
) -> Stand:
    drops = tuple(_drop(machine, motor, study, plan, sources) for motor in machine.motors)
    planned = machine.have == "planned"
    hangs = {motor_id(machine, motor) for motor in machine.motors}
    dead = [m.motor for m in (plan.motors if plan else ()) if m.motor in hangs and m.way is None]
    decided = plan is not None and any(entry.motor in hangs for entry in plan.motors)
    told = [drop.words for drop in drops] + [_consumer(other) for other in machine.others]
    if planned:
        told.insert(0, _to_come(machine))
    return Stand(
        place, machine.name, machine.motors[0].load.kind if machine.motors else "other", drops,
        tuple(told),
        (*((NO_POWER,) if dead else ()), *wrong_at(findings, called(machine))),
        planned, decided, machine.place, _on_the_line(machine) if planned else "",
    )  # fmt: skip


def _consumer(other: Consumer) -> str:
    """A consumer that is no motor."""
    size = ""
    if other.power is not None:
        size = amount(other.power.number, "W")
    elif other.current is not None:
        size = amount(other.current.number, "A")
    return _sentence("", [other.kind.replace("_", " "), size])


def _to_come(machine: Machine) -> str:
    chance = "" if machine.chance is None else f", {machine.chance:.0%} likely"
    when = "" if machine.year is None else f" in {machine.year:g} years"
    return f"May come{when}{chance}."


def _on_the_line(machine: Machine) -> str:
    """Chance and year of a machine to come, as few letters as stand beside a line."""
    year = "" if machine.year is None else f"year {machine.year:g}"
    chance = "" if machine.chance is None else f"{machine.chance:.0%}"
    return ", ".join(filter(None, (year, chance))) or "may come"


def _drop(
    machine: Machine, motor: Motor, study: Study | None, plan: PlanSide | None, sources: set[str]
) -> Drop:
    name = motor_id(machine, motor)
    lead = "" if len(machine.motors) == 1 else f"{motor.name}: "
    side = None if study is None else next((m for m in study.motors if m.id == name), None)
    built = None if plan is None else next((m for m in plan.motors if m.motor == name), None)
    power = motor.plate.power
    size = amount(power[0].number, "W") if power else ""
    if side is not None and side.rated_power_w is not None:
        size = amount(side.rated_power_w.number, "W")
    if built is None:
        amps = None if side is None else side.full_load_current_a
        told = [size, "" if amps is None else amount(amps.number, "A")]
        return Drop(motor.name, None, "", amps, _sentence(lead, told))
    amps = built.overload_setting_a
    if amps is None and side is not None:
        amps = side.full_load_current_a
    if built.way is None:
        return Drop(motor.name, None, "", amps, _sentence(lead, [size]))
    source = built.equipment if built.equipment in sources else ""
    link = _LINKED.get(built.connection, "") if built.connection else ""
    way = next((w for w in (side.ways if side else ()) if w.way == built.way), None)
    volts = None if way is None else way.line_voltage_v
    told = [
        size,
        "" if amps is None else amount(amps.number, "A"),
        f"{link} at {amount(volts.number, 'V')}" if volts is not None and link else link,
        "" if source else _way_words(name, built.way, plan),
    ]
    ends = {name, machine.name} if source else {name, built.equipment or name}
    ahead = "" if plan is None else _protected(plan, ends)
    words = f"{_sentence(lead, told)} {ahead}".rstrip()
    return Drop(motor.name, built.way, source or "", amps, words)


def _way_words(motor: str, way: WayName, plan: PlanSide | None) -> str:
    """What a motor hangs on by itself; of another motor in its place, which variant it is."""
    bought = {
        part.kind
        for buy in (() if plan is None else plan.buys)
        if motor in buy.serves and buy.kind == way
        for part in buy.parts
    }
    return next((words for kind, words in _VARIANTS if kind in bought), WAY_WORDS[way])


def _sentence(lead: str, told: Iterable[str]) -> str:
    words = lead + ", ".join(part for part in told if part)
    return words[:1].upper() + words[1:] + "."
