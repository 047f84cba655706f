"""Two-speed plates taken apart: every speed is a motor of its own with its own plate.

One winding changed over from one number of poles to half of it (Dahlander: the stamps D/YY,
YY/D, Y/YY) or two windings in one frame.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from phasewright.machines.circuit import Circuit
from phasewright.machines.link import Link
from phasewright.machines.notes import Notes
from phasewright.machines.stamped import plain_stamp, speeds_of
from phasewright.machines.two_speed_words import TELL_APART, winding_words
from phasewright.machines.voltages import voltage_groups
from phasewright.quantities.codes import Region
from phasewright.quantities.finding import Reason
from phasewright.quantities.value import Value, exact, figure
from phasewright.shop.plate import Plate
from phasewright.tables.motors import two_speed_power_ratio

SpeedName = Literal["low", "high"]
Layout = Literal["one_winding", "two_windings", "unknown"]
SpeedWinding = Literal["delta", "star", "double_star", "own"]
Duty = Literal["constant_torque", "constant_power", "fan"]

POLE_CHANGE = (1.80, 2.25)
"""Stamped speeds of one winding at p and p/2 poles: two to one but for the slips."""


@dataclass(frozen=True, slots=True)
class DriveFeed:
    """A drive wired to this speed's winding for good, giving at most `output_voltage_v`.

    Full flux ends at `base_frequency_hz`; `breakdown_left` is the breakdown torque at the
    plate's frequency and these volts over the plate's own. `other_speed_hz` gives the other
    speed's rpm, where this winding has `other_speed_torque` of the torque the other one is rated
    for; `own_speed_torque` is the same at its own plate speed. All computed from the circuits.
    """

    output_voltage_v: float
    base_frequency_hz: float
    breakdown_left: float
    own_speed_torque: float
    other_speed_hz: float
    other_speed_torque: float
    words: str

    @property
    def worst(self) -> float:
        """The smaller of the two shares of torque."""
        return min(self.own_speed_torque, self.other_speed_torque)


@dataclass(frozen=True, slots=True)
class Speed:
    """One speed of a two-speed motor, a motor of its own. Torques as in `Motor`.

    `link_reasons` says what this winding makes of the shop's own volts.
    """

    name: SpeedName
    winding: SpeedWinding
    words: str
    line_voltage_v: float
    power_w: Value
    speed_rpm: Value
    poles: int
    synchronous_speed_rpm: float
    full_load_current_a: Value
    locked_rotor_current_a: Value
    rated_nm: Value
    locked_nm: Value
    breakdown_nm: Value
    circuit: Circuit
    link: Link | None
    link_reasons: tuple[Reason, ...]
    on_drive: DriveFeed | None = None


@dataclass(frozen=True, slots=True)
class SpeedPlate:
    """What is stamped for one speed; `power_taken` is set where its power is none of the plate."""

    name: SpeedName
    winding: SpeedWinding
    words: str
    plate: Plate
    power_taken: Value | None = None


@dataclass(frozen=True, slots=True)
class TwoSpeed:
    """A two-speed plate in two: `speeds` low first."""

    layout: Layout
    duty: Duty | None
    speeds: tuple[SpeedPlate, SpeedPlate]

    @property
    def strong(self) -> SpeedPlate:
        """The more powerful speed."""
        low, high = self.speeds
        return low if _power_of(low) > _power_of(high) else high


def _power_of(of: SpeedPlate) -> float:
    if of.plate.power:
        return of.plate.power[0].number
    return of.plate.current[0].number if of.plate.current else 0.0


def two_speed_of(plate: Plate, region: Region, notes: Notes) -> TwoSpeed | None:
    """The two plates of a two-speed motor, or None where it has one speed or mixed volts."""
    if len(speeds_of(plate)) != 2 or len(voltage_groups(plate)) != 1:
        return None
    order = (0, 1) if plate.speed[0].number < plate.speed[1].number else (1, 0)
    powers = _powers(plate, order, notes)
    layout = _layout(plate, notes)
    ratio = None
    if powers[0] is not None and powers[1] is not None and len(plate.power) == 2:
        ratio = powers[1].number / powers[0].number
    duty = _duty(plate, ratio)
    windings = _windings(plate, layout, duty, order, notes)
    made: list[SpeedPlate] = []
    names: tuple[SpeedName, SpeedName] = ("low", "high")
    for place, name in enumerate(names):
        power = powers[place]
        taken = power if power is not None and power not in plate.power else None
        current = plate.current
        if len(current) == 2:
            current = (current[order[place]],)
        elif len(current) == 1 and place == 0:
            current = ()
        words = winding_words(layout, windings[place], name, region)
        one = replace(
            plate, power=() if power is None else (power,), speed=(plate.speed[order[place]],),
            current=current, connection=_letter(plate, windings[place]), leads=3,
            winding_resistance=None, no_load_current=None,
        )  # fmt: skip
        made.append(SpeedPlate(name, windings[place], words, one, taken))
    return TwoSpeed(layout, duty, (made[0], made[1]))


def _letter(plate: Plate, winding: SpeedWinding) -> Literal["D", "Y"] | None:
    """What is stamped of this speed's own winding, if anything."""
    if winding == "own":
        stamps: dict[str, Literal["D", "Y"]] = {"Y/Y": "Y", "D/D": "D"}
        return stamps.get(plain_stamp(plate.connection))
    return "D" if winding == "delta" else "Y"


