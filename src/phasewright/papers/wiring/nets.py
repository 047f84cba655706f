"""Terminals joined to nets: by conductors, and by whatever is closed in a position."""

from __future__ import annotations

from phasewright.papers.wiring.model import Wiring


class Nets:
    """Terminals joined to sets (union by the lesser name)."""

    def __init__(self) -> None:
        self._up: dict[str, str] = {}

    def join(self, one: str, other: str) -> None:
        """Make one set of the sets of two terminals."""
        self._up[self.of(one)] = self.of(other)

    def of(self, terminal: str) -> str:
        """The name of a terminal's set."""
        at = terminal
        while (up := self._up.get(at, at)) != at:
            at = up
        return at


def nets(wiring: Wiring, position: int | None = None, without: tuple[str, ...] = ()) -> Nets:
    """Terminals joined by conductors and, in a position, by every switch that is then closed.

    `without` are kinds of devices taken as open.
    """
    found = Nets()
    for each in wiring.conductors:
        found.join(each.from_, each.to)
    if position is not None:
        for device in wiring.devices:
            if device.positions and device.kind not in without:
                closed = device.positions[min(position, len(device.positions) - 1)]
                for one, other in closed:
                    found.join(device.at(one), device.at(other))
    return found
