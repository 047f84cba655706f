"""How much room a column of a diagram takes, and the words that stand beside its devices."""

from __future__ import annotations

from dataclasses import dataclass, field

from phasewright.papers.drawings.ends import END_HEIGHT, reach
from phasewright.papers.drawings.look import (
    LEAD,
    LEG,
    NAME,
    PITCH,
    SAYS,
    TERMINAL,
    WIDE_LEG,
    WRAP,
)
from phasewright.papers.drawings.symbols import LONG, Point
from phasewright.papers.font import width_of
from phasewright.papers.svg import wrapped
from phasewright.papers.wiring.model import Column, Device, Element, Wiring
from phasewright.quantities.codes import Region

BOX, SIDE, LEFT = 50.0, 30.0, 26.0
SAID_WHOLE = ("motor", "idler", "consumer", "strip", "plug_and_socket")
"""Devices that the single line tells of in all their words: what is fed, and from where."""
Spot = tuple[str, Point]
"""A terminal, and where it stands on the sheet."""


@dataclass(frozen=True, slots=True)
class References:
    """By device: the sheet on which it stands, and in words where else something hangs on it."""

    stands: dict[str, str]
    hangs: dict[str, str]


@dataclass
class Writer:
    """What a column needs to know: the wiring, the unit that is drawn, where other units stand,
    which devices were already told in words, and where every terminal was put."""

    wiring: Wiring
    unit: str
    pages: References
    single: bool = False
    told: set[str] = field(default_factory=set)
    spots: list[Spot] = field(default_factory=list)

    @property
    def region(self) -> Region:
        return self.wiring.region

    def name(self, device: str) -> str:
        """A designation as it is written on this unit's sheet."""
        return device.removeprefix(self.unit) if not self.single else device

    def lines(self, element: Element) -> list[str]:
        """Designation and words beside an element; words once a sheet."""
        device = self.wiring.device(element.device)
        if element.shape == "bank":
            return self._bank((element.device, *element.outs))
        if device.id in self.told or element.how == "beside":
            return [self.name(device.id)]
        self.told.add(device.id)
        if self.single and device.kind not in SAID_WHOLE:
            return [device.id, *wrapped(_short(device), SAYS, WRAP)]
        said = [*wrapped(device.words, SAYS, WRAP)]
        if device.specification and device.specification not in device.words:
            said += wrapped(device.specification, SAYS, WRAP)
        if element.shape == "strip" and (to := self.pages.hangs.get(device.id)):
            said += wrapped(to, SAYS, WRAP)
        return [self.name(device.id), *said]

    def _bank(self, cans: tuple[str, ...]) -> list[str]:
        """First and last designation of a bank in one line, and how many cans it has."""
        kind = self.wiring.device(cans[0]).kind.replace("_", " ")
        many = kind if len(cans) == 1 else f"{len(cans)} {kind}s"
        ends = cans[0] if len(cans) == 1 else f"{cans[0]} to {cans[-1].rpartition('-')[2]}"
        return [ends, *wrapped(f"{many} with discharge", SAYS, WRAP)]


def _short(device: Device) -> str:
    """What it is and its size; the rest stands on the drawing of its own circuit."""
    return f"{device.kind.replace('_', ' ')} {device.specification}".strip()


@dataclass(frozen=True, slots=True)
class Cell:
    """An element with the words beside it, and how far down its symbol and its words reach."""

    element: Element
    lines: tuple[str, ...]
    height: float


@dataclass(frozen=True, slots=True)
class Plan:
    """A column measured: `left` of its first leg, `apart` from leg to leg, `words` at the right."""

    column: Column
    cells: tuple[Cell, ...]
    left: float
    apart: float
    legs: int
    words: float
    height: float

    @property
    def width(self) -> float:
        """Room the column takes across."""
        return self.left + self.apart * (self.legs - 1) + self.beside + self.words

    @property
    def beside(self) -> float:
        """From the last leg to the words."""
        return max((_reach(cell.element) for cell in self.cells), default=0.0)

    def leg(self, number: int) -> float:
        """Where a leg stands from the column's left edge."""
        return self.left + self.apart * number


def _reach(of: Element) -> float:
    """How far the symbol, and the terminal marks on its last leg, reach to the right of that."""
    marks = (*of.ins[-1:], *of.outs[-1:])
    return max([reach(of.shape), *(width_of(name, TERMINAL) + 8.0 for name in marks)])


def measured(writer: Writer, column: Column) -> Plan:
    """How much room a column takes."""
    cells = tuple(_cell(writer, element) for element in column.elements)
    wide = any(each.how == "across" for each in column.elements)
    besides = [cell for cell in cells if cell.element.how == "beside"]
    left = LEFT
    if besides:
        left = SIDE + 14.0 + max(width_of(cell.lines[0], NAME) for cell in besides)
    legs = max([len(column.rails), *(len(cell.element.potentials) for cell in cells)])
    ends = max([reach(cell.element.shape) - LEG / 2 for cell in cells] + [left])
    told = [cell for cell in cells if cell.element.how != "beside"]
    text = max(
        (width_of(said, NAME if k == 0 else SAYS)
         for cell in told for k, said in enumerate(cell.lines)), default=0.0,
    )  # fmt: skip
    return Plan(
        column, cells, max(left, ends), WIDE_LEG if wide else LEG, legs, text + 12.0,
        sum(cell.height for cell in cells),
    )  # fmt: skip


def _cell(writer: Writer, element: Element) -> Cell:
    lines = tuple(writer.lines(element))
    if element.how == "beside":
        return Cell(element, lines, 0.0)
    symbol = {
        "series": LONG + 2 * LEAD, "across": 30.0, "box": BOX + 2 * LEAD,
        "end": LEAD + END_HEIGHT.get(element.shape, 50.0),
    }[element.how]  # fmt: skip
    return Cell(element, lines, max(symbol, PITCH * len(lines) + 8.0))
