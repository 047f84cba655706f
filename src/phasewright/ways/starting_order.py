"""In which order motors are started, and what runs already when one of them starts.

Machines are started as their owner pleases, so in a motor's hardest case every other machine runs.
The motors of one machine start in an order: as the owner says, else the largest first, while
nothing else loads the lines (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Sequence

from phasewright.ways.on_two_lines import Linked
from phasewright.ways.way import Task

Pair = tuple[Task, Linked]


def in_order(motors: Sequence[Pair]) -> tuple[Pair, ...]:
    """The order of starting: what the owner puts first before what follows it, else the largest
    motor first."""
    left = sorted(motors, key=lambda pair: (-pair[1].rated_w, pair[1].motor.id))
    ordered: list[Pair] = []
    while left:
        free = [one for one in left if not any(_precedes(other, one) for other in left)]
        ordered.append((free or left)[0])
        left.remove(ordered[-1])
    return tuple(ordered)


def running_before(motors: Sequence[Pair], one: Pair) -> tuple[Pair, ...]:
    """What runs already in the hardest case when `one` starts: every other machine's motors but
    those that start after it or with it, and the motors of its own machine that come first."""
    order = in_order(motors)
    place = order.index(one)
    return tuple(
        other
        for at, other in enumerate(order)
        if other is not one
        and not _precedes(one, other)
        and not _at_once(one, other)
        and (other[0].machine.name != one[0].machine.name or at < place)
    )


def starting_with(motors: Sequence[Pair], one: Pair) -> tuple[Pair, ...]:
    """What is switched on by the same event."""
    return tuple(other for other in motors if other is not one and _at_once(one, other))


def _at_once(one: Pair, other: Pair) -> bool:
    first, second = one[0].machine, other[0].machine
    return second.name in first.starts_with or first.name in second.starts_with


def _precedes(one: Pair, other: Pair) -> bool:
    """Whether the owner says that `one` runs before `other` starts."""
    orders = (*one[0].machine.orders, *other[0].machine.orders)
    return any(first in _names(one) and then in _names(other) for first, then in orders)


def _names(of: Pair) -> tuple[str, ...]:
    """A motor by its id, by its own name, and by its machine's."""
    machine = of[0].machine.name
    return (of[1].motor.id, of[1].motor.id.removeprefix(machine + "/"), machine)
