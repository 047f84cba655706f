"""`phasewright check`: the file read and judged, nothing computed."""

from __future__ import annotations

from pathlib import Path

from phasewright.command.facts import assumed, findings, measure_first, missing
from phasewright.command.screen import line, screen
from phasewright.job.read import read


def check_shop(path: Path) -> None:
    """Tell what a shop file says and leaves open; raises ShopFileError for its mistakes."""
    shop = read(path)
    from phasewright.job.check import check

    console = screen()
    judged = check(shop)
    machines = len(shop.machines)
    line(
        console,
        f"{shop.shop}: {machines} {_many('machine', machines)}, {judged.motors} "
        f"{_many('motor', judged.motors)}. The file has no mistakes.",
        inset=0,
    )
    findings(console, judged.findings)
    assumed(console, judged.assumed)
    measure_first(console, judged.measure)
    missing(console, judged.missing, shop.currency)


def _many(word: str, number: int) -> str:
    return word if number == 1 else f"{word}s"
