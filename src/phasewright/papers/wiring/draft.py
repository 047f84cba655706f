"""Writing a wiring down column by column: the conductors follow from what stands under what."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Literal, TypedDict, Unpack

from phasewright.papers.wiring.colours import colour_of, mark_of
from phasewright.papers.wiring.model import (
    LETTERS,
    Band,
    Column,
    Conductor,
    Device,
    DeviceKind,
    Element,
    How,
    Pairs,
    Phasor,
    Rail,
    Unit,
)
from phasewright.quantities.codes import Earthed, Region


class Facts(TypedDict, total=False):
    """What a device may be said to be, under the names of `Device`."""

    positions: tuple[Pairs, ...]
    coil: tuple[str, str] | None
    windings: Pairs
    sources: tuple[str, ...]
    generated: str | None
    left_open: tuple[str, ...]
    rating: float | None
    rating_unit: str
    specification: str
    priced: bool
    note: str
    links_known: bool
    rated_v: float | None
    winding_v: float | None
    phasors_v: tuple[Phasor, ...]
    system: str


@dataclass
class Draft:
    """The devices and conductors written so far."""

    region: Region
    earthed: Earthed | None
    generates: bool
    supply_v: float | None = None
    """Between the two conductors on which all that is single-phase hangs."""
    line_v: float | None = None
    """Between two of the lines that come in."""
    devices: list[Device] = field(default_factory=list)
    conductors: list[Conductor] = field(default_factory=list)
    units: list[Unit] = field(default_factory=list)
    unwired: list[str] = field(default_factory=list)
    """Motors to which this plan leads nothing."""
    controls: dict[str, tuple[tuple[str, str], ...]] = field(default_factory=dict)
    """The control terminals of each machine on contactors whose first motor is written."""
    contacts: dict[str, int] = field(default_factory=dict)
    """How many contacts the emergency stop of each machine is to have."""
    heads: dict[str, tuple[Device, int]] = field(default_factory=dict)
    """The head of each machine whose first motor is written, and how many of its contacts are
    taken."""


@dataclass
class Sheet:
    """One unit being written: its devices are numbered by what they are for, not by their turn,
    so that a device keeps its number whether or not another one is there."""

    draft: Draft
    id: str
    title: str
    subject: str
    bands: list[Band] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)

    def device(
        self,
        kind: DeviceKind,
        number: int | str,
        words: str,
        terminals: Iterable[str],
        *,
        closed: Pairs | None = None,
        **facts: Unpack[Facts],
    ) -> Device:
        """A device of this unit; `closed` is what it joins in its only position."""
        if closed is not None:
            facts["positions"] = (closed,)
        made = Device(
            f"{self.id}-{LETTERS[kind]}{number}", kind, self.id, words, tuple(terminals), **facts
        )
        self.draft.devices.append(made)
        return made

    def hang(self, rails: Sequence[tuple[str, str]], title: str, *, control: bool = False) -> Hung:
        """A new band: terminals with what they carry, from which columns are fed."""
        return Hung(self, tuple(Rail(*each) for each in rails), title, control)

    def done(self) -> None:
        """Put the unit among those that are written."""
        self.draft.units.append(
            Unit(self.id, self.title, self.subject, tuple(self.bands), tuple(self.notes))
        )

    def wire(
        self,
        from_: str,
        to: str,
        potential: str,
        kind: Literal["wire", "link", "screen"] = "wire",
    ) -> None:
        """A conductor between two terminals."""
        count = 1 + sum(each.unit == self.id for each in self.draft.conductors)
        self.draft.conductors.append(
            Conductor(
                f"{self.id}-W{count}", self.id, from_, to, potential,
                mark_of(potential, self.draft.generates),
                "bare" if kind == "link" else colour_of(
                    potential, self.draft.region, self.draft.earthed
                ),
                kind,
            )
        )  # fmt: skip


@dataclass
class Hung:
    """A band being written."""

    sheet: Sheet
    rails: tuple[Rail, ...]
    title: str
    control: bool
    columns: list[Column] = field(default_factory=list)

    def column(self, *rails: int) -> Run:
        """A new column on some of the rails (all of them where none is named)."""
        chosen = rails or tuple(range(len(self.rails)))
        return Run(
            self, chosen, [(self.rails[k].terminal, self.rails[k].potential) for k in chosen]
        )

    def done(self) -> None:
        """Put the band into its sheet."""
        self.sheet.bands.append(Band(self.title, self.rails, tuple(self.columns), self.control))


@dataclass
class Run:
    """A column being written: `legs` holds each conductor's last terminal and what it carries."""

    band: Hung
    rails: tuple[int, ...]
    legs: list[tuple[str, str]]
    elements: list[Element] = field(default_factory=list)
    before: dict[int, tuple[str, str]] = field(default_factory=dict)

    def series(
        self,
        device: Device,
        shape: str,
        pairs: Sequence[tuple[str, str]],
        legs: Sequence[int] | None = None,
        after: Sequence[str] | None = None,
    ) -> Run:
        """A device in these legs (the first ones); `after` is what they carry behind it."""
        at = tuple(legs) if legs is not None else tuple(range(len(pairs)))
        for k, leg in enumerate(at):
            self._to(leg, device.at(pairs[k][0]))
            self.before[leg] = (device.at(pairs[k][0]), device.at(pairs[k][1]))
            self.legs[leg] = (
                device.at(pairs[k][1]), after[k] if after is not None else self.legs[leg][1]
            )  # fmt: skip
        return self._put(device, shape, "series", at, [p[0] for p in pairs], [p[1] for p in pairs])

    def beside(self, device: Device, shape: str, pair: tuple[str, str], leg: int = 0) -> Run:
        """A second path round the last device of a leg."""
        into, out = self.before[leg]
        potential = self.legs[leg][1]
        self.band.sheet.wire(into, device.at(pair[0]), self._potential_into(into))
        self.band.sheet.wire(out, device.at(pair[1]), potential)
        return self._put(device, shape, "beside", (leg,), [pair[0]], [pair[1]])

    def across(
        self, device: Device, shape: str, ends: tuple[str, str], legs: tuple[int, int]
    ) -> Run:
        """A device between two legs; the legs go on from its terminals."""
        for leg, end in zip(legs, ends, strict=True):
            self._to(leg, device.at(end))
            self.legs[leg] = (device.at(end), self.legs[leg][1])
        return self._put(device, shape, "across", legs, ends)

    def box(
        self, device: Device, shape: str, ins: Sequence[str], outs: Sequence[tuple[str, str]]
    ) -> Run:
        """A device in which all legs end and others begin: (terminal, what it carries)."""
        legs = tuple(range(len(self.legs)))
        for leg, terminal in zip(legs, ins, strict=True):
            self._to(leg, device.at(terminal))
        self.legs = [(device.at(terminal), potential) for terminal, potential in outs]
        return self._put(device, shape, "box", legs, ins, [terminal for terminal, _ in outs])

    def end(self, device: Device, shape: str, terminals: Sequence[str], *legs: int) -> None:
        """What these legs (all where none is named) lead to; the column is done."""
        at = legs or tuple(range(len(self.legs)))
        for leg, terminal in zip(at, terminals, strict=True):
            self._to(leg, device.at(terminal))
        self._put(device, shape, "end", at, terminals)
        self.done()

    def done(self) -> None:
        """Put the column into its band."""
        self.band.columns.append(Column(self.rails, tuple(self.elements)))

    def _to(self, leg: int, terminal: str) -> None:
        from_, potential = self.legs[leg]
        kind: Literal["wire", "screen"] = "screen" if potential == "screen" else "wire"
        self.band.sheet.wire(from_, terminal, potential, kind)

    def _potential_into(self, terminal: str) -> str:
        return next(
            each.potential for each in self.band.sheet.draft.conductors if each.to == terminal
        )

    def _put(
        self,
        device: Device,
        shape: str,
        how: How,
        legs: tuple[int, ...],
        ins: Sequence[str],
        outs: Sequence[str] = (),
    ) -> Run:
        carried = tuple(potential for _, potential in self.legs)
        self.elements.append(Element(device.id, shape, how, legs, tuple(ins), tuple(outs), carried))
        return self
