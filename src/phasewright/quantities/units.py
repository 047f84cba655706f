"""The only place where text becomes a number and a number becomes text.

Inside the house stand bare SI floats (rpm, °C and dB(A) stay). Nothing is guessed: what can be
read in two ways is refused with both readings named.
"""

from __future__ import annotations

import re
from decimal import Context, Decimal
from math import gcd, isfinite

from phasewright.quantities.codes import Quantity
from phasewright.quantities.errors import QuantityError
from phasewright.quantities.kinds import AWG_NUMBERS, KINDS, OFFSETS, Kind, gauge_area_m2

LONGEST = 80
MAX = 1e300
FIGURES = 14
"""Significant figures that are read: fewer than a float holds, so that the last bit, which differs
between a fact in hp and the same in kW, never decides a choice."""
_FIGURES = Context(prec=FIGURES)
_NUMBER = re.compile(r"[+-]?(?:[0-9]+(?:[.,][0-9]+)*|[.,][0-9]+)(?:[eE][+-]?[0-9]+)?")
_MIXED = re.compile(r"([0-9]+)[ -]+([0-9]+)/([0-9]+)(?= *[a-zA-Z])")
_FRACTION = re.compile(r"([0-9]+)/([0-9]+)")
_RANGE = re.compile(r"(?<=\d) ?[-\u2013] ?(?=\d)")
_GAUGE = re.compile(r"#? *([0-9]+(?:/0)?) *(?:AWG|awg)|(?:AWG|awg) *#? *([0-9]+(?:/0)?)")
_TRADE_FRACTIONS = (2, 3, 4, 6, 8, 10, 12, 16, 20)
_SPELLING = str.maketrans(
    {
        "\u00a0": " ", "\u202f": " ", "\u2009": " ", "\t": " ",
        "\u03bc": "µ", "\u2126": "Ω", "\u2212": "-",
        "·": " ", "⋅": " ", "*": " ",
    }
)  # fmt: skip


def parse(
    text: str, kind: Quantity, *, low: float | None = None, high: float | None = None
) -> float:
    """The number in SI that the text says.

    `kind` names what is wanted, one of `phasewright.quantities.codes.Quantity`. Raises
    QuantityError where the text is no single quantity of that kind, where it can be read in
    two ways, or where the number is not within `low` and `high` (in SI; without them the bounds
    are those beyond which no quantity of the kind is credible).

    >>> parse("2.2 kW", "power")
    2200.0
    """
    numbers = parse_several(text, kind, low=low, high=high)
    if len(numbers) != 1:
        raise QuantityError(
            f"'{text.strip()}' gives {len(numbers)} values",
            f"write one value, for example '{KINDS[kind].example}'",
        )
    return numbers[0]


def parse_several(
    text: str, kind: Quantity, *, low: float | None = None, high: float | None = None
) -> tuple[float, ...]:
    """One or two numbers in SI, in the order in which they are stamped.

    Volts and amps may be stamped as ranges (208-230/460 V, 220-240/380-415 V): each end is then
    a number of its own. Raises QuantityError as `parse` does, and for more than two ranges.

    >>> parse_several("230/400 V", "voltage")
    (230.0, 400.0)
    >>> parse_several("208-230/460 V", "voltage")
    (208.0, 230.0, 460.0)
    """
    of = KINDS[kind]
    shown = _shown(text)
    if len(text) > LONGEST:
        raise QuantityError(f"'{shown}' is too long", f"write for example '{of.example}'")
    clean = " ".join(text.translate(_SPELLING).split())
    if kind == "area" and (gauge := _GAUGE.fullmatch(clean)):
        return (_gauge(shown, gauge.group(1) or gauge.group(2)),)
    clean = _mixed_fraction(clean)
    most = 2
    if kind in ("voltage", "current") and _RANGE.search(clean):
        clean, most = _RANGE.sub("/", clean), 4
    numbers, unit = _split(clean, shown, of)
    factor = _factor(numbers, unit, shown, of, kind)
    if kind == "power" and factor not in (1.0, 1e3):
        _refuse_fraction(numbers, unit, shown)
    if len(numbers) > most:
        raise QuantityError(f"'{shown}' gives {len(numbers)} values", "write one or two")
    return tuple(
        _bounded(_times(_number(number, shown, kind), factor, unit), shown, kind, low, high)
        for number in numbers
    )


