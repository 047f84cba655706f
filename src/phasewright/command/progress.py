"""What is being done, on the error output, for work that takes long."""

from __future__ import annotations

import contextlib
import sys
import time
from types import TracebackType

from rich.progress import BarColumn, Progress, TextColumn

from phasewright.command.screen import screen

PATIENCE_S = 2.0
"""Work shorter than this is not worth a word where nobody watches."""


class Steps:
    """Tells the steps of long work: a bar on a terminal, a line a step in a pipe or a file.

    Called with (what is being done, steps done, steps in all).
    """

    def __init__(self) -> None:
        self._watched = sys.stderr.isatty()
        self._began = time.monotonic()
        self._last = ""
        console = screen(errors=True)
        self._bar = Progress(
            TextColumn("{task.description}"), BarColumn(24), console=console, transient=True,
            auto_refresh=False,
        )  # fmt: skip
        self._task = self._bar.add_task("", total=None)

    def __enter__(self) -> Steps:
        if self._watched:
            self._bar.start()
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        fault: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        if self._watched:
            self._bar.stop()

    def __call__(self, what: str, done: int, of: int) -> None:
        if self._watched:
            total = of or None
            self._bar.update(
                self._task, description=what, completed=done, total=total, refresh=True
            )
        elif what and what != self._last and time.monotonic() - self._began > PATIENCE_S:
            _say(f"{what} ({done} of {of})" if of else what)
        self._last = what


def compile_once() -> None:
    """Compile the kernels where this computer has not done so, and say so."""
    from phasewright.network.compiled import compile_kernels, compiled

    if compiled():
        return
    _say("First run on this computer: compiling the kernels once.")
    with Steps() as steps:
        compile_kernels(steps)


def _say(words: str) -> None:
    with contextlib.suppress(BrokenPipeError):  # nobody listens any more; the work goes on
        print(words, file=sys.stderr, flush=True)
