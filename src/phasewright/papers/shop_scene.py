"""What the drawing of a shop tells: service, sources of three phases, machines, in words and amps.

Made from the shop alone, or from the shop with its study and one plan; nothing is computed, every
figure is the study's. Where something is wrong its words go with the thing itself.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from urllib.parse import urlencode

from phasewright.papers.shop_parts import Drop, Room, Scene, Source, Stand, Told
from phasewright.papers.shop_said import consumer, feeder, fuse, of_place, on_the_line, to_come
from phasewright.papers.shop_told import Phrase, Piece, Where, both, sentence, told
from phasewright.papers.shop_wrong import NO_POWER, Found, called, findings_here, wrong_at
from phasewright.plan.study import MotorSide, PlanEquipment, PlanMotor, PlanSide, Study
from phasewright.quantities.codes import Connection, WayName
from phasewright.quantities.finding import Said
from phasewright.quantities.told import amount
from phasewright.quantities.value import Value
from phasewright.quantities.words import WAY_SHORT, WAY_WORDS
from phasewright.shop.machine import Machine, Motor, motor_id
from phasewright.shop.model import Shop

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
    where = None if study is None else Where(study, plan)
    sources = (
        () if plan is None or where is None
        else tuple(_source(seat, plan, where, findings) for seat in _shared(plan))
    )  # fmt: skip
    stands = tuple(
        _stand(place, machine, where, {s.id for s in sources}, findings)
        for place, machine in enumerate(shop.machines)
    )
    return Scene(
        name=shop.shop,
        plan=Told("")
        if where is None or plan is None
        else Told(plan.title, at=where.of_plan("title")),
        lines=3 if shop.supply.kind == "three_phase" else 2,
        supply=_supply(shop, where),
        fuse=fuse(shop),
        feeder=feeder(shop),
        amps=None if plan is None else plan.supply_current_a.running,
        wrong=wrong_at(findings, dict.fromkeys(("supply", "service", "feeder"), "")),
        sources=sources,
        stands=stands,
        rooms=tuple(_rooms(shop, stands, findings)),
    )


def _rooms(shop: Shop, stands: tuple[Stand, ...], findings: Found) -> Iterator[Room]:
    """The machines by where they stand: those at the intake first, then place by place."""
    at_intake = tuple(stand for stand in stands if not stand.room)
    if at_intake:
        yield Room("", "", (), (), at_intake)
    for number, place in enumerate(shop.places):
        here = tuple(stand for stand in stands if stand.room == place.name)
        if here:
            wrong = wrong_at(findings, {place.name: "", f"feeder to {place.name}": ""})
            yield Room(place.name, f"things/place/{number}", of_place(place), wrong, here)


def _shared(plan: PlanSide) -> Iterable[int]:
    """Places of the equipment that several motors hang on, or that stands between supply and all
    of them."""
    alone = ("drive_per_motor", "step_up_drive", "motor_swap", "direct", "capacitor_run")
    return (seat for seat, one in enumerate(plan.equipment) if one.way not in alone)


def _supply(shop: Shop, where: Where | None) -> tuple[Told, ...]:
    supply = shop.supply
    found = [
        told(
            f"Supply: {SUPPLY_WORDS[supply.kind]}, {amount(supply.voltage.number, 'V')}, "
            f"{amount(supply.frequency.number, 'Hz')}."
        )
    ]
    if where is None or where.plan is None:
        return tuple(found)
    plan, study = where.plan, where.study
    if plan.supply_current_a.running is not None:
        amps = amount(plan.supply_current_a.running.number, "A")
        pieces: list[str | Said] = [
            "It gives ", Said(amps, (where.of_plan("supply_current_a/running"),)), " at the most",
        ]  # fmt: skip
        room = study.supply.headroom_a
        if room is not None and plan.id == study.answer.plan:
            left = Said(amount(room.number, "A"), ("/supply/headroom_a",))
            pieces += ["; ", left, " are left"]
        found.append(told(*pieces, "."))
    if plan.voltage_dip is not None:
        fall = plan.voltage_dip.ratio.number
        share = f"{fall:.0%}" if fall >= LEAST_FALL else "less than 1%"
        at = where.of_plan("voltage_dip/ratio")
        found.append(told("At the hardest start it falls by ", Said(share, (at,)), "."))
    return tuple(found)


def _source(seat: int, plan: PlanSide, where: Where, findings: Found) -> Source:
    one = plan.equipment[seat]
    found = [told(f"It makes three phases for {_count(one.serves)}.")]
    if one.way == "shared_drive":
        found = [told(f"It drives {_count(one.serves)}, one at a time.")]
    uneven = [
        (case.unbalance.vuf.number, place) for place, case in enumerate(plan.cases)
        if case.unbalance is not None and set(case.running) & set(one.serves)
    ]  # fmt: skip
    if uneven and max(uneven)[0] >= LEAST_UNBALANCE:
        most, place = max(uneven)
        at = where.of_plan("cases", place, "unbalance/vuf")
        found.append(told("Unbalance up to ", Said(f"{most:.1%}", (at,)), "."))
    idle = one.figures.idle_power_w
    if idle is not None:
        at = where.of_plan("equipment", seat, "figures/idle_power_w")
        found.append(told("Idle it takes ", Said(amount(idle.number, "W"), (at,)), "."))
    guarded = _protected(where, {one.id})
    page = f"source?{urlencode({'plan': plan.id, 'id': one.id})}"
    return Source(
        one.id, page, one.way, f"{WAY_SHORT[one.way].capitalize()}, {amount(one.rating, one.unit)}",
        _carried(one, plan), (*found, *((guarded,) if guarded else ())),
        wrong_at(findings, {one.id: ""}),
        where.of_plan("equipment", seat),
    )  # fmt: skip


def _protected(where: Where | None, ends: set[str]) -> Told | None:
    """The breaker and the wire of the circuit that leads there, and its socket, in a sentence."""
    circuits = () if where is None or where.plan is None else where.plan.circuits or ()
    for seat, circuit in enumerate(circuits):
        if where is None or circuit.to not in ends or circuit.device is None:
            continue
        at = (where.of_plan("circuits", seat),)
        device = circuit.device
        size = f"{device.curve}{device.rating_a:g}" if device.curve else f"{device.rating_a:g} A"
        phrases: list[Phrase] = [(f"{device.kind.replace('_', ' ')} ", Said(size, at))]
        if circuit.conductor is not None:
            phrases.append(Said(circuit.conductor.replace("mm2", "mm²"), at))
        if circuit.socket is not None:
            phrases.append(("socket ", Said(f"{circuit.socket.rating_a:g} A", at)))
        return sentence("", phrases)
    return None


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
    place: int, machine: Machine, where: Where | None, sources: set[str], findings: Found
) -> Stand:
    drops = tuple(_drop(machine, motor, where, sources) for motor in machine.motors)
    planned = machine.have == "planned"
    hangs = {motor_id(machine, motor) for motor in machine.motors}
    motors = () if where is None or where.plan is None else where.plan.motors
    dead = [m.motor for m in motors if m.motor in hangs and m.way is None]
    decided = any(entry.motor in hangs for entry in motors)
    found = [drop.told for drop in drops] + [consumer(other) for other in machine.others]
    if planned:
        found.insert(0, to_come(machine))
    return Stand(
        place, machine.name, machine.motors[0].load.kind if machine.motors else "other", drops,
        tuple(found),
        (*((NO_POWER,) if dead else ()), *wrong_at(findings, called(machine))),
        planned, decided, machine.place, on_the_line(machine) if planned else "",
    )  # fmt: skip


def _drop(machine: Machine, motor: Motor, where: Where | None, sources: set[str]) -> Drop:
    name = motor_id(machine, motor)
    lead = "" if len(machine.motors) == 1 else f"{motor.name}: "
    side, built = _in_study(name, where)
    power = motor.plate.power
    size: Piece = amount(power[0].number, "W") if power else ""
    if where is not None and side is not None and side.rated_power_w is not None:
        watts = amount(side.rated_power_w.number, "W")
        size = Said(watts, (where.motor(name, "rated_power_w"),))
    amps, amps_at = _amps(name, where)
    told_amps: Piece = "" if amps is None else Said(amount(amps.number, "A"), (amps_at,))
    if built is None or where is None:
        return Drop(motor.name, None, "", amps, sentence(lead, [size, told_amps]), amps_at)
    if built.way is None:
        return Drop(motor.name, None, "", amps, sentence(lead, [size]), amps_at)
    source = built.equipment if built.equipment in sources else ""
    linked: Phrase = _LINKED.get(built.connection, "") if built.connection else ""
    way = next((w for w in (side.ways if side else ()) if w.way == built.way), None)
    volts = None if way is None else way.line_voltage_v
    if volts is not None and isinstance(linked, str) and linked:
        at = where.volts(name, built.way)
        linked = (f"{linked} at ", Said(amount(volts.number, "V"), (at,)))
    own = "" if source else _way_words(name, built.way, where.plan)
    ends = {name, machine.name} if source else {name, built.equipment or name}
    words = both(sentence(lead, [size, told_amps, linked, own]), _protected(where, ends))
    return Drop(motor.name, built.way, source or "", amps, words, amps_at)


def _in_study(name: str, where: Where | None) -> tuple[MotorSide | None, PlanMotor | None]:
    """A motor by itself and as the plan has it."""
    if where is None:
        return None, None
    side = next((m for m in where.study.motors if m.id == name), None)
    motors = () if where.plan is None else where.plan.motors
    return side, next((m for m in motors if m.motor == name), None)


def _amps(name: str, where: Where | None) -> tuple[Value | None, str]:
    """What flows in a motor's line: the setting of its overload relay, else its full load."""
    side, built = _in_study(name, where)
    if where is not None and built is not None and built.overload_setting_a is not None:
        seat = [m.motor for m in (where.plan.motors if where.plan else ())].index(name)
        return built.overload_setting_a, where.of_plan("motors", seat, "overload_setting_a")
    if where is None or side is None or side.full_load_current_a is None:
        return None, ""
    return side.full_load_current_a, where.motor(name, "full_load_current_a")


def _way_words(motor: str, way: WayName, plan: PlanSide | None) -> str:
    """What a motor hangs on by itself; of another motor in its place, which variant it is."""
    bought = {
        part.kind
        for buy in (() if plan is None else plan.buys)
        if motor in buy.serves and buy.kind == way
        for part in buy.parts
    }
    return next((words for kind, words in _VARIANTS if kind in bought), WAY_WORDS[way])
