"""What each motor can run on, on the screen; words that several motors share stand once."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from rich.console import Console
from rich.text import Text

from phasewright.command.screen import amount, heading, line, money, shape, spread
from phasewright.plan.study import MotorSide, WaySide
from phasewright.quantities.words import VERDICT_WORDS, WAY_WORDS
from phasewright.ways.figures import Figures

_LONG = 60
_NOT_COMPUTED = "not_computed_yet"


def motors(console: Console, motors: Sequence[MotorSide]) -> None:
    """Every motor with every way: verdict, key figures, reasons."""
    heading(console, "What each motor can run on, judged alone")
    notes = _repeated(motors)
    for motor in motors:
        console.print()
        console.print(Text.assemble("  ", (motor.id, "bold")))
        line(console, _rated(motor), inset=4)
        _words(console, [motor.connection_words], notes, inset=4)
        for ways in _alike(motor.ways):
            _way(console, ways, notes, told=motor.connection_words)
    for words, number in notes.items():
        if number == 1:
            console.print()
        line(console, words, mark=Text(f"({number})"))


def _repeated(motors: Sequence[MotorSide]) -> dict[str, int]:
    """Long words that several motors share, numbered: they stand once, under the last motor."""
    shared: dict[str, int] = {}
    for motor in motors:
        said = {
            reason.words
            for way in motor.ways
            if not _later(way)
            for reason in (*way.reasons, *way.conditions)
        }
        for words in sorted(said | {motor.connection_words}):
            shared[words] = shared.get(words, 0) + 1
    long = [words for words, times in shared.items() if times > 1 and len(words) > _LONG]
    return {words: number for number, words in enumerate(long, start=1)}


def _words(console: Console, said: Sequence[str], notes: dict[str, int], inset: int) -> None:
    """Lines of words; those in the notes by their number only."""
    for words in said:
        if words and words not in notes:
            line(console, words, inset=inset)
    numbers = sorted(notes[words] for words in said if words in notes)
    if numbers:
        line(console, "see " + ", ".join(f"({number})" for number in numbers), inset=inset)


def _rated(motor: MotorSide) -> str:
    parts = [
        "" if value is None else amount(value.number, value.unit)
        for value in (motor.rated_power_w, motor.rated_speed_rpm, motor.line_voltage_v)
    ]
    if motor.full_load_current_a is not None:
        parts.append(spread(motor.full_load_current_a))
    return ", ".join(part for part in parts if part)


def _later(way: WaySide) -> bool:
    return {reason.code for reason in way.reasons} == {_NOT_COMPUTED}


def _alike(ways: Iterable[WaySide]) -> list[list[WaySide]]:
    """Ways in the order suits, with conditions, refused; those not computed stand together."""
    groups: dict[str, list[WaySide]] = {}
    order = list(VERDICT_WORDS)
    for way in sorted(ways, key=lambda way: (_later(way), order.index(way.verdict))):
        groups.setdefault(_NOT_COMPUTED if _later(way) else way.way, []).append(way)
    return list(groups.values())


def _way(console: Console, ways: Sequence[WaySide], notes: dict[str, int], told: str) -> None:
    first = ways[0]
    later = _later(first)
    names = "; ".join(WAY_WORDS[way.way] for way in ways)
    key = _key_figures(first.figures)
    head = Text.assemble(
        (VERDICT_WORDS[first.verdict], "bold"), ", not computed yet" if later else "", f": {names}"
    )
    line(console, head.append(f" - {key}" if key else ""), mark=shape(console, first.verdict))
    if not later:
        said = [reason.words for reason in (*first.reasons, *first.conditions)]
        _words(console, [words for words in said if words != told], notes, inset=6)


def _key_figures(figures: Figures) -> str:
    parts = []
    amps = figures.input_current_a
    if amps is not None:
        low, high = amount(amps.low, "A"), amount(amps.high, "A")
        parts.append(f"draws {low}" if low == high else f"draws {low} to {high}")
    if figures.usable_power_w is not None:
        parts.append(f"gives {amount(figures.usable_power_w.number, 'W')} for ever")
    if figures.starting_torque_ratio is not None:
        parts.append(f"starts with {figures.starting_torque_ratio.number:.2g} of rated torque")
    if figures.price is not None:
        parts.append(f"about {money(figures.price.number, None)}")
    return ", ".join(parts)
