"""The open shop: its drawing, its answer, its files."""

from __future__ import annotations

import asyncio
import re
import time
from typing import Any

from fastapi import APIRouter, Request
from starlette.concurrency import run_in_threadpool
from starlette.responses import Response

from phasewright.job.texts import result_text, workings_text
from phasewright.page.looks import looks, wants_part
from phasewright.page.open_shop import Open
from phasewright.page.placing import places
from phasewright.page.shelf import Shelf
from phasewright.page.showing import shown
from phasewright.page.turns import turns_of
from phasewright.papers.shop_sheet import WIDTHS, paper_sheet, shop_sheet

router = APIRouter(prefix="/shop/{key}", include_in_schema=False)
AT_ONCE_S = 0.4
"""How long a page is held back for what is known of a change at once: about as long as a look
takes, so that it is mostly there with the page."""
NEWS_S = 2.0
"""How long a part that shows work on its way is held back for news."""
_LOOK_AGAIN_S = 0.02


def opened(request: Request, key: str) -> Open | None:
    """The shop of an address."""
    return shelf_of(request).get(key)


def shelf_of(request: Request) -> Shelf:
    """The shops that are open."""
    shelf: Shelf = request.app.state.shelf
    return shelf


@router.get("")
async def shop(request: Request, key: str, plan: str = "", stage: int | None = None) -> Response:
    """The shop as a drawing with its answer; the changing part alone where that is asked.

    `stage` is what the asking page shows already: the answer waits a while for more.
    """
    entry = await run_in_threadpool(opened, request, key)
    if entry is None:
        return looks("gone.html", 404)
    if stage is not None:
        await _news(entry, stage, NEWS_S)
    elif entry.work.looked_at:
        await _news(entry, 0, AT_ONCE_S)
    template = "sheet.html" if wants_part(request) else "shop.html"
    return await run_in_threadpool(_drawn, request, entry, plan, template)


async def _news(entry: Open, stage: int, patience_s: float) -> None:
    """Wait for more than this stage, or for another change, as long as that is worth waiting."""
    work, until = entry.work, time.monotonic() + patience_s
    while entry.work is work and work.stage <= stage and not work.ended:
        if time.monotonic() > until:
            return
        await asyncio.sleep(_LOOK_AGAIN_S)


def _drawn(request: Request, entry: Open, plan: str, template: str) -> Response:
    shelf = shelf_of(request)
    told = facts(entry, plan, shelf.place)
    return looks(template, **told, queue=shelf.studies.place(told["work"]))


def facts(entry: Open, plan: str = "", place: str = "") -> dict[str, Any]:
    """What the pages of a shop tell."""
    with entry.turn:  # a change gives both the shop and its work
        work, shop, here = entry.work, entry.shop, f"/shop/{entry.key}"
    answer = work.answer
    chosen = shown(shop, answer, plan)
    sheets = {
        name: shop_sheet(shop, answer, chosen.plan, width=width, at=here)
        for name, width in WIDTHS.items()
    }
    sheets["paper"] = paper_sheet(shop, answer, chosen.plan)
    return {
        "here": here, "shop": shop, "work": work, "study": answer, "shown": chosen,
        "sheets": sheets, "can_go_back": bool(entry.before(entry.number)),
        "state": entry.number, "told": entry.told, "place": place,
        "turns": () if answer is None else turns_of(answer),
        **places(answer, shop),
    }  # fmt: skip


@router.get("/way")
def way(request: Request, key: str, motor: str = "", way: str = "") -> Response:
    """Why a motor may or may not run on a way; a part of a page or a page of its own."""
    entry = opened(request, key)
    study = None if entry is None else entry.work.answer
    side = None if study is None else next((m for m in study.motors if m.id == motor), None)
    found = None if side is None else next((w for w in side.ways if w.way == way), None)
    if entry is None or study is None or found is None:
        return looks("gone.html", 404)
    page = "way.html" if wants_part(request) else "way_page.html"
    facts: dict[str, Any] = {
        "here": f"/shop/{key}", "shop": entry.shop, "study": study, "motor": side, "way": found,
        **places(study, entry.shop),
    }  # fmt: skip
    return looks(page, **facts)


@router.get("/shop.yaml")
def shop_file(request: Request, key: str) -> Response:
    """The shop file, to keep."""
    entry = opened(request, key)
    if entry is None:
        return looks("gone.html", 404)
    name = f"{plain_name(entry.shop.shop)}.shop.yaml"
    return kept_file(entry.text, "application/yaml", name)


@router.get("/study.json")
def study_file(request: Request, key: str) -> Response:
    """The result file, to keep."""
    entry = opened(request, key)
    study = None if entry is None else entry.work.answer
    if study is None:
        return looks("gone.html", 404)
    return kept_file(result_text(study), "application/json", "study.json")


@router.get("/workings.json")
def workings_file(request: Request, key: str) -> Response:
    """Where every figure comes from, to keep."""
    entry = opened(request, key)
    study = None if entry is None else entry.work.answer
    if study is None:
        return looks("gone.html", 404)
    return kept_file(workings_text(study), "application/json", "workings.json")


def kept_file(text: str | bytes, kind: str, name: str) -> Response:
    """A file to be kept under this name."""
    headers = {"Content-Disposition": f'attachment; filename="{name}"'}
    return Response(text, media_type=kind, headers=headers)


def plain_name(name: str) -> str:
    """A shop's name as a file is called: small plain letters, digits and hyphens."""
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")[:60] or "my"
