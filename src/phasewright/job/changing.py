"""Changes of a shop file by whole things: a machine or motor added, copied, renamed, taken away."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from phasewright.files.shop_writing import entries_of
from phasewright.quantities.errors import QuantityError, UsageError
from phasewright.quantities.units import parse_several, spelt
from phasewright.shop.interview import NAMED_AMPS
from phasewright.shop.model import Shop
from phasewright.shop.plate_line import read_plate_line

Changes = dict[str, Any]
WAITS = ", may wait"
"""What marks a load that may wait while the machines work."""


def new_motor(name: str, kind: str, plate: str) -> Changes:
    """A motor as an entry, its plate typed in one line; raises QuantityError for the line."""
    return {"name": name, "plate": read_plate_line(plate).entries, "load": {"kind": kind}}


def add_machine(shop: Shop, name: str, kind: str, plate: str) -> Changes:
    """One more machine with one motor."""
    machine = {"name": name, "motors": [new_motor("motor", kind, plate)]}
    return {f"machines[{len(shop.machines)}]": machine}


def add_motor(shop: Shop, place: int, name: str, kind: str, plate: str) -> Changes:
    """One more motor on a machine."""
    seat = len(shop.machines[place].motors)
    return {f"machines[{place}].motors[{seat}]": new_motor(name, kind, plate)}


def duplicate(shop: Shop, place: int) -> Changes:
    """A second machine like this one, under a name that is free."""
    machine = shop.machines[place]
    taken = {entry.name for entry in shop.machines}
    number = 2
    while (name := f"{machine.name} {number}") in taken:
        number += 1
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


def rename(shop: Shop, place: int, name: str) -> Changes:
    """Another name for a machine, also where other machines name it."""
    before = shop.machines[place].name
    if name == before:
        return {}
    return _named(shop, before, name) | {f"machines[{place}].name": name}


def runs_with(shop: Shop, place: int, names: frozenset[str]) -> Changes:
    """Which machines may turn at the same time as this one, whoever of the two says so now."""
    this = shop.machines[place]
    changes: Changes = {}
    for other, machine in enumerate(shop.machines):
        if other != place and this.name in machine.runs_with and machine.name not in names:
            kept = [name for name in machine.runs_with if name != this.name]
            changes[f"machines[{other}].runs_with"] = kept or None
    said = {machine.name for machine in shop.machines if this.name in machine.runs_with}
    wanted = [m.name for m in shop.machines if m.name in names and m.name not in said]
    if set(wanted) != set(this.runs_with) - said:
        changes[f"machines[{place}].runs_with"] = wanted or None
    if not this.runs_with and not wanted:
        changes.pop(f"machines[{place}].runs_with", None)
    return changes


def turn_together(shop: Shop, place: int) -> frozenset[str]:
    """The machines that may turn at the same time as this one."""
    this = shop.machines[place]
    said = {machine.name for machine in shop.machines if this.name in machine.runs_with}
    return frozenset(said | set(this.runs_with))


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


def measured_of(shop: Shop) -> str:
    """The lowest and the highest reading as they are typed."""
    read = shop.supply.measured_voltage
    return "" if read is None else spelt((read.low.number, read.high.number), "voltage")


def measured_typed(text: str, _: Shop) -> Changes | None:
    """Readings typed as `236/251 V`; raises QuantityError for more than two."""
    if not text:
        return None
    volts = parse_several(text, "voltage")
    if len(volts) > 2:
        raise QuantityError(f"'{text[:60]}' gives {len(volts)} values", "the lowest, the highest")
    return {"low": spelt(volts[:1], "voltage"), "high": spelt(volts[-1:], "voltage")}


def loads_of(shop: Shop) -> str:
    """What else hangs on the service, a line each; what may wait is marked."""
    return "\n".join(
        f"{load.name} {spelt((load.current.number,), 'current')}{WAITS if load.can_wait else ''}"
        for load in shop.supply.other_loads
    )


def loads_typed(text: str, shop: Shop) -> list[Changes] | None:
    """Loads typed a line each as `kettle 9 A`; raises QuantityError for a line without amps.

    What the file tells besides of a load of the same name is kept.
    """
    known = {load.name: entries_of(load, shop.region) for load in shop.supply.other_loads}
    loads: list[Changes] = []
    for line in filter(None, (row.strip() for row in text.splitlines())):
        waits = line.endswith(WAITS.strip())
        named = NAMED_AMPS.fullmatch(line.removesuffix(WAITS.strip()).rstrip(" ,"))
        if named is None:
            raise QuantityError(f"'{line[:60]}' tells no amps", "write for example 'kettle 9 A'")
        kept = {k: v for k, v in known.get(named[1], {}).items() if k != "can_wait"}
        load: Changes = kept | {"name": named[1], "current": named[2]}
        loads.append(load | {"can_wait": True} if waits else load)
    return loads or None
