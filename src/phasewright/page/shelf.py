"""The shops that are open in this server, and what of them is kept on the disk.

A shop is found by a name nobody can guess. The oldest makes room where too many are open. Every
change makes a new state with the next number; the ones before stay, so that a change can be taken
back, and a change made from an older state than the last one is never done unasked.
"""

from __future__ import annotations

import secrets
import threading
import time
from collections import OrderedDict

from phasewright.job.keeping import ShopFolder, State
from phasewright.job.texts import shop_of
from phasewright.page.keeper import Keeper, Listed, make_room
from phasewright.page.limits import LOCAL, Bounds
from phasewright.page.open_shop import Open, Overtaken, Seen, Work
from phasewright.page.studies import Studies
from phasewright.quantities.errors import MachineFault
from phasewright.shop.model import Shop


class Shelf:
    """The open shops and the studies of them.

    Shops are kept in `folder`; without one in memory alone, within `bounds`.
    """

    def __init__(
        self,
        folder: ShopFolder | None = None,
        studies: Studies | None = None,
        bounds: Bounds = LOCAL,
    ) -> None:
        self._keeper = Keeper(folder)
        self._bounds = bounds
        self._shops: OrderedDict[str, Open] = OrderedDict()
        self._lock = threading.RLock()
        self._answers: OrderedDict[str, Work] = OrderedDict()
        self.studies = Studies(bounds) if studies is None else studies

    @property
    def place(self) -> str:
        """The folder that shops are kept in; empty where they are in memory alone."""
        return self._keeper.place

    def put(self, text: str, *, own: bool = True, who: str = "") -> Open:
        """Open a shop for `who`; raises ShopFileError where its text has mistakes.

        It is kept at once, one that is not `own` when it is changed.
        """
        shop = self._read(text)
        states = [State(1, text, time.time())]
        entry = Open(secrets.token_hex(12), shop, states, own=own, who=who)
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
            if entry.work.again:
                self.studied(entry.text, entry.shop, entry)
        return entry

    def __len__(self) -> int:
        """How many shops are open."""
        return len(self._shops)

    def listed(self) -> list[Listed]:
        """The kept shops, the one changed last first; raises MachineFault where the folder cannot
        be read."""
        return self._keeper.listed()

    def change(self, entry: Open, text: str, base: str | None = None) -> None:
        """Give a shop another text; raises ShopFileError where that has mistakes.

        `base` is the text that the change was made from; raises Overtaken where the shop has
        another one by now, unless that is what the change wants.
        """
        shop = self._read(text)
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
            make_room(entry.states, self._bounds.states)
            self._set(entry, shop)

    def back(self, entry: Open, seen: Seen | None = None) -> None:
        """Take the change back that led to what was seen, where there is one; raises Overtaken as
        `change` does."""
        with entry.turn:
            last = seen or entry.now()
            if before := entry.before(last.number):
                self.change(entry, before[-1], last.text)

    def studied(self, text: str, shop: Shop, entry: Open | None = None, who: str = "") -> Work:
        """The study of a text, begun where it has not been; the same text is studied once.

        It becomes the work of `entry`. What every shop that waited for it has overtaken is not
        begun, or stopped; without an entry it is done whatever happens.
        """
        self._bounds.check(text, shop)
        with self._lock:
            known = self._answers.get(text)
            work = Work(text) if known is None or known.again else known
            self._answers[text] = work
            self._answers.move_to_end(text)
            before = ""
            if entry is None:
                work.kept = True
            else:
                was, entry.work = entry.work, work
                entry.answered = was.text if was.packed else entry.answered
                before = entry.answered or was.text
                who = entry.who
                self._let_go(was)
            while len(self._answers) > self._bounds.shops:
                self._answers.popitem(last=False)
        if work is not known:
            work.looked_at = bool(before)
            self.studies.begin(work, before, who)
        return work

    def close(self) -> None:
        """End the studies; what waits is not begun."""
        self.studies.close()

    def _read(self, text: str) -> Shop:
        """The shop of a text; raises ShopFileError for mistakes and for what is too large."""
        shop = shop_of(text)
        self._bounds.check(text, shop)
        return shop

    def _let_go(self, work: Work) -> None:
        """Stop what nobody waits for any more."""
        if work.ended or work.kept or any(e.work is work for e in self._shops.values()):
            return
        if self._answers.get(work.text) is work:
            del self._answers[work.text]
        self.studies.drop(work)

    def _set(self, entry: Open, shop: Shop) -> None:
        entry.shop = shop
        self.studied(entry.text, shop, entry)

    def _set_up(self, entry: Open) -> Open:
        """Have a shop among the open ones, where it is not by now."""
        with self._lock:
            there = self._shops.setdefault(entry.key, entry)
            while len(self._shops) > self._bounds.shops:
                _, oldest = self._shops.popitem(last=False)
                self._let_go(oldest.work)
        if there is entry:
            self.studied(entry.text, entry.shop, entry)
        return there

    def _take_in(self, entry: Open) -> None:
        """What another program has made of the shop since."""
        shop = self._keeper.newer(entry)
        if shop is not None:
            self._set(entry, shop)
