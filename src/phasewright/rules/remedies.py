"""The smallest change that passes: the next conductor, breaker or isolator that is sold."""

from __future__ import annotations

from collections.abc import Callable

from phasewright.circuits.cables import Laid, ampacity, sizes
from phasewright.quantities.codes import Region
from phasewright.quantities.errors import TableEnds
from phasewright.quantities.finding import Remedy
from phasewright.tables.circuits import isolator_a
from phasewright.tables.sizes import breaker_sizes_a, next_size


def thicker(
    least_a: float, laid: Laid | None = None, path: str | None = None
) -> Callable[[], Remedy]:
    """The thinnest conductor sold that carries so much as it is laid, searched for when asked.

    `path` is the conductor's in the shop file. Where it is not known how it is laid, or no size
    in the tables carries as much, that is told.
    """

    def search() -> Remedy:
        if laid is None:
            return Remedy(f"The next thicker conductor that carries {least_a:.3g} A.", path)
        for size in sizes(laid.region):
            try:
                amps = ampacity(size, laid).number
            except TableEnds:
                continue
            if amps >= least_a * (1.0 - 1e-9):
                return Remedy(f"A conductor of {size.name}.", path, size.name)
        return Remedy("No single cable in the tables carries so much: share it out.", path)

    return search


def larger_device(least_a: float, region: Region) -> Callable[[], Remedy]:
    """The smallest breaker sold that carries so much."""

    def search() -> Remedy:
        size = next_size(least_a, breaker_sizes_a(region), "breaker")
        return Remedy(
            f"A device of {size:.3g} A, and a conductor that it protects.", None, size, "A"
        )

    return search


def larger_isolator(least_a: float, region: Region) -> Callable[[], Remedy]:
    """The smallest isolator sold for so much."""

    def search() -> Remedy:
        size = isolator_a(least_a, region)
        return Remedy(f"An isolator of {size:.3g} A.", None, size, "A")

    return search
