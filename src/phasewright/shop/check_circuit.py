"""Whether the circuits told as they stand today can be as they are written."""

from __future__ import annotations

from collections.abc import Iterator

from phasewright.quantities.codes import Region
from phasewright.quantities.finding import Finding
from phasewright.shop.faults import Fault
from phasewright.shop.machine import Machine
from phasewright.shop.model import Shop
from phasewright.shop.standing import (
    BREAKER_WORDS,
    BREAKER_WORDS_NEC,
    CircuitThere,
    read_breaker,
)


def circuit_faults(path: str, told: CircuitThere | None, region: Region) -> Iterator[Fault]:
    """A breaker whose marking names none."""
    if told is not None:
        yield from breaker_faults(f"{path}.breaker", told.breaker, region)


def breaker_faults(path: str, marked: str, region: Region) -> Iterator[Fault]:
    """A marking that names no breaker."""
    if marked and read_breaker(marked, region) is None:
        words = BREAKER_WORDS_NEC if region == "NEC" else BREAKER_WORDS
        yield Fault(path, f"'{marked}' names no breaker", words)


def machine_circuit_faults(path: str, machine: Machine, region: Region) -> Iterator[Fault]:
    """Of the circuit to a machine: its breaker, and whether it has a socket at all."""
    told = machine.circuit
    yield from circuit_faults(f"{path}.circuit", told, region)
    if told is not None and told.socket is not None and machine.connects_by != "plug":
        yield Fault(
            f"{path}.circuit.socket",
            "a socket for a machine that is not said to have a plug",
            "connects_by: plug beside it",
            also=(f"{path}.connects_by",),
        )


def circuits_not_used(shop: Shop) -> tuple[Finding, ...]:
    """Circuits told of machines with several motors: each motor has one, so it is none of them."""
    return tuple(
        Finding(
            id=f"circuit.there_not_used:{machine.name}",
            rule="circuit.there_not_used",
            severity="info",
            subject=machine.name,
            words="its circuit is told, but it has several motors with a circuit each, and which "
            "one is meant is not said: nothing of it is used but what opens behind a drive",
            source="common practice, no source",
        )
        for machine in shop.machines
        if machine.circuit is not None and len(machine.motors) > 1
    )
