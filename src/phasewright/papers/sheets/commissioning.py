"""Bringing the plan into use: step by step, with what a meter should show at each."""

from __future__ import annotations

from collections.abc import Iterator

from phasewright.papers.sheets.paper import BY_CODE, Paper
from phasewright.papers.sheets.reading_marks import marks_of
from phasewright.papers.sheets.sheet import Measure, Paragraph, Section, Sheet, Step, Steps
from phasewright.plan.reading_study import ReadingExpected
from phasewright.readings import take

WORDS: dict[int, tuple[str, str]] = {
    take.EARTH: (
        "Earth of every machine, before any power.",
        "Cut off, lock, prove dead: try the meter on something live before and after.",
    ),
    take.INSULATION: (
        "Insulation of every motor.",
        "Wires off everything electronic: drive, relays, capacitors, filters. The tester gives "
        "hundreds of volts: hands off, and let the winding discharge afterwards.",
    ),
    take.WINDING: ("Windings: three pairs of leads, all alike.", "Still cut off and locked."),
    take.SUPPLY: (
        "Supply on, all machines off: volts and which line is earthed.",
        "Live parts. Insulated probes, one hand, a meter of category III; nobody else at the box.",
    ),
    take.LOOP: ("Earth loop of every circuit of lines 1 and 2.", "The test sends a fault current."),
    take.RESIDUAL: (
        "Residual-current devices.", "Tell everybody: it switches off what hangs behind it.",
    ),
    take.IDLING: (
        "Start the converter with every machine switched off and its outlets open; hear it run up "
        "within a second or two. Prove the direction: the phase-sequence relay agrees before an "
        "outlet lives. Then measure.",
        "Line 3 is live whenever the idler turns, with the plug out too. An idler that hums and "
        "does not turn is switched off at once.",
    ),
    take.DISCHARGE: (
        "Stop the converter, wait for the shaft, then for the resistors, and measure every bank.",
        "A turning idler charges its capacitors anew: shaft at rest first. Never short a capacitor "
        "with a screwdriver.",
    ),
    take.DRIVE: (
        "Drives: enter the settings of their sheets, then look at the link.",
        "The capacitors in a drive stay charged for minutes: wait as marked on it, then measure.",
    ),
    take.UNCOUPLED: (
        "Each motor by itself, belt off or coupling open. First touch the button: the shaft must "
        "turn the right way; if not, swap two lines at the motor, dead and locked. Then measure.",
        "Guards on, tool out, hands and sleeves clear; one person at the switch.",
    ),
    take.STARTING: (
        "Start each machine as it stands ready for work.", "Stand beside it, not before it.",
    ),
    take.LOADED: (
        "Each motor at its heaviest usual work, then together what may turn together.",
        "A clamp round one insulated wire, fitted while dead.",
    ),
    take.WARM: (
        "After an hour: temperature. A frame too hot to leave a hand on for three seconds (about "
        "60 °C) is measured, not guessed.",
        "Switched off, at rest, proved dead before a lead is taken off.",
    ),
}  # fmt: skip


TITLES: dict[int, str] = {
    take.EARTH: "earth",
    take.INSULATION: "insulation",
    take.WINDING: "windings",
    take.SUPPLY: "supply",
    take.LOOP: "earth loop",
    take.RESIDUAL: "residual current",
    take.IDLING: "the converter idling",
    take.DISCHARGE: "capacitors at rest",
    take.DRIVE: "drives",
    take.UNCOUPLED: "each motor uncoupled",
    take.STARTING: "starting",
    take.LOADED: "at work",
    take.WARM: "warm",
}


def commissioning(of: Paper) -> Sheet | str:
    """The sheet, or why there is none; its steps bear the numbers of the readings."""
    stages = [
        Section(f"Step {number}: {TITLES[number]}", (Steps(steps),))
        for number in WORDS
        if (steps := tuple(_steps(of, number)))
    ]
    if not stages:
        return "no reading is computed for this plan"
    first = Section(
        "",
        (
            Paragraph(
                "Go on only while every reading lies within its bounds. Bounds hold what is not "
                "known of supply, iron, capacitors and load, and the class of the meter."
            ),
            Paragraph(f"{BY_CODE} Steps on live parts are for those who may.", "caution"),
        ),
    )
    return Sheet("commissioning", "Bringing it into use, step by step", (first, *stages))


def _steps(of: Paper, number: int) -> Iterator[Step]:
    """The steps of one stage: what is read in one state together."""
    by_state: dict[str, list[ReadingExpected]] = {}
    for each in of.readings:
        if each.step == number:
            by_state.setdefault(each.state, []).append(each)
    words, caution = WORDS[number]
    if len(by_state) > 1:
        yield Step(words, caution)
    for state, read in by_state.items():
        measures = tuple(
            Measure(
                of.named(each.between), each.meter, of.expected(each), each.words_if_not,
                of.named(each.subject), marks_of(of, each),
            )
            for each in read
        )  # fmt: skip
        if len(by_state) > 1:
            yield Step(f"{state[0].upper()}{state[1:]}:", "", measures)
        else:
            yield Step(f"{words} State: {state}.", caution, measures)
