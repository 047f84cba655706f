"""Studies in processes beside the server: who waits, who is worked for, who has waited too long.

Each process does one study at a time, and looks beside it. What nobody wants any more is stopped;
a process that takes too long, or that does not stop, is killed and another begun in its place.
"""

from __future__ import annotations

import gc
import itertools
import logging
import multiprocessing
import threading
import time
from collections import deque
from concurrent.futures import Future
from concurrent.futures import TimeoutError as FutureTimeout
from dataclasses import dataclass, field, replace
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from typing import Any

from phasewright.job.curves.chart import Sheet
from phasewright.job.curves.sheets import Asked
from phasewright.job.stages import MOST_KEPT
from phasewright.page.limits import LOCAL, Bounds
from phasewright.page.open_shop import Work
from phasewright.page.worker import BROKE_OFF, OVER, News, Order, work

_log = logging.getLogger(__name__)
_SLOW = 10.0
"""So much longer by the clock than by the processor may a study take: the computer may be busy."""
_GRACE_S = 20.0
"""How long a study that was told to stop may go on: its longest step is shorter, busy or not."""
TOO_MANY = "Too many shops wait for their answer just now. Nothing is lost: look again in a minute."
TOO_MANY_OF_YOURS = (
    "So many shops of yours wait for their answer already. Look again when one of them has it."
)
TOO_LONG = (
    "This shop takes longer to work out than is given to one here ({limit:g} s of a processor). "
    "Keep the shop file, and have it worked out by the program on your own computer."
)
ENDING = "The server is ending: begin it again, and look again."
TOO_LONG_HERE = "The study took longer than {limit:g} s of a processor and was ended."


@dataclass(slots=True, eq=False)
class _Job:
    number: int
    work: Work
    who: str
    before: str = ""
    began: float = 0.0
    stopped: float = 0.0


@dataclass(slots=True, eq=False)
class _Hand:
    """A process with the server's side of its door."""

    process: BaseProcess
    door: Connection
    job: _Job | None = None
    ready: bool = False
    late: bool = False
    texts: deque[str] = field(default_factory=lambda: deque(maxlen=MOST_KEPT))


