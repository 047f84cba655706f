"""What one server gives to whom: to its owner nearly all, to strangers each a fair part.

The figures of `PUBLIC` are our own judgement: a study takes a second or two of a processor, and a
visitor who types a plate asks a few times a second.
"""

from __future__ import annotations

import threading
import time
from collections import OrderedDict
from dataclasses import dataclass

from starlette.requests import Request

from phasewright.job.keeping import MOST_STATES
from phasewright.job.texts import MOST_BYTES
from phasewright.quantities.errors import Mistake, ShopFileError
from phasewright.shop.model import Shop


@dataclass(frozen=True, slots=True)
class Bounds:
    """How much of everything there is; `public`: strangers are served.

    `text` bytes of a shop file, `motors` of a shop, `states` of a shop that are kept; `shops` that
    are open, `processes` that study, `study_s` of the processor for one study, `waiting` studies in
    all and `waiting_each` of one visitor; `body_s` seconds for what a visitor sends.
    """

    public: bool = False
    text: int = MOST_BYTES
    motors: int = 10_000
    states: int = MOST_STATES
    shops: int = 100
    processes: int = 1
    study_s: float = 600.0
    waiting: int = 10_000
    waiting_each: int = 10_000
    body_s: float = 300.0

    def check(self, text: str, shop: Shop) -> None:
        """Raises ShopFileError for a shop that is larger than is served here."""
        motors = sum(len(machine.motors) for machine in shop.machines)
        over = None
        if len(text.encode()) > self.text:
            over = f"{len(text.encode()) / 1000.0:.0f} kB", f"up to {self.text / 1000.0:.0f} kB"
        elif motors > self.motors:
            over = f"{motors} motors", f"up to {self.motors} motors"
        if over is not None:
            remedy = "the program on your own computer takes larger shops"
            raise ShopFileError((Mistake("the shop", 0, "", over[0], over[1], remedy),))


LOCAL = Bounds()
PUBLIC = Bounds(
    public=True, text=64_000, motors=40, states=20, shops=500, processes=2, study_s=60.0,
    waiting=200, waiting_each=4, body_s=30.0,
)  # fmt: skip


def asker(request: Request) -> str:
    """Who asks, as far as the network tells."""
    return "" if request.client is None else request.client.host


@dataclass(slots=True)
class _Bucket:
    left: float
    at: float


class Allowance:
    """How often a visitor may ask: `burst` at once, and `per_s` a second from then on.

    Source: the token bucket of network traffic, RFC 2697, section 3 (one rate).
    """

    MOST = 20_000
    """Visitors that are remembered; the one not seen for longest is forgotten first."""

    def __init__(self, per_s: float, burst: float) -> None:
        self._per_s, self._burst = per_s, burst
        self._buckets: OrderedDict[str, _Bucket] = OrderedDict()
        self._lock = threading.Lock()

    def wait_s(self, who: str) -> float:
        """Take one; 0 where there is one, else seconds until there is [s]."""
        now = time.monotonic()
        with self._lock:
            bucket = self._buckets.setdefault(who, _Bucket(self._burst, now))
            self._buckets.move_to_end(who)
            if len(self._buckets) > self.MOST:
                self._buckets.popitem(last=False)
            bucket.left = min(self._burst, bucket.left + (now - bucket.at) * self._per_s)
            bucket.at = now
            if bucket.left < 1.0:
                return (1.0 - bucket.left) / self._per_s
            bucket.left -= 1.0
            return 0.0


@dataclass(frozen=True, slots=True)
class Rates:
    """The allowances of a visitor: for looking, and for sending anything."""

    looking: Allowance
    sending: Allowance

    def wait_s(self, who: str, *, sends: bool) -> float:
        """Seconds to wait [s], 0 where it may be answered now."""
        return (self.sending if sends else self.looking).wait_s(who)


def public_rates() -> Rates:
    """What strangers may ask: ten looks and two things sent a second, in bursts of more."""
    return Rates(Allowance(10.0, 300.0), Allowance(2.0, 60.0))
