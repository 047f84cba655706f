"""The circuits of the plan joined to its wiring: ratings, sizes and lengths, each by its id.

A wiring without circuits stays as it is; what a circuit does not give is left absent.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from phasewright.papers.wiring.cords import cord_of, to_socket
from phasewright.papers.wiring.intake import Board
from phasewright.papers.wiring.model import Conductor, Device, Wiring
from phasewright.papers.wiring.parts import amps
from phasewright.plan.circuit_study import PlanCircuit
from phasewright.plan.study import PlanMotor, PlanSide
from phasewright.quantities.codes import ON_A_DRIVE
from phasewright.quantities.units import format as shown

LINES = ("L1", "L2", "L3", "PE", "N")
OUTPUT = ("U", "V", "W", "PE", "screen")
SHARED = "=G1"
BEFORE_LINE_3 = ("F1", "F5", "Q1", "X5", "Q2", "Q3", "R1", "X2", "T1")
"""What the circuit to a converter ends at; what lies behind is the converter's own."""
TO_SOCKET = ("F1", "F5", "Q1", "X5")
BEHIND_TRANSFORMER = ("F2", "F8", "Q8", "R1", "T1")
FED = ("supply_to_drive", "supply_to_transformer", "supply_to_converter")
"""Roles of circuits whose contactor is sized by what they carry."""
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


def unit_of(
    circuit: PlanCircuit, plan: PlanSide, units: Mapping[str, str], end: str = "to"
) -> str | None:
    """The unit at an end of a circuit: of a motor, of what is shared, of a socket's machine."""
    name = circuit.to if end == "to" else circuit.from_
    own = {each.id: each.serves[0] for each in plan.equipment if len(each.serves) == 1}
    found = units.get(name) or units.get(own.get(name, ""))
    if found is not None or end != "to":
        return found
    if name.startswith("transformer "):
        return units.get(name.removeprefix("transformer "))
    if to_socket(circuit):
        cord = cord_of(circuit, plan.circuits or ())
        return None if cord is None else units.get(cord.to)
    machine = name.removesuffix(" controls")
    wired = {each.motor for each in plan.motors if _on_contactor(each)}
    return next(
        (unit for motor, unit in units.items()
         if motor.partition("/")[0] == machine and motor in wired), None,
    ) if name.endswith(" controls") else None  # fmt: skip


def _on_contactor(of: PlanMotor) -> bool:
    """Whether a motor is one of those for which its machine has a control circuit."""
    return of.way not in (None, *ON_A_DRIVE) and of.figures.drive_rating_a is None


def sized(
    wiring: Wiring, plan: PlanSide, units: Mapping[str, str], feeders: Sequence[Board] = ()
) -> Wiring:
    """The wiring with the plan's circuits; `units` says which unit a motor, a shared thing or a
    consumer is, by its id; `feeders` are the cables that lead to other places."""
    found = sorted(_stretches(plan.circuits or (), plan, units), key=_narrowest_first)
    cans = {each.id: each.rating for each in wiring.devices if each.rating_unit == "F"}
    made = replace(
        wiring,
        devices=tuple(_device(each, found, cans) for each in wiring.devices),
        conductors=tuple(_conductor(each, found) for each in wiring.conductors),
    )
    for each in feeders:
        made = replace(made, conductors=tuple(_fed(one, each) for one in made.conductors))
    return made


def _fed(of: Conductor, by: Board) -> Conductor:
    """A conductor of a feeder: as the shop file tells of it."""
    enters = of.unit == by.id and of.from_.startswith("=G0-")
    if of.unit != by.id or by.conductor is None:
        return of
    return replace(of, size=by.conductor, length_m=by.length_m if enters else None)


def _narrowest_first(of: Stretch) -> int:
    """A branch, a drive's output, a control circuit, the way to a socket and what lies behind a
    transformer stand within the circuit that feeds them or is fed by them."""
    own = ("capacitor_branch", "drive_to_motor", "control", "transformer_to_drive")
    return not (of.circuit.role in own or to_socket(of.circuit))


def _stretches(
    circuits: Iterable[PlanCircuit], plan: PlanSide, units: Mapping[str, str]
) -> Iterator[Stretch]:
    for each in circuits:
        unit = unit_of(each, plan, units)
        if each.role == "capacitor_branch":
            yield from _bank(each, plan, units)
        elif unit is None:
            continue
        elif each.role == "drive_to_motor":
            yield _to_motor(each, unit)
        elif each.role == "control":
            yield _control(each, unit)
        elif to_socket(each):
            yield _into(each, unit, TO_SOCKET)
        elif each.role == "transformer_to_drive":
            yield _into(each, unit, BEHIND_TRANSFORMER)
        else:
            yield _into(each, unit, BEFORE_LINE_3 if unit == SHARED else ())


def _into(circuit: PlanCircuit, unit: str, ends: tuple[str, ...]) -> Stretch:
    """From another unit's terminals to the first devices of this one, and on as far as the same
    lines go on, or as far as `ends`."""
    near = tuple(f"{unit}-{end}:" for end in ends)

    def holds(each: Conductor) -> bool:
        within = not ends or each.to.startswith(near)
        lines = each.potential in LINES and not _control_wire(each)
        return each.unit == unit and within and lines

    cord = f"{unit}-X5:" if circuit.role == "outlet_to_machine" else ""
    behind = f"{unit}-T2:" if circuit.role == "transformer_to_drive" else ""

    def enters(each: Conductor) -> bool:
        start = cord or behind
        begins = each.from_.startswith(start) if start else not each.from_.startswith(f"{unit}-")
        return holds(each) and begins

    return Stretch(circuit, unit, holds, enters)


