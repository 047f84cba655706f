"""Touching what makes three phases, or a drive: its amps and volts, and what the owner can say of
it. All figures are the answer's own."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any
from urllib.parse import urlencode

from fastapi import APIRouter, Request
from starlette.responses import Response

from phasewright.page.looks import looks
from phasewright.page.placing import places
from phasewright.page.viewing import opened
from phasewright.page.workings import not_yet, plan_of
from phasewright.papers.plan_words import cable_words, device_words
from phasewright.papers.workings.places import id_words
from phasewright.plan.study import PlanEquipment, PlanSide
from phasewright.quantities.codes import OwnedKind, QuoteKind, WayName
from phasewright.quantities.told import amount
from phasewright.quantities.words import WAY_SHORT, place_words

router = APIRouter(prefix="/shop/{key}", include_in_schema=False)
_KINDS: dict[WayName, tuple[OwnedKind, QuoteKind]] = {
    "rotary_converter": ("rotary_converter", "rotary_converter"),
    "static_converter": ("static_converter", "static_converter"),
    "electronic_converter": ("electronic_converter", "electronic_converter"),
    "drive_per_motor": ("drive", "drive_per_motor"),
    "shared_drive": ("drive", "drive_per_motor"),
    "step_up_drive": ("drive", "step_up_drive"),
}
"""What a thing is on the owner's shelf and among the prices; ways without an entry are neither."""
_BY_ID: dict[str, tuple[OwnedKind, QuoteKind]] = {
    "battery inverter": ("battery_inverter", "battery_inverter"),
    "generator": ("generator", "generator"),
}
"""Electronic sources of another make, by the id that a plan gives them."""


@dataclass(frozen=True, slots=True)
class Leads:
    """A circuit to or from a thing: where it leads, what stands in it, its place in the file."""

    words: str
    told: str
    at: str


@router.get("/source")
def source(request: Request, key: str, id: str = "", plan: str = "") -> Response:
    """What makes three phases, or a drive, as a plan has it, and what can be told of it."""
    entry = opened(request, key)
    if entry is None:
        return looks("gone.html", 404)
    study, chosen = entry.work.answer, plan_of(entry, plan)
    if study is None or chosen is None:
        return looks("refused.html", 404, words=not_yet(entry), back=f"/shop/{key}")
    this = next((one for one in chosen.equipment if one.id == id), None)
    if this is None:
        return looks("gone.html", 404)
    asked: dict[str, Any] = places(study, entry.shop)
    return looks(
        "source.html",
        here=f"/shop/{key}",
        shop=entry.shop,
        study=study,
        plan=chosen,
        this=this,
        title=f"{WAY_SHORT[this.way].capitalize()}, {amount(this.rating, this.unit)}",
        where=place_words(this.place or ""),
        motors=[motor for motor in chosen.motors if motor.equipment == this.id],
        cases=[case for case in chosen.cases if set(case.running) & set(this.serves)],
        leads=_leads(this, chosen, f"/plans/{study.plans.index(chosen)}/circuits"),
        others=[one for one in study.plans if one.id != chosen.id and one.feasible],
        mine=_asked_for(this, 0),
        price=_asked_for(this, 1),
        **asked,
    )


def _leads(this: PlanEquipment, plan: PlanSide, at: str) -> list[Leads]:
    """The circuits to it and from it."""
    found = []
    for seat, row in enumerate(plan.circuits or ()):
        if this.id not in (row.from_, row.to):
            continue
        told = [] if row.design_current_a is None else [amount(row.design_current_a.number, "A")]
        told += [device_words(row.device), cable_words(row) if row.length_m.number else ""]
        words = ", ".join(filter(None, told)).replace("mm2", "mm²")
        found.append(Leads(id_words(row.id), words, f"{at}/{seat}"))
    return found


def _asked_for(this: PlanEquipment, of: int) -> str:
    """The address below the shop's of the form for one like it: on the shelf, or a price."""
    kinds = _BY_ID.get(this.id) or _KINDS.get(this.way)
    if kinds is None:
        return ""
    facts: dict[str, str] = {"kind": kinds[of]}
    if this.unit == "W":
        facts["power"] = amount(this.rating, "W")
    amps = this.figures.drive_rating_a
    if of == 0 and kinds[0] == "drive" and amps is not None:
        facts["current"] = amount(amps.number, "A")
    return f"things/{('shelf', 'price')[of]}/new?{urlencode(facts)}"
