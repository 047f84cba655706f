"""The figures in a sentence: where they stand in it, and to what each of them leads.

A sentence tells of some figures where in the answer they stand (`Said`); those lead there. Every
other number with a unit leads to the sentence's own working. Nothing is found by equal numbers.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from phasewright.quantities.finding import Said

_UNITS = (
    "%", "kWh", "kW", "kVA", "kV", "kA", "kJ", "kHz", "kohm", "kg m2", "kg", "dB(A)", "µF", "mΩ",
    "mA", "mH", "ms", "mm²", "mm2", "mm", "milliohm", "megohm", "Mohm", "ohm", "Ω", "hp", "Hz",
    "N m", "Nm", "rpm", "VA", "°C", "AWG", "min", "hours", "times", "h", "A", "J", "V", "W", "s",
    "m", "l",
)  # fmt: skip
_DIGITS = r"[-\N{MINUS SIGN}]?\d+(?:[.,]\d+)*"


@dataclass(frozen=True, slots=True)
class Span:
    """Words of a sentence; those with `at` are a figure and lead to that place. `own` figures have
    a working of their own, the others that of the sentence."""

    words: str
    at: str = ""
    own: bool = False


@lru_cache(maxsize=16)
def _numbers(currency: str | None) -> re.Pattern[str]:
    """Numbers with a unit, ranges of them and pairs among them."""
    units = [re.escape(unit) for unit in (*_UNITS, *filter(None, (currency,)))]
    unit = "|".join(sorted(units, key=len, reverse=True))
    joined = rf"(?:(?:/| to |-|, | and ){_DIGITS})*"
    return re.compile(rf"(?<![\w.,/-]){_DIGITS}{joined}[\s\N{{NO-BREAK SPACE}}]?(?:{unit})(?!\w)")


def spans(
    words: str, at: str, figures: Sequence[Said] | None = None, currency: str | None = None
) -> tuple[Span, ...]:
    """A sentence in pieces. `at` is the place of the sentence in the result file."""
    base = at.rsplit("/", 2)[0]
    whole = at
    cuts: list[tuple[int, int, str]] = []
    after = 0
    for each in figures or ():
        if not each.words:
            whole = absolute(each.at[0], base)
            continue
        there = re.compile(rf"(?<![\w.,]){re.escape(each.words)}").search(words, after)
        if there is None:
            raise ValueError(f"{each.words!r} does not stand in {words!r}")
        start, after = there.span()
        cuts.append((start, after, absolute(each.at[0], base) if len(each.at) == 1 else at))
    found: list[Span] = []
    after = 0
    for start, end, place in (*cuts, (len(words), len(words), "")):
        found += _told(words[after:start], whole, currency)
        if place:
            found.append(Span(words[start:end], place, own=place != at))
        after = end
    return tuple(_merged(found))


def _merged(found: list[Span]) -> list[Span]:
    """Words that lead nowhere in one piece."""
    merged: list[Span] = []
    for span in found:
        if merged and not span.at and not merged[-1].at:
            merged[-1] = Span(merged[-1].words + span.words)
        else:
            merged.append(span)
    return merged


def absolute(pointer: str, base: str) -> str:
    """A pointer of a `Said` from the root of the result file."""
    return pointer if pointer.startswith("/") else f"{base}/{pointer}"


def _told(words: str, at: str, currency: str | None) -> list[Span]:
    found: list[Span] = []
    after = 0
    for number in _numbers(currency).finditer(words):
        found += [Span(words[after : number.start()]), Span(number[0], at)]
        after = number.end()
    return [span for span in (*found, Span(words[after:])) if span.words]
