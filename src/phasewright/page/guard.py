"""What stands before every request: whom the server answers, how much it reads, what it allows.

A server on the loopback address is reachable by every web site that is open in the same browser;
so only its own names are answered, and a change is taken from its own pages only. Nothing may be
loaded from elsewhere, no script stands in a page, and a fault is told without its trace.
"""

from __future__ import annotations

import asyncio
import logging
import math
import re
import time
from collections.abc import Sequence
from urllib.parse import urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from phasewright.page.limits import Rates
from phasewright.page.looks import looks

LOOPBACK = ("127.0.0.1", "localhost", "[::1]")
_SAFE = ("GET", "HEAD", "OPTIONS")
_HEADERS = {
    "Content-Security-Policy": (
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; "
        "font-src 'self'; connect-src 'self'; form-action 'self'; base-uri 'none'; "
        "frame-ancestors 'none'"
    ),
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cache-Control": "no-store",
}
LARGE = "That is larger than any shop file that is read here."
SLOW = "What you sent came too slowly, and was not waited for. Nothing was changed."
_KEPT = ("/static/", "/fonts/")
_FREE = ("/static/", "/fonts/", "/health")
_SHOP = re.compile(r"/shop/[0-9a-f]{24}(?=/|$)")
_log = logging.getLogger(__name__)


class TooLarge(Exception):
    """A body is larger than anything that is asked for here."""


class TooSlow(Exception):
    """A body did not come in the time that is given to it."""


class Guard:
    """Answers only requests to `hosts` (None: any), reads at most `most_bytes` of a body, within
    `body_s` seconds, and answers nobody more often than `rates` allow."""

    def __init__(
        self,
        app: ASGIApp,
        hosts: Sequence[str] | None,
        most_bytes: int,
        body_s: float = math.inf,
        rates: Rates | None = None,
    ) -> None:
        self._app = app
        self._hosts = hosts
        self._most = most_bytes
        self._body_s = body_s
        self._rates = rates

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        headers = Headers(scope=scope)
        refused = self._refused(headers, scope)
        if refused is not None:
            await refused(scope, receive, _with_headers(send))
            return
        begun, kept = False, scope["path"].startswith(_KEPT)

        async def tell(message: Message) -> None:
            nonlocal begun
            begun = True
            await send(message)

        try:
            body = _bounded(receive, self._most, self._body_s)
            await self._app(scope, body, _with_headers(tell, kept=kept))
        except (TooLarge, TooSlow) as refused:
            words, status = (LARGE, 413) if isinstance(refused, TooLarge) else (SLOW, 408)
            if not begun:
                await _told(scope, words, status)(scope, receive, _with_headers(send))
        except Exception:
            _log.exception("a request failed")
            if begun:
                raise
            words = "A fault of this program, not of yours. What you did before is kept."
            await _told(scope, words, 500)(scope, receive, _with_headers(send))

    def _refused(self, headers: Headers, scope: Scope) -> Response | None:
        host = headers.get("host", "")
        if self._hosts is not None and _name(host) not in self._hosts:
            return _told(scope, "This server answers only to its own address.", 400, own=True)
        wait_s = self._wait_s(scope)
        if wait_s > 0.0:
            return _asked_too_often(scope, wait_s)
        length = headers.get("content-length", "0")
        if not length.isdigit() or int(length) > self._most:
            return _told(scope, LARGE, 413)
        if scope["method"] in _SAFE:
            return None
        origin, site = headers.get("origin"), headers.get("sec-fetch-site")
        foreign = origin is not None and urlsplit(origin).netloc != host
        if foreign or site in ("cross-site", "same-site"):
            return _told(scope, "A change is taken only from the pages of this server.", 403)
        return None

    def _wait_s(self, scope: Scope) -> float:
        if self._rates is None or scope["path"].startswith(_FREE):
            return 0.0
        who = (scope.get("client") or ("", 0))[0]
        return self._rates.wait_s(who, sends=scope["method"] not in _SAFE)


def _asked_too_often(scope: Scope, wait_s: float) -> Response:
    seconds = math.ceil(wait_s)
    words = (
        "You ask more often than this server can answer everybody. Nothing was changed: wait "
        f"{seconds} {'second' if seconds == 1 else 'seconds'} and ask again."
    )
    told = _told(scope, words, 429)
    told.headers["Retry-After"] = str(seconds)
    return told


def _name(host: str) -> str:
    """The name in a Host header, without its port."""
    name, colon, port = host.rpartition(":")
    return name.lower() if colon and port.isdigit() else host.lower()


def _told(scope: Scope, words: str, status: int, *, own: bool = False) -> Response:
    """A refusal as a page with a way back (`own`: to the address that is answered), for programs
    as a line."""
    path = scope["path"]
    if path.startswith("/api/"):
        return PlainTextResponse(words + "\n", status)
    found = _SHOP.match(path)
    back = "/" if found is None else found[0]
    if own:
        port = (scope.get("server") or ("", None))[1]
        back = f"http://{LOOPBACK[0]}:{port}/" if port else f"http://{LOOPBACK[0]}/"
    return looks("refused.html", status, words=words, back=back)


def _bounded(receive: Receive, most: int, body_s: float) -> Receive:
    """Reads no more than `most` bytes, and waits no longer than `body_s` for the last of them."""
    read, until, whole = 0, time.monotonic() + body_s, False

    async def bounded() -> Message:
        nonlocal read, whole
        if whole or math.isinf(until):
            message = await receive()
        else:
            try:
                message = await asyncio.wait_for(receive(), max(0.0, until - time.monotonic()))
            except TimeoutError as slow:
                raise TooSlow from slow
        whole = not message.get("more_body", False)
        read += len(message.get("body", b""))
        if read > most:
            raise TooLarge
        return message

    return bounded


def _with_headers(send: Send, *, kept: bool = False) -> Send:
    """Sends what is always said; `kept`: a browser may keep it, and asks whether it is new."""

    async def with_headers(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            if kept:
                headers.setdefault("Cache-Control", "no-cache")
            for name, value in _HEADERS.items():
                headers.setdefault(name, value)
        await send(message)

    return with_headers
