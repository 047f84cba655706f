"""`phasewright new`: the questions in the terminal, and the shop file that the answers make."""

from __future__ import annotations

import io
import sys
from pathlib import Path

from rich.console import Console
from rich.text import Text

from phasewright.command.screen import line, screen
from phasewright.files.kept import put
from phasewright.files.shop_answers import answers_text, mistakes
from phasewright.quantities.errors import QuantityError, UsageError
from phasewright.shop.interview import Draft, replay
from phasewright.shop.questions import Question

BACK, QUIT = "back", "quit"


def ask_shop(path: Path) -> bool:
    """Ask for a shop and write its file; False where the owner left with `quit`.

    Raises UsageError where the file is there already or the answers end too early; then
    nothing is written.
    """
    _free(path)
    if isinstance(sys.stdin, io.TextIOWrapper):
        sys.stdin.reconfigure(errors="replace")
    console = screen()
    line(console, "A shop file from your answers. What you do not know, leave empty.", inset=0)
    line(console, f"Type {BACK} for the question before, {QUIT} to leave without a file.", inset=0)
    draft = _asked(console)
    if draft is None:
        line(console, "Nothing was written.", inset=0)
        return False
    text = answers_text(draft)
    _free(path)
    put(path, text)
    console.print()
    for words in (f"Written: {path}", f"Next: phasewright check {path}"):
        console.print(Text(words), soft_wrap=True)  # a path is never broken
    return True


def _asked(console: Console) -> Draft | None:
    """The whole draft, or None where the owner leaves."""
    answers: list[str] = []
    draft, question = replay(answers)
    told = False
    while question is not None:
        if not told:
            _show(console, question)
        text = _typed(console)
        told = False
        if text == QUIT:
            return None
        if text == BACK:
            answers = answers[:-1]
            draft, question = replay(answers)
            continue
        refused, tried, after = _tried([*answers, text])
        if refused:
            for words in refused:
                line(console, words, mark=Text("!"))
            told = True
            continue
        answers, draft, question = [*answers, text], tried, after
        for words in draft.said:
            line(console, words)
    return draft


def _tried(answers: list[str]) -> tuple[list[str], Draft, Question | None]:
    """What is wrong with the last answer, in the words of the shop file's reader."""
    try:
        draft, question = replay(answers)
    except QuantityError as refused:
        return [str(refused)], Draft(), None
    wrong = mistakes(draft)
    words = ["; ".join(filter(None, (m.found, m.allowed, m.remedy))) for m in wrong]
    return list(dict.fromkeys(words)), draft, question


def _show(console: Console, question: Question) -> None:
    console.print()
    line(console, question.asks, inset=0)
    if question.look:
        line(console, question.look)
    for number, option in enumerate(question.options, 1):
        line(console, option.words, mark=Text(f"{number:2}"))
    if not question.needed:
        line(console, f"Enter: {question.enter}")


def _typed(console: Console) -> str:
    try:
        return input("> ").strip()
    except EOFError:
        console.print()
        raise UsageError("The answers end before the last question; nothing was written.") from None


def _free(path: Path) -> None:
    if path.exists() or path.is_symlink():
        raise UsageError(f"{path} is there already; name a new file, or change that one.")
    if not path.parent.is_dir():
        raise UsageError(f"There is no folder {path.parent}.")
