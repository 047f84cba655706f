"""How the cans of a capacitor bank stand between their two lines, with what discharges them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from phasewright.papers.drawings.look import NAME, SAYS, circle, dot, rectangle, wire
from phasewright.papers.drawings.terminal_boxes import BoxDrawing
from phasewright.papers.font import width_of
from phasewright.papers.svg import Mark, line, words
from phasewright.papers.wiring.model import Device, Element, Wiring

CAN, APART = 27.0, 14.0
TITLES = {"run": "run capacitors", "start": "start capacitors"}


@dataclass(frozen=True, slots=True)
class Bank:
    """What stands across the same two lines of a column: cans, then their discharge resistor."""

    unit: str
    lines: tuple[str, str]
    devices: tuple[Device, ...]

    @property
    def title(self) -> str:
        """What it is, in words."""
        kind = "start" if self.devices[0].kind == "start_capacitor" else "run"
        return f"{self.unit}  {TITLES[kind]}, lines {self.lines[0][1:]} and {self.lines[1][1:]}"


def banks_of(wiring: Wiring) -> Iterator[Bank]:
    """Every bank of the wiring."""
    for unit in wiring.units:
        for band in unit.bands:
            for column in band.columns:
                held: dict[tuple[str, str], list[Device]] = {}
                for each in column.elements:
                    device = wiring.device(each.device)
                    if each.how == "across" and device.kind in (
                        "run_capacitor", "start_capacitor", "discharge_resistor"
                    ):  # fmt: skip
                        held.setdefault(_lines(each), []).append(device)
                for lines, devices in held.items():
                    yield Bank(unit.id, lines, tuple(devices))


def _lines(element: Element) -> tuple[str, str]:
    one, other = (element.potentials[leg] for leg in element.legs)
    return one, other


def bank_drawing(bank: Bank, x: float, y: float) -> BoxDrawing:
    """The cans seen from above between two bars, with the upper left corner at (x, y)."""
    names = [each.id.removeprefix(bank.unit) for each in bank.devices]
    pitch = 2 * CAN + APART + max(width_of(name, SAYS) for name in names)
    bar, centre, foot = y + 32.0, y + 88.0, y + 144.0
    start = x + 26.0
    end = start + pitch * len(bank.devices)
    marks: list[Mark] = [
        words(bank.title, (x, y + 12.0), NAME),
        words(bank.lines[0], (x, bar + 3.0), SAYS), line((start, bar), (end, bar), "rail"),
        words(bank.lines[1], (x, foot + 3.0), SAYS), line((start, foot), (end, foot), "rail"),
    ]  # fmt: skip
    for k, (device, name) in enumerate(zip(bank.devices, names, strict=True)):
        at = start + pitch * k + CAN + 4.0
        marks += [dot((at, bar)), dot((at, foot))]
        marks += [*wire((at, bar), (at, centre - CAN)), *wire((at, centre + CAN), (at, foot))]
        if device.kind == "discharge_resistor":
            marks.append(rectangle((at - 8.0, centre - CAN), 16.0, 2 * CAN))
        else:
            marks += [circle((at, centre), CAN, "sign"), *_farads(device, at, centre)]
        marks.append(words(name, (at + CAN + 4.0, centre + 3.0), SAYS))
    return BoxDrawing(tuple(marks), max(end - x, width_of(bank.title, NAME)), foot + 26.0 - y)


def _farads(device: Device, x: float, y: float) -> list[Mark]:
    """The can's size inside it, in two lines."""
    number, _, rest = device.specification.partition(" ")
    unit = rest.partition(" ")[0]
    return [words(number, (x, y - 1.0), SAYS, "middle"), words(unit, (x, y + 11.0), SAYS, "middle")]
