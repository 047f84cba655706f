"""Touching the supply in the drawing: what feeds the shop, what it costs, what is wanted."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from phasewright.job.changing import loads_of, loads_typed, measured_of, measured_typed
from phasewright.job.texts import entries, rewritten
from phasewright.page.editing import refusals
from phasewright.page.forms import Field, NotTaken, changes, fields, form_of, texts
from phasewright.page.looks import looks
from phasewright.page.open_shop import Seen
from phasewright.page.settling import seen_by
from phasewright.page.shelf import Shelf
from phasewright.page.viewing import opened
from phasewright.quantities.errors import QuantityError, ShopFileError, UsageError
from phasewright.shop import machine_questions, questions
from phasewright.shop.questions import Question

router = APIRouter(prefix="/shop/{key}", include_in_schema=False)
SUPPLY = (questions.COUNTRY, questions.VOLTS, questions.HERTZ, questions.FUSE)
MORE = (*questions.SUPPLY_MORE, *questions.AROUND)
WISHES = machine_questions.WISHES
TARIFF = (machine_questions.ENERGY,)
TOP = (replace(questions.NAME, enter=""), machine_questions.CURRENCY)
FEEDS = "feeds"
MEASURED, LOADS = "measured", "loads"


@router.get("/supply")
def supply(request: Request, key: str) -> Response:
    """The form of the supply and of what is wanted."""
    entry = opened(request, key)
    return looks("gone.html", 404) if entry is None else _form(entry.now())


@router.post("/supply")
async def change(request: Request, key: str) -> Response:
    """What was typed about the supply."""
    entry, typed = opened(request, key), texts(await form_of(request))
    if entry is None:
        return looks("gone.html", 404)
    shelf: Shelf = request.app.state.shelf
    seen = seen_by(entry, typed)
    try:
        text, _ = rewritten(seen.text, _asked(seen, typed), seen.shop.shop)
        shelf.change(entry, text, seen.text)
    except (QuantityError, ShopFileError, UsageError) as refused:
        return _form(seen, typed, refused)
    return RedirectResponse(f"/shop/{key}", 303)


def _asked(entry: Seen, typed: Mapping[str, str]) -> dict[str, Any]:
    whole = entries(entry.shop, entry.shop)
    made = changes(TOP, typed, whole, "")
    made |= changes((*SUPPLY, *MORE), typed, whole["supply"], "supply")
    for part, asked in (("tariff", TARIFF), ("wishes", WISHES)):
        made |= changes(asked, typed, whole.get(part, {}), part, f"{part}.")
    feeds = typed.get(FEEDS, "")
    if feeds and feeds != _feeds(whole["supply"]).value:
        chosen = questions.SUPPLY_KIND.chosen(feeds)
        made |= {f"supply.{name}": value for name, value in chosen.items()}
        if "earthed" not in chosen and "earthed" in whole["supply"]:
            made["supply.earthed"] = None
    for name, before, read, path in (
        (MEASURED, measured_of(entry.shop), measured_typed, "supply.measured_voltage"),
        (LOADS, loads_of(entry.shop), loads_typed, "supply.other_loads"),
    ):
        text = typed.get(name, before).replace("\r\n", "\n").strip()
        if text != before:
            try:
                made[path] = read(text, entry.shop)
            except QuantityError as wrong:
                raise NotTaken(name, wrong) from wrong
    return made


def _feeds(known: Mapping[str, Any]) -> Field:
    """What feeds the shop, as the option that says it."""
    is_now = {"kind": known["kind"], "earthed": known.get("earthed", "unknown")}
    for option in questions.SUPPLY_KIND.options:
        if all(is_now.get(name) == value for name, value in option.entry.items()):
            return Field(FEEDS, questions.SUPPLY_KIND, option.words)
    told = f"{known['kind']}, {is_now['earthed']}".replace("_", " ")
    return Field(FEEDS, questions.SUPPLY_KIND, told, told)


def _form(
    entry: Seen,
    typed: Mapping[str, str] | None = None,
    refused: QuantityError | ShopFileError | UsageError | None = None,
) -> Response:
    whole = entries(entry.shop, entry.shop)

    def asked(of: tuple[Question, ...], part: str, prefix: str = "") -> list[Field]:
        found = fields(of, whole.get(part, {}) if part else whole, prefix)
        given = typed or {}
        return [replace(field, value=given.get(field.name, field.value)) for field in found]

    given = typed or {}
    feeds = _feeds(whole["supply"])
    return looks(
        "supply.html",
        422 if refused else 200,
        here=f"/shop/{entry.key}",
        shop=entry.shop,
        state=entry.number,
        top=asked(TOP, ""),
        feeds=replace(feeds, value=given.get(FEEDS, feeds.value)),
        supply=asked(SUPPLY, "supply"),
        more=asked(MORE, "supply"),
        measured=Field(MEASURED, questions.MEASURED, given.get(MEASURED, measured_of(entry.shop))),
        loads=given.get(LOADS, loads_of(entry.shop)),
        other=questions.OTHER_LOAD,
        tariff=asked(TARIFF, "tariff", "tariff."),
        wishes=asked(WISHES, "wishes", "wishes."),
        refused=refusals(refused),
        wrong=refused.field if isinstance(refused, NotTaken) else "",
    )
