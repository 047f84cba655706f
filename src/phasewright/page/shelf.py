"""The shops that are open in this server: their texts in memory, never a path of the disk.

A shop is found by a name nobody can guess. The oldest makes room where too many are open. Every
change makes a new text; the ones before are kept, so that a change can be taken back.
"""

from __future__ import annotations

import logging
import secrets
import threading
from collections import OrderedDict
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field

from phasewright.job.study import study
from phasewright.job.texts import shop_of
from phasewright.plan.study import Study
from phasewright.quantities.errors import PhasewrightError
from phasewright.shop.model import Shop

_log = logging.getLogger(__name__)
MOST_SHOPS = 100
MOST_STEPS_BACK = 50


@dataclass(slots=True)
class Work:
    """A study on its way: what is being done, then the answer or why there is none; `kept` where
    somebody waits for it who has no shop open."""

    doing: str = "waiting for its turn"
    done: int = 0
    of: int = 0
    answer: Study | None = None
    failed: str = ""
    kept: bool = False

    @property
    def ended(self) -> bool:
        return self.answer is not None or bool(self.failed)


@dataclass(slots=True)
class Open:
    """A shop that is open: its text, the texts before, and the study of the text."""

    key: str
    text: str
    shop: Shop
    before: list[str] = field(default_factory=list)
    work: Work = field(default_factory=Work)


class Shelf:
    """The open shops and the one worker that studies them, one after the other."""

    def __init__(self) -> None:
        self._shops: OrderedDict[str, Open] = OrderedDict()
        self._lock = threading.Lock()
        self._worker = ThreadPoolExecutor(1, "study")
        self._answers: OrderedDict[str, Work] = OrderedDict()

    def put(self, text: str) -> Open:
        """Open a shop; raises ShopFileError where its text has mistakes."""
        shop = shop_of(text)
        entry = Open(secrets.token_urlsafe(12), text, shop)
        with self._lock:
            self._shops[entry.key] = entry
            while len(self._shops) > MOST_SHOPS:
                self._shops.popitem(last=False)
        self.studied(text, shop, entry)
        return entry

    def get(self, key: str) -> Open | None:
        """The open shop of this name."""
        with self._lock:
            if key in self._shops:
                self._shops.move_to_end(key)
            return self._shops.get(key)

    def change(self, entry: Open, text: str) -> None:
        """Give a shop another text; raises ShopFileError where that has mistakes."""
        shop = shop_of(text)
        if text != entry.text:
            entry.before = [*entry.before, entry.text][-MOST_STEPS_BACK:]
        self._set(entry, text, shop)

    def back(self, entry: Open) -> None:
        """Take the last change back, where there is one."""
        if entry.before:
            text = entry.before.pop()
            self._set(entry, text, shop_of(text))

    def studied(self, text: str, shop: Shop, entry: Open | None = None) -> Work:
        """The study of a text, begun where it has not been; the same text is studied once.

        It becomes the work of `entry`, and is not begun where by its turn every shop that waited
        for it has another text; without an entry it is begun whatever happens.
        """
        with self._lock:
            known = self._answers.get(text)
            work = Work() if known is None else known
            self._answers[text] = work
            self._answers.move_to_end(text)
            if entry is None:
                work.kept = True
            else:
                entry.work = work
            while len(self._answers) > MOST_SHOPS:
                self._answers.popitem(last=False)
        if known is None:
            self._worker.submit(self._run, work, shop, text)
        return work

    def close(self) -> None:
        """Let the worker go; what waits is not begun."""
        self._worker.shutdown(wait=False, cancel_futures=True)

    def _set(self, entry: Open, text: str, shop: Shop) -> None:
        entry.text, entry.shop = text, shop
        self.studied(text, shop, entry)

    def _run(self, work: Work, shop: Shop, text: str) -> None:
        with self._lock:
            wanted = work.kept or any(entry.work is work for entry in self._shops.values())
            if not wanted:
                if self._answers.get(text) is work:
                    del self._answers[text]
                return

        def progress(what: str, done: int, of: int) -> None:
            work.doing, work.done, work.of = what or work.doing, done, of

        work.doing = "beginning"
        try:
            work.answer = study(shop, progress=progress)
        except PhasewrightError as refused:
            work.failed = str(refused)
        except Exception:  # noqa: BLE001 - the page must not wait for ever for a fault of ours
            _log.exception("a study failed")
            work.failed = "A fault of this program, not of your shop: the study broke off."
