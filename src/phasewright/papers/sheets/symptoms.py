"""What to check, in order, when something is wrong."""

from __future__ import annotations

from phasewright.papers.sheets.paper import Paper
from phasewright.papers.sheets.readings_of import between
from phasewright.papers.sheets.sheet import Section, Sheet, Step, Steps


def symptoms(of: Paper) -> Sheet | str:
    """What to check, in order, when something is wrong, with this shop's figures."""
    sections = []
    if of.converter:
        sections += _of_converter(of)
    if of.drives:
        sections.append(_of_drives(of))
    relays = [each for each in of.served if each.overload_setting_a is not None]
    if relays:
        told = ", ".join(f"{each.motor} {of.at(each.motor, 'overload_relay')} "
                         f"{of.amount(each.overload_setting_a.number, 'A')}".replace("  ", " ")
                         for each in relays if each.overload_setting_a is not None)  # fmt: skip
        sections.append(Section("It trips", (Steps((
            Step(f"Overload: is it set as planned ({told})? Clamp all three lines at work."),
            Step("Unequal lines: a loose joint, a capacitor off, a fuse gone. All too high: too "
                 "much load, a blunt tool, a dry bearing, a wrong link."),
            Step("Breaker at once: a short or an earth fault; measure insulation before it is "
                 "closed again.", "Never close a breaker twice on a fault."),
            Step("Residual-current device: unplug all, then one after the other. Filters of "
                 "drives leak a little all the time; damp leaks more."),
        )),)))  # fmt: skip
    if not sections:
        return "nothing of this plan has figures to check against"
    return Sheet("symptoms", "When something is wrong", tuple(sections))


def _of_converter(of: Paper) -> list[Section]:
    pairs = [between(of, "line_volts", f"lines {pair}") for pair in ("2 and 3", "3 and 1")]
    idle = " and ".join(
        f"{each.between.removesuffix(' at the outlet')} {of.expected(each)}"
        for each in pairs if each is not None
    )  # fmt: skip
    amps = [each for each in of.readings if each.code == "line_amps" and each.step == 7]
    highest = max(amps, key=lambda each: each.value.number, default=None)
    hot = "" if highest is None else (
        f" ({highest.between} carries most: {of.expected(highest)})"
    )  # fmt: skip
    stands = next((each.wrong_direction for each in of.plan.equipment if each.wrong_direction),
                  None)  # fmt: skip
    hum = "Off at once." if stands is None else stands.not_turned.words
    wrong = "" if stands is None else f" {stands.words}"
    cans = _named(of.at("", "run_capacitor"))
    start = _named(of.at("", "start_capacitor"))
    relay = _named(of.at("", "drop_out_relay"))
    sequence = _named(of.at("", "phase_sequence_relay"))
    return [
        Section("A coil chatters or drops out", (Steps((
            Step("Is it fed from lines 1 and 2? A coil on line 3 chatters; move its two wires."),
            Step("Volts at the coil while the machine starts: a contactor pulls in from 85% of its "
                 "volts."),
            Step("Dirt or rust on the faces of the magnet, a weak spring, a broken shading ring."),
        )),)),
        Section("Line 3 is low or lines are uneven", (Steps((
            Step(f"With the idler alone: {idle}. First read lines 1 and 2 themselves."),
            Step(f"Low on both pairs: a run capacitor{cans} weak, off, or its fuse gone. Dead and "
                 "discharged, measure each can: within 5% of its print."),
            Step("One pair low and one high: banks swapped. Right unloaded, low at work: the idler "
                 "is too small for this load, or a contactor of a bank does not close."),
        )),)),
        Section("The idler is hot", (Steps((
            Step(f"Clamp its lines idling{hot}."),
            Step("Volts of line 3 above the bounds: too much capacitance while it idles."),
            Step("Fan, dust, bearing; then how many hours it runs with nothing on."),
        )),)),
        Section("It hums and does not start", (Steps((
            Step(hum),
            Step(f"Start capacitor{start} bulged, leaking, dead? Its relay{relay}, its contactor; "
                 "then the supply's volts while it tries; then bearings."),
        )),)),
        Section("Everything turns the wrong way", (Steps((
            Step(f"The idler came up backwards, and the phase-sequence relay{sequence} let it."
                 f"{wrong}"),
            Step("One machine only: swap two of its lines at the motor, dead and locked."),
        )),)),
    ]  # fmt: skip


def _of_drives(of: Paper) -> Section:
    links = [each for each in of.readings if each.code == "dc_link_volts"]
    told = ", ".join(f"{each.subject} {of.expected(each)}" for each in links)
    return Section("A drive trips or the motor behaves oddly", (Steps((
        Step("Read the drive's own fault first, before it is reset; write it down."),
        Step("Too much current: ramp too short, boost too high, motor linked otherwise than the "
             "drive was told, something that opens between drive and motor."),
        Step("Link volts: high while stopping: a longer ramp or the brake resistor. Low: the "
             f"supply.{f' At work: {told}.' if told else ''}"),
        Step("Motor warm at low speed: its own fan turns too slowly; keep to the lowest speed of "
             "its sheet."),
    )),))  # fmt: skip


def _named(designations: str) -> str:
    return f" ({designations})" if designations else ""
