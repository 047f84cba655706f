"""Facts of a shop that are typed in one box: two readings with a slash, loads a line each."""

from __future__ import annotations

from typing import Any

from phasewright.files.shop_writing import entries_of
from phasewright.quantities.errors import QuantityError
from phasewright.quantities.units import parse_several, spelt
from phasewright.shop.interview import NAMED_AMPS
from phasewright.shop.model import Shop

Entries = dict[str, Any]
MARKS: dict[str, tuple[str, Any]] = {
    "may wait": ("can_wait", True),
    "one line": ("lines", "one"),
    "heater": ("type", "heater"),
    "motor": ("type", "motor"),
    "electronic": ("type", "electronic"),
}
"""What may stand behind a load, after commas, and what it says."""


def measured_of(shop: Shop) -> str:
    """The lowest and the highest reading as they are typed."""
    read = shop.supply.measured_voltage
    return "" if read is None else spelt((read.low.number, read.high.number), "voltage")


def measured_typed(text: str, _: Shop) -> Entries | None:
    """Readings typed as `236/251 V`; raises QuantityError for more than two."""
    if not text:
        return None
    volts = parse_several(text, "voltage")
    if len(volts) > 2:
        raise QuantityError(f"'{text[:60]}' gives {len(volts)} values", "the lowest, the highest")
    return {"low": spelt(volts[:1], "voltage"), "high": spelt(volts[-1:], "voltage")}


def loads_of(shop: Shop) -> str:
    """What else hangs on the service, a line each, with what is so of it behind commas."""
    rows = []
    for load in shop.supply.other_loads:
        known = entries_of(load, shop.region)
        marks = [words for words, (key, entry) in MARKS.items() if known.get(key) == entry]
        rows.append(", ".join([f"{load.name} {spelt((load.current.number,), 'current')}", *marks]))
    return "\n".join(rows)


def loads_typed(text: str, _: Shop) -> list[Entries] | None:
    """Loads typed a line each as `car 32 A, may wait, electronic`.

    Raises QuantityError for lines without amps or with words behind them that are none of these.
    """
    loads: list[Entries] = []
    wrong: list[QuantityError] = []
    for line in filter(None, (row.strip() for row in text.splitlines())):
        try:
            loads.append(_load(line))
        except QuantityError as refused:
            wrong.append(refused)
    if wrong:
        raise QuantityError("; ".join(one.found for one in wrong), wrong[0].allowed)
    return loads or None


def _load(line: str) -> Entries:
    words = line
    marks: list[str] = []
    while (parts := words.rpartition(","))[1] and (mark := parts[2].strip().casefold()) in MARKS:
        words, marks = parts[0].rstrip(" ,"), [*marks, mark]
    named = NAMED_AMPS.fullmatch(words)
    if named is None:
        behind = f"; behind it may stand {', '.join(MARKS)}"
        raise QuantityError(
            f"'{line[:60]}' tells no amps", f"write for example 'kettle 9 A'{behind}"
        )
    return {"name": named[1], "current": named[2]} | dict(MARKS[mark] for mark in marks)
