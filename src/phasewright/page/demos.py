"""The demo shops, all invented, as they lie beside the program or in its package."""

from __future__ import annotations

import functools
from dataclasses import dataclass
from pathlib import Path

from phasewright.job.read import read
from phasewright.job.texts import text_of

_PLACES = (Path(__file__).parent / "demo_shops", Path(__file__).resolve().parents[3] / "examples")


@dataclass(frozen=True, slots=True)
class Demo:
    """A shop file that comes with the program; `key` names it in an address."""

    key: str
    name: str
    machines: int
    motors: int
    text: str


@functools.cache
def demos() -> dict[str, Demo]:
    """Every demo shop by its key, in the order of their names."""
    folder = next((place for place in _PLACES if place.is_dir()), None)
    if folder is None:
        return {}
    found = {}
    for path in sorted(folder.glob("*.shop.yaml")):
        shop = read(path)
        key = path.name.removesuffix(".shop.yaml")
        text = text_of(path.read_bytes(), path.name)
        motors = sum(len(machine.motors) for machine in shop.machines)
        found[key] = Demo(key, shop.shop, len(shop.machines), motors, text)
    return found
