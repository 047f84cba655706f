"""The JSON interface: a shop in, the result file out, each with its schema."""

from __future__ import annotations

import asyncio
from typing import Annotated, Any

from fastapi import APIRouter, Body, Request
from starlette.concurrency import run_in_threadpool
from starlette.responses import JSONResponse, Response

from phasewright.job.texts import result_text, schemas, shop_of, text_of
from phasewright.page.limits import asker
from phasewright.page.open_shop import Work
from phasewright.page.shelf import Shelf
from phasewright.quantities.errors import Mistake, ShopFileError

router = APIRouter(prefix="/api", tags=["shop"])
_POLL_S = 0.1
_STUDY: dict[int | str, dict[str, Any]] = {
    200: {"description": "The result file", "content": {"application/json": {
        "schema": {"$ref": "/api/result.schema.json"}}}},
    422: {"description": "The shop file has mistakes, every one of them listed"},
    503: {"description": "Too many shops wait for their answer just now"},
}  # fmt: skip


@router.get("/shop.schema.json")
def shop_schema() -> JSONResponse:
    """JSON Schema of a shop, for which a YAML text stands as well as JSON."""
    return JSONResponse(schemas()["shop"])


@router.get("/result.schema.json")
def result_schema() -> JSONResponse:
    """JSON Schema of the result file."""
    return JSONResponse(schemas()["result"])


@router.post("/study", responses=_STUDY)
async def study(
    request: Request,
    shop: Annotated[
        bytes, Body(media_type="application/yaml", description="A shop file: YAML, or JSON")
    ],
) -> Response:
    """The whole answer for a shop."""
    shelf: Shelf = request.app.state.shelf
    try:
        text = text_of(shop, "shop")
        described = await run_in_threadpool(shop_of, text, "shop")
        work = await run_in_threadpool(shelf.studied, text, described, None, asker(request))
    except ShopFileError as refused:
        return JSONResponse({"mistakes": [_told(m) for m in refused.mistakes]}, 422)
    while not work.ended:
        await asyncio.sleep(_POLL_S)
    if not work.packed:
        return JSONResponse({"failed": work.failed}, 503 if work.again else 500)
    whole = await run_in_threadpool(_result, work)
    return Response(whole, media_type="application/json")


def _result(work: Work) -> str:
    assert work.answer is not None
    return result_text(work.answer)


def _told(mistake: Mistake) -> dict[str, Any]:
    return {
        "line": mistake.line, "path": mistake.path, "found": mistake.found,
        "allowed": mistake.allowed, "remedy": mistake.remedy,
    }  # fmt: skip
