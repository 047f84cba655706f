"""Edits of a shop as an owner makes them, drawn with a seed: plates, loads, prices, the supply.

Every motor has its turn, those of machines with two motors, planned ones and the largest too; a
plate may become that of a motor which nothing starts, a machine may get a drive inside. Each edit
is of the shop as it was, so that they can be compared, and no two are alike.
"""

import random
from dataclasses import dataclass
from typing import Any

from phasewright.job.texts import shop_of

SIZES_KW = (0.25, 0.37, 0.55, 0.75, 1.1, 1.5, 2.2, 3.0, 4.0, 5.5, 7.5, 11.0)
AMPS_AT_400_V = (0.8, 1.1, 1.55, 2.0, 2.65, 3.5, 4.8, 6.4, 8.3, 11.2, 14.9, 21.5)
"""Usual four-pole motors of IEC 60034-30-1 sizes; amps from memory, as catalogues have them."""
KINDS = ("plate", "load", "price", "supply")


@dataclass(frozen=True, slots=True)
class Edit:
    """One change of the shop file, by the paths it touches, and in words."""

    kind: str
    words: str
    change: dict[str, Any]


def edits_of(text: str, count: int, seed: int = 1) -> list[Edit]:
    """`count` edits of each kind, the kinds in turn, over all motors of the shop in turn."""
    chance = random.Random(seed)
    shop = shop_of(text)
    motors = [
        (f"machines[{at}]", f"machines[{at}].motors[{seat}]", f"{machine.name}/{motor.name}")
        for at, machine in enumerate(shop.machines)
        for seat, motor in enumerate(machine.motors)
    ]
    chance.shuffle(motors)
    found = []
    for number in range(count):
        machine, motor, name = motors[number % len(motors)]
        fresh = 1.0 + 1e-4 * (number + 1)  # no two edits are alike
        found += [
            _plate(chance, motor, name, fresh),
            _load(chance, machine, motor, name, fresh),
            _price(chance, machine, name, fresh),
            _supply(chance, fresh),
        ]
    return found


def _plate(chance: random.Random, motor: str, name: str, fresh: float) -> Edit:
    at = chance.randrange(len(SIZES_KW))
    amps, kw = AMPS_AT_400_V[at] * fresh, SIZES_KW[at]
    change: dict[str, Any] = {
        f"{motor}.plate.power": f"{kw:g} kW",
        f"{motor}.plate.current": f"{1.732 * amps:.4f}/{amps:.4f} A",
        f"{motor}.plate.speed": chance.choice(("1420 rpm", "2860 rpm")),
    }
    words = f"{name} becomes {kw:g} kW, {change[f'{motor}.plate.speed']}"
    return Edit("plate", words, change)


def _load(chance: random.Random, machine: str, motor: str, name: str, fresh: float) -> Edit:
    what = chance.choice(("duty", "torque", "inertia", "start", "drive inside"))
    if what == "drive inside":
        change: dict[str, Any] = {
            f"{machine}.starter": "drive_inside",
            f"{motor}.load.duty": round(0.5 * fresh, 4),
        }
    elif what == "inertia":
        change = {f"{motor}.load.inertia": f"{chance.uniform(0.01, 0.4):.4f} kg m2"}
    elif what == "start":
        loaded = chance.choice(("loaded", "unloaded"))
        change = {f"{motor}.load.start": loaded, f"{motor}.load.torque": round(0.6 * fresh, 4)}
    else:
        change = {f"{motor}.load.{what}": round(chance.uniform(0.3, 0.95), 4)}
    return Edit("load", f"{name}: {what} {list(change.values())}", change)


def _price(chance: random.Random, machine: str, name: str, fresh: float) -> Edit:
    if chance.random() < 0.5:
        change: dict[str, Any] = {"tariff.energy": round(chance.uniform(0.1, 0.6) * fresh, 5)}
        return Edit("price", f"energy at {change['tariff.energy']:g} a kWh", change)
    hours = round(chance.uniform(20, 600), 2)
    return Edit("price", f"{name}: {hours:g} h a year", {f"{machine}.hours_per_year": hours})


def _supply(chance: random.Random, fresh: float) -> Edit:
    path, value = chance.choice(
        (
            ("supply.service_rating", f"{chance.choice((40, 63, 80, 125)) * fresh:.3f} A"),
            ("supply.feeder.length", f"{chance.uniform(5, 60):.2f} m"),
            ("supply.voltage", f"{chance.uniform(222, 244):.2f} V"),
            ("supply.other_loads[0].current", f"{chance.uniform(2, 30):.2f} A"),
        )
    )
    return Edit("supply", f"{path} {value}", {path: value})