def format(number: float, kind_or_unit: str, digits: int = 3, *, region: str = "IEC") -> str:
    """The number as an owner reads it: `2.2 kW`, `8.6 A`, `47.5 µF`, `8 AWG` in an NEC region.

    `kind_or_unit` is a kind (`power`) or an SI unit of a kind (`W`). `digits` counts
    significant figures; a figure before the decimal point is never rounded away. What is
    printed reads back as the same number to that rounding. Raises QuantityError for a number
    that is not finite and for an unknown kind or unit.
    """
    kind = _kind_named(kind_or_unit)
    if not isfinite(number):
        raise QuantityError(f"{number} is not a finite number", "only finite numbers are printed")
    if kind == "area" and region == "NEC" and (gauge := _gauge_named(number)):
        return f"{gauge} AWG"
    of = KINDS[kind]
    unit = of.printed[0]
    for larger in of.printed[1:]:
        if abs(number) >= 0.9995 * of.units[larger]:
            unit = larger
    figures = _figures(number / of.units[unit], digits, kind)
    return f"{figures} {'µF' if unit == 'uF' else unit}"


def spelt(numbers: tuple[float, ...], kind: Quantity, region: str = "IEC") -> str:
    """The shortest text of a shop file that reads back as these numbers, to `FIGURES` figures.

    >>> spelt((8.6, 5.0), "current")
    '8.6/5 A'
    """
    of = KINDS[kind]
    if kind == "area" and (gauge := _gauge_named(numbers[0])):
        text = f"{gauge} AWG"
        if parse(text, kind) == numbers[0]:
            return text
    numbers = tuple(_kept(Decimal(repr(number))) for number in numbers)
    found: list[str] = []
    for unit in of.written[:: -1 if region == "NEC" else 1]:
        factor, offset = Decimal(repr(of.units[unit])), Decimal(repr(OFFSETS.get(unit, 0.0)))
        figures = [_unlike_thousands(_shortest(number, factor, offset), kind) for number in numbers]
        text = f"{_stamped(figures)} {unit}"
        try:
            same = parse_several(text, kind, low=-MAX, high=MAX) == numbers
        except QuantityError:
            same = False
        if same:
            found.append(text)
    return min(found, key=len)


def _stamped(figures: list[str]) -> str:
    """One or two figures with a slash; three or four as ranges, as 208-230/460."""
    if len(figures) <= 2:
        return "/".join(figures)
    return "/".join("-".join(figures[at : at + 2]) for at in range(0, len(figures), 2))


def _shortest(number: float, factor: Decimal, offset: Decimal) -> str:
    """The fewest figures that give the number back."""
    exact = (Decimal(repr(number)) - offset) / factor
    for digits in range(1, 18):
        figures = Decimal(f"{exact:.{digits}g}")
        if _kept(figures * factor + offset) == number:
            return _unpowered(figures)
    return _unpowered(exact)


def _unpowered(figures: Decimal) -> str:
    text = f"{figures:f}"
    if len(text) > 25:
        return f"{figures.normalize():e}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def _kind_named(name: str) -> Quantity:
    for kind, of in KINDS.items():
        if name in (kind, of.si):
            return kind
    raise QuantityError(f"'{name}' is no kind of quantity", f"one of {', '.join(KINDS)}")


def _figures(number: float, digits: int, kind: Quantity) -> str:
    if number == 0:
        return "0"
    whole = len(str(int(abs(number)))) if abs(number) >= 1 else 0
    text = f"{number:.{max(digits, whole)}g}"
    if "e" in text:
        text = f"{float(text):.15f}" if abs(number) < 1 else f"{float(text):.0f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return _unlike_thousands(text, kind)


def _unlike_thousands(text: str, kind: Quantity) -> str:
    """A speed with three figures after the point gets a fourth, or it reads as thousands."""
    return f"{text}0" if kind == "speed" and re.fullmatch(r"-?[0-9]+\.[0-9]{3}", text) else text


def _gauge_named(area_m2: float) -> str | None:
    for name, number in AWG_NUMBERS.items():
        if abs(area_m2 / gauge_area_m2(number) - 1) < 0.005:
            return name
    return None


def _shown(text: str) -> str:
    clean = "".join(c if c.isprintable() else "?" for c in text.strip())
    return clean if len(clean) <= LONGEST else clean[:LONGEST] + "…"


def _gauge(shown: str, name: str) -> float:
    if name not in AWG_NUMBERS:
        raise QuantityError(
            f"'{shown}' is no wire gauge", "write 40 to 1, or 1/0, 2/0, 3/0, 4/0, as '8 AWG'"
        )
    return gauge_area_m2(AWG_NUMBERS[name])


