"""The devices that units have in common, each with the terminal marks of its kind.

Contacts and coils: 1 to 6 main, 13-14 and on make, 21-22 and on break, 95-96 the break contact of
an overload relay, A1-A2 a coil (EN 50005, EN 50011 and EN 50012, from memory).
"""

from __future__ import annotations

from typing import Unpack

from phasewright.papers.wiring.draft import Facts, Sheet
from phasewright.papers.wiring.model import Device, Pairs
from phasewright.quantities.units import format as shown

Poles = tuple[tuple[str, str], ...]
MAIN: Poles = (("1", "2"), ("3", "4"), ("5", "6"))
POLES: Poles = (*MAIN, ("7", "8"))
"""The fourth is a neutral's."""
LINES = ("L1", "L2", "L3")
BOTH_LINES = LINES[:2]


def amps(number: float | None) -> str:
    """An ampere figure in words, empty where there is none."""
    return "" if number is None else f"{number:.3g} A"


def breaker(
    sheet: Sheet, poles: int, number: int = 1, words: str = "", marked: str = "",
    rating_a: float | None = None,
) -> Device:  # fmt: skip
    """The protective device at the origin of a circuit, all poles together; `marked` is what
    stands on it."""
    return sheet.device(
        "breaker", number, words or f"protective device of the circuit, {poles} poles together",
        _ends(POLES[:poles]), closed=POLES[:poles], rating=rating_a, rating_unit="A",
        specification=marked,
    )  # fmt: skip


def isolator(
    sheet: Sheet, poles: int, *, number: int = 1, words: str = "", priced: bool = False
) -> Device:
    """A lockable isolator, all poles together."""
    return sheet.device(
        "isolator", number, words or f"isolator, lockable, {poles} poles", _ends(POLES[:poles]),
        closed=POLES[:poles], priced=priced,
    )  # fmt: skip


def contactor(
    sheet: Sheet,
    number: int,
    words: str,
    poles: int,
    *,
    makes: int = 2,
    breaks: bool = False,
    rating: float | None = None,
    priced: bool = False,
    coil_v: float | None = None,
) -> Device:
    """A contactor with main poles, a coil, and `makes` auxiliary make contacts (13-14, 23-24), and
    a break contact (61-62) where it `breaks` something."""
    helping = tuple((f"{k}3", f"{k}4") for k in range(1, makes + 1))
    helping += (("61", "62"),) if breaks else ()
    said = (amps(rating), "" if coil_v is None else f"coil {shown(coil_v, 'V')}")
    return sheet.device(
        "contactor", number, words, (*_ends(MAIN[:poles]), *_ends(helping), "A1", "A2"),
        closed=(*MAIN[:poles], *helping), coil=("A1", "A2"), rating=rating, rating_unit="A",
        specification=", ".join(each for each in said if each), priced=priced, rated_v=coil_v,
    )  # fmt: skip


def overload(
    sheet: Sheet, number: int, words: str, setting: float | None, *, priced: bool = False
) -> Device:
    """A three-pole overload relay with its break contact."""
    pairs: Pairs = (*MAIN, ("95", "96"))
    return sheet.device(
        "overload_relay", number, words, _ends(pairs), closed=pairs, rating=setting,
        rating_unit="A", specification=f"set to {amps(setting)}" if setting else "",
        priced=priced,
    )  # fmt: skip


def button(sheet: Sheet, number: int, words: str, *, breaks: bool = False) -> Device:
    """A push-button with one contact, break or make."""
    pair = (("11", "12"),) if breaks else (("13", "14"),)
    return sheet.device(
        "stop_button" if breaks else "start_button", number, words, _ends(pair), closed=pair
    )


def emergency_stop(sheet: Sheet, number: int = 9, contacts: int = 1) -> Device:
    """An emergency stop that stays in when struck; its contacts open against a weld."""
    pairs = tuple((f"{k}1", f"{k}2") for k in range(1, contacts + 1))
    return sheet.device(
        "emergency_stop", number, "emergency stop, stays in until turned back",
        _ends(pairs), closed=pairs,
        specification=f"{contacts} break contact{'' if contacts == 1 else 's'}",
    )  # fmt: skip


def strip(
    sheet: Sheet, number: int, words: str, terminals: tuple[str, ...], **facts: Unpack[Facts]
) -> Device:
    """A terminal strip."""
    return sheet.device("strip", number, words, terminals, **facts)


def lamp(sheet: Sheet, words: str, volts: float | None = None) -> Device:
    """An indicator lamp."""
    said = "" if volts is None else shown(volts, "V")
    return sheet.device("lamp", 1, words, ("X1", "X2"), rated_v=volts, specification=said)


def discharge(sheet: Sheet, number: int | str, words: str, *, priced: bool) -> Device:
    """A resistor that stays across a capacitor."""
    return sheet.device("discharge_resistor", number, words, ("1", "2"), priced=priced)


def _ends(pairs: Pairs) -> tuple[str, ...]:
    return tuple(end for pair in pairs for end in pair)
