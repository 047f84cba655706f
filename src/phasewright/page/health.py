"""Whether the server is well, for whoever looks after it."""

from __future__ import annotations

from fastapi import APIRouter, Request
from starlette.responses import JSONResponse, Response

from phasewright.page.shelf import Shelf

router = APIRouter(include_in_schema=False)


@router.get("/health")
def health(request: Request) -> Response:
    """How many processes study, how many studies wait and shops are open; nothing of any visitor.

    503 while no process is there that can study; before the first study none need be.
    """
    shelf: Shelf = request.app.state.shelf
    state = shelf.studies.state()
    well = state["processes"] > 0 or not shelf.studies.begun
    return JSONResponse({"well": well, **state, "shops": len(shelf)}, 200 if well else 503)
