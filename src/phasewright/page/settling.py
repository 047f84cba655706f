"""Older states of a shop, and changes made from a state that is not the last one any more."""

from __future__ import annotations

import base64
import binascii
from collections.abc import Mapping
from itertools import pairwise
from typing import Any

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from phasewright.job.keeping import differs, together
from phasewright.job.texts import text_of
from phasewright.page.forms import form_of, texts
from phasewright.page.limits import asker
from phasewright.page.looks import looks
from phasewright.page.open_shop import Open, Overtaken, Seen
from phasewright.page.shelf import Shelf
from phasewright.page.viewing import opened
from phasewright.quantities.errors import Mistake, ShopFileError

router = APIRouter(prefix="/shop/{key}", include_in_schema=False)


class StateUnknown(Exception):
    """A form does not say from which state it was made, or from one that has made room."""

    def __init__(self, key: str) -> None:
        super().__init__(key)
        self.key = key


def seen_by(entry: Open, typed: Mapping[str, str]) -> Seen:
    """The shop as the form that was sent had it; raises StateUnknown where that is not known."""
    number = typed.get("state", "")
    seen = entry.seen(int(number)) if number.isdecimal() and len(number) < 10 else None
    if seen is None:
        raise StateUnknown(entry.key)
    return seen


def packed(text: str) -> str:
    """A text as a field of a form carries it: UTF-8 in base64url (RFC 4648, section 5), because a
    form changes the ends of lines."""
    return base64.urlsafe_b64encode(text.encode()).decode("ascii").rstrip("=")


def unpacked(field: str) -> str:
    """The text of such a field; raises ShopFileError for what is none."""
    try:
        raw = base64.b64decode(field + "=" * (-len(field) % 4), altchars=b"-_", validate=True)
    except (binascii.Error, ValueError) as torn:
        allowed = "a shop as this page packs it"
        raise ShopFileError((Mistake("the link", 0, "", "it is torn", allowed),)) from torn
    return text_of(raw, "the link")


@router.get("/history")
def history(request: Request, key: str) -> Response:
    """Every state that is kept, the last one first, with what was changed."""
    entry = opened(request, key)
    if entry is None:
        return looks("gone.html", 404)
    rows: list[dict[str, Any]] = []
    for before, state in pairwise((None, *entry.states)):
        assert state is not None
        changed = [] if before is None else differs(before.text, state.text)
        rows.append({"number": state.number, "at": state.at, "changed": changed})
    return looks(
        "history.html", here=f"/shop/{key}", shop=entry.shop, state=entry.number,
        rows=rows[::-1], place=_shelf(request).place,
    )  # fmt: skip


@router.post("/restore")
async def restore(request: Request, key: str) -> Response:
    """An older state again, as a new one."""
    entry, typed = opened(request, key), texts(await form_of(request))
    if entry is None:
        return looks("gone.html", 404)
    seen, older = seen_by(entry, typed), seen_by(entry, {"state": typed.get("older", "")})
    _shelf(request).change(entry, older.text, seen.text)
    return RedirectResponse(f"/shop/{key}", 303)


@router.post("/settle")
async def settle(request: Request, key: str) -> Response:
    """What was decided about a change that came too late."""
    entry, typed = opened(request, key), texts(await form_of(request))
    if entry is None:
        return looks("gone.html", 404)
    shelf, seen = _shelf(request), seen_by(entry, typed)
    text = unpacked(typed.get("text", ""))
    if typed.get("do") == "apart":
        return RedirectResponse(f"/shop/{shelf.put(text, who=asker(request)).key}", 303)
    shelf.change(entry, text, seen.text)
    return RedirectResponse(f"/shop/{key}", 303)


async def overtaken(_: Request, late: Exception) -> Response:
    """The page that shows both changes and asks."""
    assert isinstance(late, Overtaken)
    now = late.entry.now()
    both = together(late.base, late.mine, now.text)
    return looks(
        "overtaken.html", 409, here=f"/shop/{now.key}", shop=now.shop, state=now.number,
        mine=packed(late.mine), both=None if both is None else packed(both),
        my_lines=differs(late.base, late.mine), their_lines=differs(late.base, now.text),
    )  # fmt: skip


async def state_unknown(_: Request, refused: Exception) -> Response:
    """The page for a form whose state is not known."""
    assert isinstance(refused, StateUnknown)
    words = (
        "This form does not say which state of the shop it was made from, or that state is no "
        "longer kept. Nothing was changed."
    )
    return looks("refused.html", 409, words=words, back=f"/shop/{refused.key}")


async def not_packed(_: Request, refused: Exception) -> Response:
    """The page for a shop that has mistakes where no form can show them."""
    assert isinstance(refused, ShopFileError)
    words = "The shop has mistakes and was not taken: " + "; ".join(map(str, refused.mistakes))
    return looks("refused.html", 422, words=words, back="/")


def _shelf(request: Request) -> Shelf:
    shelf: Shelf = request.app.state.shelf
    return shelf
