"""The workings: curves of every motor of a plan, and where every figure comes from."""

from __future__ import annotations

import threading
from typing import Any

from fastapi import APIRouter, Request
from starlette.responses import Response

from phasewright.job.curves.chart import Sheet
from phasewright.job.curves.money import money_sheet
from phasewright.job.curves.sheets import ASKED, TITLES, asked_of, motors_of
from phasewright.page.looks import looks, wants_part
from phasewright.page.open_shop import Open
from phasewright.page.placing import places
from phasewright.page.shelf import Shelf
from phasewright.page.showing import figure_groups
from phasewright.page.viewing import opened
from phasewright.papers.workings.parts import Working
from phasewright.papers.workings.working import working
from phasewright.plan.study import PlanSide

router = APIRouter(prefix="/shop/{key}", include_in_schema=False)
AT_ONCE = 2
"""Curves computed at the same time; who comes later waits for a turn, but not for long."""
WAIT_S, PATIENCE_S = 4.0, 20.0
BUSY = "Others ask for curves just now. Ask again in a moment."
_turns = threading.BoundedSemaphore(AT_ONCE)


@router.get("/workings")
def workings(request: Request, key: str, plan: str = "") -> Response:
    """What there is of curves, motor by motor, for the plan in the drawing."""
    entry = opened(request, key)
    if entry is None:
        return looks("gone.html", 404)
    chosen = plan_of(entry, plan)
    if chosen is None:
        return looks("refused.html", 404, words=not_yet(entry), back=f"/shop/{key}")
    rows = [(motor, asked_of(chosen, motor)) for motor in motors_of(chosen)]
    told: dict[str, Any] = places(entry.work.answer, entry.shop)
    return looks(
        "workings.html", here=f"/shop/{key}", shop=entry.shop, study=entry.work.answer,
        plan=chosen, rows=rows, titles=TITLES, **told,
    )  # fmt: skip


@router.get("/curves/{asked}")
def curve_sheet(
    request: Request, key: str, asked: str, motor: str = "", plan: str = ""
) -> Response:
    """One sheet of curves, a part of a page or a page of its own."""
    entry = opened(request, key)
    chosen = None if entry is None else plan_of(entry, plan)
    one = None if chosen is None else next((m for m in motors_of(chosen) if m.motor == motor), None)
    kind = next((known for known in ASKED if known == asked), None)
    if entry is None or chosen is None or one is None or kind is None:
        return looks("gone.html", 404)
    facts: dict[str, Any] = {
        "here": f"/shop/{key}", "shop": entry.shop, "plan": chosen, "sheet": None, "why": "",
        "title": f"{motor}: {TITLES[kind]}",
    }  # fmt: skip
    found: Sheet | str | None = None
    if _turns.acquire(timeout=WAIT_S):
        shelf: Shelf = request.app.state.shelf
        try:
            found = shelf.studies.curves(entry.work, chosen.id, motor, kind, PATIENCE_S)
        finally:
            _turns.release()
    if isinstance(found, Sheet):
        facts["sheet"] = found
    else:
        facts["why"] = found or BUSY
    page = "curves.html" if wants_part(request) else "curves_page.html"
    return looks(page, 503 if found is None else 200, **facts)


@router.get("/years")
def years(request: Request, key: str, plan: str = "") -> Response:
    """What the best plans cost year by year."""
    entry = opened(request, key)
    chosen = None if entry is None else plan_of(entry, plan)
    if entry is None or chosen is None or entry.work.answer is None:
        return looks("gone.html", 404)
    sheet = money_sheet(entry.work.answer, chosen)
    return looks(
        "curves_page.html", here=f"/shop/{key}", shop=entry.shop, plan=chosen, sheet=sheet, why="",
        title=sheet.title,
    )  # fmt: skip


@router.get("/figures")
def all_figures(request: Request, key: str, plan: str = "") -> Response:
    """Every figure of a plan and of the supply, each leading to where it comes from."""
    entry = opened(request, key)
    chosen = None if entry is None else plan_of(entry, plan)
    if entry is None or chosen is None or entry.work.answer is None:
        return looks("gone.html", 404)
    study = entry.work.answer
    told: dict[str, Any] = places(study, entry.shop)
    return looks(
        "figures.html", here=f"/shop/{key}", shop=entry.shop, plan=chosen,
        groups=figure_groups(study, entry.shop, chosen), study=study, **told,
    )  # fmt: skip


@router.get("/figure")
def figure(request: Request, key: str, at: str = "") -> Response:
    """Where one figure comes from; a part of a page or a page of its own."""
    entry = opened(request, key)
    found = None if entry is None else _working(entry, at)
    if entry is None or found is None:
        return looks("gone.html", 404)
    page = "figure.html" if wants_part(request) else "figure_page.html"
    return looks(page, here=f"/shop/{key}", shop=entry.shop, of=found)


def plan_of(entry: Open, wanted: str) -> PlanSide | None:
    """The plan of this id, else the answer's own; None while there is no answer."""
    study = entry.work.answer
    if study is None:
        return None
    known = {plan.id: plan for plan in study.plans}
    return known.get(wanted) or known.get(study.answer.plan)


def _working(entry: Open, at: str) -> Working | None:
    """The working of what stands at a place of the answer; None where there is none."""
    with entry.turn:
        study, shop = entry.work.answer, entry.shop
    if study is None:
        return None
    try:
        return working(study, shop, at)
    except LookupError:
        return None


def not_yet(entry: Open) -> str:
    """Why there is no answer to show."""
    if entry.work.failed:
        return f"There is no answer: {entry.work.failed}"
    return "The answer is still being worked out."
