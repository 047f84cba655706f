"""The form of a machine and its motors: what is asked, and what stands in it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any
from urllib.parse import urlencode

from starlette.responses import Response

from phasewright.job import changing
from phasewright.job.plate import PlateTold, plate_line, plate_told
from phasewright.job.texts import entries
from phasewright.page.forms import Field, fields, groups
from phasewright.page.looks import looks
from phasewright.page.open_shop import Seen
from phasewright.papers.terminal_picture import drawn, speed_block, terminal_picture
from phasewright.quantities.codes import Region
from phasewright.quantities.errors import QuantityError, ShopFileError, UsageError
from phasewright.quantities.words import WAY_WORDS
from phasewright.shop import machine_groups
from phasewright.shop import machine_questions as ask
from phasewright.shop.circuit_questions import JUDGED, MACHINE_CIRCUIT
from phasewright.shop.machine import Machine, motor_id
from phasewright.shop.model import Shop
from phasewright.shop.questions import NO_PLATE, Group, Option, Question
from phasewright.shop.thing_questions import CONSUMER

HAVE = Question(
    "have",
    "Is it here?",
    options=(Option("owned", "it is here"), Option("planned", "it may come")),
    needed=True,
)
LATER = (
    Question(
        "chance",
        "How likely does it come?",
        options=(Option(0.95, "sure"), Option(0.7, "likely"), Option(0.3, "maybe")),
    ),
    Question("year", "In how many years?", "A bare number, as 2."),
)
LOAD_KIND = ask.LOAD_KIND


def asked_of_machine(shop: Shop, this: Machine) -> tuple[Question, ...]:
    """Everything asked of a machine itself."""
    more = (question for group in more_of(this) for question in group.questions)
    return (HAVE, *LATER, *_where(shop), *more)


def asked_of_new(shop: Shop) -> tuple[Question, ...]:
    """What is asked of a machine that is added, beside its motor."""
    return (HAVE, *LATER, *_where(shop))


def asked_of_motor() -> tuple[Question, ...]:
    """Everything asked of a motor beside its plate and what it turns."""
    return tuple(question for group in machine_groups.MOTOR for question in group.questions)


def more_of(this: Machine) -> tuple[Group, ...]:
    """Groups of questions of a machine; its circuit where it has one motor or tells of one."""
    circuit = (MACHINE_CIRCUIT,) if len(this.motors) == 1 or this.circuit is not None else ()
    return (*machine_groups.MACHINE, *circuit)


def _where(shop: Shop) -> tuple[Question, ...]:
    """The question where a machine stands, in a shop of several places."""
    if not shop.places:
        return ()
    options = tuple(Option(place.name, place.name) for place in shop.places)
    return (Question("place", "Where does it stand?", options=options, enter="at the intake"),)


def form(
    seen: Seen,
    place: int,
    typed: Mapping[str, str] | None = None,
    wrong: Mapping[str, list[str]] | None = None,
) -> Response:
    """The form with what the shop file says in it, or what was typed instead."""
    shop, given = seen.shop, typed or {}
    this, at = shop.machines[place], f"machines[{place}]"
    known = {"have": "owned"} | entries(this, shop)
    return looks(
        "machine.html",
        422 if wrong else 200,
        here=f"/shop/{seen.key}",
        state=seen.number,
        place=place,
        shop=shop,
        machine=this,
        name=given.get("name", this.name),
        have=fields((HAVE, *LATER), known, "", at, shop.region, typed),
        where=fields(_where(shop), known, "", at, shop.region, typed),
        more=groups(more_of(this), known, "", at, shop.region, typed),
        judged={MACHINE_CIRCUIT.title: JUDGED},
        motors=[
            _motor(seen, f"{at}.motors[{seat}]", seat, motor, typed)
            for seat, motor in enumerate(known["motors"])
        ],
        beside={
            key: frozenset(given[key].splitlines())
            if key in given
            else changing.named_beside(shop, place, key)
            for key in ("runs_with", "starts_with")
        },
        hangs=_hangs(seen, this),
        others=[(CONSUMER[0].told(each.kind), each) for each in this.others],
        load=ask.LOAD,
        another=given,
        measured=_measured(seen, given),
        wrong=wrong or {},
    )


@dataclass(frozen=True, slots=True)
class Hangs:
    """What a motor of the machine hangs on in the answer, and the address of that below the
    shop's; empty where nothing stands there."""

    motor: str
    words: str
    page: str


