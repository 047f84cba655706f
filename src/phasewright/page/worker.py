"""What runs in a process beside the server: studies one after the other, looks and curves beside.

The server sends orders, this sends news. A study asks at each of its steps whether it was told to
stop. The process ends with its server, however that ends.
"""

from __future__ import annotations

import contextlib
import functools
import gc
import logging
import math
import multiprocessing
import os
import pickle
import signal
import threading
import time
import zlib
from collections.abc import Callable
from dataclasses import dataclass, field
from multiprocessing.connection import Connection, wait
from queue import SimpleQueue
from typing import Any, Literal

from phasewright.job.curves.sheets import Asked, curves, motors_of
from phasewright.job.instead import with_plan
from phasewright.job.papers import papers, zipped
from phasewright.job.stages import Desk
from phasewright.job.texts import shop_of
from phasewright.plan.study import Study
from phasewright.quantities.errors import PhasewrightError

_log = logging.getLogger(__name__)
_TELL_S = 0.1
"""Steps of a study are told no more often than this."""
MOST_DRAWN = 4
"""Shops whose curves are asked for again and again that are kept ready."""
_LOOK_S = 1.0
"""How long a study lets a look go first at each of its steps."""
OVER = 3
"""Exit status of a process whose study took more of the processor than it was given."""
_WATCH_S = 0.1
BROKE_OFF = "A fault of this program, not of your shop: the study broke off."


@dataclass(frozen=True, slots=True)
class Order:
    """What the server wants: a study of a text, a look at it from the answer of the text
    `before`, that a study stops, or the `curves` that are `asked` of a motor in a plan of the
    `packed` answer, or the `papers` of that answer, or of its `plan`, in an
    archive of this `name`."""

    do: Literal["study", "look", "stop", "curves", "papers"]
    number: int
    text: str = ""
    before: str = ""
    packed: bytes = b""
    plan: str = ""
    motor: str = ""
    asked: Asked = "load"
    name: str = ""


@dataclass(frozen=True, slots=True)
class News:
    """What became of an order: `holds` is a `Touched`, the ranked plans, (what is done, steps
    done, steps in all), a packed study, a sheet of curves, an archive, or why there is none.
    `ready` is of no order."""

    of: Literal[
        "ready", "doing", "look", "ranked", "answer", "curves", "papers", "failed", "stopped"
    ]
    number: int = 0
    holds: Any = None


class _Stopped(Exception):
    """The server does not want this study any more."""


def packed(study: Study) -> bytes:
    """A study as bytes, to be sent and kept."""
    return zlib.compress(pickle.dumps(study, protocol=pickle.HIGHEST_PROTOCOL), 1)


def unpacked(whole: bytes) -> Study:
    """The study in such bytes, which must come from a process of this server."""
    collects = gc.isenabled()
    gc.disable()  # the collector would go through all that is made here again and again
    try:
        study: Study = pickle.loads(zlib.decompress(whole))
    finally:
        if collects:
            gc.enable()
    return study


_described = functools.lru_cache(maxsize=MOST_DRAWN)(shop_of)
_answer = functools.lru_cache(maxsize=MOST_DRAWN)(unpacked)


