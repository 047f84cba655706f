"""The card for the wall: start, stop, emergency, what is live when, isolate and lock."""

from __future__ import annotations

from phasewright.papers.sheets.paper import Paper
from phasewright.papers.sheets.readings_of import between, reading_of
from phasewright.papers.sheets.sheet import Paragraph, Section, Sheet, Step, Steps, Table
from phasewright.plan.study import PlanMotor
from phasewright.tables.circuits import capacitor_circuit


def wall_card(of: Paper) -> Sheet | str:
    """Start and stop order, emergency, what is live when, how long to wait, isolate and lock."""
    if not of.served:
        return "the plan powers no motor"
    return Sheet(
        "wall-card",
        f"{of.shop.shop}: card for the wall",
        (
            Section("Start", (Steps(_start(of)),)),
            Section("Stop", (Steps(_stop(of)),)),
            Section("Emergency", (Steps(_emergency(of)),)),
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
    lock = _isolators(of)
    return (*steps, Step(f"Switch off the isolator{lock}; at the end of the day lock it."))


def _isolators(of: Paper) -> str:
    """What is switched off: of what is shared, else of each machine, by designation."""
    found = of.at("", "isolator") or " ".join(
        filter(None, (of.at(each.motor, "isolator") for each in of.served))
    )
    return f" ({found})" if found else ""


def _emergency(of: Paper) -> tuple[Step, ...]:
    """What to strike, how long a tool still turns, what to do for somebody who hangs on it."""
    own = "; ".join(
        f"{each.motor} {at}" for each in of.served if (at := of.at(each.motor, "emergency_stop"))
    )
    shared = of.at("", "emergency_stop")
    strike = f"Strike the emergency stop of the machine{f' ({own})' if own else ''}"
    whole = f"; that of what they share ({shared}) takes all that hangs on it" if shared else ""
    still = tuple(
        f"{each.motor} {_seconds(seconds.number)}"
        for each in of.served
        if (seconds := each.figures.coasting_s) is not None and not _braked(each)
    )
    turns = f" Tools still turn: {', '.join(still)} after the power is off." if still else ""
    main = of.at("", "breaker", "isolator")
    return (
        Step(f"{strike}{whole}.{turns}"),
        Step(
            f"Nothing to strike: switch off at the isolator{f' ({main})' if main else ''} or the "
            "main switch of the house.",
        ),
        Step(
            "Somebody hangs on it: cut off first, touch nothing before; then call for help and "
            "begin to revive. Whoever had a shock is seen by a doctor the same day.",
            "Line 3 is live until the idler rests." if of.converter else "",
        ),
        Step("Fire: cut off, out, call; powder or carbon dioxide, never water on what is live."),
    )


def _braked(each: PlanMotor) -> bool:
    """True of a machine whose own brake falls when the power is off."""
    stopping = each.figures.stopping
    return stopping is not None and stopping.by == "own_brake"


def _seconds(number: float) -> str:
    return f"{number:.0f} s" if number >= 10.0 else f"{number:.2g} s"


def _live(of: Paper) -> str:
    if of.converter:
        volts = between(of, "volts_to_earth", "line 3")
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
    steps = [Step(f"All shafts at rest; isolator{_isolators(of)} off, locked, key in the pocket.")]
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
        seconds = reading_of(of, each.motor, "start_seconds") or reading_of(
            of, each.motor, "ramp_seconds"
        )
        amps = [one for one in of.readings if one.code == "supply_amps"
                and one.subject == each.motor]  # fmt: skip
        rows.append((
            each.motor, "" if seconds is None else of.expected(seconds),
            of.expected(amps[-1]) if amps else "", "",
        ))  # fmt: skip
    return tuple(rows)
