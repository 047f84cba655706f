"""Circuits as they stand today, told by an owner who reads what is marked on the parts."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Annotated, Literal

from phasewright.quantities import codes
from phasewright.quantities.value import Value
from phasewright.shop.keys import Number, Quantity, Says, Text

BREAKER_WORDS = "the letter and the amps as marked: B16, C20, D32; of a fuse gG 25 A"
BREAKER_WORDS_NEC = "the amps as marked: 20 A"
_LETTER = re.compile(r"([BCD]) ?([0-9]{1,3})(?: ?A)?")
_FUSE = re.compile(r"gG ?([0-9]{1,3})(?: ?A)?")
_AMPS = re.compile(r"([0-9]{1,3}) ?A")


@dataclass(frozen=True, slots=True, kw_only=True)
class ResidualCurrent:
    """A residual-current device that is already there."""

    rating: Annotated[Value | None, Quantity("current", 0.004, 3)] = None
    type: codes.ResidualType | None = None
    where: str = ""
    delayed: Annotated[bool | None, Says("it is marked S: it waits for devices behind it")] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SocketThere:
    """A socket that is already there, as its lid is marked."""

    rating: Annotated[Value | None, Quantity("current", 1, 250)] = None
    poles: Annotated[
        int | None, Number(2, 4, "a count of poles", whole=True), Says("without its earth pin")
    ] = None
    voltage: Annotated[Value | None, Quantity("voltage", 50, 700)] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class IsolatorThere:
    """An isolator that is already there."""

    rating: Annotated[Value | None, Quantity("current", 1, 2000)] = None
    poles: Annotated[int | None, Number(1, 4, "a count of poles", whole=True)] = None
    lockable: Annotated[bool | None, Says("it can be locked open")] = None
    power: Annotated[
        Value | None, Quantity("power", 100, 1e5), Says("the motor power it is marked for, in hp")
    ] = None
    in_sight: Annotated[bool | None, Says("of what it cuts off")] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class CircuitThere:
    """A circuit as it stands: what protects it, and what stands in it. All of it may be missing."""

    breaker: Annotated[str, Text("a breaker or fuse", 20), Says("as marked: B16, gG 25 A")] = ""
    breaking: Annotated[
        Value | None, Quantity("current", 500, 2e5), Says("short-circuit amps it can break")
    ] = None
    residual_current: Annotated[
        ResidualCurrent | Literal["none"] | None, Says("a device of this circuit's own, or none")
    ] = None
    protective_conductor: Annotated[Value | None, Quantity("area", 1e-7, 1e-3)] = None
    earth_wire: Annotated[codes.EarthWire | None, Says("how the protective conductor runs")] = None
    isolator: IsolatorThere | Literal["none"] | None = None
    undervoltage_release: Annotated[
        bool | None, Says("its contactor or switch drops out, and stays out, without supply")
    ] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class MachineCircuit(CircuitThere):
    """The circuit to a machine of one motor as it stands today."""

    socket: SocketThere | None = None
    overload: Annotated[
        Value | Literal["none"] | None,
        Quantity("current", 0.05, 1000, words=("none",)),
        Says("what its overload relay is set to, or none"),
    ] = None
    overload_units: Annotated[
        int | None,
        Number(1, 3, "a count of heaters or poles", whole=True),
        Says("of its overload relay: how many lines it watches"),
    ] = None
    capacitors_behind_overload: Annotated[
        bool | None, Says("capacitors that go with it hang between relay and motor")
    ] = None
    behind_drive: Annotated[
        tuple[codes.BehindDrive, ...], Says("what opens between a drive and its motor")
    ] = ()


def read_breaker(text: str, region: codes.Region) -> tuple[str | None, float] | None:
    """(letter, amps) of a breaker as it is marked, `gG` for such a fuse, no letter in NEC shops.

    None for a text that is none.
    """
    if region == "NEC":
        found = _AMPS.fullmatch(text)
        return None if found is None else (None, float(found[1]))
    if (letter := _LETTER.fullmatch(text)) is not None:
        return letter[1], float(letter[2])
    fuse = _FUSE.fullmatch(text)
    return None if fuse is None else ("gG", float(fuse[1]))
