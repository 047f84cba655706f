"""Prints the budgets of the page and whether they are met; run with compiled kernels.

Twelve motors (`twelve-motors.shop.yaml`), a warm server, requests over the loopback. Beside each
time stands what the processors of server and studies worked until then, which tells a busy
computer from a slow program: the least of an edit with its figures cannot be more than that.
A budget that is missed is told, and the status is 1. `--edits N` of each kind (20).
"""

import argparse
import contextlib
import os
import re
import shutil
import statistics
import sys
import time
from dataclasses import dataclass

from page_server import ROOT, Browser, Server, serving

from phasewright.job.texts import rewritten, shop_of

TWELVE = ROOT / "benchmarks" / "twelve-motors.shop.yaml"
FIGURES, RANKING = 'id="line-now"', 'id="found-plans"'
CHROMIUM = os.environ.get("CHROMIUM", "/usr/bin/chromium")
SIZES = """['navigation', 'resource'].flatMap(kind => performance.getEntriesByType(kind))
    .reduce((sum, one) => sum + one.encodedBodySize, 0)"""
FIRST_KB, FIRST_S = 300.0, 0.7
EDIT_S, RANKED_S, SUPPLY_S = 0.25, 1.0, 1.5
MEMORY_MB = 20.0
"""What 10,000 requests may add to the server's memory: a few per cent of it."""


@dataclass(frozen=True, slots=True)
class Took:
    """Seconds until the figures, then until the ranking, and what was worked until each."""

    figures_s: float
    figures_worked_s: float
    ranking_s: float
    ranking_worked_s: float


def edits(number: int) -> dict[str, dict[str, object]]:
    """One edit of each kind, other values for every number."""
    machine, part = 2 + number % 6, 1.0 + 0.002 * number
    return {
        "plate": {f"machines[{machine}].motors[0].plate.power": f"{2.2 * part:.4f} kW"},
        "load": {f"machines[{machine}].motors[0].load.duty": round(0.5 + 0.01 * number, 3)},
        "price": {"tariff.energy": round(0.25 + 0.001 * number, 4)},
        "supply": {"supply.service_rating": f"{80 + number} A"},
    }


def edited(
    server: Server, browser: Browser, place: str, text: str, change: dict
) -> tuple[str, Took]:
    """The text after a change, and how long the page took to show what it does."""
    state = re.search(r'name="state" value="(\d+)"', browser.ask(f"{place}/supply")[2])
    assert state is not None
    new, _ = rewritten(text, change)
    began, worked = time.perf_counter(), server.worked_s()
    status, to, told = browser.ask(
        f"{place}/settle", {"state": state[1], "do": "mine", "text": packed(new)}
    )
    if status != 303:
        raise RuntimeError(f"not taken ({status}): {told[-300:]}")
    page, stage = browser.ask(to)[2], 0
    times: dict[str, tuple[float, float]] = {}
    while len(times) < 2:
        now, done = time.perf_counter() - began, server.worked_s() - worked
        ended = 'class="headline"' in page
        for mark in (FIGURES, RANKING):
            if mark not in times and (mark in page or ended):
                times[mark] = now, done
        if len(times) < 2:
            stage = (FIGURES in page) + 2 * (RANKING in page)
            page = browser.ask(f"{place}?stage={stage}")[2]
    return new, Took(*times[FIGURES], *times[RANKING])


def packed(text: str) -> str:
    import base64

    return base64.urlsafe_b64encode(text.encode()).decode().rstrip("=")


def tell(what: str, measured: float, budget: float, unit: str, beside: str = "") -> bool:
    """Print one budget; True where it is met."""
    met = measured <= budget
    word = "met" if met else "MISSED"
    print(f"{what:<46} {measured:8.3f} {unit:<3} of {budget:7.3f}  {word}{beside}", flush=True)
    return met


def p95(values: list[float]) -> float:
    return (
        statistics.quantiles(values, n=20, method="inclusive")[-1] if len(values) > 1 else values[0]
    )


