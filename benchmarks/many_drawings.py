"""Looks at every sheet of many random shops in a real browser and prints an honest count.

    make long, or: PYTHONPATH=tests python -P benchmarks/many_drawings.py [--count 200]

For each shop the wirings of all its plans are checked, and the sheets of its answer and of its
fullest plan are drawn. Status 1 where something is wrong.
"""

from __future__ import annotations

import argparse
import os
import sys

from long.drawn_shops import drawn
from papers.in_browser import wrong_with
from playwright.sync_api import sync_playwright

from phasewright.plan.answer import answer

CHROMIUM = os.environ.get("CHROMIUM", "/usr/bin/chromium")
MOST = 3
"""Machines of a shop."""


def main() -> int:
    """Study, draw, look, count."""
    ask = argparse.ArgumentParser(description="Looks at the drawings of many random shops.")
    ask.add_argument("--count", type=int, default=200)
    ask.add_argument("--first", type=int, default=60_000, help="the first seed")
    of = ask.parse_args()
    flags = ["--disable-dev-shm-usage"] + (["--no-sandbox"] if os.geteuid() == 0 else [])
    done = wrong = 0
    seed = of.first
    with sync_playwright() as player:
        browser = player.chromium.launch(executable_path=CHROMIUM, args=flags)
        page = browser.new_page()
        while done < of.count:
            shop = drawn(seed, most=MOST, most_motors=2)
            if shop is not None:
                done += 1
                found = wrong_with(page, shop, answer(shop, quick=True))
                wrong += bool(found)
                for words in found[:3]:
                    print(f"seed {seed}: {words}", flush=True)
            seed += 1
        browser.close()
    print(f"{done} shops drawn and looked at: {done - wrong} clean, {wrong} not", flush=True)
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
