"""Pictures of every view of the page, three widths, light and dark, and one contact sheet of them.

    python tools/contact_sheet.py [FOLDER]

Serves the page by itself, with a demo shop. Each picture is written to FOLDER to be looked at one
by one, the contact sheet to docs/contact-sheet.jpg. Wants Chromium, as the tests of the page do.
"""

from __future__ import annotations

import contextlib
import os
import sys
import threading
import time
from collections.abc import Callable, Iterator
from html import escape
from pathlib import Path

import uvicorn
from playwright.sync_api import Browser, Page, sync_playwright

from phasewright.page.server import page

ROOT = Path(__file__).resolve().parents[1]
CHROMIUM = os.environ.get("CHROMIUM", "/usr/bin/chromium")
SHEET = ROOT / "docs" / "contact-sheet.jpg"
WIDTHS, SCHEMES = (360, 800, 1440), ("light", "dark")
MOST_BYTES = 1_500_000
TALL = 340
"""How much of each picture the contact sheet shows, in its own pixels."""
PLATE = "3 HP 220/380V 8.4/4.9A 1430 RPM 50~ Δ/Y"
View = Callable[[Page, str, str], None]


def views() -> dict[str, View]:
    """How each view is reached, by its name: (page, address, the address of a studied shop)."""

    def at(path: str) -> View:
        return lambda seen, address, shop: _go(seen, shop + path)

    return {
        "first page": lambda seen, address, _: _go(seen, address),
        "first page, an answer not taken": _not_taken,
        "first page, a file with mistakes": _mistakes,
        "a link to open": lambda seen, address, _: _go(seen, f"{address}/link"),
        "the shop": at(""),
        "the shop, another plan": _other_plan,
        "the shop, all open": _all_open,
        "a figure's working": _figure,
        "a figure's working, its own page": at("/figure?at=/plans/0/purchase"),
        "every figure of a plan": at("/figures"),
        "a machine": at("/machine/0"),
        "a machine that is to come": at("/machine/3"),
        "another machine": at("/machine/new"),
        "the supply": at("/supply"),
        "money and wishes": at("/wishes"),
        "what makes three phases, as it stands": at("/converter"),
        "what makes three phases, in the plan": at("/source?id=converter"),
        "places": at("/things/place"),
        "another place": at("/things/place/new"),
        "on the shelf": at("/things/shelf"),
        "a part on the shelf": at("/things/shelf/0"),
        "another part on the shelf": at("/things/shelf/new"),
        "a price that was told": at("/things/price/new?kind=utility_service"),
        "history": at("/history"),
        "the workings": at("/workings"),
        "the workings, made lines": lambda s, a, shop: _curves(s, shop, (0, 1)),
        "the workings, torque and start": lambda s, a, shop: _curves(s, shop, (2, 3)),
        "the workings, a drive": lambda s, a, shop: _curves(s, shop, (4, 5)),
        "a curve as a table": _table,
        "year by year": _years,
        "changed meanwhile": _overtaken,
        "not there": lambda seen, address, _: _go(seen, f"{address}/shop/nothing"),
    }


def _go(seen: Page, address: str) -> None:
    seen.goto(address)
    seen.evaluate("() => document.fonts.ready.then(() => true)")


def _not_taken(seen: Page, address: str, _: str) -> None:
    _go(seen, address)
    seen.fill("#machine", "Lathe")
    seen.fill("#plate", "3")
    seen.click("text=Show the answer")
    seen.wait_for_selector("#plate-why")


def _mistakes(seen: Page, address: str, _: str) -> None:
    _go(seen, address)
    text = "phasewright: 1\nshop: Barn\nsupply: {kind: single_phase, voltage: 230}\n"
    named = {"name": "barn.shop.yaml", "mimeType": "application/yaml", "buffer": text.encode()}
    seen.set_input_files("#shop", named)  # type: ignore[arg-type]
    seen.click("text=Open it")
    seen.wait_for_selector("text=was not opened")


def _other_plan(seen: Page, _: str, shop: str) -> None:
    _go(seen, shop)
    last = seen.locator("#plan option").last.get_attribute("value")
    _go(seen, f"{shop}?plan={last}")


def _all_open(seen: Page, _: str, shop: str) -> None:
    _go(seen, shop)
    seen.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")


def _figure(seen: Page, _: str, shop: str) -> None:
    _go(seen, shop)
    seen.locator("a.figure").first.click()
    seen.wait_for_selector("#working[open] h2")


def _curves(seen: Page, shop: str, which: tuple[int, ...]) -> None:
    _go(seen, f"{shop}/workings")
    for place in which:
        seen.locator(".sheet-of > summary").nth(place).click()
    seen.wait_for_function("() => !document.querySelector('.sheet-of[open] .working')")
    seen.wait_for_timeout(300)


def _years(seen: Page, _: str, shop: str) -> None:
    _go(seen, f"{shop}/years")
    seen.wait_for_selector(".u-wrap")