@dataclass(slots=True)
class _Bench:
    """The process's side of its door, what it keeps, what it was told to stop, and whether no look
    is asked for. A study may take `study_s` of the processor, the running one `until` then."""

    door: Connection
    desk: Desk = field(default_factory=Desk)
    stopped: set[int] = field(default_factory=set)
    studies: SimpleQueue[Order] = field(default_factory=SimpleQueue)
    looks: SimpleQueue[Order] = field(default_factory=SimpleQueue)
    sheets: SimpleQueue[Order] = field(default_factory=SimpleQueue)
    quiet: threading.Event = field(default_factory=threading.Event)
    turn: threading.Lock = field(default_factory=threading.Lock)
    study_s: float = math.inf
    until: float = math.inf

    def tell(self, news: News) -> None:
        with self.turn:
            self.door.send(news)

    def study(self, order: Order) -> None:
        """A whole study with its steps."""
        last = 0.0

        def progress(what: str, done: int, of: int) -> None:
            nonlocal last
            self.quiet.wait(_LOOK_S)
            if order.number in self.stopped:
                raise _Stopped
            now = time.monotonic()
            if now - last > _TELL_S:
                last = now
                self.tell(News("doing", order.number, (what, done, of)))

        self.quiet.wait(_LOOK_S)
        self.until = time.process_time() + self.study_s
        study = self.desk.study(
            shop_of(order.text), order.text, progress=progress,
            ranked=lambda found: self.tell(News("ranked", order.number, found)),
        )  # fmt: skip
        self.tell(News("answer", order.number, packed(study)))

    def look(self, order: Order) -> None:
        """What is known at once."""
        seen = self.desk.look(shop_of(order.text), order.before)
        self.tell(News("look", order.number, seen))

    def curves(self, order: Order) -> None:
        """One sheet of curves of a motor of a plan."""
        shop, study = _described(order.text), _answer(order.packed)
        plan = next(each for each in study.plans if each.id == order.plan)
        motor = next(each for each in motors_of(plan) if each.motor == order.motor)
        self.tell(News("curves", order.number, curves(shop, study, plan, motor, order.asked)))

    def papers(self, order: Order) -> None:
        """The shop file and every paper of its answer, or of another plan, in one archive."""
        shop, study = _described(order.text), _answer(order.packed)
        told = with_plan(shop, study, order.plan) if order.plan else study
        files = {f"{order.name}.shop.yaml": order.text, **papers(shop, told).files}
        self.tell(News("papers", order.number, zipped(files, order.name)))

    def beside(self, order: Order) -> None:
        """What is asked of an answer that is there."""
        (self.curves if order.do == "curves" else self.papers)(order)

    def each(self, orders: SimpleQueue[Order], do: Callable[[Order], None]) -> None:
        """Orders as they come, each told of where it fails."""
        while True:
            order = orders.get()
            try:
                if order.number in self.stopped:
                    raise _Stopped
                do(order)
            except _Stopped:
                self.tell(News("stopped", order.number))
            except (BrokenPipeError, ConnectionResetError):
                os._exit(0)  # the server is gone
            except PhasewrightError as refused:
                self._failed(order, str(refused))
            except Exception:  # noqa: BLE001 - nobody shall wait for ever for a fault of ours
                _log.exception("a study failed")
                self._failed(order, BROKE_OFF)
            if order.do == "study":
                self.until = math.inf
            if orders is self.looks and orders.empty():
                self.quiet.set()

    def watch(self) -> None:
        """End the process with a study that takes too much: a kernel asks nobody."""
        while True:
            time.sleep(_WATCH_S)
            if time.process_time() > self.until:
                os._exit(OVER)

    def _failed(self, order: Order, why: str) -> None:
        if order.do != "look":  # a look that fails is not missed: the study tells why
            self.tell(News("failed", order.number, why))


def work(
    door: Connection, warm: str, collecting: tuple[int, int, int], study_s: float = math.inf
) -> None:
    """The whole life of the process; `warm` is a shop that is studied before the first order, so
    that every kernel is there. `collecting` is how seldom the server looks for lost circles."""
    gc.set_threshold(*collecting)
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C is for the server, which ends this
    threading.Thread(target=_end_with_the_server, daemon=True).start()
    bench = _Bench(door, study_s=study_s)
    threading.Thread(target=bench.watch, daemon=True).start()
    bench.quiet.set()
    if warm:
        bench.desk.study(shop_of(warm), warm, quick=True)
    benches = (
        (bench.studies, bench.study), (bench.looks, bench.look), (bench.sheets, bench.beside),
    )  # fmt: skip
    for orders, do in benches:
        threading.Thread(target=bench.each, args=(orders, do), daemon=True).start()
    bench.tell(News("ready"))
    with contextlib.suppress(EOFError, OSError):
        while True:
            order: Order = door.recv()
            if order.do == "stop":
                bench.stopped.add(order.number)
            elif order.do == "look":
                bench.quiet.clear()
                bench.looks.put(order)
            else:
                (bench.studies if order.do == "study" else bench.sheets).put(order)


def _end_with_the_server() -> None:
    server = multiprocessing.parent_process()
    if server is not None:
        wait([server.sentinel])
        os._exit(0)