def _hangs(seen: Seen, this: Machine) -> list[Hangs]:
    """What its motors hang on, where the answer is of this very text."""
    work = seen.entry.work
    study = work.answer if work.text == seen.text else None
    plan = (
        None if study is None else next((p for p in study.plans if p.id == study.answer.plan), None)
    )
    if plan is None:
        return []
    names = {motor_id(this, motor) for motor in this.motors}
    made = {one.id for one in plan.equipment}
    return [
        Hangs(
            motor.motor,
            "nothing: it is left without power" if motor.way is None else WAY_WORDS[motor.way],
            f"source?{urlencode({'plan': plan.id, 'id': motor.equipment})}"
            if motor.equipment in made
            else "",
        )
        for motor in plan.motors if motor.motor in names
    ]  # fmt: skip


def _motor(
    seen: Seen, at: str, seat: int, motor: dict[str, Any], typed: Mapping[str, str] | None
) -> dict[str, Any]:
    prefix, region = f"motor{seat}.", seen.shop.region
    line = (typed or {}).get(f"{prefix}line", plate_line(motor["plate"]))
    return {
        "seat": seat,
        "name": (typed or {}).get(f"{prefix}name", motor["name"]),
        "line": line,
        "kind": fields((LOAD_KIND,), motor, prefix, at, region, typed)[0],
        "more": groups(machine_groups.MOTOR, motor, prefix, at, region, typed),
        **plate_facts(seen.text, region, at, line),
    }


def new_form(seen: Seen, typed: Mapping[str, str], wrong: Mapping[str, list[str]]) -> Response:
    """The form for one more machine."""
    return looks(
        "new_machine.html", 422 if wrong else 200, here=f"/shop/{seen.key}", shop=seen.shop,
        state=seen.number, typed=typed, load=ask.LOAD, wrong=wrong,
        asked=fields(
            asked_of_new(seen.shop), {"have": "owned"}, "", "machines[0]", seen.shop.region, typed
        ),
        measured=_measured(seen, typed),
    )  # fmt: skip


def _measured(seen: Seen, typed: Mapping[str, str]) -> list[Field]:
    """What is asked of a motor whose plate cannot be read."""
    return fields(NO_PLATE, {}, "", "machines[0].motors[0].plate", seen.shop.region, typed)


def plate_facts(text: str, region: Region, path: str, line: str) -> dict[str, Any]:
    """A plate as it is read for the motor at a path of a shop file, or why it is not."""
    told: PlateTold | None = None
    if line.strip():
        try:
            told = plate_told(text, path, line)
        except (QuantityError, ShopFileError, UsageError) as refused:
            return no_plate(refused)
    picture, speeds = None, []
    if told is not None and told.speeds:
        for speed in told.speeds:
            block = speed_block(speed.layout, speed.winding, speed.name, region)
            speeds.append((speed, None if block is None else drawn(block)))
    elif told is not None:
        picture = terminal_picture(told.connection, told.leads, region, delta=told.delta)
    return {
        "told": told, "why": [], "picture": picture, "speeds": speeds,
    }  # fmt: skip


def no_plate(refused: QuantityError | ShopFileError | UsageError) -> dict[str, Any]:
    """Why a plate is not read."""
    why = [str(refused)]
    if isinstance(refused, ShopFileError):
        why = ["; ".join(filter(None, (m.found, m.allowed, m.remedy))) for m in refused.mistakes]
    return {"told": None, "why": why, "picture": None, "speeds": []}