def _to_motor(circuit: PlanCircuit, unit: str) -> Stretch:
    ends = tuple(f"{unit}-{at}:" for at in ("F2", "Q6", "R6", "M1"))

    def holds(each: Conductor) -> bool:
        return each.unit == unit and each.potential in OUTPUT and each.to.startswith(ends)

    return Stretch(
        circuit, unit, holds, lambda each: holds(each) and each.to.startswith(f"{unit}-M1:")
    )


def _bank(circuit: PlanCircuit, plan: PlanSide, units: Mapping[str, str]) -> Iterator[Stretch]:
    """A converter's bank in its own unit, one that goes with a motor in the motor's."""
    name, _, motor = circuit.to.partition(" of ")
    unit = units.get(motor) if motor else unit_of(circuit, plan, units, "from")
    if unit is None or name not in BANKS:
        return
    near = tuple(f"{unit}-{letter}{BANKS[name]}" for letter in "CR")

    def holds(each: Conductor) -> bool:
        return each.from_.startswith(near) or each.to.startswith(near)

    yield Stretch(circuit, unit, holds, lambda each: False)


def _control(circuit: PlanCircuit, unit: str) -> Stretch:
    return Stretch(
        circuit, unit, lambda each: each.unit == unit and _control_wire(each),
        lambda each: each.to.startswith(f"{unit}-F3:") and not each.from_.startswith(f"{unit}-"),
    )  # fmt: skip


def _control_wire(each: Conductor) -> bool:
    """Whether a conductor is of a control circuit, by the terminals it joins."""
    ends = (each.from_, each.to)
    return any("-X3:" in end or "-F3:" in end for end in ends) or any(
        end.partition(":")[2] in CONTROL_ENDS for end in ends
    )


CONTROL_ENDS = frozenset(
    ("A1", "A2", "11", "12", "13", "14", "21", "22", "23", "24", "33", "34", "43", "44", "57",
     "58", "61", "62", "67", "68", "95", "96", "X1", "X2", "P1", "S1", "S2")
)  # fmt: skip


def _device(of: Device, stretches: Sequence[Stretch], cans: Mapping[str, float | None]) -> Device:
    number = of.id.partition("-")[2]
    for each in stretches:
        if of.unit == each.unit:
            found = _guard(of, number, each.circuit) or _of_bank(of, each.circuit, cans)
            if found is not None:
                return found
    return of


def _guard(of: Device, number: str, circuit: PlanCircuit) -> Device | None:
    """A protective device or isolator as its circuit has it."""
    ahead = {"control": "F3", "transformer_to_drive": "F2"}.get(circuit.role, "F1")
    guard, lock = circuit.device, circuit.isolator
    if guard is not None and number == ahead and of.kind == "breaker":
        kind = "" if guard.kind == "breaker" else f"{guard.kind.replace('_', ' ')} "
        return replace(
            of, rating=guard.rating_a, rating_unit="A",
            specification=f"{kind}{guard.curve or ''}{amps(guard.rating_a)}",
        )  # fmt: skip
    at = {"drive_to_motor": "Q6", "transformer_to_drive": "Q8"}.get(circuit.role, "Q1")
    if lock is not None and number == at:
        early = ", early contact" if lock.early_break else ""
        return replace(
            of, rating=lock.rating_a, rating_unit="A",
            specification=f"{amps(lock.rating_a)}{early}",
        )  # fmt: skip
    return _switch(of, number, circuit)


def _switch(of: Device, number: str, circuit: PlanCircuit) -> Device | None:
    """A contactor that nothing has sized yet: at the beginning of its circuit for what that
    carries, in a converter for what its circuit's protective device lets through for ever."""
    if of.kind != "contactor" or of.rating is not None or circuit.role not in FED:
        return None
    carries = circuit.design_current_a
    if number == "Q2" and carries is not None:
        number_a = max(carries.number, carries.high)
    elif number in ("Q3", "Q4") and circuit.device is not None:
        number_a = circuit.device.rating_a
    else:
        return None
    said = [f"{amps(number_a)} or more", of.specification]
    return replace(
        of, rating=number_a, rating_unit="A",
        specification=", ".join(each for each in said if each),
    )  # fmt: skip


def _of_bank(of: Device, circuit: PlanCircuit, cans: Mapping[str, float | None]) -> Device | None:
    """A capacitor with the volts that were computed across it, or what discharges it: a resistor
    for the whole bank, or one for a single can, whose ohms are more as the can is less."""
    bank = BANKS.get(circuit.to.partition(" of ")[0])
    if circuit.role != "capacitor_branch" or bank is None:
        return None
    if of.id.startswith(f"{of.unit}-C{bank}."):
        return replace(of, sees_v=circuit.voltage_v.number)
    if circuit.discharge_ohm is None or not of.id.startswith(f"{of.unit}-R{bank}"):
        return None
    ohm = circuit.discharge_ohm.number
    own = cans.get(f"{of.unit}-C{of.id.partition('-R')[2]}")
    if own is not None and circuit.capacitance_f is not None:
        ohm *= circuit.capacitance_f.number / own
    return replace(
        of, rating=ohm, rating_unit="ohm", specification=f"{shown(ohm, 'ohm', 2)} or less"
    )


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
