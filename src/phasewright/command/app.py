"""The command line: what can be asked, and what the exit status says.

0 done; 1 the shop file has mistakes; 2 wrong use of the command; 3 no feasible plan;
4 any other failure; 130 stopped by Ctrl-C or `quit`.
"""

from __future__ import annotations

import argparse
import contextlib
import difflib
import os
import re
import sys
import traceback
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import NoReturn

from phasewright.quantities.errors import PhasewrightError, ShopFileError, UsageError

DONE, MISTAKES, WRONG_USE, NO_PLAN, FAILED, STOPPED = 0, 1, 2, 3, 4, 130
ABOUT = "Which way of powering the three-phase machines of a small workshop is right."


class Parser(argparse.ArgumentParser):
    """A parser that raises UsageError, so that one door tells every refusal."""

    def error(self, message: str) -> NoReturn:
        """Say what is wrong with the command line and where its help is."""
        asked = re.search(r"invalid choice: '(.*)' \(choose from (.*)\)$", message)
        if asked is not None and message.startswith("argument --"):
            name = message.split()[1].rstrip(":")
            known = ", ".join(re.findall(r"\w+", asked[2]))
            raise UsageError(f"{name} is one of {known}, not '{asked[1]}'.")
        if asked is not None:
            raise UsageError(_no_command(asked[1], re.findall(r"\w+", asked[2])))
        raise UsageError(f"{message[:1].upper()}{message[1:]}. See {self.prog} --help.")


def _no_command(asked: str, known: Sequence[str]) -> str:
    near = difflib.get_close_matches(asked, known, 1)
    meant = f" Did you mean '{near[0]}'?" if near else ""
    return f"There is no command '{asked}'; there are {', '.join(known)}.{meant}"


def study(chosen: argparse.Namespace) -> int:
    """The main job."""
    _need_file(chosen.shop)
    _need_folder(chosen.out)
    if chosen.paper is not None and chosen.out is None:
        raise UsageError("--paper is the paper of the report: give --out DIR with it.")
    from phasewright.command.study import study_shop

    feasible = study_shop(
        chosen.shop, chosen.out, quick=chosen.quick, reasons=chosen.reasons, paper=chosen.paper
    )
    return DONE if feasible else NO_PLAN


def check(chosen: argparse.Namespace) -> int:
    """The file read and judged."""
    _need_file(chosen.shop)
    from phasewright.command.check import check_shop

    check_shop(chosen.shop)
    return DONE


def new(chosen: argparse.Namespace) -> int:
    """The questions and the file they make."""
    from phasewright.command.new import ask_shop

    return DONE if ask_shop(chosen.shop) else STOPPED


def start(chosen: argparse.Namespace) -> int:
    """One start in time, of a shop's motor or of a network file."""
    asked = {"--motor": chosen.motor, "--way": chosen.way, "--plan": chosen.plan}
    given = [name for name, value in asked.items() if value is not None]
    if chosen.network is not None:
        if chosen.shop is not None or given:
            beside = given[0] if given else "the shop file"
            raise UsageError(f"--network stands for the whole run: leave out {beside}.")
        _need_file(chosen.network, "a network file (the `network` block of a start.json)")
        _need_folder(chosen.out)
        from phasewright.command.start import settle_network, start_network

        (settle_network if chosen.settled else start_network)(chosen.network, chosen.out)
        return DONE
    if chosen.shop is None or chosen.motor is None or chosen.way is None:
        raise UsageError(
            'Give a shop file with --motor "Machine/motor" and --way, or --network with a file.'
        )
    if chosen.settled:
        raise UsageError("--settled goes with --network.")
    _need_file(chosen.shop)
    _need_folder(chosen.out)
    from phasewright.command.start import start_shop

    start_shop(chosen.shop, chosen.motor, chosen.way, chosen.plan, chosen.out)
    return DONE


def page(chosen: argparse.Namespace) -> int:
    """The local web page."""
    if chosen.shop is not None:
        _need_file(chosen.shop)
    if chosen.port is not None and not 1 <= chosen.port <= 65535:
        raise UsageError("--port names a port from 1 to 65535.")
    from phasewright.command.page import serve

    serve(chosen.shop, chosen.port, public=chosen.public, browser=not chosen.no_browser)
    return DONE


def sources(chosen: argparse.Namespace) -> int:
    """The published figures."""
    from phasewright.command.sources import list_sources

    list_sources()
    return DONE


