"""A motor with what its circuit is made from, and the motor as a device."""

from __future__ import annotations

from dataclasses import dataclass

from phasewright.machines.motor import Motor
from phasewright.papers.wiring.banks import Can
from phasewright.papers.wiring.control import ControlSupply
from phasewright.papers.wiring.draft import Sheet
from phasewright.papers.wiring.model import Device, Pairs
from phasewright.papers.wiring.origin import BARE, Origin
from phasewright.papers.wiring.terminals import TerminalBox
from phasewright.shop.machine import Machine

HOLDS = (0.85, 1.1)
"""Between which shares of its own volts a coil pulls in and is not cooked (IEC 60947-4-1, from
memory); outside them a transformer is drawn."""


@dataclass(frozen=True, slots=True)
class Hanging:
    """A motor with what its circuit is made from."""

    id: str
    """Designation of its unit, `=M1`."""
    motor: Motor
    machine: Machine
    box: TerminalBox
    setting_a: float | None
    line_v: float | None
    """Between its lines, as it is linked."""
    parts: frozenset[str]
    """Kinds of the parts that are in the plan's price for this motor."""
    carried: tuple[tuple[Can, ...], tuple[Can, ...]] = ((), ())
    """Run capacitors that are switched with it: between 3 and 1, between 2 and 3."""
    control: ControlSupply | None = None
    """Where its control circuit comes from, if not from behind its own protective device."""
    reverses: bool = False
    speed_wanted: bool = False
    origin: Origin = BARE
    winding_v: float | None = None
    """Volts of one of its windings by its plate."""
    neutral: bool = False
    """Whether its machine needs a neutral, and is given one."""
    braked: bool = False
    """Whether its machine's brake is with this motor."""
    category: int = 0
    """Of its emergency stop."""
    halt_words: str = ""
    ramp_s: float | None = None


def motor_device(sheet: Sheet, of: Hanging, *, linked: bool = True) -> Device:
    """The motor with the links that are fitted in its box."""
    box = of.box
    ends = box.terminals
    motor = sheet.device(
        "motor", 1, f"motor {of.motor.id}", (*ends, "PE"), windings=windings_of(box),
        left_open=left_open(box) if linked else (),
        links_known=box.sure, winding_v=of.winding_v if linked and box.sure else None,
        rated_v=of.line_v if linked and box.lines and not box.windings else None,
        note=box.words if linked else "All links out: the switch makes the connection.",
        priced="motor_swap_three_phase" in of.parts,
    )  # fmt: skip
    if linked:
        for one, other in box.links:
            sheet.wire(motor.at(one), motor.at(other), "link", "link")
    return motor


def windings_of(box: TerminalBox) -> Pairs:
    """Its windings; a point where some meet inside is named as such and is no terminal."""
    return box.windings


def left_open(box: TerminalBox) -> tuple[str, ...]:
    """The ends to which nothing is wired; where the links are not known, all but those at which
    the lines are shown."""
    return box.open if box.sure else tuple(e for e in box.terminals if e not in line_ends(box))


def line_ends(box: TerminalBox) -> tuple[str, ...]:
    """The ends that take the lines; the first three where the links are not known."""
    return box.lines or box.terminals[:3]


def control_volts(machine: Machine, line_v: float | None) -> float | None:
    """Volts of a machine's coils where the lines' own are not theirs."""
    volts = None if machine.control is None else machine.control.voltage
    if volts is None or line_v is None:
        return None
    low, high = HOLDS
    return None if low <= line_v / volts.number <= high else volts.number
