"""`phasewright study`: the main job."""

from __future__ import annotations

from contextlib import nullcontext
from pathlib import Path

from phasewright.command.answer import chosen, show
from phasewright.command.progress import Steps, compile_once
from phasewright.command.screen import line, screen
from phasewright.files.folder import renewed
from phasewright.job.read import read


def study_shop(path: Path, out: Path | None, *, quick: bool) -> bool:
    """Study a shop, show the answer, write the files; True where a plan is feasible.

    The folder to write in is made before the work, so that a refusal to write costs no time.
    """
    shop = read(path)
    compile_once()
    from phasewright.files.result_file import write
    from phasewright.job.study import study

    written: tuple[str, ...] = ()
    with nullcontext() if out is None else renewed(out) as room:
        with Steps() as steps:
            whole = study(shop, quick=quick, progress=steps)
        if room is not None:
            written = write(whole, room)
    console = screen()
    show(console, whole)
    if out is not None:
        console.print()
        names = [f"{out}/{name}" for name in written]
        line(console, f"Written: {', '.join(names[:-1])} and {names[-1]}", inset=0)
    plan = chosen(whole)
    return plan is not None and plan.feasible
