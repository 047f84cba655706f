"""One way to link a winding, and all the ways a plate allows."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from phasewright.machines.voltages import Group
from phasewright.quantities.codes import Connection
from phasewright.quantities.finding import Reason

Winder = Literal["star_point", "rewind", "nothing"]


@dataclass(frozen=True, slots=True)
class Link:
    """One way to link a winding: rated line volts and line amps of that link.

    `voltage_low_v` to `voltage_high_v` is the stamped range (both equal `line_voltage_v`
    where one value is stamped). `full_load_current_a` is None where no current is stamped.
    `winder` is what a motor works could make of it: bring the star point out, rewind it only,
    or nothing.
    """

    connection: Connection
    words: str
    line_voltage_v: float
    full_load_current_a: float | None
    voltage_low_v: float
    voltage_high_v: float
    delta: bool | None = None
    winder: Winder = "star_point"

    def flux_ratio(self, voltage_v: float, frequency_hz: float, plate_frequency_hz: float) -> float:
        """Volts per hertz over the stamped ones: 1 anywhere within the stamped range."""
        volts = voltage_v * plate_frequency_hz / frequency_hz
        nearest = min(max(volts, self.voltage_low_v), self.voltage_high_v)
        return volts / nearest

    def with_current(self, at: Link, amps: float) -> Link:
        """This link with its rated current [A], from that of another link of the same winding."""
        if self.full_load_current_a is not None:
            return self
        return replace(self, full_load_current_a=amps * at.line_voltage_v / self.line_voltage_v)


@dataclass(frozen=True, slots=True)
class Linking:
    """Every link a plate allows, why, and the number of leads that was taken."""

    links: tuple[Link, ...]
    reasons: tuple[Reason, ...]
    leads: int | None
    leads_assumed: bool


def link_of(connection: Connection, words: str, group: Group, delta: bool | None) -> Link:
    """The link for one stamped voltage or range."""
    return Link(connection, words, group.volts, group.amps, group.low_v, group.high_v, delta)


def refused(code: str, words: str, leads: int | None = None) -> Linking:
    """No link, and why."""
    return Linking((), (Reason(code, words),), leads, False)
