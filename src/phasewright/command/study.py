"""`phasewright study`: the main job."""

from __future__ import annotations

from pathlib import Path

from phasewright.command.answer import chosen, show
from phasewright.command.progress import Steps, compile_once
from phasewright.command.screen import line, screen
from phasewright.files.folder import renewed
from phasewright.job.read import read


def study_shop(path: Path, out: Path | None, *, quick: bool) -> bool:
    """Study a shop, show the answer, write the files; True where a plan is feasible."""
    shop = read(path)
    compile_once()
    from phasewright.files.result_file import write
    from phasewright.job.study import study

    with Steps() as steps:
        whole = study(shop, quick=quick, progress=steps)
    if out is not None:
        with renewed(out) as room:
            write(whole, room)
    console = screen()
    show(console, whole)
    if out is not None:
        console.print()
        line(console, f"Written: {out}/study.json and {out}/workings.json", inset=0)
    plan = chosen(whole)
    return plan is not None and plan.feasible
