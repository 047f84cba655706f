"""Which machines may turn together: the largest sets in which every pair may."""

from __future__ import annotations

from dataclasses import replace

from phasewright.quantities.errors import NotComputable
from phasewright.shop.machine import Machine
from phasewright.shop.model import Shop

MOST_SETS = 20_000


def cases(shop: Shop) -> tuple[frozenset[str], ...]:
    """Every largest set of machine names that may run together, in a fixed order.

    `runs_with` is read both ways. A machine that names nobody and is named by nobody runs
    alone. The order is by the first machine of the set as the shop file lists them.
    """
    return _cases(shop.machines)


def _cases(machines: tuple[Machine, ...]) -> tuple[frozenset[str], ...]:
    near = neighbours(machines)
    place = {machine.name: i for i, machine in enumerate(machines)}
    found = largest_sets(near)
    return tuple(sorted(found, key=lambda names: sorted(place[name] for name in names)))


def neighbours(machines: tuple[Machine, ...]) -> dict[str, frozenset[str]]:
    """For every machine the machines that may turn with it, made symmetric."""
    near: dict[str, set[str]] = {machine.name: set() for machine in machines}
    for machine in machines:
        for other in machine.runs_with:
            if other in near and other != machine.name:
                near[machine.name].add(other)
                near[other].add(machine.name)
    return {name: frozenset(others) for name, others in near.items()}


def largest_sets(near: dict[str, frozenset[str]]) -> list[frozenset[str]]:
    """Every maximal set whose members are all neighbours of each other.

    Bron and Kerbosch, Communications of the ACM 16 (1973) 575, with the pivot of Tomita,
    Tanaka and Takahashi, Theoretical Computer Science 363 (2006) 28 (both from memory), with
    a stack of its own in place of recursion. Raises NotComputable beyond `MOST_SETS` sets: a
    shop can be written down whose sets nobody could ever list.
    """
    if not near:
        return []
    found: list[frozenset[str]] = []
    stack = [(frozenset[str](), frozenset(near), frozenset[str]())]
    while stack:
        chosen, open_, done = stack.pop()
        if not open_ and not done:
            found.append(chosen)
            if len(found) > MOST_SETS:
                message = (
                    f"runs_with allows more than {MOST_SETS} different sets of machines to run "
                    "together; name only what must run at the same time"
                )
                raise NotComputable(message)
            continue
        if not open_:
            continue
        pivot = max(sorted(open_ | done), key=lambda name: len(near[name] & open_))
        for name in sorted(open_ - near[pivot]):
            stack.append((chosen | {name}, open_ & near[name], done & near[name]))
            open_ -= {name}
            done |= {name}
    return found


def present(shop: Shop, names: frozenset[str]) -> Shop:
    """The same shop with only these machines, as if the others did not exist.

    Names of absent machines vanish from `runs_with`, `starts_with` and `starts_before`, so that
    the smaller shop is whole. Paths into the file do not hold for it, so it carries none.
    """
    absent = {machine.name for machine in shop.machines if machine.name not in names}
    kept = tuple(
        replace(
            machine,
            runs_with=tuple(other for other in machine.runs_with if other in names),
            starts_with=tuple(other for other in machine.starts_with if other in names),
            starts_before=tuple(
                words
                for words, order in zip(machine.starts_before, machine.orders, strict=True)
                if not any(_gone(name, machine, absent) for name in order)
            ),
        )
        for machine in shop.machines
        if machine.name in names
    )
    return replace(shop, machines=kept, lines={})


def _gone(name: str, machine: Machine, absent: set[str]) -> bool:
    own = {motor.name for motor in machine.motors}
    return name not in own and name.partition("/")[0] in absent


def planned(shop: Shop) -> tuple[Machine, ...]:
    """The machines that are to come."""
    return tuple(machine for machine in shop.machines if machine.have == "planned")
