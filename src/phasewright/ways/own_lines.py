"""Which size of a source that makes three equal lines serves a motor, and which sizes are weighed.

The same for every such source, whatever feeds it: electronics, a battery, an engine.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Protocol, TypeVar

from phasewright.quantities.finding import Reason
from phasewright.ways.balanced import Balanced, balanced
from phasewright.ways.shared_source import Served, Turning, Work
from phasewright.ways.site import Site
from phasewright.ways.way import Task

Verdicts = tuple[Served | tuple[Reason, ...], ...]
"""What every motor of a shop gets on one source, or why it must not hang there."""
Reach = tuple[frozenset[int], ...]
"""Who may hang on a source, and of every set that turns together who may if all of them may."""


class ThreeLines(Protocol):
    """A source of three equal lines, of one size."""

    @property
    def rating_w(self) -> float: ...

    @property
    def line_voltage_v(self) -> float: ...

    @property
    def frequency_hz(self) -> float: ...

    def __call__(self, tasks: tuple[Task, ...]) -> Turning | None: ...


T = TypeVar("T", bound=ThreeLines)


def first_for(
    task: Task, site: Site, sources: Iterable[T],
    serve: Callable[[Task, Site, T], Served | tuple[Reason, ...]],
) -> tuple[T, Served] | tuple[Reason, ...]:  # fmt: skip
    """The smallest source that serves the motor's whole machine, else the motor; else the reasons
    of the largest. `sources` grow."""
    last: tuple[Reason, ...] = ()
    first: tuple[T, Served] | None = None
    for of in sources:
        served = serve(task, site, of)
        if not isinstance(served, Served):
            if first is None:
                last = served
            continue
        first = first or (of, served)
        if _whole_machine(task, of):
            return of, served
    return last if first is None else first


def _whole_machine(task: Task, of: ThreeLines) -> bool:
    """Whether the machine's other motors that can hang there may do so, all together."""
    tasks = [task]
    for other in task.siblings:
        if isinstance(balanced(other, of.line_voltage_v, of.frequency_hz), Balanced):
            tasks.append(Task(task.machine, other))
    turning = of(tuple(tasks))
    return turning is not None and turning.stands


def reach(work: Work, served: Verdicts, turning: ThreeLines) -> Reach:
    """What a source can do for a shop; see `Reach`."""
    able = frozenset(k for k, one in enumerate(served) if isinstance(one, Served))
    sets = []
    for group in work.groups:
        tasks = tuple(work.tasks[k] for k in sorted(group & able))
        point = turning(tasks) if tasks else None
        sets.append(group & able if point is not None and point.stands else frozenset[int]())
    return (able, *sets)


def not_beaten(work: Work, candidates: Sequence[tuple[T, Verdicts]]) -> list[tuple[T, Verdicts]]:
    """Those that can do something which none before them can; `candidates` grow in price."""
    kept: list[tuple[T, Verdicts]] = []
    known: list[Reach] = []
    for of, served in candidates:
        can = reach(work, served, of)
        if not can[0] or any(_covers(other, can) for other in known):
            continue
        kept.append((of, served))
        known.append(can)
    return kept


def _covers(one: Reach, other: Reach) -> bool:
    return all(mine >= its for mine, its in zip(one, other, strict=True))
