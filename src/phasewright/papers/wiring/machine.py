"""The circuit of a motor on three lines: of a converter, an electronic source or the street."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from phasewright.machines.motor import Motor
from phasewright.papers.wiring.banks import Can, across_lines, lines_of
from phasewright.papers.wiring.control import ControlSupply, control_rails, held_contactor
from phasewright.papers.wiring.draft import Draft, Run, Sheet
from phasewright.papers.wiring.model import Device, Pairs
from phasewright.papers.wiring.parts import LINES, MAIN, breaker, contactor, isolator, overload
from phasewright.papers.wiring.terminals import TerminalBox, speed_ends, two_wire
from phasewright.shop.model import Machine

Rails = Sequence[tuple[str, str]]
DIFFERS = 0.2
"""Share by which coil volts may differ from the lines' before a transformer is drawn: a coil holds
from 0.85 to 1.1 of its own (IEC 60947-4-1, from memory); 0.2 keeps 220 and 240 V together."""


@dataclass(frozen=True, slots=True)
class Hanging:
    """A motor with what its circuit is made from."""

    id: str
    """Designation of its unit, `=M1`."""
    motor: Motor
    machine: Machine
    box: TerminalBox
    setting_a: float | None
    line_voltage_v: float
    parts: frozenset[str]
    """Kinds of the parts that are in the plan's price for this motor."""
    carried: tuple[tuple[Can, ...], tuple[Can, ...]] = ((), ())
    """Run capacitors that are switched with it: between 3 and 1, between 2 and 3."""
    control: ControlSupply | None = None
    """Where its control circuit comes from, if not from behind its own protective device."""
    reverses: bool = False
    speed_wanted: bool = False


def on_three_lines(draft: Draft, of: Hanging, rails: Rails) -> None:
    """Write the unit of a motor on lines 1, 2, 3 and PE, in this order of rails."""
    sheet = Sheet(draft, of.id, f"Motor {of.motor.id}", of.motor.id)
    guard, lock = breaker(sheet, 3), isolator(sheet, 3)
    run = sheet.hang(rails, "Power").column()
    run.series(guard, "breaker", MAIN).series(lock, "isolator", MAIN)
    machine_circuit(sheet, run, of, guard)
    sheet.done()


def machine_circuit(sheet: Sheet, run: Run, of: Hanging, guard: Device) -> None:
    """Contactor, overload relay, motor and control on a column of three lines and PE; `guard` is
    the protective device whose first two poles are lines 1 and 2."""
    main = contactor(
        sheet, 2, f"contactor of {of.motor.id}", 3, makes=3 if any(of.carried) else 2,
        rating=of.setting_a, priced="contactor" in of.parts,
    )  # fmt: skip
    run.series(main, "contactor", MAIN)
    relays = _to_motor(sheet, run, of)
    run.band.done()
    travelling = _carried(sheet, main, of)
    start_stop = control_rails(sheet, _control(of, guard))
    held_contactor(
        sheet, start_stop, main, overloads=relays,
        follows=() if travelling is None else ((travelling, ("33", "34")),),
    )  # fmt: skip
    sheet.notes.append(
        "The contactor holds itself: it lets go when the supply fails and stays out when it "
        "returns (undervoltage release)."
    )


def on_two_wires(draft: Draft, of: Hanging, rails: Rails) -> None:
    """Write the unit of a single-phase motor on lines 1 and 2."""
    sheet = Sheet(draft, of.id, f"Motor {of.motor.id}", of.motor.id)
    guard, lock = breaker(sheet, 2), isolator(sheet, 2)
    main = contactor(
        sheet, 2, f"contactor of {of.motor.id}", 2, rating=of.setting_a,
        priced="contactor" in of.parts,
    )  # fmt: skip
    relay = overload(
        sheet, 2, f"overload relay of {of.motor.id}, its third pole in series with the second",
        of.setting_a, priced="overload_relay" in of.parts,
    )  # fmt: skip
    ends = two_wire(draft.region).terminals
    motor = sheet.device(
        "motor", 1, f"single-phase motor for {of.motor.id}", (*ends, "PE"),
        windings=((ends[0], ends[1]),),
    )  # fmt: skip
    band = sheet.hang(rails, "Power")
    run = band.column().series(guard, "breaker", MAIN[:2]).series(lock, "isolator", MAIN[:2])
    run.series(main, "contactor", MAIN[:2]).series(relay, "overload", MAIN[:2])
    run.series(relay, "overload_pole", MAIN[2:], legs=(1,))
    run.end(motor, "motor", (*ends, "PE"))
    band.done()
    control = control_rails(sheet, _control(of, guard))
    held_contactor(sheet, control, main, overloads=(relay,))
    sheet.done()


