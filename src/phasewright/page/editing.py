"""Touching what stands in the drawing: the supply, a machine, a new one."""

from __future__ import annotations

from fastapi import APIRouter, Request
from starlette.responses import RedirectResponse, Response

from phasewright.page.looks import looks
from phasewright.page.shelf import Shelf
from phasewright.page.viewing import opened

router = APIRouter(prefix="/shop/{key}", include_in_schema=False)


@router.post("/back")
def back(request: Request, key: str) -> Response:
    """Take the last change back."""
    entry = opened(request, key)
    if entry is None:
        return looks("gone.html", 404)
    shelf: Shelf = request.app.state.shelf
    shelf.back(entry)
    return RedirectResponse(f"/shop/{key}", 303)
