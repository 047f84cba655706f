"""A shop that is open: its states, the study of the last one, and a change that came too late."""

from __future__ import annotations

import functools
import threading
from dataclasses import dataclass, field

from phasewright.job.keeping import State, steps_back
from phasewright.job.stages import Ranked, Touched
from phasewright.job.texts import shop_of
from phasewright.page.worker import unpacked
from phasewright.plan.study import Study
from phasewright.shop.model import Shop

MOST_UNPACKED = 8
"""Answers that lie ready to be shown; the others are packed, a twentieth of the room."""
_ready = functools.lru_cache(maxsize=MOST_UNPACKED)(unpacked)


@dataclass(slots=True, eq=False)
class Work:
    """The study of a text on its way: what is being done, then the answer or why there is none.

    `look` is what is known of a changed machine at once, where it is `looked_at`; `ranked` the
    plans as they were found, `packed` the whole answer. `again`: it failed for want of room and may
    be asked for anew; `kept` where somebody waits for it who has no shop open.
    """

    text: str = ""
    doing: str = "waiting for its turn"
    done: int = 0
    of: int = 0
    looked_at: bool = False
    look: Touched | None = None
    ranked: tuple[Ranked, ...] = ()
    packed: bytes = b""
    failed: str = ""
    again: bool = False
    kept: bool = False

    @property
    def answer(self) -> Study | None:
        """The whole answer, once it is there."""
        return _ready(self.packed) if self.packed else None

    @property
    def ended(self) -> bool:
        return bool(self.packed or self.failed)

    @property
    def stage(self) -> int:
        """How much there is to be shown: it only grows."""
        return (self.look is not None) + 2 * bool(self.ranked) + 4 * self.ended


@dataclass(slots=True)
class Open:
    """A shop that is open: its states, the last one as it stands, and the study of that.

    `kept` is the number of the last state on the disk. `own` is False for a shop that nobody has
    changed yet and that comes with the program. `told` is what the owner has to know of the
    keeping, empty where all is well. `answered` is the last text whose answer was there, `who`
    opened it, as far as the network tells.
    """

    key: str
    shop: Shop
    states: list[State]
    kept: int = 0
    own: bool = True
    told: str = ""
    answered: str = ""
    who: str = ""
    work: Work = field(default_factory=Work)
    turn: threading.RLock = field(default_factory=threading.RLock)

    @property
    def text(self) -> str:
        return self.states[-1].text

    @property
    def number(self) -> int:
        """The number of the state, which every form carries."""
        return self.states[-1].number

    def before(self, number: int) -> list[str]:
        """The texts that can be gone back to from a state, the nearest last."""
        return steps_back([state.text for state in self.states if state.number <= number])

    def now(self) -> Seen:
        """The shop as it stands."""
        return Seen(self.key, self.number, self.text, self.shop, self)

    def seen(self, number: int) -> Seen | None:
        """The shop as a form of this number was made from it; None where that is not known."""
        for state in self.states:
            if state is self.states[-1] and state.number == number:
                return self.now()
            if state.number == number:
                return Seen(self.key, number, state.text, shop_of(state.text), self)
        return None


@dataclass(frozen=True, slots=True)
class Seen:
    """A shop in the state that a form was made from; `entry` is the shop as it stands."""

    key: str
    number: int
    text: str
    shop: Shop
    entry: Open


class Overtaken(Exception):
    """A change was made from a state that is not the last one; nothing was changed.

    `base` is the text it was made from, `mine` what it makes of it.
    """

    def __init__(self, entry: Open, base: str, mine: str) -> None:
        super().__init__(entry.key)
        self.entry, self.base, self.mine = entry, base, mine
