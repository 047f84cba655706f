"""Which device of the wiring is meant: the designations of what stands in a circuit or a unit."""

from __future__ import annotations

from dataclasses import dataclass

from phasewright.papers.wiring.model import DeviceKind, Wiring

SHARED = "=G1"
"""The unit of what several motors hang on."""


@dataclass(frozen=True, slots=True)
class Designations:
    """The designations of a wiring; without one everything goes without."""

    wiring: Wiring | None

    def of(self, subject: str, *kinds: DeviceKind) -> list[str]:
        """Devices of these kinds of a motor, or ("") of what is shared."""
        if self.wiring is None:
            return []
        shared = set() if subject else {SHARED}
        units = shared | {each.id for each in self.wiring.units if each.subject == subject}
        return [each.id for each in self.wiring.devices
                if each.unit in units and each.kind in kinds]  # fmt: skip

    def in_circuit(self, circuit: str, *kinds: DeviceKind) -> list[str]:
        """Devices of these kinds at which a conductor of a circuit ends."""
        if self.wiring is None:
            return []
        ends = {
            end.partition(":")[0]
            for each in self.wiring.conductors if each.circuit == circuit
            for end in (each.from_, each.to)
        }  # fmt: skip
        return [each.id for each in self.wiring.devices if each.id in ends and each.kind in kinds]
