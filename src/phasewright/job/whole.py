"""The whole job once, for every front end: read a shop file, study the shop."""

from __future__ import annotations

from collections.abc import Callable
from os import PathLike
from pathlib import Path

from phasewright.files import shop_file
from phasewright.plan.answer import answer
from phasewright.plan.study import Study
from phasewright.shop.model import Shop

Progress = Callable[[str, int, int], None]


def read(path: str | PathLike[str]) -> Shop:
    """The shop written in a shop file; raises ShopFileError with every mistake."""
    return shop_file.read(Path(path))


def study(shop: Shop, *, quick: bool = False, progress: Progress | None = None) -> Study:
    """The whole answer for a shop.

    `quick` leaves out what takes longest and says so in the answer; `progress` is called with
    (what is being done, steps done, steps in all).
    """
    return answer(shop, quick=quick, progress=progress)
