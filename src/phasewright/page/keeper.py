"""How open shops are kept on the disk; a disk that refuses is told and tried again."""

from __future__ import annotations

import contextlib
import functools
from collections.abc import Sequence
from dataclasses import dataclass

from phasewright.job.keeping import MOST_STATES, ShopFolder, State
from phasewright.job.texts import shop_of
from phasewright.page.open_shop import Open
from phasewright.quantities.errors import MachineFault, ShopFileError
from phasewright.shop.model import Shop

MOST_LISTED = 30
"""Kept shops that the first page lists."""
MOST_LETTERS = 8_000_000
"""Letters of all the states of one shop together that are held in memory."""
IN_MEMORY = (
    "What you do goes on in memory, and keeping is tried again with the next change: keep the "
    "shop file before you end the program."
)


@dataclass(frozen=True, slots=True)
class Listed:
    """A kept shop as the first page lists it; `name` is empty where it cannot be read."""

    key: str
    name: str
    at: float


class Keeper:
    """Keeps shops in a folder; without one nowhere."""

    def __init__(self, folder: ShopFolder | None) -> None:
        self._folder = folder

    @property
    def place(self) -> str:
        """The folder in words; empty without one."""
        return "" if self._folder is None else str(self._folder.folder)

    def keep(self, entry: Open) -> bool:
        """Write every state that is not on the disk yet; False where another program has made one
        of the last one's number. An earlier one that has no room for that reason stays in memory.
        """
        if self._folder is None or not entry.own:
            return True
        try:
            for state in [each for each in entry.states if each.number > entry.kept]:
                if self._folder.put(entry.key, state):
                    entry.kept = state.number
                elif state is entry.states[-1]:
                    return False
        except MachineFault as fault:
            entry.told = f"{fault}. {IN_MEMORY}"
        else:
            entry.told = ""
        return True

    def newer(self, entry: Open) -> Shop | None:
        """Take in what another program has kept of the shop since; None where it has nothing."""
        if self._folder is None or not entry.own:
            return None
        try:
            if self._folder.newest(entry.key) <= max(entry.kept, entry.number):
                return None
            states = self._folder.states(entry.key, after=max(entry.kept, entry.number))
        except MachineFault as fault:
            entry.told = f"{fault}. {IN_MEMORY}"
            return None
        shop, found, told = _last_shop(states)
        entry.kept, entry.told = states[-1].number, told
        entry.states += found
        make_room(entry.states)
        return shop

    def fetched(self, key: str) -> Open | None:
        """A kept shop; None where there is none that can be read. Raises MachineFault where the
        folder cannot be read."""
        states = () if self._folder is None else self._folder.states(key)
        shop, found, told = _last_shop(states)
        if shop is None:
            return None
        make_room(found)
        return Open(key, shop, found, kept=states[-1].number, told=told)

    def key_of(self, text: str) -> str:
        """The kept shop that stands as this text says, the one changed last first; empty without
        one. Raises MachineFault where the folder cannot be read."""
        if self._folder is None:
            return ""
        for key in self._folder.keys()[:MOST_LISTED]:
            if any(each.text == text for each in self._last(key)):
                return key
        return ""

    def listed(self) -> list[Listed]:
        """The kept shops, the one changed last first; raises MachineFault where the folder cannot
        be read."""
        if self._folder is None:
            return []
        keys = self._folder.keys()[:MOST_LISTED]
        return [Listed(key, _name(last.text), last.at) for key in keys for last in self._last(key)]

    def _last(self, key: str) -> tuple[State, ...]:
        """The last state of a kept shop, where there is one."""
        if self._folder is None:
            return ()
        return self._folder.states(key, after=self._folder.newest(key) - 1)


def make_room(states: list[State], most: int = MOST_STATES) -> None:
    """Let the oldest states go where they are too many or too long; the last two stay."""
    while len(states) > 2 and (
        len(states) > most or sum(len(state.text) for state in states) > MOST_LETTERS
    ):
        del states[0]


def _last_shop(states: Sequence[State]) -> tuple[Shop | None, list[State], str]:
    """The last shop that can be read, the states up to it, and what is to be told where a later
    one cannot."""
    for count in range(len(states), 0, -1):
        with contextlib.suppress(ShopFileError):
            shop = shop_of(states[count - 1].text)
            told = "" if count == len(states) else _torn(states[-1])
            return shop, list(states[:count]), told
    return None, [], "" if not states else _torn(states[-1])


def _torn(state: State) -> str:
    return (
        f"State {state.number} of this shop lies in the folder and cannot be read; what is shown "
        "is the last one before it that can."
    )


@functools.lru_cache(maxsize=4 * MOST_LISTED)
def _name(text: str) -> str:
    try:
        return shop_of(text).shop
    except ShopFileError:
        return ""
