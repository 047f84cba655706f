"""The server of the page: its folders, its guard, its routes."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any

from fastapi import FastAPI
from fastapi.exceptions import RequestValidationError
from starlette.middleware import Middleware
from starlette.staticfiles import StaticFiles

from phasewright.job.keeping import ShopFolder
from phasewright.job.texts import MOST_BYTES
from phasewright.page import api, editing, opening, settling, supplying, turning, viewing, workings
from phasewright.page.guard import LOOPBACK, Guard
from phasewright.page.looks import no_disk, not_taken, not_there
from phasewright.page.open_shop import Overtaken
from phasewright.page.shelf import Shelf
from phasewright.papers.font import FOLDER as FONTS
from phasewright.quantities.errors import MachineFault, ShopFileError

HERE = Path(__file__).parent
MOST_BODY = 2 * MOST_BYTES
"""A form holds a shop file and what stands around it."""
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


def page(
    *, public: bool = False, text: str | None = None, folder: ShopFolder | None = None
) -> tuple[FastAPI, str]:
    """The application and the path to begin with.

    `text` is a shop file to open at once; raises ShopFileError where it has mistakes. `public`
    answers whatever name the server is asked by, for use in a network that is trusted. Shops are
    kept in `folder`; without one in memory alone.
    """
    shelf = Shelf(folder)
    start = "/" if text is None else f"/shop/{shelf.again(text).key}"

    @asynccontextmanager
    async def life(_: FastAPI) -> AsyncIterator[None]:
        yield
        shelf.close()

    app = FastAPI(
        title="Phasewright",
        docs_url=None,
        redoc_url=None,
        openapi_url="/api/openapi.json",
        lifespan=life,
        middleware=[
            Middleware(Guard, hosts=None if public else LOOPBACK, most_bytes=MOST_BODY),
        ],
        exception_handlers=_TOLD,
    )
    app.state.shelf = shelf
    app.mount("/static", StaticFiles(directory=HERE / "static"), name="static")
    app.mount("/fonts", StaticFiles(directory=FONTS), name="fonts")
    for part in (opening, viewing, workings, turning, settling, editing, supplying, api):
        app.include_router(part.router)
    return app, start
