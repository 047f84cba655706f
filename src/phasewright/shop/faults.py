"""A disagreement between facts of a shop file."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, slots=True)
class Fault:
    """What was found at a path, what is allowed there, and what would cure it.

    `also` names the other keys the fault rests on: where one of them could not be read, the
    fault is not told, since it would only follow from the other mistake. `about_names` marks
    faults that rest on the names of all machines and places, or of all motors too.
    """

    path: str
    found: str
    allowed: str
    remedy: str = ""
    also: tuple[str, ...] = ()
    about_names: Literal["", "machines", "motors"] = ""


def given(value: object) -> bool:
    """True where the file gives a quantity: neither None nor an empty tuple."""
    return value is not None and value != ()