def parser() -> argparse.ArgumentParser:
    """What can be asked on the command line."""
    top = Parser(prog="phasewright", description=ABOUT, allow_abbrev=False)
    commands = top.add_subparsers(metavar="COMMAND", title="commands", parser_class=Parser)

    def add(name: str, work: Callable[[argparse.Namespace], int], words: str) -> Parser:
        made: Parser = commands.add_parser(
            name, help=words, description=f"{words[:1].upper()}{words[1:]}.", allow_abbrev=False
        )
        made.set_defaults(work=work)
        return made

    main = add("study", study, "say what each motor can run on, and what to buy and why")
    _shop(main)
    main.add_argument(
        "--out", metavar="DIR", type=Path,
        help="folder for the papers: the report (PDF), drawings, lists, sheets, the settings of "
        "drives, and study.json, workings.json, wiring.json; one that is there is kept as DIR.1, "
        "DIR.2",
    )  # fmt: skip
    main.add_argument(
        "--paper", choices=("a4", "letter"),
        help="paper of the report, with --out; without it letter in region NEC, a4 elsewhere",
    )  # fmt: skip
    main.add_argument(
        "--quick", action="store_true", help="leave out what takes longest, and say so"
    )
    main.add_argument(
        "--reasons", action="store_true",
        help="say of every motor why it may or may not run on each way, with the figures",
    )  # fmt: skip
    _shop(add("check", check, "read and judge the file only: mistakes, assumptions, gaps"))
    add("new", new, "ask the questions and write a shop file from the answers").add_argument(
        "shop", metavar="SHOP.yaml", type=Path, help="the file to write; none may stand there yet"
    )
    once = add("start", start, "run one start in time: does it run up, what do the lights see")
    once.add_argument(
        "shop", metavar="SHOP.yaml", type=Path, nargs="?", help="the file that describes the shop"
    )
    once.add_argument("--motor", metavar="MACHINE/MOTOR", help="which motor starts")
    once.add_argument(
        "--way", metavar="WAY", help="by which way of powering: rotary_converter, ..."
    )
    once.add_argument(
        "--plan", metavar="ID", help="a listed plan; without it the best that has it so"
    )
    once.add_argument(
        "--network", metavar="NETWORK.json", type=Path,
        help="instead of all this every parameter of a run: the network block of a start.json",
    )  # fmt: skip
    once.add_argument(
        "--settled",
        action="store_true",
        help="with --network: say only where it settles, without the run",
    )
    once.add_argument(
        "--out", metavar="DIR", type=Path,
        help="folder for start.json, .csv, .svg, .png and .cir; one that is there is kept as DIR.1",
    )  # fmt: skip
    _page(add("page", page, "open the page: your shop as a drawing, with its answer"))
    add("sources", sources, "list every published table in use, with its source")
    return top


def _page(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "shop", metavar="SHOP.yaml", type=Path, nargs="?", help="a shop file to open at once"
    )
    command.add_argument("--port", metavar="N", type=int, help="serve on this port and no other")
    command.add_argument(
        "--public", action="store_true",
        help="serve other computers too, whoever they are: only in a network you trust",
    )  # fmt: skip
    command.add_argument(
        "--no-browser", action="store_true", help="open no browser, only tell the address"
    )


def _shop(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "shop", metavar="SHOP.yaml", type=Path, help="the file that describes the shop"
    )


def run(arguments: Sequence[str]) -> int:
    """Do what the command line asks and return the exit status; never raises."""
    try:
        asked = parser()
        chosen = asked.parse_args(list(arguments))
        if "work" not in chosen:
            raise UsageError(asked.format_help().rstrip())
        status: int = chosen.work(chosen)
        sys.stdout.flush()
    except SystemExit as left:  # --help has been shown
        return left.code if isinstance(left.code, int) else DONE
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
    if isinstance(fault, ShopFileError):
        for mistake in fault.mistakes:
            _tell(str(mistake))
        return MISTAKES
    if isinstance(fault, UsageError):
        _tell(str(fault))
        return WRONG_USE
    if isinstance(fault, PhasewrightError):
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


def _need_file(path: Path, kind: str = "a shop file (*.shop.yaml)") -> None:
    if not path.exists():
        raise UsageError(f"There is no file {path}. Give the path of {kind}.")
    if path.is_dir():
        raise UsageError(f"{path} is a folder; the command wants {kind}.")


def _need_folder(path: Path | None) -> None:
    if path is not None and path.exists() and not path.is_dir():
        raise UsageError(f"{path} is a file; --out names a folder.")


def _tell(words: str) -> None:
    with contextlib.suppress(OSError):  # nobody is left to be told
        print(words, file=sys.stderr)


def _let_go(channel: int) -> None:
    """Send what is still buffered nowhere, so that leaving does not fail again."""
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, channel)
    os.close(nowhere)
