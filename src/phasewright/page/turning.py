"""Turning points as sliders: move a fact and see where another plan takes over, then work it out.

What is between the turning points comes from the answer; nothing is computed while a slider moves.
"""

from __future__ import annotations

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from phasewright.job.texts import rewritten
from phasewright.page.forms import form_of, texts
from phasewright.page.looks import looks
from phasewright.page.settling import seen_by
from phasewright.page.shelf import Shelf
from phasewright.page.turns import turns_of
from phasewright.page.viewing import opened
from phasewright.quantities.errors import ShopFileError, UsageError

router = APIRouter(prefix="/shop/{key}", include_in_schema=False)


@router.post("/turn")
async def turn(request: Request, key: str) -> Response:
    """The shop with one fact as its slider stands."""
    entry, typed = opened(request, key), texts(await form_of(request))
    if entry is None or entry.work.answer is None:
        return looks("gone.html", 404)
    seen = seen_by(entry, typed)
    known = {one.path: one for one in turns_of(entry.work.answer)}
    found = known.get(typed.get("path", ""))
    try:
        value = float(typed.get("value", ""))
    except ValueError:
        found = None
    if found is None or not found.low * 0.999 <= value <= found.high * 1.001:
        return _no(key, "There is no such turning point any more. Nothing was changed.", 409)
    try:
        text, _ = rewritten(seen.text, {found.path: float(f"{value:.4g}")}, seen.shop.shop)
    except (ShopFileError, UsageError) as refused:
        return _no(key, str(refused), 422)
    shelf: Shelf = request.app.state.shelf
    shelf.change(entry, text, seen.text)
    return RedirectResponse(f"/shop/{key}", 303)


def _no(key: str, words: str, status: int) -> Response:
    return looks("refused.html", status, words=words, back=f"/shop/{key}")
