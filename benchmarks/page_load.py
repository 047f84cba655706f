"""Visitors at one time on a public server: edits, first studies, memory; run with compiled kernels.

Every visitor has a shop that is like no other and comes from an address of its own. Told: errors,
how long the page took to answer an edit, how many whole answers there were, first studies at one
instant, and what 10,000 requests leave behind in the server. A wish that is missed is told, and the
status is 1. The whole of it: `make load` (100 visitors for ten minutes, half an hour in all).
"""

import argparse
import collections
import random
import re
import statistics
import sys
import threading
import time

from page import MEMORY_MB, ROOT, p95, packed, tell
from page_server import Browser, Server, serving

from phasewright.job.first import First, first_text
from phasewright.job.texts import rewritten, shop_of

EVERY_S, EDIT_S, FIRST_S = 20.0, 2.0, 90.0
KINDS = ("pottery", "cider-barn", "furniture-shop", "farm-sawmill")


class Told:
    """What the visitors found, together."""

    def __init__(self) -> None:
        self.lock = threading.Lock()
        self.edits: list[float] = []
        self.errors: collections.Counter[str] = collections.Counter()
        self.shown = self.answers = 0

    def edit(self, seconds: float) -> None:
        with self.lock:
            self.edits.append(seconds)

    def error(self, what: object) -> None:
        with self.lock:
            self.errors[str(what)[:120]] += 1


def own_shop(number: int) -> str:
    """A demo shop that is like no other visitor's."""
    text = (ROOT / "examples" / f"{KINDS[number % len(KINDS)]}.shop.yaml").read_text("utf-8")
    text, _ = rewritten(text, {"shop": f"Shop {number}", "tariff.energy": 0.2 + 0.0007 * number})
    return text


def visit(server: Server, number: int, until: float, told: Told) -> None:
    """One visitor: opens a shop, then changes a machine every twenty seconds."""
    chance = random.Random(number)
    try:
        browser = Browser(server, number)
        time.sleep(chance.uniform(0.0, min(EVERY_S, 0.5 * (until - time.monotonic()))))
        text = own_shop(number)
        place = browser.open(text)
        while time.monotonic() < until:
            text = edit(browser, place, text, chance, told)
            time.sleep(max(0.0, min(EVERY_S, until - time.monotonic())))
    except (OSError, RuntimeError) as fault:
        told.error(fault)


def edit(browser: Browser, place: str, text: str, chance: random.Random, told: Told) -> str:
    """One change of a machine as a form sends it, and the page that follows; the text after it."""
    form = browser.ask(f"{place}/supply")[2]
    state = re.search(r'name="state" value="(\d+)"', form)
    if state is None:
        raise RuntimeError(f"no form: {form[:80]}")
    new, _ = rewritten(text, drawn(text, chance))
    sent = {"state": state[1], "do": "mine", "text": packed(new)}
    began = time.perf_counter()
    status, to, page = browser.ask(f"{place}/settle", sent)
    if status == 303:
        status, _, page = browser.ask(to)
    told.edit(time.perf_counter() - began)
    if status != 200 or "No answer:" in page:
        words = page.partition("No answer:")[2][:60]
        raise RuntimeError(f"an edit was answered {status}: {words}")
    with told.lock:
        told.shown += 'id="line-now"' in page or 'id="changed"' in page
        told.answers += 'class="headline"' in browser.ask(f"{place}?stage=7")[2]
    return new


def drawn(text: str, chance: random.Random) -> dict[str, object]:
    """A change of any kind, at any machine."""
    machines = shop_of(text).machines
    at = chance.randrange(len(machines))
    power = machines[at].motors[0].plate.power
    kinds: list[dict[str, object]] = [
        {f"machines[{at}].hours_per_year": chance.randrange(50, 400)},
        {f"machines[{at}].motors[0].load.torque": round(chance.uniform(0.4, 0.8), 3)},
        {"tariff.energy": round(chance.uniform(0.1, 0.6), 4)},
        {"supply.service_rating": f"{chance.uniform(40, 100):.1f} A"},
    ]
    if len(power) == 1:
        watts = power[0].number * chance.uniform(0.9, 1.1)
        kinds.append({f"machines[{at}].motors[0].plate.power": f"{watts / 1000.0:.4f} kW"})
    return chance.choice(kinds)


