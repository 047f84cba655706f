"""Changes of a shop file by one thing of a list: a place, a part, a price, a heater."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from phasewright.job.changing import Changes, free_name
from phasewright.shop.model import Shop


def add(path: str, listed: list[Any], thing: Mapping[str, Any]) -> Changes:
    """One more thing of the list at a path."""
    return {f"{path}[{len(listed)}]": dict(thing)}


def duplicate(path: str, listed: list[dict[str, Any]], seat: int) -> Changes:
    """A second thing like this one; where things have names, under one that is free."""
    thing = dict(listed[seat])
    if "name" in thing:
        thing["name"] = free_name(thing["name"], {one["name"] for one in listed})
    return add(path, listed, thing)


def take_away(path: str, listed: list[Any], seat: int) -> Changes:
    """A thing less; with the last one its list goes."""
    return {path if len(listed) == 1 else f"{path}[{seat}]": None}


def moved_out(shop: Shop, place: str) -> Changes:
    """The machines of a place moved to the intake."""
    return {
        f"machines[{at}].place": None
        for at, machine in enumerate(shop.machines) if machine.place == place
    }  # fmt: skip


def standing_in(shop: Shop, before: str, name: str, machines: frozenset[str]) -> Changes:
    """Just these machines in a place, which was called `before`."""
    changes: Changes = {}
    for at, machine in enumerate(shop.machines):
        if machine.name in machines and (machine.place != before or name != before):
            changes[f"machines[{at}].place"] = name
        elif machine.place == before and machine.name not in machines:
            changes[f"machines[{at}].place"] = None
    return changes
