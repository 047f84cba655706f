"""Consumers of a machine that are no motors: heaters, lamps, welders, sockets, electronics.

A three-phase heater is three single-phase heaters: where its parts can be fed one by one they
go on lines 1 and 2, never through a converter. Common practice, no source.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from phasewright.quantities.finding import Finding, Remedy
from phasewright.quantities.value import Value, figure
from phasewright.shop.machine import Consumer, Machine
from phasewright.ways.way import Draw

FITS = 0.12
"""An element serves on volts this close to its own."""
RECTIFIES = ("rectifier", "electronics", "welder", "magnetic_chuck")
"""Kinds whose three lines go into a bridge of six diodes."""


@dataclass(frozen=True, slots=True)
class Fed:
    """What a consumer takes from lines 1 and 2, or why that is not known."""

    current_a: Value | None
    draw: Draw
    findings: tuple[Finding, ...]


def fed_from_two_lines(consumer: Consumer, subject: str, path: str, supply_v: float) -> Fed:
    """A consumer on the supply's two lines. Its current is stamped, or power over volts.

    Heaters of three parts in star see their line volts over root three each, so 400 V parts suit
    230 V. Power falls with the square of the volts where they differ.
    """
    if rectifies(consumer):
        return Fed(None, Draw(), _rectifies(subject, path, consumer, supply_v))
    if (consumer.phases or 1) == 3 and not consumer.split:
        return _needs_three(subject, path)
    element_v = supply_v if consumer.voltage is None else consumer.voltage.number
    if (consumer.phases or 1) == 3 and consumer.voltage is not None:
        element_v = consumer.voltage.number / math.sqrt(3.0)
    if consumer.power is not None:
        ratio = supply_v / element_v
        power_w = consumer.power.number * ratio * ratio
        amps = figure(
            power_w / supply_v, "A", "ways.consumers.fed_from_two_lines",
            {"power": (consumer.power.number, "W"), "element volts": (element_v, "V"),
             "supply": (supply_v, "V")}, "power over volts",
        )  # fmt: skip
        return Fed(amps, Draw(power_w), _volts(subject, path, element_v, supply_v))
    if consumer.current is not None:
        power_w = consumer.current.number * supply_v
        return Fed(consumer.current, Draw(power_w), _volts(subject, path, element_v, supply_v))
    return Fed(None, Draw(), _unknown(subject, path))


def rectifies(consumer: Consumer) -> bool:
    """Whether it takes three lines into a rectifier, as a whole."""
    return consumer.phases == 3 and not consumer.split and consumer.kind in RECTIFIES


def beside(machine: Machine, supply_v: float) -> Draw:
    """What a machine's own consumers take from lines 1 and 2 while the machine is in use."""
    whole = Draw()
    for other in machine.others:
        whole = whole.with_other(fed_from_two_lines(other, machine.name, "", supply_v).draw)
    return whole


def _volts(subject: str, path: str, element_v: float, supply_v: float) -> tuple[Finding, ...]:
    if abs(element_v / supply_v - 1.0) <= FITS:
        return ()
    return (
        Finding(
            f"consumer.volts:{subject}", "consumer.volts", "condition", subject,
            f"it is made for {element_v:.0f} V and would see {supply_v:.0f} V: ask for its parts' "
            "own volts, or feed it through a transformer",
            found=supply_v, allowed=element_v, unit="V",
            remedy=Remedy("Read the volts on the part itself.", f"{path}.voltage"),
            source="common practice, no source",
        ),
    )  # fmt: skip


def _rectifies(subject: str, path: str, consumer: Consumer, supply_v: float) -> tuple[Finding, ...]:
    """What is found of a rectifier on three lines before anything is shared."""
    if consumer.power is None and consumer.current is None:
        return _unknown(subject, path)
    own_v = supply_v if consumer.voltage is None else consumer.voltage.number
    return (
        Finding(
            f"consumer.rectifier:{subject}", "consumer.rectifier", "info", subject,
            "a rectifier on three lines hangs on what makes them, together with its machine's "
            "motors; where those have drives of their own it is counted as fed from lines 1 and 2, "
            "which its maker must allow",
            source="common practice, no source",
        ),
        *_volts(subject, path, own_v, supply_v),
    )  # fmt: skip


def _needs_three(subject: str, path: str) -> Fed:
    return Fed(
        None,
        Draw(),
        (
            Finding(
                f"consumer.three_lines:{subject}", "consumer.three_lines", "stop", subject,
                "a three-phase consumer that cannot be split needs three true lines: a "
                "converter's generated line is not for it",
                remedy=Remedy(
                    "Find out whether its parts can be fed one by one from two lines.",
                    f"{path}.split", "true",
                ),
                source="common practice, no source",
            ),
        ),
    )  # fmt: skip


def _unknown(subject: str, path: str) -> tuple[Finding, ...]:
    return (
        Finding(
            f"consumer.unknown:{subject}", "consumer.unknown", "caution", subject,
            "neither its watts nor its amps are known, so it is not counted on the supply",
            remedy=Remedy("Read watts or amps off it.", f"{path}.power"),
            source="common practice, no source",
        ),
    )  # fmt: skip
