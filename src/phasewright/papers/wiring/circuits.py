"""The circuits of the plan joined to its wiring: ratings, sizes and lengths, each by its id.

A wiring without circuits stays as it is; what a circuit does not give is left absent.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from phasewright.papers.wiring.model import Conductor, Device, Wiring
from phasewright.papers.wiring.parts import amps
from phasewright.plan.circuit_study import PlanCircuit
from phasewright.plan.study import PlanSide
from phasewright.quantities.units import format as shown

LINES = ("L1", "L2", "L3", "PE", "N")
OUTPUT = ("U", "V", "W", "PE", "screen")
SHARED = "=G1"
BEFORE_LINE_3 = tuple(f"{SHARED}-{at}:" for at in ("F1", "Q1", "Q2", "Q3", "R1", "X2", "T1"))
"""What the circuit to a converter ends at; what lies behind is the converter's own."""
BANKS = {"run capacitor 3-1": "31", "run capacitor 2-3": "23", "start capacitor": "s"}


@dataclass(frozen=True, slots=True)
class Stretch:
    """A circuit with the unit whose power it is, and which of its conductors are its own."""

    circuit: PlanCircuit
    unit: str
    holds: Callable[[Conductor], bool]
    enters: Callable[[Conductor], bool]
    """Which of them run the circuit's length; the others stay within an enclosure."""


def control_to(machine: str) -> str:
    """What a machine's control circuit is said to feed."""
    return f"{machine} controls"


def sized(wiring: Wiring, plan: PlanSide, units: dict[str, str]) -> Wiring:
    """The wiring with the plan's circuits; `units` says which unit a motor, a shared thing or a
    consumer is, by its id."""
    found = sorted(_stretches(plan.circuits or (), plan, units), key=_narrowest_first)
    return replace(
        wiring,
        devices=tuple(_device(each, found) for each in wiring.devices),
        conductors=tuple(_conductor(each, found) for each in wiring.conductors),
    )


def _narrowest_first(of: Stretch) -> int:
    """A branch, a drive's output and a control circuit stand within the circuit that feeds them."""
    return of.circuit.role not in ("capacitor_branch", "drive_to_motor", "control")


def _stretches(
    circuits: Iterable[PlanCircuit], plan: PlanSide, units: dict[str, str]
) -> Iterator[Stretch]:
    own = {each.id: each.serves[0] for each in plan.equipment if len(each.serves) == 1}
    for each in circuits:
        unit = units.get(each.to) or units.get(own.get(each.to, ""))
        if each.role == "capacitor_branch" and each.to in BANKS:
            yield _bank(each, units.get(each.from_), BANKS[each.to])
        elif each.role == "drive_to_motor" and unit is not None:
            yield _to_motor(each, unit)
        elif each.role == "control":
            yield from _control(each, units)
        elif unit is not None and each.role in (
            "supply_to_converter", "supply_to_drive", "supply_to_machine",
            "converter_to_machine", "converter_to_outlet",
        ):  # fmt: skip
            yield _into(each, unit)


def _into(circuit: PlanCircuit, unit: str) -> Stretch:
    """From another unit's terminals to the first devices of this one, and on as far as the same
    lines go on."""

    def holds(each: Conductor) -> bool:
        within = unit != SHARED or each.to.startswith(BEFORE_LINE_3)
        lines = each.potential in LINES and not _control_wire(each)
        return each.unit == unit and within and lines

    return Stretch(
        circuit, unit, holds, lambda each: holds(each) and not each.from_.startswith(f"{unit}-")
    )


def _to_motor(circuit: PlanCircuit, unit: str) -> Stretch:
    ends = tuple(f"{unit}-{at}:" for at in ("F2", "Q6", "M1"))

    def holds(each: Conductor) -> bool:
        return each.unit == unit and each.potential in OUTPUT and each.to.startswith(ends)

    return Stretch(
        circuit, unit, holds, lambda each: holds(each) and each.to.startswith(f"{unit}-M1:")
    )


def _bank(circuit: PlanCircuit, unit: str | None, pair: str) -> Stretch:
    near = tuple(f"{unit}-{letter}{pair}" for letter in "CR")

    def holds(each: Conductor) -> bool:
        return each.from_.startswith(near) or each.to.startswith(near)

    return Stretch(circuit, unit or "", holds, lambda each: False)


def _control(circuit: PlanCircuit, units: dict[str, str]) -> Iterator[Stretch]:
    for name, unit in units.items():
        if circuit.to == control_to(name.partition("/")[0]):
            yield Stretch(
                circuit, unit,
                lambda each, unit=unit: each.unit == unit and _control_wire(each),  # type: ignore[misc]
                lambda each, unit=unit: (  # type: ignore[misc]
                    each.to.startswith(f"{unit}-F3:") and each.from_.startswith("=G0-")
                ),
            )  # fmt: skip


def _control_wire(each: Conductor) -> bool:
    """Whether a conductor is of a control circuit, by the terminals it joins."""
    ends = (each.from_, each.to)
    return any("-X3:" in end or "-F3:" in end for end in ends) or any(
        end.partition(":")[2] in CONTROL_ENDS for end in ends
    )


CONTROL_ENDS = frozenset(
    ("A1", "A2", "11", "12", "13", "14", "21", "22", "23", "24", "33", "34", "95", "96",
     "X1", "X2", "P1", "S1", "S2")
)  # fmt: skip


def _device(of: Device, stretches: Sequence[Stretch]) -> Device:
    for each in stretches:
        if of.unit != each.unit:
            continue
        circuit = each.circuit
        number = of.id.partition("-")[2]
        control = circuit.role == "control"
        guard = circuit.device
        if guard is not None and number == ("F3" if control else "F1"):
            kind = "" if guard.kind == "breaker" else f"{guard.kind.replace('_', ' ')} "
            said = f"{kind}{guard.curve or ''}{amps(guard.rating_a)}"
            leak = circuit.residual_current
            if leak is not None and not leak.upstream and leak.at is None:
                said += f", residual current {leak.rating_ma:g} mA type {leak.type}"
            return replace(of, rating=guard.rating_a, rating_unit="A", specification=said)
        lock = circuit.isolator
        at = "Q6" if circuit.role == "drive_to_motor" else "Q1"
        if lock is not None and number == at:
            return replace(
                of, rating=lock.rating_a, rating_unit="A", specification=amps(lock.rating_a)
            )
        if circuit.discharge_ohm is not None and number == f"R{BANKS.get(circuit.to)}":
            ohm = circuit.discharge_ohm.number
            return replace(
                of, rating=ohm, rating_unit="ohm",
                specification=f"{shown(ohm, 'ohm', 2)} or less",
            )  # fmt: skip
    return of


def _conductor(of: Conductor, stretches: Sequence[Stretch]) -> Conductor:
    if of.kind == "link":
        return of
    for each in stretches:
        if each.holds(of):
            circuit = each.circuit
            earth = circuit.protective_conductor
            size = earth.conductor if of.potential == "PE" and earth else circuit.conductor
            return replace(
                of, circuit=circuit.id, size=size,
                length_m=circuit.length_m.number if each.enters(of) else None,
            )  # fmt: skip
    return of
