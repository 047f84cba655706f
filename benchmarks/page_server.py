"""A server of the page for measuring: begun, asked as a browser asks, watched, and ended."""

import contextlib
import http.client
import os
import re
import signal
import socket
import subprocess
import sys
import tempfile
import time
import urllib.parse
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
PATIENCE_S = 300.0


class Server:
    """A running server; `pid` is its process."""

    def __init__(self, port: int, pid: int) -> None:
        self.port, self.pid = port, pid

    def processes(self) -> list[int]:
        """The server and everything it has begun."""
        parents: dict[int, list[int]] = {}
        for at in Path("/proc").glob("[0-9]*/stat"):
            with contextlib.suppress(OSError):
                parent = int(at.read_text().rsplit(")", 1)[1].split()[1])
                parents.setdefault(parent, []).append(int(at.parent.name))
        found, ahead = [], [self.pid]
        while ahead:
            found.append(ahead.pop())
            ahead += parents.get(found[-1], [])
        return found

    def worked_s(self) -> float:
        """The processor's seconds of all of them."""
        ticks = 0
        for pid in self.processes():
            with contextlib.suppress(OSError):
                fields = Path(f"/proc/{pid}/stat").read_text().rsplit(")", 1)[1].split()
                ticks += int(fields[11]) + int(fields[12])
        return ticks / os.sysconf("SC_CLK_TCK")

    def memory_mb(self) -> list[float]:
        """Resident memory of each [MB], the server's first."""
        sizes = []
        for pid in self.processes():
            with contextlib.suppress(OSError):
                pages = int(Path(f"/proc/{pid}/statm").read_text().split()[1])
                sizes.append(pages * os.sysconf("SC_PAGE_SIZE") / 1e6)
        return sizes


class Browser:
    """One visitor with a connection of its own; `number` makes an address of its own of it, as a
    server that stands before this one would tell it."""

    def __init__(self, server: Server, number: int = 0) -> None:
        self._host = f"127.0.0.1:{server.port}"
        self._from = f"198.18.{number // 250}.{number % 250 + 1}"  # RFC 2544, for benchmarks
        self._line = http.client.HTTPConnection(self._host, timeout=PATIENCE_S)

    def ask(self, path: str, form: dict[str, str] | None = None) -> tuple[int, str, str]:
        """Status, where to, and body; sends a form where one is given."""
        head = {"X-Forwarded-For": self._from, "Origin": f"http://{self._host}"}
        body = None
        if form is not None:
            body = urllib.parse.urlencode(form)
            head["Content-Type"] = "application/x-www-form-urlencoded"
        for again in (False, True):
            try:
                self._line.request("GET" if form is None else "POST", path, body, head)
                answer = self._line.getresponse()
                return answer.status, answer.headers.get("location", ""), answer.read().decode()
            except (http.client.HTTPException, ConnectionError):
                self._line.close()
                if again:
                    raise
        raise AssertionError

    def open(self, text: str) -> str:
        """A shop's text opened; the address of its page."""
        import base64

        sent = base64.urlsafe_b64encode(text.encode()).decode()
        status, place, told = self.ask("/link", {"text": sent})
        if status != 303:
            raise RuntimeError(f"not opened ({status}): {told[-300:]}")
        return place

    def answered(self, place: str) -> str:
        """The page with the answer, waited for."""
        until = time.monotonic() + PATIENCE_S
        while time.monotonic() < until:
            page = self.ask(f"{place}?stage=3")[2]
            if 'class="headline"' in page:
                return page
            if "No answer:" in page:
                raise RuntimeError(re.sub(r"<[^>]+>", "", page.partition("No answer:")[2])[:200])
        raise RuntimeError("waited in vain for an answer")


@contextlib.contextmanager
def serving(*more: str) -> Iterator[Server]:
    """A server of the page whose processes are ready; its shops are kept in a folder that goes."""
    with socket.socket() as door:
        door.bind(("127.0.0.1", 0))
        port = door.getsockname()[1]
    with tempfile.TemporaryDirectory() as folder:
        run = subprocess.Popen(
            [sys.executable, "-m", "phasewright", "page", "--no-browser", "--port", str(port),
             *more],
            stdout=subprocess.DEVNULL, env={**os.environ, "XDG_DATA_HOME": folder},
        )  # fmt: skip
        try:
            server = Server(port, run.pid)
            _ready(server)
            yield server
        finally:
            run.send_signal(signal.SIGTERM)
            run.wait(60)


def _ready(server: Server) -> None:
    until = time.monotonic() + PATIENCE_S
    while time.monotonic() < until:
        with contextlib.suppress(OSError):
            told = Browser(server).ask("/health")[2]
            counted = dict(re.findall(r'"(\w+)":(\d+)', told))
            if int(counted["processes"]) and counted["ready"] == counted["processes"]:
                return
        time.sleep(0.2)
    raise RuntimeError("the server was not ready")
