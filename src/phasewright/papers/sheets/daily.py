"""Sheets of every day: the card for the wall, the symptoms, the calendar of maintenance."""

from __future__ import annotations

from phasewright.papers.sheets.paper import Paper
from phasewright.papers.sheets.sheet import Paragraph, Section, Sheet, Step, Steps, Table
from phasewright.plan.reading_study import ReadingExpected
from phasewright.tables.circuits import capacitor_circuit, residual

YEARLY, MONTHLY, DAILY = "every year", "every three months", "every start"


def wall_card(of: Paper) -> Sheet | str:
    """Start and stop order, what is live when, how long to wait, isolate and lock."""
    if not of.served:
        return "the plan powers no motor"
    return Sheet(
        "wall-card",
        f"{of.shop.shop}: card for the wall",
        (
            Section("Start", (Steps(_start(of)),)),
            Section("Stop", (Steps(_stop(of)),)),
            Section("Live when", (Paragraph(f"{_live(of)} {of.own_source}".strip(), "caution"),)),
            Section("Before a box is opened", (Steps(_open(of)),)),
            Section(
                "Normal here",
                (
                    Table(
                        ("motor", "starts in", "takes from the supply at work", "heard and smelt"),
                        _normal(of), ("heard and smelt",), (6, 5, 6, 5),
                    ),
                ),
            ),
            Section(
                "Who",
                (
                    Table(
                        ("", "name and telephone"),
                        tuple((who, "") for who in ("may use it", "electrician", "emergency")),
                        ("name and telephone",), (3, 8),
                    ),
                ),
            ),
        ),
    )  # fmt: skip


def _start(of: Paper) -> tuple[Step, ...]:
    steps = []
    if of.converter:
        steps.append(
            Step("Start the converter, all machines off; wait until it hums evenly and the lamp of "
                 "the phase relay is lit.", "It hums and does not turn: off at once.")
        )  # fmt: skip
    order = of.plan.starting_order
    names = [each for each in order if any(one.motor == each for one in of.served)]
    steps += [Step(f"Start {name}.") for name in names]
    rest = [each.motor for each in of.served if each.motor not in names]
    if rest:
        steps.append(Step(f"Start as needed, in any order: {', '.join(rest)}."))
    return tuple(steps)


def _stop(of: Paper) -> tuple[Step, ...]:
    steps = [Step("Stop every machine and wait until its tool rests.")]
    if of.converter:
        steps.append(Step("Stop the converter; wait until the idler rests."))
    return (*steps, Step("Switch off the isolator of the shop; at the end of the day lock it."))


def _live(of: Paper) -> str:
    if of.converter:
        volts = _reading(of, "volts_to_earth", "line 3")
        told = "" if volts is None else f", line 3 at {of.amount(volts.value.number, 'V')} to earth"
        return (
            "While the idler turns all three lines are live at every outlet"
            f"{told}: also when the plug is out, also in a power cut until it has slowed."
        )
    if of.drives:
        return (
            "While a drive's supply is on its output terminals may be live at standstill; its link "
            "stays charged for minutes after switching off."
        )
    return "While the isolator is closed every machine is live up to its own switch."


def _open(of: Paper) -> tuple[Step, ...]:
    steps = [Step("All shafts at rest; isolator off, locked, key in the pocket.")]
    if of.generates:
        wait, safe = capacitor_circuit("within_s"), capacitor_circuit("safe_v")
        steps.append(Step(f"Wait {wait:.0f} s, then measure less than {safe:.0f} V at every "
                          "capacitor."))  # fmt: skip
    if of.drives:
        steps.append(Step("Wait as marked on the drive, then measure its link."))
    return (*steps, Step("Prove dead, with the meter tried on something live before and after."))


def _normal(of: Paper) -> tuple[tuple[str, ...], ...]:
    rows = []
    for each in of.served:
        seconds = _of(of, each.motor, "start_seconds") or _of(of, each.motor, "ramp_seconds")
        amps = [one for one in of.readings if one.code == "supply_amps"
                and one.subject == each.motor]  # fmt: skip
        rows.append((
            each.motor, "" if seconds is None else of.expected(seconds),
            of.expected(amps[-1]) if amps else "", "",
        ))  # fmt: skip
    return tuple(rows)


