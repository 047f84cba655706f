"""A machine on a plug has two circuits: to its socket, and the cord from there. Each motor of such
a machine has both, and they belong together in their order."""

from __future__ import annotations

from collections.abc import Sequence

from phasewright.plan.circuit_study import PlanCircuit


def to_socket(circuit: PlanCircuit) -> bool:
    """Whether a circuit ends at a socket from which a cord goes on."""
    return circuit.role == "converter_to_outlet" or circuit.to.endswith(" socket")


def socket_of(cord: PlanCircuit, circuits: Sequence[PlanCircuit]) -> PlanCircuit | None:
    """The circuit to the socket in which a cord's plug is."""
    return _partner(
        cord, [each for each in circuits if each.from_ == cord.from_],
        [each for each in circuits if each.to == cord.from_],
    )  # fmt: skip


def cord_of(socket: PlanCircuit, circuits: Sequence[PlanCircuit]) -> PlanCircuit | None:
    """The cord that is plugged into a circuit's socket; None where nothing is."""
    return _partner(
        socket, [each for each in circuits if each.to == socket.to],
        [each for each in circuits if each.from_ == socket.to],
    )  # fmt: skip


def _partner(
    of: PlanCircuit, alike: Sequence[PlanCircuit], others: Sequence[PlanCircuit]
) -> PlanCircuit | None:
    at = next(k for k, each in enumerate(alike) if each is of)
    return others[at] if at < len(others) else None
