"""Spare parts to keep, and the meters and tools to have, from the wiring and the readings.

What wears or fails first is common practice, no source; how many there are, and of which rating,
is the wiring's.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from phasewright.papers.wiring.model import Device, Wiring
from phasewright.plan.reading_study import ReadingExpected
from phasewright.quantities.told import amount

WEARS: dict[str, tuple[int, str]] = {
    "start_capacitor": (1, "the first thing to fail: the idler hums and does not start"),
    "drop_out_relay": (1, "its contacts burn: the start capacitor stays in or never comes in"),
    "run_capacitor": (1, "loses capacitance over the years: line 3 goes low"),
    "fuse": (3, "blown by any fault of the controls"),
    "lamp": (1, "a dark lamp says nothing about line 3"),
    "contactor": (1, "its coil and contacts wear; one of a size serves for all of it"),
    "discharge_resistor": (1, "open without a sign: the capacitor stays charged"),
    "phase_sequence_relay": (1, "without it the outlets stay dead"),
}
"""By kind: how many of each rating to keep, and why (common practice, no source)."""
TOOLS: tuple[tuple[str, str], ...] = (
    ("padlock with one key, and a tag", "the isolator, locked while a box is open"),
    ("voltage detector with two probes, and something live to try it on", "proving dead"),
    ("insulated screwdrivers, and one that shows its torque", "terminals: loose ones burn"),
    ("crimping tool and ferrules for the wires of the list", "stranded wire in every terminal"),
    ("marker sleeves or a label printer", "both ends of every wire, every device"),
)  # fmt: skip
"""Common practice, no source."""
ALREADY = ("the same ", "the drive")
"""How a reading names what is there: the meter of the reading before, a drive's display."""
MEGA = 1e6


@dataclass(frozen=True, slots=True)
class Spare:
    """A part to keep: what, how many, for which devices, why."""

    what: str
    specification: str
    keep: int
    stands_for: tuple[str, ...]
    why: str


@dataclass(frozen=True, slots=True)
class Instrument:
    """A meter or tool to have: what it must be able to read here, in which steps or for what."""

    what: str
    reads: str
    used: str


def spares_of(wiring: Wiring) -> tuple[Spare, ...]:
    """What to keep on the shelf, like ratings once."""
    groups: dict[tuple[str, str], list[Device]] = {}
    for each in wiring.devices:
        if each.kind in WEARS:
            groups.setdefault((each.kind, each.specification), []).append(each)
    return tuple(
        Spare(
            kind.replace("_", " "), specification, WEARS[kind][0],
            tuple(each.id for each in devices), WEARS[kind][1],
        )
        for (kind, specification), devices in groups.items()
    )  # fmt: skip


def instruments(readings: Sequence[ReadingExpected]) -> tuple[Instrument, ...]:
    """The meters that the readings ask for, each with the least and the highest it has to read,
    and the tools every such work takes."""
    groups: dict[str, list[ReadingExpected]] = {}
    for each in readings:
        if not each.meter.startswith(ALREADY):
            groups.setdefault(each.meter, []).append(each)
    meters = (
        Instrument(meter, ", ".join(_ranges(taken)), _steps(taken))
        for meter, taken in groups.items()
    )
    return (*meters, *(Instrument(what, "", why) for what, why in TOOLS))


def _ranges(taken: Sequence[ReadingExpected]) -> list[str]:
    """From the least to the highest reading, unit by unit; of a bound, the bound."""
    units: dict[str, list[float]] = {}
    bounds: list[str] = []
    for each in taken:
        if each.limit:
            most = each.low == 0.0
            told = _told(each.high if most else each.low, each.unit)
            bounds.append(f"{'at most' if most else 'at least'} {told}")
        elif each.unit:
            units.setdefault(each.unit, []).extend((each.low, each.high))
    ranges = [f"{_told(min(of), unit)} to {_told(max(of), unit)}" for unit, of in units.items()]
    return [*ranges, *dict.fromkeys(bounds)]


def _told(number: float, unit: str) -> str:
    if unit == "ohm" and number >= MEGA:
        return f"{number / MEGA:g} Mohm"
    return amount(number, unit)


def _steps(taken: Sequence[ReadingExpected]) -> str:
    steps = sorted({each.step for each in taken})
    return f"commissioning, step{'' if len(steps) == 1 else 's'} {', '.join(map(str, steps))}"
