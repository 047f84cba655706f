"""The open shop: its drawing, its answer, its files."""

from __future__ import annotations

import re
from typing import Any

from fastapi import APIRouter, Request
from starlette.responses import Response

from phasewright.job.papers import papers, zipped
from phasewright.job.texts import result_text, workings_text
from phasewright.page.looks import looks, wants_part
from phasewright.page.open_shop import Open
from phasewright.page.shelf import Shelf
from phasewright.page.showing import pointers, shown
from phasewright.page.turns import turns_of
from phasewright.papers.shop_sheet import WIDTHS, shop_sheet

router = APIRouter(prefix="/shop/{key}", include_in_schema=False)


def opened(request: Request, key: str) -> Open | None:
    """The shop of an address."""
    return _shelf(request).get(key)


def _shelf(request: Request) -> Shelf:
    shelf: Shelf = request.app.state.shelf
    return shelf


@router.get("")
def shop(request: Request, key: str, plan: str = "") -> Response:
    """The shop as a drawing with its answer; the changing part alone where that is asked."""
    entry = opened(request, key)
    if entry is None:
        return looks("gone.html", 404)
    template = "sheet.html" if wants_part(request) else "shop.html"
    return looks(template, **facts(entry, plan, _shelf(request).place))


def facts(entry: Open, plan: str = "", place: str = "") -> dict[str, Any]:
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
        "sheets": sheets, "can_go_back": bool(entry.before(entry.number)),
        "state": entry.number, "told": entry.told, "place": place,
        "turns": () if answer is None else turns_of(answer),
        "pointer": lambda value: pointers(work).get(id(value), ""),
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


@router.get("/all.zip")
def all_files(request: Request, key: str) -> Response:
    """The shop file, the figures and every paper of the answer, in one archive."""
    entry = opened(request, key)
    if entry is None or entry.work.answer is None:
        return looks("gone.html", 404)
    name = _plain(entry.shop.shop)
    files = {f"{name}.shop.yaml": entry.text, **papers(entry.shop, entry.work.answer)}
    return _kept(zipped(files, name), "application/zip", f"{name}.zip")


@router.get("/workings.json")
def workings_file(request: Request, key: str) -> Response:
    """Where every figure comes from, to keep."""
    entry = opened(request, key)
    if entry is None or entry.work.answer is None:
        return looks("gone.html", 404)
    return _kept(workings_text(entry.work.answer), "application/json", "workings.json")


def _kept(text: str | bytes, kind: str, name: str) -> Response:
    headers = {"Content-Disposition": f'attachment; filename="{name}"'}
    return Response(text, media_type=kind, headers=headers)


def _plain(name: str) -> str:
    """A shop's name as a file is called: small plain letters, digits and hyphens."""
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-")[:60] or "my"