def symptoms(of: Paper) -> Sheet | str:
    """What to check, in order, when something is wrong, with this shop's figures."""
    sections = []
    if of.converter:
        sections += _of_converter(of)
    if of.drives:
        sections.append(_of_drives(of))
    relays = [each for each in of.served if each.overload_setting_a is not None]
    if relays:
        told = ", ".join(f"{each.motor} {of.amount(each.overload_setting_a.number, 'A')}"
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
    pairs = [_reading(of, "line_volts", f"lines {pair}") for pair in ("2 and 3", "3 and 1")]
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
    return [
        Section("A coil chatters or drops out", (Steps((
            Step("Is it fed from lines 1 and 2? A coil on line 3 chatters; move its two wires."),
            Step("Volts at the coil while the machine starts: a contactor pulls in from 85% of its "
                 "volts."),
            Step("Dirt or rust on the faces of the magnet, a weak spring, a broken shading ring."),
        )),)),
        Section("Line 3 is low or lines are uneven", (Steps((
            Step(f"With the idler alone: {idle}. First read lines 1 and 2 themselves."),
            Step("Low on both pairs: a run capacitor weak, off, or its fuse gone. Dead and "
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
            Step("Start capacitor (bulged, leaking, dead), its relay, its contactor; then the "
                 "supply's volts while it tries; then bearings."),
        )),)),
        Section("Everything turns the wrong way", (Steps((
            Step(f"The idler came up backwards.{wrong}"),
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


def maintenance(of: Paper) -> Sheet | str:
    """What to measure, when, and when to replace."""
    rows = [*_cans(of), *_rotating(of), *_electronics(of), *_protection(of)]
    if not rows:
        return "nothing of this plan ages with a figure to watch"
    return Sheet(
        "maintenance",
        "Maintenance calendar",
        (
            Section(
                "",
                (
                    Paragraph("Dead, locked, discharged and proved so, but for the tests that "
                              "need volts.", "caution"),
                    Table(
                        ("what", "when", "measure", "replace or act", "found, date"), tuple(rows),
                        ("found, date",), (5, 3, 5, 5, 4),
                    ),
                    Paragraph("Intervals are common practice, no source."),
                ),
            ),
        ),
    )  # fmt: skip


Row = tuple[str, str, str, str, str]


def _cans(of: Paper) -> list[Row]:
    rows: list[Row] = []
    for each in of.plan.circuits or ():
        if each.role != "capacitor_branch" or each.capacitance_f is None:
            continue
        farads = each.capacitance_f.number
        least = of.amount(0.95 * farads, "F")
        name = each.id.removeprefix(f"{each.from_} to ")
        rows.append((name, YEARLY, f"{of.amount(farads, 'F')} in all; each can by its print",
                     f"below {least}, or any bulged or leaking can", ""))  # fmt: skip
        if each.discharge_ohm is not None:
            ohm = of.amount(each.discharge_ohm.number, "ohm")
            rows.append((f"its resistor, {name}", YEARLY, f"at most {ohm}", "open or higher", ""))
    return rows


def _rotating(of: Paper) -> list[Row]:
    rows: list[Row] = []
    if of.converter:
        ratios = [each for each in of.readings if each.code == "line_volts_ratio"]
        told = "; ".join(f"{each.between.removeprefix('volts of ').split(' over')[0]} "
                         f"{of.expected(each)}" for each in ratios)  # fmt: skip
        rows.append(("volts of line 3 over lines 1-2, idling", MONTHLY, told,
                     "outside: measure the capacitors", ""))  # fmt: skip
        rows.append(
            (
                "phase-sequence and drop-out relay",
                YEARLY,
                "outlets stay dead until the idler turns right; drops out with the supply",
                "does not: replace",
                "",
            )
        )
        rows.append(("idler bearings", YEARLY, "quiet, cool, no play", "noise or heat", ""))
    return rows


def _electronics(of: Paper) -> list[Row]:
    rows: list[Row] = []
    for each in of.drives:
        rows.append(
            (
                f"drive of {each.motor}",
                YEARLY,
                "dust out, fan turns, screws tight; its settings kept on paper",
                "fan after 3 to 5 years, link after 8 to 12",
                "",
            )
        )
    return rows


def _protection(of: Paper) -> list[Row]:
    rows: list[Row] = []
    for each in of.readings:
        if each.code == "residual_test":
            rows.append(
                (
                    f"residual-current device of {each.subject}",
                    MONTHLY,
                    "its button; yearly with a tester: at most "
                    f"{of.amount(residual('at_rating_s'), 's')}",
                    "slower: replace",
                    "",
                )
            )
    earths = [each for each in of.readings if each.code == "earth_continuity"]
    if earths:
        most = max(earths, key=lambda each: each.high)
        rows.append(("earth of every machine", YEARLY, f"at most {of.amount(most.high, 'ohm')} "
                     "(see commissioning for each)", "more: find the joint", ""))  # fmt: skip
        rows.append(("screws of all terminals, contactor tips", YEARLY, "tight; tips smooth",
                     "burnt or welded", ""))  # fmt: skip
    return rows


def _reading(of: Paper, code: str, between: str) -> ReadingExpected | None:
    return next(
        (each for each in of.readings if each.code == code and each.between.startswith(between)),
        None,
    )


def _of(of: Paper, subject: str, code: str) -> ReadingExpected | None:
    return next(
        (each for each in of.readings if each.code == code and each.subject == subject), None
    )
