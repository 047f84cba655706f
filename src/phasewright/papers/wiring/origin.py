"""What stands at the beginning of a circuit: protection, residual-current device, isolator, plug.

Which of them there are is for the plan's circuits to say; a wiring made without circuits has
the protective device and the isolator alone.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from phasewright.circuits.installation import ResidualCurrentDevice, Socket
from phasewright.papers.wiring.cords import to_socket
from phasewright.papers.wiring.draft import Run, Sheet
from phasewright.papers.wiring.model import Device
from phasewright.papers.wiring.parts import POLES, breaker, isolator
from phasewright.plan.circuit_study import PlanCircuit

EARTH_PIN = ("E1", "E2")


@dataclass(frozen=True, slots=True)
class Origin:
    """The beginning of a unit's circuit. `outlet`: the circuit ends at the socket, so its isolator
    stands ahead of it; else it is at the machine, behind the plug."""

    residual: ResidualCurrentDevice | None = None
    socket: Socket | None = None
    outlet: bool = False
    isolated: bool = True


BARE = Origin()


def origin_of(circuits: Iterable[PlanCircuit]) -> Origin:
    """The beginning that these circuits make together: of a machine on a plug the circuit to its
    socket and its cord."""
    found = tuple(circuits)
    if not found:
        return BARE
    return Origin(
        next((leak for each in found if (leak := own_residual(each)) is not None), None),
        next((each.socket for each in found if each.socket is not None), None),
        any(to_socket(each) for each in found),
        any(each.isolator is not None for each in found),
    )


def own_residual(circuit: PlanCircuit) -> ResidualCurrentDevice | None:
    """The residual-current device that stands at this circuit's own beginning."""
    leak = circuit.residual_current
    return None if leak is None or leak.upstream or leak.at is not None else leak


def begin(sheet: Sheet, run: Run, of: Origin = BARE) -> tuple[Device, Device]:
    """The devices at the beginning, in every leg but the earth's: the protective device, and the
    last of them, behind which everything of the unit is dead once it is isolated."""
    carried = [potential for _, potential in run.legs]
    live = tuple(k for k, potential in enumerate(carried) if potential != "PE")
    pairs, poles = POLES[: len(live)], len(live)
    guard = last = breaker(sheet, poles)
    run.series(guard, "breaker", pairs, live)
    if of.residual is not None:
        last = residual(sheet, poles, of.residual)
        run.series(last, "residual", pairs, live)
    lock = isolator(sheet, poles) if of.isolated else None
    if lock is not None and (of.outlet or of.socket is None):
        run.series(lock, "isolator", pairs, live)
        last = lock
    if of.socket is not None:
        last = plug(sheet, poles, of.socket)
        run.series(last, "plug", (*pairs, EARTH_PIN), (*live, carried.index("PE")))
        if lock is not None and not of.outlet:
            run.series(lock, "isolator", pairs, live)
            last = lock
    return guard, last


def residual(
    sheet: Sheet,
    poles: int,
    of: ResidualCurrentDevice | None,
    number: int = 5,
    words: str = "",
    *,
    priced: bool = False,
) -> Device:
    """A residual-current device; it may be one with the protective device before it. Without a
    circuit that says more it is of type B, as a drive behind a transformer asks."""
    return sheet.device(
        "residual_current_device", number,
        words or "residual-current device, or one with the protective device before it",
        (end for pair in POLES[:poles] for end in pair), closed=POLES[:poles],
        rating=None if of is None else of.rating_ma / 1e3, rating_unit="A",
        specification="type B" if of is None else f"{of.rating_ma:g} mA type {of.type}",
        priced=priced,
    )  # fmt: skip


def plug(sheet: Sheet, poles: int, of: Socket, number: int = 5) -> Device:
    """A socket with its plug; earth goes through its longest pin."""
    pairs = (*POLES[:poles], EARTH_PIN)
    return sheet.device(
        "plug_and_socket", number, "socket and plug; never pulled under load",
        (end for pair in pairs for end in pair), closed=pairs, rating=of.rating_a,
        rating_unit="A", rated_v=of.voltage_v,
        specification=f"{of.pattern}, {of.rating_a:g} A, {of.voltage_v:.0f} V",
    )  # fmt: skip
