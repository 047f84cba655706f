"""What a front end needs to keep shops: the folder, what differs, and two changes made one."""

from __future__ import annotations

import difflib
import itertools
from collections.abc import Sequence
from pathlib import Path

from phasewright.files import shop_folder
from phasewright.files.shop_folder import ShopFolder, State
from phasewright.job.texts import shop_of
from phasewright.quantities.errors import ShopFileError

__all__ = ["MOST_STATES", "ShopFolder", "State", "differs", "steps_back", "together", "users_shops"]
MOST_STATES = shop_folder.MOST_STATES


def users_shops(folder: Path | None = None) -> ShopFolder:
    """The folder of the user's shops, by the convention of the platform where none is named."""
    return ShopFolder(folder)


def steps_back(texts: Sequence[str]) -> list[str]:
    """The texts that a change can be taken back to, the nearest last.

    A text that is again the one before the last is a change taken back, not a new one, so that
    taking back goes on backwards, also after the program was ended and begun again.
    """
    stack: list[str] = []
    for text in texts:
        if len(stack) > 1 and stack[-2] == text:
            stack.pop()
        elif not stack or stack[-1] != text:
            stack.append(text)
    return stack[:-1]


def differs(before: str, after: str) -> list[str]:
    """The lines that differ, each with `-` (gone) or `+` (new) before it."""
    rows = difflib.unified_diff(before.splitlines(), after.splitlines(), lineterm="", n=0)
    return [row for row in rows if row[0] in "+-" and row[:3] not in ("---", "+++")]


def together(base: str, mine: str, theirs: str) -> str | None:
    """The text with both changes of `base` made; None where they meet in the same or in
    neighbouring lines, or make a text with mistakes."""
    lines = base.splitlines(keepends=True)
    made = sorted({*_edits(lines, mine), *_edits(lines, theirs)})
    if any(one[1] >= other[0] for one, other in itertools.pairwise(made)):
        return None
    for start, end, new in reversed(made):
        lines[start:end] = new
    text = "".join(lines)
    try:
        shop_of(text)
    except ShopFileError:
        return None
    return text


def _edits(base: list[str], text: str) -> list[tuple[int, int, tuple[str, ...]]]:
    """What was changed: first line, line after the last, and what stands there now."""
    new = text.splitlines(keepends=True)
    codes = difflib.SequenceMatcher(None, base, new, autojunk=False).get_opcodes()
    return [(i, j, tuple(new[k:n])) for what, i, j, k, n in codes if what != "equal"]
