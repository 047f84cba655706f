"""The whole report as data: what stands on the first page, then every block in its order."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import chain

from phasewright.papers.plan_words import chosen
from phasewright.papers.report.answer_page import answer_page
from phasewright.papers.report.blocks import Block, Contents, Heading, Words, shown, written
from phasewright.papers.report.circuits import cases, circuits, starts
from phasewright.papers.report.comparison import comparison, drawn, motors
from phasewright.papers.report.drawings import drawings
from phasewright.papers.report.facts import assumed, changes, found, missing, sources, to_confirm
from phasewright.papers.report.lists import buying, shelf, wiring_parts
from phasewright.papers.report.looks import PaperSize
from phasewright.papers.report.sheets import apart, at_hand
from phasewright.papers.sheets.sheet import Sheets
from phasewright.papers.wiring.model import Wiring
from phasewright.plan.study import Study
from phasewright.shop.model import Shop

PERMISSION = (
    "This is a calculation, not a permission. Who may wire, and how, is for your local code and "
    "a licensed electrician to say."
)


@dataclass(frozen=True, slots=True)
class Document:
    """A report: its title, its paper, the first page and what follows it."""

    title: str
    shop: str
    paper: PaperSize
    first: tuple[Block, ...]
    rest: tuple[Block, ...]


def paper_of(study: Study) -> PaperSize:
    """The paper that is at hand in the region."""
    return "letter" if study.region == "NEC" else "a4"


def document(
    shop: Shop,
    study: Study,
    wiring: Wiring,
    sheets: Sheets,
    paper: PaperSize | None = None,
    *,
    sound: bool = True,
) -> Document:
    """The report of a study with the wiring of its plan, which is drawn where it is `sound`, and
    its sheets; `paper` is the region's where none is named."""
    size = paper_of(study) if paper is None else paper
    return Document(
        title=f"{study.shop}: three-phase machines on its supply",
        shop=study.shop,
        paper=size,
        first=(*answer_page(study), Words(PERMISSION, look="caution")),
        rest=(
            *drawn(shop, study),
            Heading("In these papers"),
            Contents(),
            *comparison(study),
            *motors(study),
            *_lists(study, wiring),
            *at_hand(sheets),
            *(drawings(wiring, size) if sound else ()),
            *_facts(shop, study),
        ),
    )


def handouts(
    study: Study, wiring: Wiring, sheets: Sheets, paper: PaperSize | None = None
) -> Document:
    """The sheets that do not stand in the report, with spare parts, meters and tools, on the same
    paper."""
    plan = chosen(study)
    return Document(
        title=f"{study.shop}: sheets to hand out and to write in",
        shop=study.shop,
        paper=paper_of(study) if paper is None else paper,
        first=(Words("Sheets to hand out, to write in and to check by."), Contents(),
               Words(PERMISSION, look="caution")),
        rest=(*apart(sheets), *(() if plan is None else shelf(plan, wiring))),
    )  # fmt: skip


def _lists(study: Study, wiring: Wiring) -> Iterator[Block]:
    plan = chosen(study)
    if plan is not None:
        yield from buying(plan, study.currency)
        yield from wiring_parts(plan, wiring, study.currency)
        yield from chain(circuits(plan, wiring), cases(plan), starts(plan), to_confirm(plan))


def _facts(shop: Shop, study: Study) -> Iterator[Block]:
    yield from found(study, chosen(study))
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
