"""The files of the sheets: `sheets/NAME.txt`, and what stands in which in `sheets/contents.txt`."""

from __future__ import annotations

from collections.abc import Iterator

from phasewright.papers.sheets.sheet import Sheets
from phasewright.papers.sheets.text import text

FOLDER = "sheets"


def files_of(found: Sheets) -> Iterator[tuple[str, str]]:
    """Name and text of every file."""
    yield f"{FOLDER}/contents.txt", _contents(found)
    for each in found.sheets:
        yield f"{FOLDER}/{each.name}.txt", text(each)


def _contents(found: Sheets) -> str:
    lines = ["Sheets, in the order in which they are used", ""]
    lines += [f"{each.name}.txt: {each.title}" for each in found.sheets]
    if found.left_out:
        lines += ["", "Left out", ""]
        lines += [f"{each.title}: {each.words}" for each in found.left_out]
    return "\n".join(lines) + "\n"
