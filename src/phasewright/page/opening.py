"""The first visit: three questions to a first answer, a file of one's own, or a demo shop."""

from __future__ import annotations

from dataclasses import asdict, fields

from fastapi import APIRouter, Request
from starlette.datastructures import UploadFile
from starlette.responses import RedirectResponse, Response

from phasewright.job.first import First, Refused, first_text, refusals
from phasewright.job.texts import MOST_BYTES, shop_of, text_of
from phasewright.page.demos import demos
from phasewright.page.forms import MOST_FIELDS, form_of, texts
from phasewright.page.keeper import Listed
from phasewright.page.limits import asker
from phasewright.page.looks import looks
from phasewright.page.machine_form import no_plate, plate_facts
from phasewright.page.settling import unpacked
from phasewright.page.shelf import Shelf
from phasewright.quantities.errors import MachineFault, Mistake, ShopFileError
from phasewright.shop import machine_questions, questions

router = APIRouter(include_in_schema=False)
NOT_NAMED = "the machine"
"""What the machine is called while its plate is being typed."""


@router.get("/")
def begin(request: Request) -> Response:
    """The first page."""
    return _begin(request, First())


@router.post("/first")
async def first(request: Request) -> Response:
    """The three answers, and the shop they make."""
    typed = texts(await form_of(request))
    known = {field.name for field in fields(First)}
    answers = First(**{name: text for name, text in typed.items() if name in known})
    try:
        text = first_text(answers)
    except Refused:
        return _begin(request, answers, refused={one.field: one for one in refusals(answers)})
    return _opened(request, text)


@router.post("/first/plate")
async def first_plate(request: Request) -> Response:
    """What the plate that is being typed is read as, for the supply that is chosen so far."""
    typed = texts(await form_of(request))
    chosen = {name: typed.get(name, "") for name in ("region", "feeds", "volts", "drives", "plate")}
    if not chosen["plate"].strip():
        return looks("plate.html", told=None, why=[], picture=None, speeds=[])
    try:
        text = first_text(First(machine=NOT_NAMED, **chosen))
    except Refused as refused:
        return looks("plate.html", **no_plate(refused))
    shop = shop_of(text)
    return looks(
        "plate.html", **plate_facts(text, shop.region, "machines[0].motors[0]", chosen["plate"])
    )


@router.post("/open")
async def open_file(request: Request) -> Response:
    """A shop file of one's own; its name is told and never used."""
    async with request.form(max_files=1, max_fields=MOST_FIELDS) as form:
        shop = form.get("shop")
        if not isinstance(shop, UploadFile):
            return _begin(request, First())
        name, raw = (shop.filename or "the file")[:80], await shop.read(MOST_BYTES + 1)
    try:
        return _opened(request, text_of(raw, name))
    except ShopFileError as refused:
        told = [_named(mistake, name) for mistake in refused.mistakes]
        return _begin(request, First(), mistakes=told, file=name)


@router.post("/demo/{key}")
def demo(request: Request, key: str) -> Response:
    """One of the demo shops."""
    known = demos().get(key)
    if known is None:
        return looks("gone.html", 404)
    entry = _shelf(request).put(known.text, own=False, who=asker(request))
    return RedirectResponse(f"/shop/{entry.key}", 303)


@router.get("/link")
def link() -> Response:
    """Where a link leads that holds a shop: the browser unpacks it, the server sees nothing."""
    return looks("link.html")


@router.post("/link")
async def open_link(request: Request) -> Response:
    """The shop of a link that its reader has looked at."""
    typed = texts(await form_of(request))
    return _opened(request, unpacked(typed.get("text", "")))


def _opened(request: Request, text: str) -> RedirectResponse:
    key = _shelf(request).put(text, who=asker(request)).key
    return RedirectResponse(f"/shop/{key}", 303)


def _shelf(request: Request) -> Shelf:
    shelf: Shelf = request.app.state.shelf
    return shelf


def _named(mistake: Mistake, name: str) -> Mistake:
    return Mistake(name, mistake.line, mistake.path, mistake.found, mistake.allowed, mistake.remedy)


def _begin(
    request: Request,
    answers: First,
    refused: dict[str, Refused] | None = None,
    mistakes: list[Mistake] | None = None,
    file: str = "",
) -> Response:
    kept: list[Listed] = []
    unread = ""
    try:
        kept = _shelf(request).listed()
    except MachineFault as fault:
        unread = str(fault)
    return looks(
        "begin.html",
        422 if refused or mistakes else 200,
        given=asdict(answers),
        refused=refused or {},
        mistakes=mistakes or [],
        file=file,
        kept=kept,
        unread=unread,
        place=_shelf(request).place,
        ask=questions,
        load=machine_questions.LOAD,
        demos=list(demos().values()),
    )
