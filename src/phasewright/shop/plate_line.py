"""One line typed off a motor's plate, in any order: `3 HP 220/440V 8.4/4.2A 1430 RPM 50Hz`.

Every number must belong to something: what is left over is refused, never dropped. A unit may
stand behind its number or, all through a stretch of the line, before it (`kW 2,2  V 220/380`).
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from phasewright.quantities.codes import Quantity
from phasewright.quantities.errors import QuantityError
from phasewright.quantities.units import parse_several
from phasewright.shop.plate_words import (
    CONNECTION,
    LABELLED,
    NOT_USED,
    NOUGHT,
    RESPELT,
    SPELLING,
    STAMPED_VOLTS,
    UNITS,
    Found,
    connection_of,
)

EXAMPLE = "write for example '2.2 kW 230/400 V 8.6/5.0 A 50 Hz 1430 rpm'"
LONGEST = 400
MOST_PARTS = 16
"""The smallest part of a horsepower in which motors are sold."""
SAME_POWER = 0.06
"""How far watts and horsepower of one plate lie apart by rounding (common practice, no source)."""
_KEYS: dict[Quantity, str] = {
    "power": "power", "voltage": "voltage", "current": "current", "speed": "speed",
    "frequency": "frequency", "capacitance": "capacitor",
}  # fmt: skip
_NUMERAL = r"(?:[0-9]+(?:[.,][0-9]+)*|[.,][0-9]+)"
_NUMBER = re.compile(
    rf"[0-9]+[ -][0-9]+/[0-9]+(?=\s*(?:h\.?p|ps|cv|ch)\b)|{_NUMERAL}(?:\s*[-–/]\s*{_NUMERAL})*",
    re.IGNORECASE,
)
_UNIT = re.compile(
    "(?:"
    + "|".join(re.escape(unit) for unit in sorted(UNITS, key=len, reverse=True))
    + r")(?![^\W\d_])",
    re.IGNORECASE,
)
_REST = re.compile(r"\w[^\s,;|]*|[^\s,;|]")
_ONE_OVER = re.compile(r"1/min(?!\w)", re.IGNORECASE)
_HALF = re.compile(r"([0-9]+)/([0-9]+)")


@dataclass(frozen=True, slots=True)
class PlateLine:
    """What a line says: entries for the keys of `plate`, what was not used, what to know."""

    entries: dict[str, Any]
    unused: tuple[str, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Token:
    kind: str  # number, unit, or other
    text: str
    start: int
    end: int


def read_plate_line(line: str) -> PlateLine:
    """The facts of a plate typed in one line, as entries of the shop file.

    Raises QuantityError for a number without a unit, a unit without a number, what can be read
    in two ways, and facts that are told twice and differ. What stands on plates and is not
    used (frame, protection, duty, temperature rise) is listed in `unused`.

    >>> read_plate_line("3 HP 220/440V 8.4/4.2A 1430 RPM 50Hz").entries["current"]
    '8.4/4.2 A'
    """
    if len(line) > LONGEST or not line.strip():
        raise QuantityError("no plate in this line", EXAMPLE)
    text = " ".join(line.translate(SPELLING).split())
    found: list[Found] = []
    notes: list[str] = []
    if NOUGHT.search(text):
        text = NOUGHT.sub("0", text)
        notes.append(f"The letter O was read as a nought: {text}.")
    text = _stamped_volts(text, found)
    for pattern, made in RESPELT:
        text = pattern.sub(made, text)
    for pattern, read in LABELLED:
        text = _taken(text, pattern, read, found)
    unused: list[str] = []
    for pattern in NOT_USED:
        unused += [match.group().strip() for match in pattern.finditer(text)]
        text = pattern.sub(_blank, text)
    text = _taken(text, CONNECTION, connection_of, found)
    paired = list(_paired(list(_tokens(text, unused))))
    speeds = sum(len(re.split("[/–-]", n)) for n, unit in paired if _kind(unit) == "speed")
    found += [_quantity(number, unit, one_speed=speeds == 1) for number, unit in paired]
    notes += [
        f"{duty.strip()}: the plate's power is not meant for ever (IEC 60034-1); tell how many of "
        "ten minutes it is under load."
        for duty in unused if re.match(r"S[2-9]", duty.strip(), re.IGNORECASE)
    ]  # fmt: skip
    return _collected(found, tuple(unused), notes)


def _blank(match: re.Match[str]) -> str:
    """A gap that keeps two neighbours apart."""
    return " ; "


def _stamped_volts(text: str, found: list[Found]) -> str:
    """`220Δ/380Y V` is two voltages and the links that belong to them."""
    if match := STAMPED_VOLTS.search(text):
        found.append(("connection", "D/Y"))
        low, high = (volts for volts in match.groups() if volts)
        volts = f" {low}/{high} V "
        return text[: match.start()] + volts + text[match.end() :]
    return text


def _taken(text: str, pattern: re.Pattern[str], read: Any, found: list[Found]) -> str:
    for match in pattern.finditer(text):
        found.append(read(match))
    return pattern.sub(_blank, text)


def _tokens(text: str, unused: list[str]) -> Iterator[_Token]:
    at = 0
    while at < len(text):
        if match := _ONE_OVER.match(text, at):
            yield _Token("unit", match.group(), match.start(), match.end())
        elif match := _NUMBER.match(text, at):
            glued = _REST.match(text, match.end())
            if glued and not _UNIT.match(text, match.end()) and glued.group()[0].isalpha():
                unused.append(text[match.start() : glued.end()])  # a frame such as 112M
                at = glued.end()
                continue
            yield _Token("number", match.group(), match.start(), match.end())
        elif match := _UNIT.match(text, at):
            yield _Token("unit", match.group(), match.start(), match.end())
        elif match := _REST.match(text, at):
            if re.search(r"\w", match.group()):
                unused.append(match.group())
            yield _Token("other", match.group(), match.start(), match.end())
        else:
            if text[at] in ";|":
                yield _Token("other", text[at], at, at + 1)
            at += 1
            continue
        at = match.end()


def _paired(tokens: list[_Token]) -> Iterator[tuple[str, str]]:
    """Numbers with their units: those that touch first, then stretch by stretch."""
    stretch: list[_Token] = []
    place = 0
    while place < len(tokens):
        here = tokens[place]
        after = tokens[place + 1] if place + 1 < len(tokens) else None
        if after and _touch(here, after):
            yield from _stretch(stretch)
            stretch = []
            number, unit = (here, after) if here.kind == "number" else (after, here)
            yield number.text, unit.text
            place += 2
            continue
        if here.kind == "other" or (stretch and stretch[-1].kind == here.kind):
            yield from _stretch(stretch)
            stretch = []
        if here.kind != "other":
            stretch.append(here)
        place += 1
    yield from _stretch(stretch)


def _touch(here: _Token, after: _Token) -> bool:
    """True for `230V` with nothing between, but not where the unit touches on both sides."""
    return {here.kind, after.kind} == {"number", "unit"} and here.end == after.start


def _stretch(stretch: list[_Token]) -> Iterator[tuple[str, str]]:
    """A stretch of numbers and units by turns: whichever begins, the other belongs to it."""
    if len(stretch) % 2:
        odd = stretch[-1] if stretch[0].kind == "number" else stretch[0]
        what = "has no unit" if odd.kind == "number" else "stands without a number"
        raise QuantityError(f"'{odd.text}' {what}", _meant(odd.text))
    for first, second in zip(stretch[::2], stretch[1::2], strict=True):
        number, unit = (first, second) if first.kind == "number" else (second, first)
        yield number.text, unit.text


def _meant(text: str) -> str:
    """What may be written for a number that belongs to nothing."""
    if re.fullmatch(r"(?:18|19|20)[0-9]{2}", text):
        return f"write 'made {text}' for a year, '{text} rpm' for a speed"
    return EXAMPLE


def _kind(unit: str) -> Quantity:
    return UNITS[unit.casefold()][0]


def _quantity(number: str, unit: str, *, one_speed: bool) -> Found:
    kind, spelling = UNITS[unit.casefold()]
    half = _HALF.fullmatch(number)
    if kind == "power" and one_speed and half and int(half[1]) < int(half[2]) <= MOST_PARTS:
        number = f"{int(half[1]) / int(half[2]):.6g}"  # two powers would stand beside two speeds
    clean = re.sub(r"\s*([/–-])\s*", lambda match: match.group(1), number)
    if not re.search(r" |[0-9]-[0-9]+/[0-9]+$", clean):
        clean = clean.replace(",", ".") if not re.search(r",[0-9]{3}(?![0-9])", clean) else clean
    text = f"{clean} {spelling}"
    parse_several(text, kind)
    return _KEYS[kind], text


def _collected(found: list[Found], unused: tuple[str, ...], notes: list[str]) -> PlateLine:
    told: dict[str, list[Any]] = {}
    for key, entry in found:
        if entry not in told.setdefault(key, []):
            told[key].append(entry)
    entries: dict[str, Any] = {}
    if "capacitor" in told:
        told["capacitor"] = [True]
    for key, values in told.items():
        entry = _one(key, values, len(_numbers(told, "speed", "speed")))
        if key == "frequency" and len(parse_several(entry, "frequency")) > 1:
            notes.append(f"{entry}: the plate is for both, so frequency is left out.")
            continue
        entries[key] = entry
    return PlateLine(entries, unused, tuple(notes))


def _numbers(told: dict[str, list[Any]], key: str, kind: Quantity) -> tuple[float, ...]:
    return tuple(n for text in told.get(key, []) for n in parse_several(text, kind))


def _one(key: str, values: list[Any], speeds: int) -> Any:
    """One entry of what is told once, or twice in a way that fits together."""
    if len(values) == 1:
        return values[0]
    if key == "power" and speeds < 2:
        watts = [parse_several(text, "power") for text in values]
        same = all(
            len(other) == len(watts[0])
            and all(abs(a / b - 1) < SAME_POWER for a, b in zip(other, watts[0], strict=True))
            for other in watts
        )
        if same:
            return values[0]
    elif key == "connection" and len(values) == 2 and set(values) == {"D", "Y"}:
        return "/".join(values)
    elif key in ("voltage", "current", "speed", "power") and len(values) == 2:
        (first, unit), (second, other) = (text.rsplit(" ", 1) for text in values)
        if unit == other and not re.search(r"[/ -]", first + second):
            return f"{first}/{second} {unit}"
    shown = " and ".join(f"'{value}'" for value in values)
    raise QuantityError(
        f"{key.replace('_', ' ')} is told twice: {shown}",
        f"type the one row of the plate that belongs to your supply; {EXAMPLE}",
    )
