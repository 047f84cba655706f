"""Changes of a shop file by whole things: a machine or motor added, copied, renamed, taken away."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from phasewright.files.shop_writing import entries_of
from phasewright.quantities.errors import UsageError
from phasewright.shop.model import Shop
from phasewright.shop.plate_line import read_plate_line

Changes = dict[str, Any]


def new_motor(name: str, kind: str, plate: str, measured: Mapping[str, str]) -> Changes:
    """A motor as an entry: its plate typed in one line, and what was `measured` of one whose plate
    cannot be read, by keys of the plate; raises QuantityError for the line."""
    read = read_plate_line(plate).entries if plate.strip() or not measured else {}
    return {"name": name, "plate": {**read, **measured}, "load": {"kind": kind}}


def add_machine(shop: Shop, name: str, motor: Changes, facts: Mapping[str, Any]) -> Changes:
    """One more machine with one motor, and other `facts` of it by its keys."""
    machine = {"name": name, **facts, "motors": [motor]}
    return {f"machines[{len(shop.machines)}]": machine}


def add_motor(shop: Shop, place: int, motor: Changes) -> Changes:
    """One more motor on a machine."""
    return {f"machines[{place}].motors[{len(shop.machines[place].motors)}]": motor}


def duplicate(shop: Shop, place: int) -> Changes:
    """A second machine like this one, under a name that is free."""
    machine = shop.machines[place]
    name = free_name(machine.name, {entry.name for entry in shop.machines})
    return {f"machines[{len(shop.machines)}]": entries_of(machine, shop.region) | {"name": name}}


def take_away(shop: Shop, place: int) -> Changes:
    """A machine less, and no other machine that names it; raises UsageError for the last one."""
    if len(shop.machines) == 1:
        raise UsageError("This is the only machine: a shop has at least one.")
    gone = shop.machines[place].name
    return _named(shop, gone, None) | {f"machines[{place}]": None}


def take_motor_away(shop: Shop, place: int, seat: int) -> Changes:
    """A motor less; raises UsageError for the only one of its machine."""
    if len(shop.machines[place].motors) == 1:
        raise UsageError("This is the machine's only motor: take the machine away.")
    return {f"machines[{place}].motors[{seat}]": None}


def duplicate_motor(shop: Shop, place: int, seat: int) -> Changes:
    """A second motor like this one on its machine, under a name that is free there."""
    machine = shop.machines[place]
    motor = entries_of(machine.motors[seat], shop.region)
    name = free_name(machine.motors[seat].name, {entry.name for entry in machine.motors})
    return {f"machines[{place}].motors[{len(machine.motors)}]": motor | {"name": name}}


def rename(shop: Shop, place: int, name: str) -> Changes:
    """Another name for a machine, also where other machines and prices name it."""
    before = shop.machines[place].name
    if name == before:
        return {}
    prices = {
        f"quotes[{at}].machine": name
        for at, quote in enumerate(shop.quotes) if quote.machine == before
    }  # fmt: skip
    orders = _orders(shop, {before: name} | {f"{before}/": f"{name}/"})
    return _named(shop, before, name) | prices | orders | {f"machines[{place}].name": name}


def rename_motor(shop: Shop, place: int, seat: int, name: str) -> Changes:
    """Another name for a motor, also where an order of starting names it."""
    machine = shop.machines[place]
    before = machine.motors[seat].name
    if name == before:
        return {}
    whole = {f"{machine.name}/{before}": f"{machine.name}/{name}"}
    orders = _orders(shop, whole) | _orders(shop, {before: name} | whole, only=place)
    return orders | {f"machines[{place}].motors[{seat}].name": name}


def _orders(shop: Shop, renamed: Mapping[str, str], only: int | None = None) -> Changes:
    """Orders of starting with other names; a name that ends in a slash begins a longer one."""
    changes: Changes = {}
    for place, machine in enumerate(shop.machines):
        if only not in (None, place) or not machine.starts_before:
            continue
        words = [
            " before ".join(_renamed(part, renamed) for part in pair) for pair in machine.orders
        ]
        if words != list(machine.starts_before):
            changes[f"machines[{place}].starts_before"] = words
    return changes


def _renamed(name: str, renamed: Mapping[str, str]) -> str:
    for before, after in renamed.items():
        if before.endswith("/") and name.startswith(before):
            return after + name.removeprefix(before)
    return renamed.get(name, name)


def free_name(name: str, taken: set[str]) -> str:
    """The name with the first number behind it that nothing else has."""
    number = 2
    while f"{name} {number}" in taken:
        number += 1
    return f"{name} {number}"


def beside(shop: Shop, place: int, key: str, names: frozenset[str]) -> Changes:
    """Which machines stand in this one's `key` (`runs_with` or `starts_with`), whoever of the two
    says so now."""
    this = shop.machines[place]
    mine: tuple[str, ...] = getattr(this, key)
    changes: Changes = {}
    said: set[str] = set()
    for other, machine in enumerate(shop.machines):
        theirs: tuple[str, ...] = getattr(machine, key)
        if other == place or this.name not in theirs:
            continue
        if machine.name in names:
            said.add(machine.name)
        else:
            kept = [name for name in theirs if name != this.name]
            changes[f"machines[{other}].{key}"] = kept or None
    wanted = [m.name for m in shop.machines if m.name in names and m.name not in said]
    if set(wanted) != set(mine) - said:
        changes[f"machines[{place}].{key}"] = wanted or None
    if not mine and not wanted:
        changes.pop(f"machines[{place}].{key}", None)
    return changes


def named_beside(shop: Shop, place: int, key: str) -> frozenset[str]:
    """The machines of this one's `key` (`runs_with` or `starts_with`), whoever of the two says."""
    this = shop.machines[place]
    said = {machine.name for machine in shop.machines if this.name in getattr(machine, key)}
    return frozenset(said | set(getattr(this, key)))


def _named(shop: Shop, before: str, after: str | None) -> Changes:
    """Other machines' lists with one name replaced, or left out."""
    changes: Changes = {}
    for place, machine in enumerate(shop.machines):
        lists: Mapping[str, tuple[str, ...]] = {
            "runs_with": machine.runs_with, "starts_with": machine.starts_with,
        }  # fmt: skip
        for key, names in lists.items():
            if before in names:
                kept = [after if name == before else name for name in names]
                changes[f"machines[{place}].{key}"] = [n for n in kept if n is not None] or None
    return changes
