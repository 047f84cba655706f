"""Prints the time and memory budgets and whether they are met; run with compiled kernels.

Each time is the least of a few runs of a new process, without stored results; beside it stands
the processor's own time in that run, which tells a busy computer from a slow program. Memory is
the largest resident set of that process. A budget that is missed is told, and the status is 1.
"""

import os
import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
EXAMPLES = ROOT / "examples"
PROGRAM = [sys.executable, "-m", "phasewright"]
SHOPS = {
    EXAMPLES / "pottery.shop.yaml": 3.0,
    EXAMPLES / "cider-barn.shop.yaml": 3.0,
    EXAMPLES / "furniture-shop.shop.yaml": 3.0,
    ROOT / "benchmarks" / "twelve-motors.shop.yaml": 5.0,
}
MEMORY_MB = 400.0


def run(command: list[str]) -> tuple[float, float, float, int]:
    """Seconds, the processor's seconds, peak memory in MB and exit status of one new process."""
    began = time.perf_counter()
    process = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    _, status, usage = os.wait4(process.pid, 0)
    took = time.perf_counter() - began
    process.returncode = os.waitstatus_to_exitcode(status)
    return took, usage.ru_utime + usage.ru_stime, usage.ru_maxrss / 1024.0, process.returncode


def least(command: list[str], runs: int) -> tuple[float, float, float]:
    """Least times and largest memory over some runs; raises RuntimeError where one fails."""
    results = [run(command) for _ in range(runs)]
    failed = [status for *_, status in results if status not in (0, 3)]
    if failed:
        raise RuntimeError(f"{' '.join(command)} left with status {failed[0]}")
    took, worked, memory, _ = zip(*results, strict=True)
    return min(took), min(worked), max(memory)


def tell(what: str, measured: float, budget: float, unit: str, worked: float | None = None) -> bool:
    """Print one budget; True where it is met."""
    met = measured <= budget
    word = "met" if met else "MISSED"
    beside = "" if worked is None else f"  (processor {worked:.3f} s)"
    print(f"{what:<40} {measured:8.3f} {unit:<3} of {budget:7.3f}  {word}{beside}", flush=True)
    return met


def main() -> int:
    """Measure and print every budget."""
    bare, _, _ = least([sys.executable, "-c", "pass"], 9)
    loaded, _, _ = least([sys.executable, "-c", "import phasewright"], 9)
    told, _, _ = least([*PROGRAM, "--help"], 5)
    met = [
        tell("import phasewright, over bare Python", loaded - bare, 0.05, "s"),
        tell("phasewright --help", told, 0.25, "s"),
    ]
    for path, budget in SHOPS.items():
        name, shop = path.name.partition(".")[0], str(path)
        took, worked, _ = least([*PROGRAM, "check", shop], 3)
        met.append(tell(f"check {name}", took, 0.5, "s", worked))
        took, worked, memory = least([*PROGRAM, "study", shop], 2)
        met.append(tell(f"study {name}", took, budget, "s", worked))
        met.append(tell(f"study {name}, peak memory", memory, MEMORY_MB, "MB"))
    return 0 if all(met) else 1


if __name__ == "__main__":
    sys.exit(main())
