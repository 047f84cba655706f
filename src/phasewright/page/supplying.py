"""Touching the supply in the drawing: what feeds the shop, what protects it, what it costs."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from phasewright.job.texts import entries
from phasewright.job.typed_lists import (
    MARKS,
    loads_of,
    loads_typed,
    measured_of,
    measured_typed,
)
from phasewright.page.forms import Answers, Field, NotTaken, fields, form_of, groups, texts
from phasewright.page.looks import looks
from phasewright.page.open_shop import Seen
from phasewright.page.settling import seen_by
from phasewright.page.shelf import Shelf
from phasewright.page.viewing import opened
from phasewright.shop import circuit_questions, machine_questions, questions, supply_questions
from phasewright.shop.questions import Group

router = APIRouter(prefix="/shop/{key}", include_in_schema=False)
SUPPLY = (questions.COUNTRY, questions.VOLTS, questions.HERTZ, questions.FUSE)
TOP = (
    replace(questions.NAME, enter=""),
    replace(questions.REGION, key="region"),
    machine_questions.CURRENCY,
)
FEEDS, MEASURED, LOADS = "feeds", "measured", "loads"
_Wrong = Mapping[str, list[str]]


@dataclass(frozen=True, slots=True)
class _Sheet:
    """A form of questions whose keys begin at the top of the file; `rare` ones are folded."""

    page: str
    title: str
    open: tuple[Group, ...]
    rare: tuple[Group, ...] = ()
    lead: str = ""


WISHES = _Sheet(
    "wishes",
    "The shop, its money, and what you want",
    (
        Group("The shop", TOP),
        Group("What energy costs", supply_questions.MONEY),
        Group("What you want", supply_questions.WISHES),
    ),
    supply_questions.WISHES_MORE,
)
CONVERTER = _Sheet(
    "converter",
    "What makes three phases, as it stands today",
    circuit_questions.CONVERTER_CIRCUIT,
    lead=circuit_questions.JUDGED,
)


@router.get("/supply")
def supply(request: Request, key: str) -> Response:
    """The form of the supply."""
    entry = opened(request, key)
    return looks("gone.html", 404) if entry is None else _supply(entry.now())


@router.post("/supply")
async def change_supply(request: Request, key: str) -> Response:
    """What was typed about the supply."""
    entry, typed = opened(request, key), texts(await form_of(request))
    if entry is None:
        return looks("gone.html", 404)
    seen = seen_by(entry, typed)
    try:
        return kept(request, seen, _asked(seen, typed))
    except NotTaken as refused:
        return _supply(seen, typed, refused.wrong)


@router.get("/wishes")
def wishes(request: Request, key: str) -> Response:
    """The form of money and wishes."""
    entry = opened(request, key)
    return looks("gone.html", 404) if entry is None else _questions(WISHES, entry.now())


@router.post("/wishes")
async def change_wishes(request: Request, key: str) -> Response:
    """What was typed about money and wishes."""
    return await _plain(request, key, WISHES)


@router.get("/converter")
def converter(request: Request, key: str) -> Response:
    """The form of the circuit to what makes three phases."""
    entry = opened(request, key)
    return looks("gone.html", 404) if entry is None else _questions(CONVERTER, entry.now())


@router.post("/converter")
async def change_converter(request: Request, key: str) -> Response:
    """What was typed about that circuit."""
    return await _plain(request, key, CONVERTER)


async def _plain(request: Request, key: str, of: _Sheet) -> Response:
    """What was typed into such a form."""
    entry, typed = opened(request, key), texts(await form_of(request))
    if entry is None:
        return looks("gone.html", 404)
    seen = seen_by(entry, typed)
    answers = Answers(typed)
    for group in (*of.open, *of.rare):
        answers.take(group.questions, entries(seen.shop, seen.shop), "")
    try:
        return kept(request, seen, answers)
    except NotTaken as refused:
        return _questions(of, seen, typed, refused.wrong)


def kept(request: Request, seen: Seen, answers: Answers) -> Response:
    """The shop with the answers in it, drawn again; raises NotTaken with what is wrong."""
    shelf: Shelf = request.app.state.shelf
    shelf.change(seen.entry, answers.rewritten(seen), seen.text)
    return RedirectResponse(f"/shop/{seen.key}", 303)


def _asked(seen: Seen, typed: Mapping[str, str]) -> Answers:
    typed = {name: text.upper() if name == "country" else text for name, text in typed.items()}
    known, answers = entries(seen.shop, seen.shop)["supply"], Answers(typed)
    for asked in (SUPPLY, *(group.questions for group in supply_questions.SUPPLY)):
        answers.take(asked, known, "supply")
    for name, before, read, path in (
        (MEASURED, measured_of(seen.shop), measured_typed, "supply.measured_voltage"),
        (LOADS, loads_of(seen.shop), loads_typed, "supply.other_loads"),
    ):
        text = typed.get(name, before).replace("\r\n", "\n").strip()
        with answers.told_at(name, path):
            if text != before:
                answers.made[path] = read(text, seen.shop)
    feeds = typed.get(FEEDS, "")
    with answers.told_at(FEEDS, "supply.kind"):
        if feeds and feeds != _feeds(known).value:
            chosen = questions.SUPPLY_KIND.chosen(feeds)
            if "earthed" in known:
                answers.made.setdefault("supply.earthed", None)
            answers.made |= {f"supply.{name}": value for name, value in chosen.items()}
    return answers


def _feeds(known: Mapping[str, Any]) -> Field:
    """What feeds the shop, as the option that says it."""
    is_now = {"kind": known["kind"], "earthed": known.get("earthed", "unknown")}
    for option in questions.SUPPLY_KIND.options:
        if all(is_now.get(name) == value for name, value in option.entry.items()):
            return Field(FEEDS, questions.SUPPLY_KIND, option.words)
    told = f"{known['kind']}, {is_now['earthed']}".replace("_", " ")
    return Field(FEEDS, questions.SUPPLY_KIND, told, told)


def _supply(
    seen: Seen, typed: Mapping[str, str] | None = None, wrong: _Wrong | None = None
) -> Response:
    shop, given = seen.shop, typed or {}
    known = entries(shop, shop)["supply"]
    feeds = _feeds(known)
    return looks(
        "supply.html",
        422 if wrong else 200,
        here=f"/shop/{seen.key}",
        shop=shop,
        state=seen.number,
        feeds=replace(feeds, value=given.get(FEEDS, feeds.value)),
        supply=fields(SUPPLY, known, "", "supply", shop.region, typed),
        more=groups(supply_questions.SUPPLY, known, "", "supply", shop.region, typed),
        measured=Field(MEASURED, questions.MEASURED, given.get(MEASURED, measured_of(shop))),
        loads=given.get(LOADS, loads_of(shop)),
        marks=tuple(MARKS),
        other=questions.OTHER_LOAD,
        wrong=wrong or {},
    )


def _questions(
    of: _Sheet, seen: Seen, typed: Mapping[str, str] | None = None, wrong: _Wrong | None = None
) -> Response:
    shop = seen.shop
    whole = entries(shop, shop)
    return looks(
        "questions.html",
        422 if wrong else 200,
        here=f"/shop/{seen.key}",
        shop=shop,
        state=seen.number,
        page=of.page,
        title=of.title,
        lead=of.lead,
        open=groups(of.open, whole, "", "", shop.region, typed),
        rare=groups(of.rare, whole, "", "", shop.region, typed),
        wrong=wrong or {},
    )
