"""The shops that are open in this server, and what of them is kept on the disk.

A shop is found by a name nobody can guess. The oldest makes room where too many are open. Every
change makes a new state with the next number; the ones before stay, so that a change can be taken
back, and a change made from an older state than the last one is never done unasked.
"""

from __future__ import annotations

import logging
import secrets
import threading
import time
from collections import OrderedDict
from concurrent.futures import ThreadPoolExecutor

from phasewright.job.keeping import ShopFolder, State
from phasewright.job.study import study
from phasewright.job.texts import shop_of
from phasewright.page.keeper import Keeper, Listed, make_room
from phasewright.page.open_shop import Open, Overtaken, Seen, Work
from phasewright.quantities.errors import MachineFault, PhasewrightError
from phasewright.shop.model import Shop

_log = logging.getLogger(__name__)
MOST_SHOPS = 100


class Shelf:
    """The open shops and the one worker that studies them, one after the other.

    Shops are kept in `folder`; without one in memory alone.
    """

    def __init__(self, folder: ShopFolder | None = None) -> None:
        self._keeper = Keeper(folder)
        self._shops: OrderedDict[str, Open] = OrderedDict()
        self._lock = threading.Lock()
        self._worker = ThreadPoolExecutor(1, "study")
        self._answers: OrderedDict[str, Work] = OrderedDict()

    @property
    def place(self) -> str:
        """The folder that shops are kept in; empty where they are in memory alone."""
        return self._keeper.place

    def put(self, text: str, *, own: bool = True) -> Open:
        """Open a shop; raises ShopFileError where its text has mistakes.

        It is kept at once, one that is not `own` when it is changed.
        """
        shop = shop_of(text)
        entry = Open(secrets.token_hex(12), shop, [State(1, text, time.time())], own=own)
        self._keeper.keep(entry)
        return self._set_up(entry)

    def again(self, text: str) -> Open:
        """The kept shop that stands as this text says, else the text opened as a new one."""
        try:
            key = self._keeper.key_of(text)
        except MachineFault:
            key = ""  # keeping the new one meets the same fault, which is then told
        return (self.get(key) if key else None) or self.put(text)

    def get(self, key: str) -> Open | None:
        """The shop of this name, as another program on the same folder may have left it."""
        with self._lock:
            entry = self._shops.get(key)
            if entry is not None:
                self._shops.move_to_end(key)
        if entry is None:
            fetched = self._keeper.fetched(key)
            return None if fetched is None else self._set_up(fetched)
        with entry.turn:
            self._take_in(entry)
        return entry

    def listed(self) -> list[Listed]:
        """The kept shops, the one changed last first; raises MachineFault where the folder cannot
        be read."""
        return self._keeper.listed()

    def change(self, entry: Open, text: str, base: str | None = None) -> None:
        """Give a shop another text; raises ShopFileError where that has mistakes.

        `base` is the text that the change was made from; raises Overtaken where the shop has
        another one by now, unless that is what the change wants.
        """
        shop = shop_of(text)
        with entry.turn:
            self._take_in(entry)
            if text == entry.text:
                return
            if base is not None and base != entry.text:
                raise Overtaken(entry, base, text)
            was = entry.text
            number = max(entry.number, entry.kept) + 1
            entry.states.append(State(number, text, time.time()))
            entry.own = True
            if not self._keeper.keep(entry):
                entry.states.pop()
                self._take_in(entry)
                raise Overtaken(entry, was, text)
            make_room(entry.states)
            self._set(entry, shop)

    def back(self, entry: Open, seen: Seen | None = None) -> None:
        """Take the change back that led to what was seen, where there is one; raises Overtaken as
        `change` does."""
        with entry.turn:
            last = seen or entry.now()
            if before := entry.before(last.number):
                self.change(entry, before[-1], last.text)

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

    def _set(self, entry: Open, shop: Shop) -> None:
        entry.shop = shop
        self.studied(entry.text, shop, entry)

    def _set_up(self, entry: Open) -> Open:
        """Have a shop among the open ones, where it is not by now."""
        with self._lock:
            there = self._shops.setdefault(entry.key, entry)
            while len(self._shops) > MOST_SHOPS:
                self._shops.popitem(last=False)
        if there is entry:
            self.studied(entry.text, entry.shop, entry)
        return there

    def _take_in(self, entry: Open) -> None:
        """What another program has made of the shop since."""
        shop = self._keeper.newer(entry)
        if shop is not None:
            self._set(entry, shop)

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