class Studies:
    """The processes and the line before them."""

    def __init__(self, bounds: Bounds = LOCAL, warm: str = "") -> None:
        self._bounds = bounds
        self._warm = warm
        self._lock = threading.RLock()
        self._waiting: list[_Job] = []
        self._hands: list[_Hand] = []
        self._jobs: dict[int, _Job] = {}
        self._numbers = itertools.count(1)
        self._asked: dict[int, Future[Any]] = {}
        self._closed = threading.Event()
        self._watch: threading.Thread | None = None

    def open(self) -> None:
        """Begin the processes before the first study is asked for."""
        with self._lock:
            self._fill()

    def begin(self, one: Work, before: str = "", who: str = "") -> None:
        """Have a text studied for `who`, and looked at from the answer of the text `before`."""
        with self._lock:
            if self._closed.is_set():
                return
            mine = sum(1 for job in self._waiting if job.who == who)
            full = len(self._waiting) >= self._bounds.waiting
            if full or mine >= self._bounds.waiting_each:
                one.failed, one.again = (TOO_MANY if full else TOO_MANY_OF_YOURS), True
                return
            job = _Job(next(self._numbers), one, who, before)
            self._jobs[job.number] = job
            self._waiting.append(job)
            self._fill()
            if before:
                self._send(self._knows(before), Order("look", job.number, one.text, before))
            self._give_out()

    def curves(
        self, one: Work, plan: str, motor: str, asked: Asked, patience_s: float
    ) -> Sheet | str | None:
        """A sheet of curves of a motor in a plan of an answer, or why there is none; None where
        nobody comes to it in time."""
        order = Order("curves", 0, one.text, packed=one.packed, plan=plan, motor=motor, asked=asked)
        found: Sheet | str | None = self._told(order, patience_s)
        return found

    def papers(self, one: Work, name: str, plan: str, patience_s: float) -> bytes | str | None:
        """Every paper of a plan of an answer in an archive of this name, or why there is none; None
        where nobody comes to it in time."""
        order = Order("papers", 0, one.text, packed=one.packed, name=name, plan=plan)
        found: bytes | str | None = self._told(order, patience_s)
        return found

    def _told(self, order: Order, patience_s: float) -> Any:
        """What becomes of an order of an answer that is there; None where that takes too long."""
        told: Future[Any] = Future()
        with self._lock:
            if self._closed.is_set():
                return ENDING
            self._fill()
            number = next(self._numbers)
            self._asked[number] = told
            self._send(self._knows(order.text), replace(order, number=number))
        try:
            return told.result(patience_s)
        except FutureTimeout:
            return None
        finally:
            with self._lock:
                del self._asked[number]

    def drop(self, one: Work) -> None:
        """Nobody wants this any more: it is not begun, or stopped."""
        with self._lock:
            for job in [each for each in self._waiting if each.work is one]:
                self._waiting.remove(job)
                self._ended(job)
            for hand in self._hands:
                if hand.job is not None and hand.job.work is one and not hand.job.stopped:
                    hand.job.stopped = time.monotonic()
                    self._send(hand, Order("stop", hand.job.number))

    def place(self, one: Work) -> int:
        """How many are worked for before this; 0 where it is being worked for."""
        with self._lock:
            for place, job in enumerate(self._waiting, start=1):
                if job.work is one:
                    return place
        return 0

    @property
    def begun(self) -> bool:
        """Whether processes have been asked for."""
        return self._watch is not None

    def state(self) -> dict[str, int]:
        """How many processes are ready, at work, and how many studies wait."""
        with self._lock:
            alive = [hand for hand in self._hands if hand.process.is_alive()]
            return {
                "processes": len(alive),
                "ready": sum(1 for hand in alive if hand.ready),
                "working": sum(1 for hand in alive if hand.job is not None),
                "waiting": len(self._waiting),
            }

    def pids(self) -> list[int]:
        """The processes, for whoever looks after them."""
        with self._lock:
            return [hand.process.pid for hand in self._hands if hand.process.pid is not None]

    def close(self) -> None:
        """End the processes; what waits is not begun, and whoever waits for it is told."""
        with self._lock:
            hands = [] if self._closed.is_set() else list(self._hands)
            self._closed.set()
            for job in self._jobs.values():
                job.work.failed, job.work.again = ENDING, True
            self._jobs.clear()
            self._waiting.clear()
        for hand in hands:
            hand.process.kill()  # it keeps nothing but what can be computed again
        for hand in hands:
            hand.process.join(10.0)
            hand.door.close()

    def _fill(self) -> None:
        """Have as many processes as there shall be."""
        while len(self._hands) < self._bounds.processes and not self._closed.is_set():
            spawn = multiprocessing.get_context("spawn")
            ours, theirs = spawn.Pipe()
            given = (theirs, self._warm, gc.get_threshold(), self._bounds.study_s)
            process = spawn.Process(target=work, args=given, daemon=True)
            process.start()
            theirs.close()
            hand = _Hand(process, ours)
            self._hands.append(hand)
            threading.Thread(target=self._listen, args=(hand,), daemon=True).start()
        if self._watch is None:
            self._watch = threading.Thread(target=self._watching, daemon=True)
            self._watch.start()

    def _give_out(self) -> None:
        """The first in line to whoever is free, the one who answered the text before it first."""
        free = [hand for hand in self._hands if hand.job is None]
        while free and self._waiting:
            job = self._waiting.pop(0)
            hand = min(free, key=lambda each: job.before not in each.texts)
            free.remove(hand)
            hand.job = job
            job.began, job.work.doing = time.monotonic(), "beginning"
            self._send(hand, Order("study", job.number, job.work.text))

    def _knows(self, text: str) -> _Hand:
        """Who has the answer of a text ready, else who is free, else anybody."""
        return min(self._hands, key=lambda hand: (text not in hand.texts, hand.job is not None))

    def _send(self, hand: _Hand, order: Order) -> None:
        try:
            hand.door.send(order)
        except OSError:
            _log.warning("a process of studies is gone")  # its listener takes care of it

    def _listen(self, hand: _Hand) -> None:
        """What a process tells, until it is gone."""
        while True:
            try:
                news: News = hand.door.recv()
            except (EOFError, OSError):
                break
            with self._lock:
                self._take_in(hand, news)
        hand.process.join(1.0)
        with self._lock:
            hand.late = hand.late or hand.process.exitcode == OVER
            self._hands.remove(hand)
            job, hand.job = hand.job, None
            if job is not None:
                limit = self._bounds.study_s
                words = TOO_LONG if self._bounds.public else TOO_LONG_HERE
                if not job.stopped and not self._closed.is_set():
                    job.work.failed = words.format(limit=limit) if hand.late else BROKE_OFF
                self._ended(job)
            if not self._closed.is_set() and (hand.ready or self._waiting):
                self._fill()
                self._give_out()

    def _take_in(self, hand: _Hand, news: News) -> None:
        if news.of == "ready":
            hand.ready = True
            if self._warm:
                hand.texts.append(self._warm)
            return
        told = self._asked.get(news.number)
        if told is not None:
            told.set_result(news.holds)
            return
        job = self._jobs.get(news.number)
        if job is None:
            return  # a look at what was dropped meanwhile
        one = job.work
        if news.of == "doing":
            what, one.done, one.of = news.holds
            one.doing = what or one.doing
        elif news.of == "look":
            one.look = news.holds
        elif news.of == "ranked":
            one.ranked = news.holds
        else:
            if news.of == "answer":
                one.packed = news.holds
                hand.texts.append(one.text)
            elif news.of == "failed":
                one.failed = news.holds
            if hand.job is job:
                hand.job = None
            self._ended(job)
            self._give_out()

    def _ended(self, job: _Job) -> None:
        self._jobs.pop(job.number, None)

    def _watching(self) -> None:
        """Kill whoever takes too long."""
        while not self._closed.wait(0.25):
            now = time.monotonic()
            with self._lock:
                for hand in self._hands:
                    job = hand.job
                    if job is None or hand.late or not hand.ready:
                        continue
                    if job.stopped and now - job.stopped > _GRACE_S:
                        hand.process.kill()
                    elif now - job.began > _SLOW * self._bounds.study_s:
                        hand.late = True
                        hand.process.kill()