def _powers(
    plate: Plate, order: tuple[int, int], notes: Notes
) -> tuple[Value | None, Value | None]:
    """Powers of the low and the high speed; one that is not stamped follows from the other."""
    if len(plate.power) == 2:
        return plate.power[order[0]], plate.power[order[1]]
    if not plate.power or len(plate.current) == 2:
        return None, None
    high = plate.power[0]
    duty: Duty = "fan" if plain_stamp(plate.connection) == "Y/YY" else "constant_torque"
    ratio = two_speed_power_ratio(duty)
    low = figure(
        high.number / ratio.number, "W", "machines.two_speed.two_speed_of",
        {"power at the high speed": (high.number, "W"), "ratio": (ratio.number, "")},
        ratio.source, low=high.number / ratio.high, high=high.number / ratio.low,
    )  # fmt: skip
    notes.take("power at the low speed", "plate.power", low)
    notes.ask(
        "one_power_two_speeds", "caution",
        f"One power is stamped for two speeds: {high.number:.0f} W is taken as that of the high "
        f"speed, {low.number:.0f} W for the low one.",
        found=high.number, unit="W", key="plate.power",
        remedy="Read both powers, in the order of the speeds, as: 1.5/2.2 kW.",
    )  # fmt: skip
    return low, high


def _layout(plate: Plate, notes: Notes) -> Layout:
    slow, fast = sorted(value.number for value in plate.speed)
    halves = POLE_CHANGE[0] <= fast / slow <= POLE_CHANGE[1]
    if plain_stamp(plate.connection) in {"D/YY", "YY/D", "Y/YY"}:
        if halves:
            return "one_winding"
        notes.ask(
            "stamp_and_speeds_differ", "caution",
            f"{plate.connection} is a winding whose speeds stand 1 to 2; {slow:.0f} and "
            f"{fast:.0f} rpm do not. Taken as two windings.",
            found=fast / slow, allowed=2.0, key="plate.connection",
        )  # fmt: skip
        return "two_windings"
    if not halves or plain_stamp(plate.connection) in {"Y/Y", "D/D"}:
        return "two_windings"
    notes.wanted(
        "winding of the two speeds", "plate.connection", exact(2.0, "", "assumed", "two to one"),
        "One winding changed over, or two: decides what a drive may be wired to.",
        TELL_APART, "connection, way of powering",
    )  # fmt: skip
    return "unknown"


def _duty(plate: Plate, ratio: float | None) -> Duty | None:
    if ratio is None:
        return "fan" if plain_stamp(plate.connection) == "Y/YY" else None
    if ratio <= two_speed_power_ratio("constant_power").high:
        return "constant_power"
    return "fan" if ratio >= two_speed_power_ratio("fan").low else "constant_torque"


def _windings(
    plate: Plate, layout: Layout, duty: Duty | None, order: tuple[int, int], notes: Notes
) -> tuple[SpeedWinding, SpeedWinding]:
    """How the winding stands at the low and the high speed."""
    if layout != "one_winding":
        return "own", "own"
    stamp = plain_stamp(plate.connection)
    if stamp == "Y/YY":
        return "star", "double_star"
    first: Literal["D", "YY"] = "D" if stamp == "D/YY" else "YY"
    second = "YY" if first == "D" else "D"
    low_letter = (first, second)[order[0]]
    by_power = {"constant_power": "YY", "constant_torque": "D", "fan": "D"}
    meant = low_letter if duty is None else by_power[duty]
    if meant != low_letter:
        notes.ask(
            "letters_and_powers_differ", "info",
            f"{stamp} in the order of the speeds would be a winding for constant "
            f"{'torque' if low_letter == 'D' else 'power'}; the two powers speak for constant "
            f"{'torque' if meant == 'D' else 'power'}, which was taken.",
            key="plate.connection",
        )  # fmt: skip
    return ("delta", "double_star") if meant == "D" else ("double_star", "delta")