def motor_device(sheet: Sheet, of: Hanging, *, linked: bool = True) -> Device:
    """The motor with the links that are fitted in its box."""
    box = of.box
    ends = box.terminals
    motor = sheet.device(
        "motor", 1, f"motor {of.motor.id}", (*ends, "PE"), windings=windings_of(box),
        left_open=left_open(box) if linked else (),
        links_known=box.sure,
        note=box.words if linked else "All links out: the switch makes the connection.",
    )  # fmt: skip
    if linked:
        for one, other in box.links:
            sheet.wire(motor.at(one), motor.at(other), "link", "link")
    return motor


def windings_of(box: TerminalBox) -> Pairs:
    """The windings of which both ends are out."""
    return tuple(pair for pair in box.windings if set(pair) <= set(box.terminals))


def left_open(box: TerminalBox) -> tuple[str, ...]:
    """The ends to which nothing is wired; where the links are not known, all but those at which
    the lines are shown."""
    return box.open if box.sure else tuple(e for e in box.terminals if e not in line_ends(box))


def line_ends(box: TerminalBox) -> tuple[str, ...]:
    """The ends that take the lines; the first three where the links are not known."""
    return box.lines or box.terminals[:3]


def _control(of: Hanging, guard: Device) -> ControlSupply:
    if of.control is not None:
        return of.control
    return ControlSupply(
        (guard.at("2"), guard.at("4")), control_volts(of.machine, of.line_voltage_v)
    )


def control_volts(machine: Machine, line_voltage_v: float) -> float | None:
    """Volts of a machine's coils where they are not the lines' own."""
    volts = None if machine.control is None else machine.control.voltage
    if volts is None or abs(volts.number / line_voltage_v - 1.0) <= DIFFERS:
        return None
    return volts.number


def _to_motor(sheet: Sheet, run: Run, of: Hanging) -> tuple[Device, ...]:
    """From the contactor to the motor, through the machine's own switch; the overload relays."""
    if of.machine.starter == "two_speed_switch" or of.motor.speeds:
        return _two_speeds(sheet, run, of)
    relay = _relay(sheet, of, 2, f"overload relay of {of.motor.id}")
    if of.machine.starter == "reversing_drum":
        drum = reversing(sheet)
        run.series(drum, "reversing", tuple(zip(LINES, ("U", "V", "W"), strict=True)))
    run.series(relay, "overload", MAIN)
    if of.machine.starter == "star_delta" and len(of.box.terminals) == 6 and of.box.windings:
        _star_delta(sheet, run, of)
        return (relay,)
    motor = motor_device(sheet, of)
    run.end(motor, "motor", (*line_ends(of.box), "PE"))
    return (relay,)


def reversing(sheet: Sheet) -> Device:
    """The machine's drum switch: forward straight, reverse with two lines changed."""
    ahead: Pairs = (("L1", "U"), ("L2", "V"), ("L3", "W"))
    back: Pairs = (("L1", "V"), ("L2", "U"), ("L3", "W"))
    return sheet.device(
        "reversing_switch", 3, "forward and reverse, the machine's own switch",
        (*LINES, "U", "V", "W"), positions=(ahead, back),
    )  # fmt: skip


def _relay(sheet: Sheet, of: Hanging, number: int, words: str) -> Device:
    return overload(sheet, number, words, of.setting_a, priced="overload_relay" in of.parts)


