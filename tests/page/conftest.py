"""A server of the page in a thread, a client that needs no network, and a real browser."""

import contextlib
import os
import shutil
import socket
import threading
import time
from pathlib import Path

import pytest
import uvicorn
from playwright.sync_api import sync_playwright
from starlette.testclient import TestClient

from phasewright.network.compiled import compile_kernels, compiled
from phasewright.page.server import page

ROOT = Path(__file__).resolve().parents[2]
CHROMIUM = os.environ.get("CHROMIUM", "/usr/bin/chromium")
AXE = ROOT / "node_modules" / "axe-core" / "axe.min.js"
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]


def violations(seen):
    seen.evaluate(AXE.read_text("utf-8"))
    found = seen.evaluate(
        "rules => axe.run(document, {runOnly: {type: 'tag', values: rules}})", RULES
    )
    return [
        (one["id"], node["target"], node["failureSummary"])
        for one in found["violations"]
        for node in one["nodes"]
    ]


def pytest_collection_modifyitems(items):
    """Whatever looks at a real page runs beside nothing else that does."""
    for item in items:
        if "browser" in getattr(item, "fixturenames", ()):
            item.add_marker(pytest.mark.browser)
            item.add_marker(pytest.mark.xdist_group("browser"))


@pytest.fixture
def app():
    return page()[0]


@pytest.fixture
def client(app):
    with TestClient(app, base_url="http://127.0.0.1:8765") as made:
        yield made


@pytest.fixture
def opened(client, app, monkeypatch):
    """Opens a demo shop without its study, which is no matter here."""
    monkeypatch.setattr(app.state.shelf.studies, "begin", lambda *_: None)

    def of(key):
        answer = client.post(
            f"/demo/{key}", headers={"origin": "http://127.0.0.1:8765"}, follow_redirects=False
        )
        return answer.headers["location"]

    return of


@contextlib.contextmanager
def served(app):
    """An application on this computer; its address."""
    server = uvicorn.Server(
        uvicorn.Config(app, host="127.0.0.1", port=0, log_level="error", access_log=False)
    )
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    until = time.monotonic() + 20.0
    while not server.started:
        assert time.monotonic() < until, "the server did not begin"
        time.sleep(0.02)
    yield f"http://127.0.0.1:{server.servers[0].sockets[0].getsockname()[1]}"
    server.should_exit = True
    thread.join(20.0)


@pytest.fixture(scope="session")
def address():
    """Where a page is served on this computer."""
    if not compiled():
        compile_kernels()
    with served(page()[0]) as at:
        yield at


@pytest.fixture
def free_port():
    with socket.socket() as door:
        door.bind(("127.0.0.1", 0))
        return door.getsockname()[1]


@pytest.fixture(scope="session")
def browser():
    assert shutil.which(CHROMIUM), f"the tests of the page need {CHROMIUM}: run make test"
    with sync_playwright() as player:
        flags = ["--disable-dev-shm-usage"] + (["--no-sandbox"] if os.geteuid() == 0 else [])
        made = player.chromium.launch(executable_path=CHROMIUM, args=flags)
        yield made
        made.close()


@pytest.fixture
def look(browser):
    """Opens windows in which nothing may go wrong: no script's fault, no request elsewhere."""
    rooms = []

    def window(width=800, scheme="light", **more):
        room = browser.new_context(
            viewport={"width": width, "height": 900}, color_scheme=scheme, **more
        )
        seen = room.new_page()
        seen.set_default_timeout(60_000)
        seen.faults, seen.asked = [], []
        seen.on("pageerror", lambda fault: seen.faults.append(str(fault)))
        seen.on("dialog", lambda told: (seen.faults.append(told.message), told.dismiss()))
        seen.on("request", lambda request: seen.asked.append(request.url))
        rooms.append((room, seen))
        return seen

    yield window
    for room, seen in rooms:
        assert seen.faults == []
        room.close()


@pytest.fixture(scope="session")
def studied(address, browser):
    """Addresses of demo shops whose study has ended, by their key."""
    known = {}

    def of(key):
        if key not in known:
            room = browser.new_context()
            seen = room.new_page()
            seen.goto(address)
            seen.click(f'form[action="/demo/{key}"] button')
            seen.wait_for_selector(".headline", timeout=120_000)
            known[key] = seen.url
            room.close()
        return known[key]

    return of
