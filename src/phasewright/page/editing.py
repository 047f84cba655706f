"""Touching a machine in the drawing: its plate, what it turns, whether it is to come."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from fastapi import APIRouter, Request
from starlette.datastructures import FormData
from starlette.responses import RedirectResponse, Response

from phasewright.job import changing
from phasewright.job.plate import PlateTold, plate_changes, plate_line, plate_told
from phasewright.job.texts import entries, rewritten
from phasewright.page.forms import Field, NotTaken, changes, fields, form_of, texts
from phasewright.page.looks import looks
from phasewright.page.open_shop import Seen
from phasewright.page.settling import seen_by
from phasewright.page.shelf import Shelf
from phasewright.page.viewing import opened
from phasewright.papers.terminal_picture import drawn, speed_block, terminal_picture
from phasewright.quantities.errors import QuantityError, ShopFileError, UsageError
from phasewright.shop import machine_questions as ask
from phasewright.shop.model import Shop
from phasewright.shop.questions import Option, Question

router = APIRouter(prefix="/shop/{key}", include_in_schema=False)
CHANCE = Question(
    "chance",
    "How likely does it come?",
    options=(Option(0.95, "sure"), Option(0.7, "likely"), Option(0.3, "maybe")),
)
YEAR = Question("year", "In how many years?", "A bare number, as 2.")
HAVE = Question(
    "have",
    "Is it here?",
    options=(Option("owned", "it is here"), Option("planned", "it may come")),
    needed=True,
)
LATER = (CHANCE, YEAR)
MORE = (*ask.MACHINE_MORE, *ask.CABLE, ask.SPINDLE_NOSE)


@router.post("/back")
async def back(request: Request, key: str) -> Response:
    """Take the last change back."""
    entry, typed = opened(request, key), texts(await form_of(request))
    if entry is None:
        return looks("gone.html", 404)
    _shelf(request).back(entry, seen_by(entry, typed))
    return _home(key)


@router.get("/machine/new")
def new_machine(request: Request, key: str) -> Response:
    """The form for one more machine."""
    entry = opened(request, key)
    return looks("gone.html", 404) if entry is None else _new(entry.now(), {})


@router.post("/machine/new")
async def add_machine(request: Request, key: str) -> Response:
    """One more machine."""
    entry, typed = opened(request, key), texts(await form_of(request))
    if entry is None:
        return looks("gone.html", 404)
    seen = seen_by(entry, typed)
    try:
        kind = str(ask.LOAD.chosen(typed.get("drives", "")))
        name, plate = typed.get("name", "").strip(), typed.get("plate", "")
        made = changing.add_machine(seen.shop, name, kind, plate)
        return _changed(request, seen, made)
    except (QuantityError, ShopFileError, UsageError) as refused:
        return _new(seen, typed, refused)


@router.get("/machine/{place}")
def machine(request: Request, key: str, place: int) -> Response:
    """The form of a machine."""
    entry = opened(request, key)
    if entry is None or not 0 <= place < len(entry.shop.machines):
        return looks("gone.html", 404)
    return _form(entry.now(), place)


@router.post("/machine/{place}")
async def change(request: Request, key: str, place: int) -> Response:
    """What was typed about a machine, what was done to it, or one motor more."""
    entry, form = opened(request, key), await form_of(request)
    if entry is None:
        return looks("gone.html", 404)
    typed = texts(form)
    seen = seen_by(entry, typed)
    if not 0 <= place < len(seen.shop.machines):
        return looks("gone.html", 404)
    try:
        return _changed(request, seen, _asked(seen, place, typed, form))
    except (QuantityError, ShopFileError, UsageError) as refused:
        return _form(seen, place, typed, refused)


@router.post("/plate/{place}/{seat}")
async def plate(request: Request, key: str, place: int, seat: int) -> Response:
    """What a plate that is being typed is read as."""
    entry, typed = opened(request, key), texts(await form_of(request))
    if entry is None:
        return looks("gone.html", 404)
    line = typed.get(f"motor{seat}.line", "")
    return looks("plate.html", **_plate(entry.now(), f"machines[{place}].motors[{seat}]", line))


def _shelf(request: Request) -> Shelf:
    shelf: Shelf = request.app.state.shelf
    return shelf


def _home(key: str) -> Response:
    return RedirectResponse(f"/shop/{key}", 303)


def _changed(request: Request, entry: Seen, made: Mapping[str, Any]) -> Response:
    """The shop with what was changed in it."""
    text, _ = rewritten(entry.text, made, entry.shop.shop)
    _shelf(request).change(entry.entry, text, entry.text)
    return _home(entry.key)


def _asked(entry: Seen, place: int, typed: dict[str, str], form: FormData) -> dict[str, Any]:
    """What the pressed button asks for, as changes of the shop file."""
    shop, do = entry.shop, typed.get("do", "")
    if do == "duplicate":
        return changing.duplicate(shop, place)
    if do == "take away":
        return changing.take_away(shop, place)
    if do.startswith("take motor "):
        seat = do.removeprefix("take motor ")
        return changing.take_motor_away(shop, place, int(seat) if seat.isdecimal() else 0)
    if do == "another motor":
        kind = str(ask.LOAD.chosen(typed.get("drives", "")))
        name = typed.get("another", "").strip()
        return changing.add_motor(shop, place, name, kind, typed.get("plate", ""))
    together = frozenset(str(name) for name in form.getlist("runs_with"))
    made = changing.runs_with(shop, place, together)
    name = typed.get("name", "").strip()
    return _facts(entry, place, typed) | made | changing.rename(shop, place, name)


def _facts(entry: Seen, place: int, typed: dict[str, str]) -> dict[str, Any]:
    """What was typed about a machine and its motors."""
    at = f"machines[{place}]"
    known = entries(entry.shop.machines[place], entry.shop)
    asked = (HAVE, *LATER, *_where(entry.shop), *MORE, *ask.CIRCUIT)
    made = changes(asked, typed, {"have": "owned"} | known, at)
    for seat, motor in enumerate(known["motors"]):
        where, prefix = f"{at}.motors[{seat}]", f"motor{seat}."
        made |= changes((ask.LOAD_KIND, *ask.MOTOR_MORE), typed, motor, where, prefix)
        line = typed.get(f"{prefix}line", "").strip()
        if line != plate_line(motor["plate"]):
            try:
                made |= plate_changes(line, where, motor["plate"])
            except QuantityError as wrong:
                raise NotTaken(f"{prefix}line", wrong) from wrong
    return made


def _where(shop: Shop) -> tuple[Question, ...]:
    """The question where a machine stands, in a shop of several places."""
    if not shop.places:
        return ()
    options = tuple(Option(place.name, place.name) for place in shop.places)
    return (Question("place", "Where does it stand?", options=options, enter="at the intake"),)


def _form(
    entry: Seen,
    place: int,
    typed: Mapping[str, str] | None = None,
    refused: QuantityError | ShopFileError | UsageError | None = None,
) -> Response:
    shop = entry.shop
    this = shop.machines[place]
    known = {"have": "owned"} | entries(this, shop)
    nose = any(motor.load.kind == "spindle" for motor in this.motors)
    more = MORE if nose or "spindle_nose" in known else MORE[:-1]
    motors = []
    for seat, motor in enumerate(known["motors"]):
        prefix = f"motor{seat}."
        line = plate_line(motor["plate"])
        line = (typed or {}).get(f"{prefix}line", line)
        motors.append(
            {
                "seat": seat, "name": motor["name"], "line": line,
                "kind": _typed(fields((ask.LOAD_KIND,), motor, prefix), typed)[0],
                "more": _typed(fields(ask.MOTOR_MORE, motor, prefix), typed),
                **_plate(entry, f"machines[{place}].motors[{seat}]", line),
            }
        )  # fmt: skip
    return looks(
        "machine.html",
        422 if refused else 200,
        here=f"/shop/{entry.key}",
        state=entry.number,
        place=place,
        shop=shop,
        machine=this,
        name=(typed or {}).get("name", this.name),
        have=_typed(fields((HAVE, *LATER), known), typed),
        where=_typed(fields(_where(shop), known), typed),
        more=_typed(fields(more, known), typed),
        circuit=_typed(fields(ask.CIRCUIT, known), typed) if len(this.motors) == 1 else [],
        motors=motors,
        together=changing.turn_together(shop, place),
        load=ask.LOAD,
        refused=refusals(refused),
        wrong=refused.field if isinstance(refused, NotTaken) else "",
    )


def _typed(found: list[Field], typed: Mapping[str, str] | None) -> list[Field]:
    """Fields with what was typed into them, where something was."""
    if typed is None:
        return found
    return [Field(f.name, f.question, typed.get(f.name, f.value), f.other) for f in found]


def _new(
    entry: Seen,
    typed: Mapping[str, str],
    refused: QuantityError | ShopFileError | UsageError | None = None,
) -> Response:
    return looks(
        "new_machine.html", 422 if refused else 200, here=f"/shop/{entry.key}", shop=entry.shop,
        state=entry.number, typed=typed, load=ask.LOAD, refused=refusals(refused),
    )  # fmt: skip


def refusals(refused: Exception | None) -> list[str]:
    """Why something was not taken, a sentence each."""
    if refused is None:
        return []
    if isinstance(refused, ShopFileError):
        return [
            "; ".join(filter(None, (f"{m.path} {m.found}".strip(), m.allowed, m.remedy)))
            for m in refused.mistakes
        ]
    return [str(refused)]


def _plate(entry: Seen, path: str, line: str) -> dict[str, Any]:
    """A plate as it is read, or why it is not."""
    told: PlateTold | None = None
    why: list[str] = []
    if line.strip():
        try:
            told = plate_told(entry.text, path, line)
        except (QuantityError, ShopFileError, UsageError) as refused:
            why = refusals(refused)
    picture, speeds = None, []
    region = entry.shop.region
    if told is not None and told.speeds:
        for speed in told.speeds:
            block = speed_block(speed.layout, speed.winding, speed.name, region)
            speeds.append((speed, None if block is None else drawn(block)))
    elif told is not None:
        picture = terminal_picture(told.connection, told.leads, region, delta=told.delta)
    return {
        "told": told, "why": why, "picture": picture, "speeds": speeds,
        "here": f"/shop/{entry.key}",
    }  # fmt: skip