def _star_delta(sheet: Sheet, run: Run, of: Hanging) -> None:
    """The machine's own star-delta switch and the motor behind it, all links taken out."""
    begins = tuple(pair[0] for pair in of.box.windings)
    finish = tuple(pair[1] for pair in of.box.windings)
    across: Pairs = tuple(zip(LINES, begins, strict=True))
    star: Pairs = (*across, (finish[0], finish[1]), (finish[1], finish[2]))
    delta: Pairs = (*across, ("L1", finish[2]), ("L2", finish[0]), ("L3", finish[1]))
    switch = sheet.device(
        "star_delta_switch", 4, "star-delta switch, the machine's own",
        (*LINES, "PE", *begins, *finish), positions=(star, delta),
    )  # fmt: skip
    behind = ("L2", "L3", "L1")  # what the ends carry in delta
    outs = (*zip(begins, LINES, strict=True), *zip(finish, behind, strict=True))
    run.box(switch, "switch_box", (*LINES, "PE"), (*outs, ("PE", "PE")))
    motor = motor_device(sheet, of, linked=False)
    run.end(motor, "motor", (*begins, *finish, "PE"))


def _two_speeds(sheet: Sheet, run: Run, of: Hanging) -> tuple[Device, ...]:
    """The speed switch, an overload relay for each speed, the motor's six ends."""
    own = of.motor.layout == "two_windings"
    low, high = speed_ends(sheet.draft.region, own)
    first: Pairs = tuple(zip(LINES, low, strict=True))
    second: Pairs = tuple(zip(LINES, high, strict=True))
    doubles = {speed.name for speed in of.motor.speeds if speed.winding == "double_star"}
    if "low" in doubles:
        first = (*first, (high[0], high[1]), (high[1], high[2]))
    if "high" in doubles:
        second = (*second, (low[0], low[1]), (low[1], low[2]))
    switch = sheet.device(
        "speed_selector", 4, "two-speed switch, the machine's own",
        (*LINES, "PE", *low, *high), positions=(first, second),
    )  # fmt: skip
    outs = [each for ends in (low, high) for each in zip(ends, LINES, strict=True)]
    run.box(switch, "switch_box", (*LINES, "PE"), (*outs, ("PE", "PE")))
    settings = {speed.name: speed.full_load_current_a.number for speed in of.motor.speeds}
    relays = []
    for number, (name, legs) in enumerate((("low", (0, 1, 2)), ("high", (3, 4, 5)))):
        relay = overload(
            sheet, 2 + 2 * number, f"overload relay of the {name} speed",
            settings.get("low" if name == "low" else "high"),
            priced="overload_relay" in of.parts and number == 0,
        )  # fmt: skip
        run.series(relay, "overload", MAIN, legs=legs)
        relays.append(relay)
    said = " ".join(dict.fromkeys(speed.words for speed in of.motor.speeds))
    motor = sheet.device(
        "motor", 1, f"two-speed motor {of.motor.id}", (*low, *high, "PE"), note=said
    )
    run.end(motor, "motor", (*low, *high, "PE"))
    return tuple(relays)


def _carried(sheet: Sheet, main: Device, of: Hanging) -> Device | None:
    """Run capacitors that are switched with the motor, taken off ahead of its overload relay
    (NEC 455.23); their contactor."""
    if not any(of.carried):
        return None
    lines = lines_of(of.carried)
    switch = contactor(
        sheet, 5, "contactor of the capacitors that go with this motor", len(lines), makes=0,
        priced="contactor" in of.parts,
    )  # fmt: skip
    behind = dict(zip(LINES, (main.at("2"), main.at("4"), main.at("6")), strict=True))
    rails = tuple((behind[each], each) for each in lines)
    band = sheet.hang(rails, "Run capacitors switched with this motor")
    run = band.column().series(switch, "contactor", MAIN[: len(lines)])
    across_lines(sheet, run, of.carried, priced=True)
    band.done()
    return switch