def _table(seen: Page, _: str, shop: str) -> None:
    _curves(seen, shop, (2,))
    for summary in ("The same as a table", "How it is computed"):
        seen.get_by_text(summary).first.click()


def _overtaken(seen: Page, address: str, _: str) -> None:
    _go(seen, address)
    seen.fill("#machine", "Lathe")
    seen.fill("#plate", PLATE)
    seen.click("text=Show the answer")
    place = seen.url
    for name in ("One", "Other"):
        _go(seen, f"{place}/machine/0")
        seen.evaluate("document.querySelectorAll('[name=state]').forEach(f => f.value = '1')")
        seen.fill("#name", name)
        seen.click("text=Keep and draw")
    seen.wait_for_selector("text=changed meanwhile")


@contextlib.contextmanager
def served() -> Iterator[str]:
    """The address of a page of its own, with nothing kept on the disk."""
    server = uvicorn.Server(
        uvicorn.Config(page()[0], host="127.0.0.1", port=0, log_level="error", access_log=False)
    )
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    while not server.started:
        time.sleep(0.02)
    yield f"http://127.0.0.1:{server.servers[0].sockets[0].getsockname()[1]}"
    server.should_exit = True
    thread.join(10.0)


def pictures(browser: Browser, address: str, folder: Path) -> dict[str, list[Path]]:
    """Takes every picture; the paths by the name of the view."""
    shop = studied(browser, address)
    taken: dict[str, list[Path]] = {}
    for number, (name, view) in enumerate(views().items(), start=1):
        for width in WIDTHS:
            for scheme in SCHEMES:
                room = browser.new_context(
                    viewport={"width": width, "height": 900}, color_scheme=scheme
                )
                seen = room.new_page()
                seen.set_default_timeout(60_000)
                view(seen, address, shop)
                path = (
                    folder
                    / f"{number:02}-{name.replace(' ', '-').replace(',', '')}-{width}-{scheme}.png"
                )
                seen.screenshot(path=path, full_page="#working" not in _open(seen))
                over = seen.evaluate("document.documentElement.scrollWidth") - width
                if over > 0:
                    print(f"{path.name}: {over} pixels wider than its window")
                taken.setdefault(name, []).append(path)
                room.close()
    return taken


def _open(seen: Page) -> str:
    return "#working" if seen.locator("#working[open]").count() else ""


def studied(browser: Browser, address: str) -> str:
    """The address of a demo shop whose answer is there."""
    seen = browser.new_page()
    seen.goto(address)
    seen.click('form[action="/demo/cider-barn"] button')
    seen.wait_for_selector(".headline", timeout=120_000)
    shop = seen.url
    seen.close()
    return shop


def contact_sheet(browser: Browser, taken: dict[str, list[Path]]) -> bytes:
    """All pictures on one, a row a view, as large as `MOST_BYTES` allows."""
    rows = "".join(
        f"<h2>{escape(name)}</h2><p>{''.join(_thumb(path) for path in paths)}</p>"
        for name, paths in taken.items()
    )
    style = (
        "body{margin:12px;background:#888;font:13px sans-serif;width:max-content}h2{margin:8px 0 "
        "2px;font-size:14px}p{margin:0;display:flex;gap:6px}img{display:block;height:auto}"
        f"span{{height:{TALL}px;overflow:hidden;background:#fff}}"
    )
    page_path = next(iter(taken.values()))[0].parent / "sheet.html"
    page_path.write_text(
        f"<!doctype html><title>Contact sheet</title><style>{style}</style>{rows}", encoding="utf-8"
    )
    seen = browser.new_page(viewport={"width": 1240, "height": 900})
    seen.goto(page_path.as_uri())
    seen.wait_for_load_state("networkidle")
    for quality in (70, 60, 50, 40, 30, 20):
        sheet = seen.screenshot(type="jpeg", quality=quality, full_page=True)
        if len(sheet) <= MOST_BYTES:
            return sheet
    raise ValueError(f"the contact sheet stays above {MOST_BYTES} bytes")


def _thumb(path: Path) -> str:
    width = int(path.stem.split("-")[-2])
    wide = {360: 110, 800: 180, 1440: 290}[width]
    return f'<span><img src="{path.name}" width="{wide}" alt=""></span>'


def main() -> None:
    """Takes the pictures and writes the sheet."""
    folder = Path(sys.argv[1] if len(sys.argv) > 1 else ROOT / ".contact-sheet").resolve()
    folder.mkdir(parents=True, exist_ok=True)
    with served() as address, sync_playwright() as player:
        flags = ["--disable-dev-shm-usage"] + (["--no-sandbox"] if os.geteuid() == 0 else [])
        browser = player.chromium.launch(executable_path=CHROMIUM, args=flags)
        taken = pictures(browser, address, folder)
        sheet = contact_sheet(browser, taken)
        browser.close()
    SHEET.write_bytes(sheet)
    count = sum(map(len, taken.values()))
    print(f"{count} pictures in {folder}, {len(sheet)} bytes in {SHEET.relative_to(ROOT)}")


if __name__ == "__main__":
    main()
