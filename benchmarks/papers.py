"""The papers of the cider barn: wiring, drawings, lists, sheets, report: wanted in 0.8 s.

The least of several runs is told, with the processor's own time in it; the first run stands apart,
for it loads what the others find loaded, and it is what an owner waits for beyond the study. Run
from the repository, with compiled kernels.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path

import phasewright
from phasewright.files.result_file import texts
from phasewright.job.papers import papers
from phasewright.papers.sheets.uses import REPORT

EXAMPLE = Path(__file__).resolve().parents[1] / "examples" / "cider-barn.shop.yaml"
BUDGET_S = 0.8
RUNS = 6


def main() -> int:
    """Measure and print; status 1 where the budget is missed."""
    shop = phasewright.read(EXAMPLE)
    study = phasewright.study(shop)
    walls, works, size = [], [], 0
    for _ in range(RUNS):
        told = time.perf_counter(), time.process_time()
        texts(study)
        # the study's own files, which papers() gives too, are not of the papers
        told = time.perf_counter() - told[0], time.process_time() - told[1]
        wall, work = time.perf_counter(), time.process_time()
        size = len(papers(shop, study).files[REPORT])
        walls.append(time.perf_counter() - wall - told[0])
        works.append(time.process_time() - work - told[1])
    took, worked = min(walls), min(works)
    word = "met" if walls[0] <= BUDGET_S else "MISSED"
    print(f"first run {walls[0]:.2f} s (processor {works[0]:.2f} s) of {BUDGET_S:.1f} s  {word}")
    print(f"least of {RUNS}: {took:.2f} s (processor {worked:.2f} s); report {size / 1e3:.0f} kB")
    return 0 if walls[0] <= BUDGET_S else 1


if __name__ == "__main__":
    sys.exit(main())
