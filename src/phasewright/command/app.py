"""The command line: what can be asked, and what the exit status says.

0 done; 1 the shop file has mistakes; 2 wrong use of the command; 3 no feasible plan;
4 any other failure; 130 stopped by Ctrl-C.
"""

from __future__ import annotations

import contextlib
import os
import sys
import traceback
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Annotated, Any, cast

import typer

from phasewright.quantities.errors import MachineFault, PhasewrightError, ShopFileError, UsageError

DONE, MISTAKES, WRONG_USE, NO_PLAN, FAILED, STOPPED = 0, 1, 2, 3, 4, 130
Work = Callable[[], int]
_Misused = typer.BadParameter.__mro__[1]  # what every wrong command line raises

app = typer.Typer(
    name="phasewright",
    help="Which way of powering the three-phase machines of a small workshop is right.",
    no_args_is_help=True,
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
)
ShopFile = Annotated[
    Path, typer.Argument(metavar="SHOP.yaml", help="The file that describes the shop.")
]


@app.callback()
def _all(context: typer.Context) -> None:
    """Which way of powering the three-phase machines of a small workshop is right.

    Write the shop down in one file; every command starts from it.
    """


@app.command()
def study(
    shop: ShopFile,
    out: Annotated[
        Path | None,
        typer.Option(
            "--out",
            metavar="DIR",
            help="Folder for study.json and workings.json; one that is "
            "there is kept under another name.",
        ),
    ] = None,
    quick: Annotated[
        bool, typer.Option("--quick", help="Leave out what takes longest, and say so.")
    ] = False,
) -> Work:
    """Say for every motor what it can run on, and for the shop what to buy and why."""

    def work() -> int:
        _need_file(shop)
        if out is not None and out.exists() and not out.is_dir():
            raise UsageError(f"{out} is a file; --out names a folder.")
        from phasewright.command.study import study_shop

        return DONE if study_shop(shop, out, quick=quick) else NO_PLAN

    return work


@app.command()
def check(shop: ShopFile) -> Work:
    """Read and judge the file only: mistakes, assumptions, what is worth finding out."""

    def work() -> int:
        _need_file(shop)
        from phasewright.command.check import check_shop

        check_shop(shop)
        return DONE

    return work


@app.command()
def sources() -> Work:
    """List every published figure in use, with its source."""

    def work() -> int:
        from phasewright.command.sources import list_sources

        list_sources()
        return DONE

    return work


def run(arguments: Sequence[str]) -> int:
    """Do what the command line asks and return the exit status; never raises."""
    try:
        work = app(list(arguments), prog_name="phasewright", standalone_mode=False)
        status = work() if callable(work) else int(work or DONE)
        sys.stdout.flush()
    except BrokenPipeError:
        _let_go(sys.stdout.fileno())  # the reader has seen enough
        return DONE
    except KeyboardInterrupt:
        _tell("Stopped.")
        return STOPPED
    except Exception as fault:  # noqa: BLE001 - the last door: every fault leaves in words
        return _refuse(fault)
    return status


def _refuse(fault: Exception) -> int:
    """Tell a fault in words and return its exit status."""
    if os.environ.get("PHASEWRIGHT_TRACE"):
        traceback.print_exception(fault)
    if isinstance(fault, _Misused):
        _tell(cast(Any, fault).format_message())
        return WRONG_USE
    if isinstance(fault, ShopFileError):
        for mistake in fault.mistakes:
            _tell(str(mistake))
        return MISTAKES
    if isinstance(fault, UsageError):
        _tell(str(fault))
        return WRONG_USE
    if isinstance(fault, (MachineFault, PhasewrightError)):
        _tell(str(fault))
        return FAILED
    if isinstance(fault, OSError):
        if fault.filename is None:
            _let_go(sys.stdout.fileno())
        _tell(f"The computer refused: {fault}")
        return FAILED
    kind = type(fault).__name__
    _tell(
        f"A fault of this program, not of your file: {kind}: {fault} "
        "(set PHASEWRIGHT_TRACE=1 to see where)"
    )
    return FAILED


def _need_file(path: Path) -> None:
    if not path.exists():
        raise UsageError(f"There is no file {path}.")
    if path.is_dir():
        raise UsageError(f"{path} is a folder; the command wants a shop file.")


def _tell(words: str) -> None:
    with contextlib.suppress(OSError):  # nobody is left to be told
        print(words, file=sys.stderr)


def _let_go(channel: int) -> None:
    """Send what is still buffered nowhere, so that leaving does not fail again."""
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, channel)
    os.close(nowhere)
