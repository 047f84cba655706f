"""The papers of an answer, to be carried away: what is asked before, for whom each is, files."""

from __future__ import annotations

import io
import mimetypes
import threading
import zipfile

from fastapi import APIRouter, Request
from starlette.responses import Response

from phasewright.job.before_papers import asked_first
from phasewright.page.looks import looks
from phasewright.page.showing import asks_of
from phasewright.page.viewing import kept_file, opened, plain_name, shelf_of
from phasewright.page.workings import plan_of
from phasewright.papers.sheets.uses import FILES, REPORT, SHEETS, USES

router = APIRouter(prefix="/shop/{key}", include_in_schema=False)
PAPERS_S = 60.0
"""How long papers are waited for: all of them take a few seconds."""
AT_ONE_TIME, TURN_S = 4, 4.0
"""Archives made at one time, and how long the next waits for a turn: whoever waits holds one of
the server's threads."""
BUSY = "Others ask for papers just now. Ask again in a moment."
_turns = threading.BoundedSemaphore(AT_ONE_TIME)


@router.get("/papers")
def papers(request: Request, key: str, plan: str = "") -> Response:
    """The questions of safety, then every paper with its reader."""
    entry = opened(request, key)
    study = None if entry is None else entry.work.answer
    if entry is None or study is None:
        return looks("gone.html", 404)
    here, chosen = f"/shop/{key}", plan_of(entry, plan)
    asks = [
        (ask, [(words, f"{here}/{address}") for words, address in ask.typed_at])
        for ask in asks_of(asked_first(entry.shop, chosen), entry.shop)
    ]
    files = {name: FILES[name] for name in (REPORT, SHEETS)}
    inside = {name: use for name, use in FILES.items() if name not in files}
    return looks(
        "papers.html", here=here, shop=entry.shop, study=study, asks=asks, files=files,
        inside=inside, sheets=USES, plan=chosen,
    )  # fmt: skip


@router.get("/all.zip")
def all_files(request: Request, key: str, plan: str = "") -> Response:
    """The shop file, the figures and every paper of the answer, in one archive."""
    made = _archive(request, key, plan)
    if isinstance(made, Response):
        return made
    name, whole = made
    return kept_file(whole, "application/zip", f"{name}.zip")


@router.get("/paper/{name:path}")
def paper(request: Request, key: str, name: str, plan: str = "") -> Response:
    """One paper of the answer, by its name among them."""
    if name not in {REPORT, SHEETS, *(f"sheets/{sheet}.txt" for sheet in USES)}:
        return looks("gone.html", 404)
    made = _archive(request, key, plan)
    if isinstance(made, Response):
        return made
    folder, whole = made
    with zipfile.ZipFile(io.BytesIO(whole)) as archive:
        inside = f"{folder}/{name}"
        if inside not in archive.namelist():  # a sheet without figures of this shop is left out
            told = "This shop has no figures for that sheet; the report says why."
            return looks("refused.html", 404, words=told, back=f"/shop/{key}/papers")
        holds = archive.read(inside)
    kind = mimetypes.types_map.get(f".{name.rpartition('.')[2]}", "text/plain")
    return kept_file(holds, kind, f"{folder}-{name.rpartition('/')[2]}")


def _archive(request: Request, key: str, plan: str) -> tuple[str, bytes] | Response:
    """The name of the shop and the archive of its papers, or what is told instead."""
    entry = opened(request, key)
    if entry is None:
        return looks("gone.html", 404)
    with entry.turn:
        work, name = entry.work, plain_name(entry.shop.shop)
    if not work.packed:
        return looks("gone.html", 404)
    chosen = plan_of(entry, plan)
    wanted = "" if chosen is None else chosen.id
    whole: bytes | str | None = None
    if _turns.acquire(timeout=TURN_S):
        try:
            whole = shelf_of(request).studies.papers(work, name, wanted, PAPERS_S)
        finally:
            _turns.release()
    if isinstance(whole, bytes):
        return name, whole
    return looks("refused.html", 503, words=whole or BUSY, back=f"/shop/{key}")
