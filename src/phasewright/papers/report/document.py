"""The whole report as data: what stands on the first page, then every block in its order."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import chain
from typing import Literal

from phasewright.papers.drawings.pages import Page
from phasewright.papers.plan_words import chosen
from phasewright.papers.report.answer_page import answer_page
from phasewright.papers.report.blocks import (
    Block,
    Contents,
    Heading,
    Picture,
    Words,
    shown,
    written,
)
from phasewright.papers.report.calculations import calculations
from phasewright.papers.report.circuits import cases, circuits, starts
from phasewright.papers.report.comparison import comparison, drawn, motors
from phasewright.papers.report.facts import assumed, changes, found, missing, sources, to_confirm
from phasewright.papers.report.lists import buying, wiring_parts
from phasewright.papers.report.sheets import left_out, sheet_blocks
from phasewright.papers.sheets.sheet import Sheets
from phasewright.papers.svg import svg
from phasewright.papers.wiring.model import Wiring
from phasewright.plan.study import Study
from phasewright.shop.model import Shop

Paper = Literal["a4", "us-letter"]
CALCULATIONS = "calculations"
PERMISSION = (
    "This is a calculation, not a permission. Who may wire, and how, is for your local code and "
    "a licensed electrician to say."
)


@dataclass(frozen=True, slots=True)
class Document:
    """A report: its title, its paper, the first page and what follows it."""

    title: str
    shop: str
    paper: Paper
    first: tuple[Block, ...]
    rest: tuple[Block, ...]


def paper_of(study: Study) -> Paper:
    """The paper that is at hand in the region."""
    return "us-letter" if study.region == "NEC" else "a4"


def document(
    shop: Shop, study: Study, wiring: Wiring, drawings: Iterable[Page], sheets: Sheets
) -> Document:
    """The report of a study with the wiring of its plan, the drawings of that and its sheets;
    `drawings` is empty where the wiring has a fault."""
    return Document(
        title=f"{study.shop}: three-phase machines on its supply",
        shop=study.shop,
        paper=paper_of(study),
        first=(*answer_page(study), Words(PERMISSION, look="caution")),
        rest=tuple(_rest(shop, study, wiring, tuple(drawings), sheets)),
    )


def _rest(
    shop: Shop, study: Study, wiring: Wiring, drawings: tuple[Page, ...], sheets: Sheets
) -> Iterator[Block]:
    plan = chosen(study)
    yield from drawn(shop, study)
    yield Heading("In these papers")
    yield Contents()
    yield from comparison(study)
    yield from motors(study)
    for page in drawings:
        told = f"Drawing, sheet {page.number}: {page.title}"
        title = f"Drawing {page.number}: {page.title}"
        yield Picture(svg(page.marks), told, title, listed=page is drawings[0])
    if plan is not None:
        yield from chain(buying(plan, study.currency), wiring_parts(wiring))
        yield from chain(circuits(plan), cases(plan), starts(plan))
    for sheet in sheets.sheets:
        if sheet.name != CALCULATIONS:  # they have a part of their own
            yield from sheet_blocks(sheet)
    yield from left_out(sheets)
    yield from to_confirm(plan)
    yield from calculations(study, plan)
    yield from found(study, plan)
    yield from chain(assumed(study.assumed, shop), missing(study.missing, study.currency))
    yield from chain(changes(study), sources(study))


def data_of(whole: Document) -> str:
    """The report as the text (JSON) that the template reads."""
    return json.dumps(
        {
            "title": shown(whole.title),
            "shop": shown(whole.shop),
            "paper": whole.paper,
            "first": [written(block) for block in whole.first],
            "rest": [written(block) for block in whole.rest],
        },
        ensure_ascii=False,
    )
