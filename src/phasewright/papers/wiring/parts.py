"""The devices that units have in common, each with the terminal marks of its kind.

Contacts and coils: 1 to 6 main, 13-14 and on make, 21-22 and on break, 95-96 the break contact of
an overload relay, A1-A2 a coil (EN 50005, EN 50011 and EN 50012, from memory).
"""

from __future__ import annotations

from phasewright.papers.wiring.draft import Sheet
from phasewright.papers.wiring.model import Device, Pairs

Poles = tuple[tuple[str, str], ...]
MAIN: Poles = (("1", "2"), ("3", "4"), ("5", "6"))
LINES = ("L1", "L2", "L3")


def amps(number: float | None) -> str:
    """An ampere figure in words, empty where there is none."""
    return "" if number is None else f"{number:.3g} A"


def breaker(sheet: Sheet, poles: int, number: int = 1, words: str = "") -> Device:
    """The protective device at the origin of a circuit, all poles together."""
    return sheet.device(
        "breaker", number, words or f"protective device of the circuit, {poles} poles together",
        _ends(MAIN[:poles]), closed=MAIN[:poles],
    )  # fmt: skip


def isolator(sheet: Sheet, poles: int, *, priced: bool = False) -> Device:
    """A lockable isolator, all poles together."""
    return sheet.device(
        "isolator", 1, f"isolator, lockable, {poles} poles", _ends(MAIN[:poles]),
        closed=MAIN[:poles], priced=priced,
    )  # fmt: skip


def contactor(
    sheet: Sheet,
    number: int,
    words: str,
    poles: int,
    *,
    makes: int = 2,
    rating: float | None = None,
    priced: bool = False,
) -> Device:
    """A contactor with main poles, a coil, and `makes` auxiliary make contacts (13-14, 23-24)."""
    helping = tuple((f"{k}3", f"{k}4") for k in range(1, makes + 1))
    return sheet.device(
        "contactor", number, words, (*_ends(MAIN[:poles]), *_ends(helping), "A1", "A2"),
        closed=(*MAIN[:poles], *helping), coil=("A1", "A2"), rating=rating, rating_unit="A",
        specification=amps(rating), priced=priced,
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
        "emergency_stop", number, "emergency stop, stays in until turned back", _ends(pairs),
        closed=pairs,
    )  # fmt: skip


def strip(
    sheet: Sheet, number: int, words: str, terminals: tuple[str, ...], sources: tuple[str, ...] = ()
) -> Device:
    """A terminal strip."""
    return sheet.device("strip", number, words, terminals, sources=sources)


def lamp(sheet: Sheet, words: str) -> Device:
    """An indicator lamp."""
    return sheet.device("lamp", 1, words, ("X1", "X2"))


def discharge(sheet: Sheet, number: int | str, words: str, *, priced: bool) -> Device:
    """A resistor that stays across a capacitor."""
    return sheet.device("discharge_resistor", number, words, ("1", "2"), priced=priced)


def _ends(pairs: Pairs) -> tuple[str, ...]:
    return tuple(end for pair in pairs for end in pair)
