"""Phasewright: which way of powering the three-phase machines of a small workshop is right.

`read` takes a shop file, `study` computes the whole answer for it; `Study.to_dict()` is the
result file. Both import what they need when called, so that `import phasewright` is quick.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable
    from os import PathLike

    from phasewright.plan.study import Study
    from phasewright.shop.model import Shop

__all__ = ["read", "study"]


def read(path: str | PathLike[str]) -> Shop:
    """The shop written in a shop file.

    Raises ShopFileError, which holds every mistake of the file.
    """
    from phasewright.job import read as job

    return job.read(path)


def study(
    shop: Shop, *, quick: bool = False, progress: Callable[[str, int, int], None] | None = None
) -> Study:
    """The whole answer for a shop.

    `quick` leaves out what takes longest and says so in the answer; `progress` is called with
    (what is being done, steps done, steps in all).
    """
    from phasewright.job import study as job

    return job.study(shop, quick=quick, progress=progress)