def _mixed_fraction(clean: str) -> str:
    """`1 1/2 hp` with the fraction as a decimal: the whole number before it tells what it is."""
    mixed = _MIXED.match(clean)
    if not mixed:
        return clean
    whole, over, under = (int(part) for part in mixed.groups())
    if under not in _TRADE_FRACTIONS or over >= under:
        return clean
    return f"{whole + over / under!r}{clean[mixed.end() :]}"


def _split(clean: str, shown: str, of: Kind) -> tuple[list[str], str]:
    """The numbers and the unit of a text such as `8.6 / 5.0 A`."""
    numbers: list[str] = []
    at = 0
    while number := _NUMBER.match(clean, at):
        numbers.append(number.group())
        rest = clean[number.end() :].lstrip()
        if not re.match(r"/ *[0-9+-]", rest):
            return numbers, rest
        at = len(clean) - len(rest[1:].lstrip())
    raise QuantityError(f"'{shown}' is not {of.words}", f"write for example '{of.example}'")


def _factor(numbers: list[str], unit: str, shown: str, of: Kind, kind: Quantity) -> float:
    if unit in of.units:
        return of.units[unit]
    if not unit:
        raise QuantityError(
            f"'{shown}' has no unit", f"write {of.words} with its unit, for example '{of.example}'"
        )
    if kind == "capacitance" and unit == "mF":
        raise QuantityError(
            f"'{shown}' can be read in two ways: old cans print mF for microfarads",
            f"write '{numbers[0]} uF' if the microfarad is meant",
        )
    if re.match(r"[0-9]", unit):
        raise QuantityError(
            f"'{shown}' has a space or a sign inside the number",
            f"write the number in one piece, for example '{of.example}'",
        )
    raise QuantityError(f"'{shown}' is not {of.words}", f"write for example '{of.example}'")


def _refuse_fraction(numbers: list[str], unit: str, shown: str) -> None:
    """`1/2 hp` is half a horsepower on one plate and two speeds on another."""
    if len(numbers) != 2 or not (fraction := _FRACTION.fullmatch("/".join(numbers))):
        return
    over, under = (int(part) for part in fraction.groups())
    if under in _TRADE_FRACTIONS and 0 < over < under and gcd(over, under) == 1:
        raise QuantityError(
            f"'{shown}' can be read in two ways",
            f"write '{over / under:.4g} {unit}' for the fraction, "
            f"or '{over}.0/{under}.0 {unit}' for two speeds",
        )


def _times(numeral: str, factor: float, unit: str) -> float:
    """Numeral times factor to `FIGURES`, so that 30 uF is 3e-5 F to the last bit."""
    if not isfinite(float(numeral)):
        return float(numeral)
    product = Decimal(numeral) * Decimal(repr(factor))
    return _kept(product + Decimal(repr(OFFSETS[unit])) if unit in OFFSETS else product)


def _kept(exact: Decimal) -> float:
    """A number as the house keeps it: one fact in two units is one number, to the last bit."""
    return float(_FIGURES.plus(exact))


def _number(text: str, shown: str, kind: Quantity) -> str:
    """One numeral with a decimal point; a decimal comma is read right or refused."""
    points = text.count(",") + text.count(".")
    if points > 1:
        raise QuantityError(
            f"'{shown}' has more than one point or comma in a number",
            "write it without separators, with one decimal point",
        )
    head, comma, tail = text.partition(",")
    if comma and len(tail) == 3 and tail.isdigit() and head.lstrip("+-").strip("0"):
        raise QuantityError(
            f"'{shown}' can be read in two ways: {head}{tail} or {head}.{tail}",
            "write it without a comma, with a decimal point where one is meant",
        )
    whole, point, rest = text.partition(".")
    if kind == "speed" and point and len(rest) == 3 and rest.isdigit():
        raise QuantityError(
            f"'{shown}' can be read in two ways: {whole}{rest} or {whole}.{rest}",
            f"write '{whole}{rest} rpm' if that is meant",
        )
    return text.replace(",", ".")


def _bounded(
    number: float, shown: str, kind: Quantity, low: float | None, high: float | None
) -> float:
    low = KINDS[kind].low if low is None else low
    high = KINDS[kind].high if high is None else high
    if not isfinite(number) or not low <= number <= high:
        raise QuantityError(
            f"'{shown}' is not credible here",
            f"between {format(low, kind)} and {format(high, kind)}",
        )
    return number