def crowd(server: Server, visitors: int, minutes: float) -> list[bool]:
    """So many visitors for so long."""
    told, until = Told(), time.monotonic() + 60.0 * minutes
    worked = server.worked_s()
    threads = [
        threading.Thread(target=visit, args=(server, number, until, told))
        for number in range(visitors)
    ]
    for each in threads:
        each.start()
    for each in threads:
        each.join()
    worked = server.worked_s() - worked
    for what, times in told.errors.items():
        print(f"  error, {times} times: {what}")
    if not told.edits:
        return [False]
    print(
        f"  {len(told.edits)} edits, median {statistics.median(told.edits):.3f} s, worst "
        f"{max(told.edits):.3f} s, with what the change does at once {told.shown}, whole answers "
        f"{told.answers}; the processors worked {worked:.0f} s of {120 * minutes:.0f} s"
    )
    print(f"  memory of the server and of its processes: {sizes(server)} MB")
    of = f"{visitors} visitors for {minutes:g} min"
    return [
        tell(f"{of}, errors", sum(told.errors.values()), 0.0, ""),
        tell(f"{of}, edits, p95", p95(told.edits), EDIT_S, "s"),
    ]


def first_shop(number: int) -> str:
    """A first visit's shop, another for everybody."""
    plate = f"{1.1 + 0.01 * number:.2f} kW 230/400 V 1420 rpm"
    return first_text(
        First(region="wires in mm2, motors in kW", machine=f"Machine {number}", plate=plate)
    )


def first_studies(server: Server, visitors: int) -> list[bool]:
    """So many first studies at one instant."""
    gate, times, told = threading.Barrier(visitors), [], Told()

    def one(number: int) -> None:
        try:
            browser = Browser(server, 5000 + number)
            text = first_shop(number)
            gate.wait()
            began = time.perf_counter()
            browser.answered(browser.open(text))
            with told.lock:
                times.append(time.perf_counter() - began)
        except (OSError, RuntimeError) as fault:
            told.error(fault)

    worked = server.worked_s()
    threads = [threading.Thread(target=one, args=(number,)) for number in range(visitors)]
    for each in threads:
        each.start()
    for each in threads:
        each.join()
    for what, count in told.errors.items():
        print(f"  error, {count} times: {what}")
    of = f"{visitors} first studies at one instant"
    worst = max(times, default=float("inf"))
    beside = f"  (processors {server.worked_s() - worked:.0f} s)"
    return [
        tell(f"{of}, not answered", visitors - len(times), 0.0, ""),
        tell(f"{of}, the last", worst, FIRST_S, "s", beside),
    ]


def sizes(server: Server) -> str:
    """Memory of the server and of each process."""
    return " / ".join(f"{each:.0f}" for each in server.memory_mb())


def memory(server: Server, requests: int) -> list[bool]:
    """What many requests of many visitors leave behind, after as many that fill what is kept on
    purpose."""
    held = []
    browsers = [Browser(server, 9000 + number) for number in range(50)]
    place = browsers[0].open(own_shop(0))
    browsers[0].answered(place)
    paths = ["/", place, f"{place}/machine/0", f"{place}/supply", f"{place}/shop.yaml", "/nowhere"]
    for number in range(2 * requests):
        status, _, _ = browsers[number % len(browsers)].ask(paths[number % len(paths)])
        if status not in (200, 404):
            raise RuntimeError(f"a request was answered {status}")
        if number + 1 in (requests, 2 * requests):
            held.append(server.memory_mb()[0])
    print(f"  memory of the server and of its processes: {sizes(server)} MB")
    of = f"memory that {requests} requests leave behind"
    return [tell(of, held[1] - held[0], MEMORY_MB, "MB")]


def main() -> int:
    """The crowd, the first studies, the memory."""
    wanted = argparse.ArgumentParser(description="a public server under load")
    wanted.add_argument("--visitors", type=int, default=100)
    wanted.add_argument("--minutes", type=float, default=10.0)
    wanted.add_argument("--requests", type=int, default=10_000)
    asked = wanted.parse_args()
    with serving("--public") as server:
        met = first_studies(server, asked.visitors)
        met += crowd(server, asked.visitors, asked.minutes)
        met += memory(server, asked.requests)
    return 0 if all(met) else 1


if __name__ == "__main__":
    sys.exit(main())
