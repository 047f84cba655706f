"""The circuit of a motor on a contactor: on three lines, whatever makes them, or on two."""

from __future__ import annotations

from collections.abc import Sequence

from phasewright.papers.wiring.banks import across_lines, lines_of
from phasewright.papers.wiring.braking import braking, has_coil, has_unit
from phasewright.papers.wiring.control import ControlSupply, control_rails, held_contactor
from phasewright.papers.wiring.draft import Draft, Run, Sheet
from phasewright.papers.wiring.halting import ON_CONTACTOR, head_contacts
from phasewright.papers.wiring.hanging import Hanging, control_volts, line_ends, motor_device
from phasewright.papers.wiring.model import Device, Pairs
from phasewright.papers.wiring.origin import begin
from phasewright.papers.wiring.parts import LINES, MAIN, contactor, overload, strip
from phasewright.papers.wiring.terminals import speed_ends, two_wire

Rails = Sequence[tuple[str, str]]


def on_three_lines(draft: Draft, of: Hanging, rails: Rails) -> None:
    """Write the unit of a motor on lines 1, 2, 3, PE, and N where it is given one, in this order
    of rails."""
    sheet = Sheet(draft, of.id, f"Motor {of.motor.id}", of.motor.id)
    run = sheet.hang(rails, "Power").column()
    ahead = begin(sheet, run, of.origin)
    run.legs = run.legs[: len(LINES) + 1]  # the neutral goes no further
    machine_circuit(sheet, run, of, ahead)
    if len(rails) == len(LINES) + 2:
        _neutral(sheet, ahead[1])
    sheet.done()


def _neutral(sheet: Sheet, last: Device) -> None:
    """The neutral ends at terminals of its own: a motor has no use for it."""
    ends = strip(sheet, 6, "neutral of the machine's own controls and lamps", ("N",))
    band = sheet.hang(((last.at("8"), "N"),), "Neutral")
    band.column().end(ends, "strip", ("N",))
    band.done()


def machine_circuit(sheet: Sheet, run: Run, of: Hanging, ahead: tuple[Device, Device]) -> None:
    """Contactor, overload relay, motor, brake and control on a column of three lines and PE;
    `ahead` are the devices it begins with, whose first two poles are lines 1 and 2."""
    supply = _control(sheet, of, ahead)
    main = contactor(
        sheet, 2, f"contactor of {of.motor.id}", 3, makes=_makes(of),
        breaks=has_unit(of), rating=of.setting_a, priced="contactor" in of.parts,
        coil_v=supply.coil_v,
    )  # fmt: skip
    run.series(main, "contactor", MAIN)
    relays = _to_motor(sheet, run, of)
    run.band.done()
    travelling = _carried(sheet, main, of, supply.coil_v)
    locks = braking(
        sheet,
        of,
        _behind(ahead),
        of.line_v or sheet.draft.line_v,
        (main, _last_make(of)),
        relays[0],
    )
    start_stop = control_rails(sheet, supply)
    sheet.draft.controls.setdefault(of.machine.name, start_stop)
    held_contactor(
        sheet, start_stop, main, overloads=relays, locks=locks,
        follows=() if travelling is None else ((travelling, ("33", "34")),),
        halts=head_contacts(sheet, of.machine.name, ON_CONTACTOR),
    )  # fmt: skip
    sheet.notes.append(
        "The contactor holds itself: it lets go when the supply fails and stays out when it "
        "returns (undervoltage release). The emergency stop takes the power away at once "
        "(category 0)" + ("." if of.braked else "; the machine coasts to rest.")
    )


def _makes(of: Hanging) -> int:
    """Auxiliary contacts: hold, lamp, capacitors that follow, the brake's."""
    return 2 + any(of.carried) + has_coil(of)


def _last_make(of: Hanging) -> tuple[str, str]:
    return f"{_makes(of)}3", f"{_makes(of)}4"


def _behind(ahead: tuple[Device, Device]) -> tuple[tuple[str, str], ...]:
    """Lines 1 and 2 behind all that isolates the unit."""
    return ((ahead[1].at("2"), "L1"), (ahead[1].at("4"), "L2"))


def on_two_wires(draft: Draft, of: Hanging, rails: Rails) -> None:
    """Write the unit of a single-phase motor on lines 1 and 2."""
    sheet = Sheet(draft, of.id, f"Motor {of.motor.id}", of.motor.id)
    band = sheet.hang(rails, "Power")
    run = band.column()
    ahead = begin(sheet, run, of.origin)
    supply = _control(sheet, of, ahead)
    main = contactor(
        sheet, 2, f"contactor of {of.motor.id}", 2, rating=of.setting_a,
        priced="contactor" in of.parts, coil_v=supply.coil_v,
    )  # fmt: skip
    relay = overload(
        sheet, 2, f"overload relay of {of.motor.id}, its third pole in series with the second",
        of.setting_a, priced="overload_relay" in of.parts,
    )  # fmt: skip
    ends = two_wire(draft.region).terminals
    motor = sheet.device(
        "motor", 1, f"single-phase motor for {of.motor.id}", (*ends, "PE"),
        windings=((ends[0], ends[1]),), priced="motor_swap" in of.parts,
    )  # fmt: skip
    run.series(main, "contactor", MAIN[:2]).series(relay, "overload", MAIN[:2])
    run.series(relay, "overload_pole", MAIN[2:], legs=(1,))
    run.end(motor, "motor", (*ends, "PE"))
    band.done()
    control = control_rails(sheet, supply)
    held_contactor(
        sheet, control, main, overloads=(relay,),
        halts=head_contacts(sheet, of.machine.name, ON_CONTACTOR),
    )  # fmt: skip
    sheet.done()


def _control(sheet: Sheet, of: Hanging, ahead: tuple[Device, Device]) -> ControlSupply:
    if of.control is not None:
        return of.control
    volts = sheet.draft.supply_v
    (one, _), (other, _) = _behind(ahead)
    return ControlSupply((one, other), control_volts(of.machine, volts), volts=volts)


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
    stamped = {speed.line_voltage_v for speed in of.motor.speeds}
    motor = sheet.device(
        "motor", 1, f"two-speed motor {of.motor.id}", (*low, *high, "PE"), note=said,
        rated_v=stamped.pop() if len(stamped) == 1 else None,
    )  # fmt: skip
    run.end(motor, "motor", (*low, *high, "PE"))
    return tuple(relays)


def _carried(sheet: Sheet, main: Device, of: Hanging, coil_v: float | None) -> Device | None:
    """Run capacitors that are switched with the motor, taken off ahead of its overload relay
    (NEC 455.23); their contactor."""
    if not any(of.carried):
        return None
    lines = lines_of(of.carried)
    switch = contactor(
        sheet, 5, "contactor of the capacitors that go with this motor", len(lines), makes=0,
        priced="contactor" in of.parts, coil_v=coil_v,
    )  # fmt: skip
    behind = dict(zip(LINES, (main.at("2"), main.at("4"), main.at("6")), strict=True))
    rails = tuple((behind[each], each) for each in lines)
    band = sheet.hang(rails, "Run capacitors switched with this motor")
    run = band.column().series(switch, "contactor", MAIN[: len(lines)])
    across_lines(sheet, run, of.carried, priced=True)
    band.done()
    return switch