def first_load(server: Server) -> list[bool]:
    """Everything a first visit loads, and how long a browser takes to show it."""
    if shutil.which(CHROMIUM) is None:
        print("first load: not measured, there is no Chromium here")
        return []
    from playwright.sync_api import sync_playwright

    with sync_playwright() as player:
        flags = ["--no-sandbox"] if os.geteuid() == 0 else []
        real = player.chromium.launch(executable_path=CHROMIUM, args=flags)
        times, sizes = [], []
        for _ in range(6):
            room = real.new_context()
            seen = room.new_page()
            seen.goto(f"http://127.0.0.1:{server.port}/", wait_until="load")
            times.append(
                seen.evaluate("performance.getEntriesByType('navigation')[0].loadEventEnd")
            )
            seen.wait_for_load_state("networkidle")
            sizes.append(seen.evaluate(SIZES))
            room.close()
        real.close()
    times = times[1:]  # the first one begins the browser too
    return [
        tell("first load, all that the browser loads", max(sizes) / 1000.0, FIRST_KB, "kB"),
        tell("first load, least of 5", min(times) / 1000.0, FIRST_S, "s"),
    ]


def edit_budgets(server: Server, count: int) -> list[bool]:
    """Edits one after the other, each after the answer to the one before."""
    browser, text = Browser(server), TWELVE.read_text(encoding="utf-8")
    place = browser.open(text)
    browser.answered(place)
    took: dict[str, list[Took]] = {}
    for number in range(count):
        for kind, change in edits(number).items():
            text, one = edited(server, browser, place, text, change)
            took.setdefault(kind, []).append(one)
            browser.answered(place)
    met = []
    for kind, all_of in took.items():
        budget = SUPPLY_S if kind == "supply" else EDIT_S
        figures, behind = (
            [one.figures_s for one in all_of],
            [one.ranking_s - one.figures_s for one in all_of],
        )
        worked = statistics.median(one.figures_worked_s for one in all_of)
        ranked = statistics.median(one.ranking_worked_s - one.figures_worked_s for one in all_of)
        of = f"{kind} edit, figures and line's amps, p95 of {count}"
        met.append(tell(of, p95(figures), budget, "s", median(figures, worked)))
        met.append(
            tell(
                f"{kind} edit, ranking behind it, p95",
                p95(behind),
                RANKED_S,
                "s",
                median(behind, ranked),
            )
        )
    return met


def median(values: list[float], worked: float) -> str:
    return f"  (median {statistics.median(values):.3f} s, processor {worked:.3f} s)"


def overtaking(server: Server, count: int) -> list[bool]:
    """Edits that come while the study of the one before is running."""
    browser, text = Browser(server), TWELVE.read_text(encoding="utf-8") + "# overtaken\n"
    place = browser.open(text)
    browser.answered(place)
    figures = []
    for number in range(count):
        text, one = edited(server, browser, place, text, edits(100 + number)["plate"])
        figures.append(one.figures_s)
    browser.answered(place)
    of = f"plate edit that overtakes a study, p95 of {count}"
    return [tell(of, p95(figures), EDIT_S, "s", median(figures, 0.0).partition(", proc")[0] + ")")]


def memory(server: Server, requests: int) -> list[bool]:
    """What many requests leave behind, after as many that fill what is kept on purpose."""
    browser, text = Browser(server), shop_text()
    place = browser.open(text)
    browser.answered(place)
    paths = [
        "/",
        place,
        f"{place}/machine/0",
        f"{place}/supply",
        f"{place}/shop.yaml",
        "/static/page.css",
    ]
    sizes = []
    for number in range(2 * requests):
        browser.ask(paths[number % len(paths)])
        if number + 1 in (requests, 2 * requests):
            sizes.append(server.memory_mb()[0])
    before, after = sizes
    return [tell(f"memory that {requests} requests leave behind", after - before, MEMORY_MB, "MB")]


def shop_text() -> str:
    return (ROOT / "examples" / "pottery.shop.yaml").read_text(encoding="utf-8")


def main() -> int:
    """Measure and print every budget."""
    wanted = argparse.ArgumentParser(description="budgets of the page")
    wanted.add_argument("--edits", type=int, default=20)
    wanted.add_argument("--requests", type=int, default=10_000)
    asked = wanted.parse_args()
    shop_of(TWELVE.read_text(encoding="utf-8"))
    with serving() as server:
        met = first_load(server)
        met += edit_budgets(server, asked.edits)
        met += overtaking(server, asked.edits)
        met += memory(server, asked.requests)
    with contextlib.suppress(BrokenPipeError):
        sys.stdout.flush()
    return 0 if all(met) else 1


if __name__ == "__main__":
    sys.exit(main())
