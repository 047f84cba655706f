"""How a template becomes an answer, and what every template may say."""

from __future__ import annotations

import time
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, Response

from phasewright.papers.algebra import first_sentence
from phasewright.papers.plan_words import bought, part_words
from phasewright.papers.svg import Mark, svg
from phasewright.papers.workings.sentences import spans
from phasewright.quantities.told import amount, money, spread
from phasewright.quantities.words import (
    BUYABLE_WORDS,
    COMPARED_WORDS,
    CONNECTION_WORDS,
    SEVERITY_WORDS,
    VERDICT_WORDS,
    WAY_SHORT,
    WAY_WORDS,
)

SHAPES = {
    "suits": "●", "with_conditions": "◐", "refused": "○",
    "stop": "■", "condition": "▲", "caution": "△", "info": "·",
}  # fmt: skip
"""The shape of a verdict or a severity; its word always stands beside it."""


def _drawn(whole: Mark) -> Markup:
    """A drawing in the page; the writer has escaped every word in it."""
    return Markup(svg(whole))


def moment(at: float) -> str:
    """Seconds since 1970 as the clock on this computer's wall."""
    return time.strftime("%Y-%m-%d %H:%M", time.localtime(at))


def _large(words: str) -> str:
    return words[:1].upper() + words[1:]


def _sentence_end(words: str) -> str:
    return words if words.endswith((".", "!", "?")) else words + "."


def _sentence(words: str) -> str:
    return _large(_sentence_end(words))


def _letters(words: str) -> str:
    """Words as a name an element can have."""
    return "".join(c if c.isascii() and c.isalnum() else "-" for c in words)


def _short(number: float) -> str:
    """A number of a table: four digits."""
    shown = f"{number:.4g}"
    if "e" in shown:
        shown = f"{number:.0f}" if abs(number) >= 1.0 else f"{number:.6f}"
    return shown.replace("-", "\N{MINUS SIGN}")


_LOOKS = Environment(
    loader=FileSystemLoader(Path(__file__).parent / "templates"),
    autoescape=True,
    undefined=StrictUndefined,
    trim_blocks=True,
    lstrip_blocks=True,
)
_LOOKS.globals.update(
    shapes=SHAPES,
    verdict_words=VERDICT_WORDS,
    severity_words=SEVERITY_WORDS,
    way_words=WAY_WORDS,
    way_short=WAY_SHORT,
    buyable_words=BUYABLE_WORDS,
    connection_words=CONNECTION_WORDS,
    compared_words=COMPARED_WORDS,
)
_LOOKS.filters.update(
    drawn=_drawn,
    amount=amount,
    spread=spread,
    money=money,
    sentence=_sentence,
    sentence_end=_sentence_end,
    capitalize_first=_large,
    uncapitalize_first=lambda words: words[:1].lower() + words[1:],
    bought=bought,
    part=part_words,
    moment=moment,
    letters=_letters,
    short=_short,
    spans=spans,
    how=first_sentence,
    plain_name=lambda name: name.replace("_", " "),
    percent=lambda share: f"{share:.1%}",
)


def looks(template: str, status: int = 200, **facts: Any) -> HTMLResponse:
    """A page or a part of one."""
    return HTMLResponse(_LOOKS.get_template(template).render(**facts), status)


def wants_part(request: Request) -> bool:
    """True where the browser's library asks for a part of a page, not for a whole one."""
    return request.headers.get("hx-request") == "true"


async def not_taken(request: Request, refused: Exception) -> Response:
    """What is told of a request that cannot be meant, with a way back."""
    status = refused.status_code if isinstance(refused, HTTPException) else 400
    words = "That is nothing this page asks for. Nothing was changed."
    if request.url.path.startswith("/api/"):
        return JSONResponse({"failed": words}, status)
    return looks("refused.html", status, words=words, back="/")


async def no_disk(request: Request, fault: Exception) -> Response:
    """What is told where the computer refuses."""
    if request.url.path.startswith("/api/"):
        return JSONResponse({"failed": str(fault)}, 500)
    return looks("refused.html", 500, words=_sentence(str(fault)), back="/")


async def not_there(request: Request, _: Exception) -> Response:
    """What is told where nothing stands."""
    if request.url.path.startswith("/api/"):
        return Response('{"failed": "there is nothing here"}\n', 404, media_type="application/json")
    return looks("gone.html", 404)
