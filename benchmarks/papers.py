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
from phasewright.files.report_file import report
from phasewright.files.wiring_files import files_of
from phasewright.job.papers import sheets, wiring

EXAMPLE = Path(__file__).resolve().parents[1] / "examples" / "cider-barn.shop.yaml"
BUDGET_S = 0.8
RUNS = 6


def main() -> int:
    """Measure and print; status 1 where the budget is missed."""
    shop = phasewright.read(EXAMPLE)
    study = phasewright.study(shop)
    walls, works, size = [], [], 0
    for _ in range(RUNS):
        wall, work = time.perf_counter(), time.process_time()
        wires, plan = wiring(shop, study)
        dict(files_of(wires, plan.title))
        size = len(report(shop, study, wires, plan, sheets(shop, study)))
        walls.append(time.perf_counter() - wall)
        works.append(time.process_time() - work)
    took, worked = min(walls), min(works)
    word = "met" if walls[0] <= BUDGET_S else "MISSED"
    print(f"first run {walls[0]:.2f} s (processor {works[0]:.2f} s) of {BUDGET_S:.1f} s  {word}")
    print(f"least of {RUNS}: {took:.2f} s (processor {worked:.2f} s); report {size / 1e3:.0f} kB")
    return 0 if walls[0] <= BUDGET_S else 1


if __name__ == "__main__":
    sys.exit(main())
