"""`phasewright study`: the main job."""

from __future__ import annotations

from contextlib import nullcontext
from pathlib import Path
from typing import TYPE_CHECKING

from rich.console import Console

from phasewright.command.answer import show
from phasewright.command.progress import Steps, compile_once
from phasewright.command.screen import line, screen
from phasewright.files.folder import renewed
from phasewright.job.read import read
from phasewright.papers.plan_words import chosen
from phasewright.quantities.finding import Reason

if TYPE_CHECKING:
    from phasewright.papers.report.looks import PaperSize
    from phasewright.papers.sheets.sheet import LeftOut


def study_shop(
    path: Path,
    out: Path | None,
    *,
    quick: bool,
    reasons: bool = False,
    paper: PaperSize | None = None,
) -> bool:
    """Study a shop, show the answer, write the files, the report on a paper (the region's, where
    none is named); True where a plan is feasible.

    The folder to write in is made before the work, so that a refusal to write costs no time.
    """
    shop = read(path)
    compile_once()
    from phasewright.job.study import study

    made = None
    with nullcontext() if out is None else renewed(out) as room:
        with Steps() as steps:
            whole = study(shop, quick=quick, progress=steps)
        if room is not None:
            from phasewright.job.papers import papers, write

            made = papers(shop, whole, paper)
            write(made, room)
    console = screen()
    show(console, whole, reasons=reasons)
    if made is not None and out is not None:
        console.print()
        names = [f"{out}/{name}" for name in made.files if "/" not in name]
        line(console, f"Written: {', '.join(names[:-1])} and {names[-1]}", inset=0)
        _told(console, out, made.faults)
        _sheets_told(console, out, made.left_out)
    plan = chosen(whole)
    return plan is not None and plan.feasible


def _told(console: Console, out: Path, faults: tuple[Reason, ...]) -> None:
    """What was written of the wiring, or why it is not drawn."""
    if not faults:
        line(console, f"Wiring: {out}/drawings and {out}/lists", inset=0)
        return
    words = " ".join(each.words for each in faults)
    line(
        console,
        f"The wiring is written in {out}/wiring.json but not drawn, for it does not pass the "
        f"electrical check: {words}",
        inset=0,
    )


def _sheets_told(console: Console, out: Path, left_out: tuple[LeftOut, ...]) -> None:
    """Where the sheets are, and which had no figures of this shop."""
    line(console, f"Sheets: {out}/sheets, in the order of {out}/sheets/contents.txt", inset=0)
    for each in left_out:
        line(console, f"Left out: {each.title}: {each.words}.", inset=0)
