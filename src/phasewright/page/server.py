"""The server of the page: its folders, its guard, its routes."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

from fastapi import FastAPI
from starlette.middleware import Middleware
from starlette.staticfiles import StaticFiles

from phasewright.job.texts import MOST_BYTES
from phasewright.page import api, editing, opening, supplying, viewing
from phasewright.page.guard import LOOPBACK, Guard
from phasewright.page.looks import not_there
from phasewright.page.shelf import Shelf
from phasewright.papers.font import FOLDER as FONTS

HERE = Path(__file__).parent
MOST_BODY = 2 * MOST_BYTES
"""A form holds a shop file and what stands around it."""


def page(*, public: bool = False, text: str | None = None) -> tuple[FastAPI, str]:
    """The application and the path to begin with.

    `text` is a shop file to open at once; raises ShopFileError where it has mistakes. `public`
    answers whatever name the server is asked by, for use in a network that is trusted.
    """
    shelf = Shelf()
    start = "/" if text is None else f"/shop/{shelf.put(text).key}"

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
        exception_handlers={404: not_there},
    )
    app.state.shelf = shelf
    app.mount("/static", StaticFiles(directory=HERE / "static"), name="static")
    app.mount("/fonts", StaticFiles(directory=FONTS), name="fonts")
    for part in (opening, viewing, editing, supplying, api):
        app.include_router(part.router)
    return app, start
