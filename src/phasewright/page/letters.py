"""The letters that the page is set in, as a browser loads them."""

from __future__ import annotations

from fastapi import APIRouter, Request
from starlette.responses import Response

from phasewright.papers.font_part import plain_letters

router = APIRouter(include_in_schema=False)


@router.get("/fonts/plain.ttf")
def plain(request: Request) -> Response:
    """The part of the font that nearly every page needs; a browser that has it is told so."""
    whole = plain_letters()
    tag = f'"{len(whole):x}-{whole[:64].hex()[-24:]}"'
    headers = {"ETag": tag}
    if request.headers.get("if-none-match") == tag:
        return Response(status_code=304, headers=headers)
    return Response(whole, media_type="font/ttf", headers=headers)
