"""Prints the budgets of the page and whether they are met; run with compiled kernels.

Twelve motors (`twelve-motors.shop.yaml`), a warm server, requests over the loopback. Beside each
time stands what the processors of server and studies worked until then, which tells a busy
computer from a slow program: the least of an edit with its figures cannot be more than that.
A budget that is missed is told, and the status is 1. `--edits N` of each kind (24: every motor has
two of each, see `page_edits`), each of the shop as it was; `--seed` draws others.
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

from page_edits import edits_of
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


def edited(
    server: Server, browser: Browser, place: str, text: str, change: dict, *, ranking: bool = True
) -> tuple[str, Took]:
    """The text after a change, and how long the page took to show what it does."""
    new, _ = rewritten(text, change)
    state = _state(browser, place)
    began, worked = time.perf_counter(), server.worked_s()
    page, stage = browser.ask(_sent(browser, place, state, new))[2], 0
    times: dict[str, tuple[float, float]] = {}
    wanted = (FIGURES, RANKING) if ranking else (FIGURES,)
    while len(times) < len(wanted):
        now, done = time.perf_counter() - began, server.worked_s() - worked
        ended = 'class="headline"' in page
        for mark in wanted:
            if mark not in times and (mark in page or ended):
                times[mark] = now, done
        if len(times) < len(wanted):
            stage = (FIGURES in page) + 2 * (RANKING in page)
            page = browser.ask(f"{place}?stage={stage}")[2]
    return new, Took(*times[FIGURES], *times[wanted[-1]])


def _state(browser: Browser, place: str) -> str:
    """The number of the state that a form carries."""
    state = re.search(r'name="state" value="(\d+)"', browser.ask(f"{place}/supply")[2])
    assert state is not None
    return state[1]


def _sent(browser: Browser, place: str, state: str, text: str) -> str:
    """Send a text as the shop; the page that it leads to."""
    sent = {"state": state, "do": "mine", "text": packed(text)}
    status, to, told = browser.ask(f"{place}/settle", sent)
    if status != 303:
        raise RuntimeError(f"not taken ({status}): {told[-300:]}")
    return to


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


def edit_budgets(server: Server, count: int, seed: int) -> list[bool]:
    """Edits one after the other, each of the shop as it was and after its answer was there."""
    browser, text = Browser(server), TWELVE.read_text(encoding="utf-8")
    place = browser.open(text)
    browser.answered(place)
    took: dict[str, list[tuple[Took, str]]] = {}
    for edit in edits_of(text, count, seed):
        _, one = edited(server, browser, place, text, edit.change)
        took.setdefault(edit.kind, []).append((one, edit.words))
        browser.answered(place)
        _sent(browser, place, _state(browser, place), text)
        browser.answered(place)
    return [met for kind, all_of in took.items() for met in _told(kind, all_of)]


def _told(kind: str, all_of: list[tuple[Took, str]]) -> list[bool]:
    """Both budgets of one kind of edit."""
    of, count = [one for one, _ in all_of], len(all_of)
    figures, ranked = [one.figures_s for one in of], [one.ranking_s - one.figures_s for one in of]
    worked = [one.figures_worked_s for one in of]
    behind = [one.ranking_worked_s - one.figures_worked_s for one in of]
    budget = SUPPLY_S if kind == "supply" else EDIT_S
    found = [
        tell(f"{kind} edit, figures and line's amps, p95 of {count}", p95(figures), budget, "s"),
        tell(f"{kind} edit, ranking behind it, p95 of {count}", p95(ranked), RANKED_S, "s"),
    ]
    for what, clock, processor in (("figures", figures, worked), ("ranking", ranked, behind)):
        worst = max(range(count), key=clock.__getitem__)
        print(
            f"  {what}: {spread(clock)} s by the clock, {spread(processor)} s of a processor; "
            f"worst: {all_of[worst][1]}"
        )
    return found


def spread(values: list[float]) -> str:
    """Median, 95th percentile and greatest."""
    return f"{statistics.median(values):.3f} / {p95(values):.3f} / {max(values):.3f}"


def overtaking(server: Server, count: int, seed: int) -> list[bool]:
    """Edits that come while the study of the one before is running: how soon each is shown, and
    what all of them work together against one."""
    browser, text = Browser(server), TWELVE.read_text(encoding="utf-8") + "# overtaken\n"
    place = browser.open(text)
    browser.answered(place)
    plates = [edit for edit in edits_of(text, count, seed + 1) if edit.kind == "plate"]
    figures, began = [], server.worked_s()
    for edit in plates:
        _, one = edited(server, browser, place, text, edit.change, ranking=False)
        figures.append(one.figures_s)
    browser.answered(place)
    worked = (server.worked_s() - began) / count
    print(f"  an overtaken edit took {worked:.2f} s of a processor with its figures, as a mean")
    of = f"plate edit that overtakes a study, p95 of {count}"
    return [tell(of, p95(figures), EDIT_S, "s", f"  ({spread(figures)} s)")]


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
    wanted.add_argument("--edits", type=int, default=24)
    wanted.add_argument("--seed", type=int, default=1)
    wanted.add_argument("--requests", type=int, default=10_000)
    asked = wanted.parse_args()
    shop_of(TWELVE.read_text(encoding="utf-8"))
    with serving() as server:
        met = first_load(server)
        met += edit_budgets(server, asked.edits, asked.seed)
        met += overtaking(server, asked.edits, asked.seed)
        met += memory(server, asked.requests)
    with contextlib.suppress(BrokenPipeError):
        sys.stdout.flush()
    return 0 if all(met) else 1


if __name__ == "__main__":
    sys.exit(main())
