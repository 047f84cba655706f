"""A study in stages: a touched machine at once, the order of the plans soon, then the whole."""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Callable

from phasewright.job.study import Progress
from phasewright.job.texts import shop_of
from phasewright.job.wiring_check import with_wiring_checked
from phasewright.plan.answer import Answered, answered
from phasewright.plan.early import LineNow, Ranked, Touched, ranking, touched, touched_alone
from phasewright.plan.study import Study
from phasewright.readings.expected import with_readings
from phasewright.shop.model import Shop

__all__ = ["Desk", "LineNow", "Ranked", "Touched"]
MOST_KEPT = 6
"""Answers that a desk keeps with all they were made of."""
Rankings = Callable[[tuple[Ranked, ...]], None]


class Desk:
    """Studies shops, and keeps what the last `most` answers were made of: a shop that differs from
    one of them in one machine is then answered in part at once.

    May be asked from two threads: a look does not wait for a study.
    """

    def __init__(self, most: int = MOST_KEPT) -> None:
        self._most = most
        self._kept: OrderedDict[str, Answered] = OrderedDict()
        self._lock = threading.Lock()

    def look(self, shop: Shop, before: str) -> Touched:
        """What is known of a shop at once, seen from the answer of the text `before`; of the
        changed motors alone where that answer is not kept here."""
        with self._lock:
            known = self._kept.get(before)
            if known is not None:
                self._kept.move_to_end(before)
        return touched_alone(shop_of(before), shop) if known is None else touched(known, shop)

    def study(
        self,
        shop: Shop,
        text: str,
        *,
        quick: bool = False,
        progress: Progress | None = None,
        ranked: Rankings | None = None,
    ) -> Study:
        """The whole answer for a shop whose file says `text`; `ranked` is called with the plans
        as soon as they are found. What `progress` raises ends the work."""

        whole = answered(
            shop,
            quick=quick,
            progress=progress,
            ranked=None if ranked is None else lambda choice, found: ranked(ranking(choice, found)),
        )
        with self._lock:
            self._kept[text] = whole
            self._kept.move_to_end(text)
            while len(self._kept) > self._most:
                self._kept.popitem(last=False)
        return with_wiring_checked(shop, with_readings(whole))
