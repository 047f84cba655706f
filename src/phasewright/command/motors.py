"""What each motor can run on, on the screen: a table first, then why, each thing said once."""

from __future__ import annotations

from collections.abc import Sequence

from rich.console import Console
from rich.text import Text

from phasewright.command.notes import listed, numbered, seen
from phasewright.command.screen import amount, heading, line, shape, spread
from phasewright.command.verdicts import verdict_table
from phasewright.papers.plan_words import key_figures, sentence
from phasewright.plan.study import MotorSide, WaySide
from phasewright.quantities.codes import WayName
from phasewright.quantities.words import VERDICT_WORDS, WAY_WORDS


def motors(
    console: Console, motors: Sequence[MotorSide], currency: str | None, *, reasons: bool
) -> None:
    """Every motor with every way: a table of verdicts; then figures, conditions and reasons."""
    heading(console, "What each motor can run on, judged alone")
    refused = _everywhere(motors) if len(motors) > 1 else {}
    verdict_table(console, motors, without=frozenset(refused))
    if refused:
        line(console, "For every motor:")
    for way in refused.values():
        _refused(console, way, told="")
    if reasons:
        _each(console, motors, frozenset(refused), currency)
    elif motors:
        line(console, "With --reasons: why, motor by motor, and with what figures.")


def _each(
    console: Console,
    motors: Sequence[MotorSide],
    refused: frozenset[WayName],
    currency: str | None,
) -> None:
    """Motor by motor its ways with figures, conditions and reasons, each thing said once."""
    notes = _repeated(motors)
    for motor in motors:
        console.print()
        console.print(Text.assemble("  ", (motor.id, "bold")))
        line(console, _rated(motor), inset=4)
        _words(console, [motor.connection_words], notes, inset=4)
        for way in _in_order(motor.ways):
            if way.way in refused:
                continue
            if way.verdict == "refused":
                _refused(console, way, told=motor.connection_words)
            else:
                _serves(console, way, notes, motor.connection_words, currency)
    if notes:
        console.print()
    listed(console, notes)


def _everywhere(motors: Sequence[MotorSide]) -> dict[WayName, WaySide]:
    """Ways refused for every motor for the same reasons."""
    found: dict[WayName, WaySide] = {}
    for way in motors[0].ways if motors else ():
        if way.verdict == "refused":
            alike = [
                other
                for motor in motors
                for other in motor.ways
                if other.way == way.way and _why(other) == _why(way)
            ]
            if len(alike) == len(motors):
                found[way.way] = way
    return found


def _why(way: WaySide) -> tuple[str, ...]:
    return (way.verdict, *(reason.words for reason in way.reasons))


def _repeated(motors: Sequence[MotorSide]) -> dict[str, int]:
    """Long words that several motors share, numbered: they stand once, under the last motor."""
    return numbered(words for motor in motors for words in sorted(_said(motor)))


def _said(motor: MotorSide) -> set[str]:
    return {motor.connection_words} | {
        reason.words
        for way in motor.ways
        if way.verdict != "refused"
        for reason in (*way.reasons, *way.conditions)
    }


def _words(console: Console, said: Sequence[str], notes: dict[str, int], inset: int) -> None:
    """Lines of words; those in the notes by their number only."""
    for words in said:
        if words and words not in notes:
            line(console, sentence(words), inset=inset)
    numbers = seen(said, notes)
    if numbers:
        line(console, "see " + ", ".join(numbers), inset=inset)


def _rated(motor: MotorSide) -> str:
    parts = [
        "" if value is None else amount(value.number, value.unit)
        for value in (motor.rated_power_w, motor.rated_speed_rpm, motor.line_voltage_v)
    ]
    if motor.full_load_current_a is not None:
        parts.append(spread(motor.full_load_current_a))
    return ", ".join(part for part in parts if part)


def _in_order(ways: Sequence[WaySide]) -> list[WaySide]:
    """Ways in the order suits, with conditions, refused."""
    order = list(VERDICT_WORDS)
    return sorted(ways, key=lambda way: order.index(way.verdict))


def _refused(console: Console, way: WaySide, *, told: str) -> None:
    """A refused way with its reasons in one breath; the figures behind them are in the file."""
    why = " ".join(sentence(r.words) for r in way.reasons if r.words != told)
    head = Text.assemble((VERDICT_WORDS[way.verdict], "bold"), f": {WAY_WORDS[way.way]}")
    line(console, head.append(f" - {why}" if why else ""), mark=shape(console, way.verdict))


def _serves(
    console: Console, way: WaySide, notes: dict[str, int], told: str, currency: str | None
) -> None:
    """A way that serves: its key figures, then what must be kept to."""
    key = key_figures(way.figures, currency)
    head = Text.assemble((VERDICT_WORDS[way.verdict], "bold"), f": {WAY_WORDS[way.way]}")
    line(console, head.append(f" - {key}" if key else ""), mark=shape(console, way.verdict))
    said = [reason.words for reason in (*way.reasons, *way.conditions)]
    _words(console, [words for words in said if words != told], notes, inset=6)
