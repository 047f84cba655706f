"""The open shop: its drawing, its answer, its files."""

from __future__ import annotations

import re
from typing import Any

from fastapi import APIRouter, Request
from starlette.responses import Response

from phasewright.job.texts import result_text
from phasewright.page.looks import looks, wants_part
from phasewright.page.shelf import Open, Shelf
from phasewright.page.showing import shown
from phasewright.papers.shop_sheet import WIDTHS, shop_sheet

router = APIRouter(prefix="/shop/{key}", include_in_schema=False)


def opened(request: Request, key: str) -> Open | None:
    """The shop of an address."""
    shelf: Shelf = request.app.state.shelf
    return shelf.get(key)


@router.get("")
def shop(request: Request, key: str, plan: str = "") -> Response:
    """The shop as a drawing with its answer; the changing part alone where that is asked."""
    entry = opened(request, key)
    if entry is None:
        return looks("gone.html", 404)
    template = "sheet.html" if wants_part(request) else "shop.html"
    return looks(template, **facts(entry, plan))


def facts(entry: Open, plan: str = "") -> dict[str, Any]:
    """What the pages of a shop tell."""
    work, here = entry.work, f"/shop/{entry.key}"
    answer = work.answer
    chosen = shown(entry.shop, answer, plan)
    sheets = {
        name: shop_sheet(entry.shop, answer, chosen.plan, width=width, at=here)
        for name, width in WIDTHS.items()
    }
    return {
        "here": here, "shop": entry.shop, "work": work, "study": answer, "shown": chosen,
        "sheets": sheets, "can_go_back": bool(entry.before),
    }  # fmt: skip


@router.get("/shop.yaml")
def shop_file(request: Request, key: str) -> Response:
    """The shop file, to keep."""
    entry = opened(request, key)
    if entry is None:
        return looks("gone.html", 404)
    name = f"{_plain(entry.shop.shop)}.shop.yaml"
    return _kept(entry.text, "application/yaml", name)


@router.get("/study.json")
def study_file(request: Request, key: str) -> Response:
    """The result file, to keep."""
    entry = opened(request, key)
    if entry is None or entry.work.answer is None:
        return looks("gone.html", 404)
    return _kept(result_text(entry.work.answer), "application/json", "study.json")


def _kept(text: str, kind: str, name: str) -> Response:
    headers = {"Content-Disposition": f'attachment; filename="{name}"'}
    return Response(text, media_type=kind, headers=headers)


def _plain(name: str) -> str:
    """A shop's name as a file is called: small plain letters, digits and hyphens."""
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")[:60] or "my"
