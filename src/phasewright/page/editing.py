"""Touching a machine in the drawing: its plate, what it turns, whether it is to come."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from phasewright.job import changing
from phasewright.job.plate import plate_changes, plate_line
from phasewright.job.texts import entries, rewritten
from phasewright.page.forms import Answers, NotTaken, form_of, texts
from phasewright.page.looks import looks
from phasewright.page.machine_form import (
    LOAD_KIND,
    asked_of_machine,
    asked_of_motor,
    asked_of_new,
    form,
    new_form,
    no_plate,
    plate_facts,
)
from phasewright.page.open_shop import Seen
from phasewright.page.settling import seen_by
from phasewright.page.shelf import Shelf
from phasewright.page.supplying import kept
from phasewright.page.viewing import opened
from phasewright.quantities.errors import QuantityError, ShopFileError, UsageError
from phasewright.shop import machine_questions as ask
from phasewright.shop.questions import NO_PLATE

NOT_NAMED = "the new machine"
"""What a machine is called while its plate is being typed."""
router = APIRouter(prefix="/shop/{key}", include_in_schema=False)


@router.post("/back")
async def back(request: Request, key: str) -> Response:
    """Take the last change back."""
    entry, typed = opened(request, key), texts(await form_of(request))
    if entry is None:
        return looks("gone.html", 404)
    shelf: Shelf = request.app.state.shelf
    shelf.back(entry, seen_by(entry, typed))
    return RedirectResponse(f"/shop/{key}", 303)


@router.get("/machine/new")
def new_machine(request: Request, key: str) -> Response:
    """The form for one more machine."""
    entry = opened(request, key)
    return looks("gone.html", 404) if entry is None else new_form(entry.now(), {}, {})


@router.post("/machine/new")
async def add_machine(request: Request, key: str) -> Response:
    """One more machine."""
    entry, typed = opened(request, key), texts(await form_of(request))
    if entry is None:
        return looks("gone.html", 404)
    seen = seen_by(entry, typed)
    answers = Answers(typed)
    path = f"machines[{len(seen.shop.machines)}]"
    answers.take(asked_of_new(seen.shop), {"have": "owned"}, path)
    _follow(answers, {"have": "owned"}, path)
    facts = {at.removeprefix(f"{path}."): entry for at, entry in answers.made.items()}
    answers.made = {}
    with answers.told_at("name", f"{path}.name"):
        motor = _new_motor(answers, f"{path}.motors[0]", "motor")
        name = typed.get("name", "").strip()
        answers.made |= changing.add_machine(seen.shop, name, motor, facts)
    try:
        return kept(request, seen, answers)
    except NotTaken as refused:
        return new_form(seen, typed, refused.wrong)


@router.get("/machine/{place}")
def machine(request: Request, key: str, place: int) -> Response:
    """The form of a machine."""
    entry = opened(request, key)
    if entry is None or not 0 <= place < len(entry.shop.machines):
        return looks("gone.html", 404)
    return form(entry.now(), place)


@router.post("/machine/{place}")
async def change(request: Request, key: str, place: int) -> Response:
    """What was typed about a machine, what was done to it, or one motor more."""
    entry, typed = opened(request, key), texts(await form_of(request))
    if entry is None:
        return looks("gone.html", 404)
    seen = seen_by(entry, typed)
    if not 0 <= place < len(seen.shop.machines):
        return looks("gone.html", 404)
    do = typed.get("do", "")
    try:
        answers = _done(seen, place, typed) if do else _facts(seen, place, typed)
        return kept(request, seen, answers)
    except NotTaken as refused:
        return form(seen, place, typed, refused.wrong)


@router.post("/plate/{place}/{seat}")
async def plate(request: Request, key: str, place: int, seat: int) -> Response:
    """What a plate that is being typed is read as."""
    entry, typed = opened(request, key), texts(await form_of(request))
    if entry is None:
        return looks("gone.html", 404)
    line = typed.get(f"motor{seat}.line", "")
    path = f"machines[{place}].motors[{seat}]"
    return looks("plate.html", **plate_facts(entry.text, entry.shop.region, path, line))


@router.post("/plate/new")
async def plate_of_new(request: Request, key: str) -> Response:
    """What the plate of a machine that is being added is read as."""
    entry, typed = opened(request, key), texts(await form_of(request))
    if entry is None:
        return looks("gone.html", 404)
    shop, line = entry.shop, typed.get("plate", "")
    path = f"machines[{len(shop.machines)}]"
    try:
        kind = str(ask.LOAD.chosen(typed.get("drives", "") or ask.LOAD.enter))
        motor = changing.new_motor("motor", kind, line, {})
        made = changing.add_machine(shop, NOT_NAMED, motor, {})
        text, _ = rewritten(entry.text, made, shop.shop)
    except (QuantityError, ShopFileError) as refused:
        return looks("plate.html", **no_plate(refused))
    return looks("plate.html", **plate_facts(text, shop.region, f"{path}.motors[0]", line))


def _done(seen: Seen, place: int, typed: Mapping[str, str]) -> Answers:
    """What a button asks for; raises NotTaken where that cannot be."""
    shop, do, answers = seen.shop, typed["do"], Answers(typed)
    seat = do.rpartition(" ")[2]
    number = int(seat) if seat.isdecimal() and len(seat) < 5 else 0
    number = min(number, max(len(shop.machines[place].motors) - 1, 0))
    try:
        if do == "duplicate":
            answers.made |= changing.duplicate(shop, place)
        elif do == "take away":
            answers.made |= changing.take_away(shop, place)
        elif do.startswith("take motor "):
            answers.made |= changing.take_motor_away(shop, place, number)
        elif do.startswith("duplicate motor "):
            answers.made |= changing.duplicate_motor(shop, place, number)
        else:
            _another(seen, place, answers)
    except UsageError as wrong:
        answers.wrong[""] = [str(wrong)]
    return answers


def _another(seen: Seen, place: int, answers: Answers) -> None:
    """One more motor on a machine."""
    path = f"machines[{place}].motors[{len(seen.shop.machines[place].motors)}]"
    with answers.told_at("another", f"{path}.name"):
        motor = _new_motor(answers, path, answers.typed.get("another", "").strip())
        answers.made |= changing.add_motor(seen.shop, place, motor)


def _new_motor(answers: Answers, path: str, name: str) -> dict[str, Any]:
    """A motor that is added at a path, by its plate or what can be measured without one."""
    typed, motor = answers.typed, {"name": name, "plate": {}, "load": {}}
    measured = {q.key: typed[q.key].strip() for q in NO_PLATE if typed.get(q.key, "").strip()}
    for key in measured:
        with answers.told_at(key, f"{path}.plate.{key}"):
            pass
    with answers.told_at("plate", path), answers.told_at("plate", f"{path}.plate"):
        kind = str(ask.LOAD.chosen(typed.get("drives", "") or ask.LOAD.enter))
        motor = changing.new_motor(name, kind, typed.get("plate", ""), measured)
    return motor


def _facts(seen: Seen, place: int, typed: Mapping[str, str]) -> Answers:
    """What was typed about a machine and its motors."""
    shop, at = seen.shop, f"machines[{place}]"
    this = shop.machines[place]
    known = {"have": "owned"} | entries(this, shop)
    answers = Answers(typed)
    answers.take(asked_of_machine(shop, this), known, at)
    _follow(answers, known, at)
    for seat, motor in enumerate(known["motors"]):
        where, prefix = f"{at}.motors[{seat}]", f"motor{seat}."
        answers.take((LOAD_KIND, *asked_of_motor()), motor, where, prefix)
        with answers.told_at(f"{prefix}name", f"{where}.name"):
            name = typed.get(f"{prefix}name", motor["name"]).strip()
            answers.made |= changing.rename_motor(shop, place, seat, name)
        line = typed.get(f"{prefix}line", "").strip()
        with answers.told_at(f"{prefix}line", f"{where}.plate"):
            if line != plate_line(motor["plate"]):
                answers.made |= plate_changes(line, where, motor["plate"])
    for key in ("runs_with", "starts_with"):
        with answers.told_at(key, f"{at}.{key}"):
            ticked = frozenset(typed.get(key, "").splitlines())
            answers.made |= changing.beside(shop, place, key, ticked)
    with answers.told_at("name", f"{at}.name"):
        answers.made |= changing.rename(shop, place, typed.get("name", "").strip())
    return answers


def _follow(answers: Answers, known: Mapping[str, Any], at: str) -> None:
    """What follows from an answer: whatever is here has no chance and no year, and whatever has a
    socket has a plug."""
    made = answers.made
    if made.get(f"{at}.have", known.get("have")) == "owned":
        for key in ("chance", "year"):
            made.pop(f"{at}.{key}", None)
            if key in known:
                made[f"{at}.{key}"] = None
    socket = any(path.startswith(f"{at}.circuit.socket.") and made[path] for path in made)
    if socket and "connects_by" not in known:
        made.setdefault(f"{at}.connects_by", "plug")
