"""Studies many random shops and prints an honest count; what was done is kept and taken up again.

    make long, or: PYTHONPATH=tests python benchmarks/many_shops.py [--count 10000] [--minutes 0]

Kept is one line a seed: its outcome, and for a fault what happened. The first line tells which
program it was: with another program everything is done anew.
"""

from __future__ import annotations

import argparse
import hashlib
import sys
import time
import traceback
from collections import Counter
from pathlib import Path

from long.drawn_shops import drawn
from long.whole_answer import faults

import phasewright

ROOT = Path(__file__).resolve().parents[1]


def digest() -> str:
    """What the program and the drawing are made of."""
    of = hashlib.sha256()
    for folder in (Path(phasewright.__file__).parent, ROOT / "tests" / "long"):
        for path in sorted(folder.rglob("*")):
            if path.suffix in (".py", ".csv", ".json", ".toml", ".yaml"):
                of.update(path.read_bytes())
    return of.hexdigest()[:16]


def outcome(seed: int) -> tuple[str, str]:
    """One word and what is wrong: good, invalid (not a shop file), faulty or crashed."""
    try:
        shop = drawn(seed)
        if shop is None:
            return "invalid", ""
        found = faults(shop)
    except Exception as error:  # noqa: BLE001 -- each is written down and counted
        place = traceback.extract_tb(error.__traceback__)[-1]
        told = f"{type(error).__name__} in {Path(place.filename).name}:{place.lineno}: {error}"
        return "crashed", told
    return ("faulty", "; ".join(found[:3])) if found else ("good", "")


def kept(path: Path, program: str) -> dict[int, str]:
    """Outcomes of seeds done earlier with this very program."""
    if not path.exists():
        return {}
    first, *lines = path.read_text(encoding="utf-8").splitlines() or [""]
    if first != program:
        print(f"{path.name} was kept of another program: all is done anew", flush=True)
        return {}
    return {int(seed): word for seed, word, *_ in (line.split(" ", 2) for line in lines)}


def told(done: dict[int, str], took: float, count: int) -> str:
    words = Counter(done.values())
    valid = len(done) - words["invalid"]
    return (
        f"{valid} of {count} valid shops studied: {words['good']} good, {words['faulty']} faulty, "
        f"{words['crashed']} crashed; {words['invalid']} drawings were no shop file; {took:.0f} s"
    )


def main() -> int:
    """0 where as many valid shops as asked for were studied, all of them good."""
    ask = argparse.ArgumentParser(description="Studies many random shops.")
    ask.add_argument("--count", type=int, default=10_000)
    ask.add_argument("--minutes", type=float, default=0.0, help="stop earlier (0: never)")
    ask.add_argument("--first", type=int, default=1, help="the first seed")
    ask.add_argument("--kept", type=Path, default=ROOT / ".long-shops")
    of = ask.parse_args()
    program = digest()
    done = kept(of.kept, program)
    began, seed = time.monotonic(), of.first
    with of.kept.open("a" if done else "w", encoding="utf-8") as out:
        if not done:
            print(program, file=out, flush=True)
        while sum(word != "invalid" for word in done.values()) < of.count:
            took = time.monotonic() - began
            if of.minutes and took > 60 * of.minutes:
                break
            if seed not in done:
                word, why = outcome(seed)
                done[seed] = word
                print(seed, word, " ".join(why.split()), file=out, flush=True)
                if word in ("faulty", "crashed"):
                    print(f"seed {seed} {word}: {why}", flush=True)
                if len(done) % 100 == 0:
                    print(told(done, took, of.count), flush=True)
            seed += 1
    print(told(done, time.monotonic() - began, of.count), flush=True)
    good = sum(word == "good" for word in done.values())
    return 0 if good >= of.count and good == len(done) - Counter(done.values())["invalid"] else 1


if __name__ == "__main__":
    sys.exit(main())
