"""The main job: the whole answer for a shop."""

from __future__ import annotations

from collections.abc import Callable

from phasewright.job.wiring_check import with_wiring_checked
from phasewright.plan.answer import answered
from phasewright.plan.study import Study
from phasewright.readings.expected import with_readings
from phasewright.shop.model import Shop

Progress = Callable[[str, int, int], None]


def study(shop: Shop, *, quick: bool = False, progress: Progress | None = None) -> Study:
    """The whole answer for a shop.

    `quick` leaves out what takes longest and says so in the answer; `progress` is called with
    (what is being done, steps done, steps in all).
    """
    told = with_readings(answered(shop, quick=quick, progress=progress))
    return with_wiring_checked(shop, told)
