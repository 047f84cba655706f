"""The server of the page: its folders, its guard, its routes."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any

from fastapi import FastAPI
from fastapi.exceptions import RequestValidationError
from starlette.concurrency import run_in_threadpool
from starlette.middleware import Middleware
from starlette.staticfiles import StaticFiles

from phasewright.job.keeping import ShopFolder
from phasewright.page import (
    api,
    carrying,
    editing,
    health,
    letters,
    opening,
    settling,
    sources,
    supplying,
    things,
    turning,
    viewing,
    workings,
)
from phasewright.page.demos import demos
from phasewright.page.guard import LOOPBACK, Guard
from phasewright.page.limits import LOCAL, PUBLIC, Bounds, public_rates
from phasewright.page.looks import no_disk, not_taken, not_there
from phasewright.page.open_shop import Overtaken
from phasewright.page.shelf import Shelf
from phasewright.page.studies import Studies
from phasewright.papers.font import FOLDER as FONTS
from phasewright.quantities.errors import MachineFault, ShopFileError

HERE = Path(__file__).parent
_TOLD: dict[int | type[Exception], Any] = {
    400: not_taken,
    404: not_there,
    405: not_taken,
    RequestValidationError: not_there,
    MachineFault: no_disk,
    Overtaken: settling.overtaken,
    settling.StateUnknown: settling.state_unknown,
    ShopFileError: settling.not_packed,
}


def most_body(bounds: Bounds) -> int:
    """Bytes of the largest thing sent [bytes]: a form holds a shop file and what stands around."""
    return 2 * bounds.text


def page(
    *,
    public: bool = False,
    text: str | None = None,
    folder: ShopFolder | None = None,
    bounds: Bounds | None = None,
    warm: bool = False,
) -> tuple[FastAPI, str]:
    """The application and the path to begin with.

    `text` is a shop file to open at once; raises ShopFileError where it has mistakes. `public`
    answers whatever name the server is asked by, gives every stranger a fair part and keeps
    nothing; `bounds` says how much there is, where that is not the usual. Shops are kept in
    `folder`; without one in memory alone. `warm` begins the processes of the studies with the
    server, else they are begun with the first study.
    """
    bounds = bounds or (PUBLIC if public else LOCAL)
    example = min(demos().values(), key=lambda demo: demo.motors, default=None) if warm else None
    studies = Studies(bounds, "" if example is None else example.text)
    shelf = Shelf(None if public else folder, studies, bounds)
    start = "/" if text is None else f"/shop/{shelf.again(text).key}"

    @asynccontextmanager
    async def life(_: FastAPI) -> AsyncIterator[None]:
        if warm:
            await run_in_threadpool(studies.open)
        yield
        await run_in_threadpool(shelf.close)

    app = FastAPI(
        title="Phasewright",
        docs_url=None,
        redoc_url=None,
        openapi_url="/api/openapi.json",
        lifespan=life,
        middleware=[
            Middleware(
                Guard,
                hosts=None if public else LOOPBACK,
                most_bytes=most_body(bounds),
                body_s=bounds.body_s,
                rates=public_rates() if public else None,
            ),
        ],
        exception_handlers=_TOLD,
    )
    app.state.shelf = shelf
    app.include_router(letters.router)  # before the folder of the fonts
    app.mount("/static", StaticFiles(directory=HERE / "static"), name="static")
    app.mount("/fonts", StaticFiles(directory=FONTS), name="fonts")
    for part in (
        health, opening, viewing, carrying, workings, turning, settling, editing, supplying,
        sources, things, api,
    ):  # fmt: skip
        app.include_router(part.router)
    return app, start
