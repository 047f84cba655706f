"""The wiring of one plan as data: devices, their terminals, the conductors between them.

Every drawing, list and label is made from it. Reference designations use the main classes of
IEC 81346-2:2009 (from memory): `=M1-Q2` is the second switch of the first motor's own circuit,
`=G0` the intake, `=G1` what is shared, `=E1` the first consumer that is no motor. Terminals are
written `=M1-Q2:3`. A figure that nothing has computed is None.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from phasewright.quantities.codes import Region

DeviceKind = Literal[
    "strip", "breaker", "fuse", "residual_current_device", "isolator", "contactor",
    "overload_relay", "motor", "idler", "pony_motor", "run_capacitor", "start_capacitor",
    "discharge_resistor", "start_resistor", "brake_resistor", "choke", "output_filter", "drive",
    "power_transformer", "control_transformer", "rectifier", "stop_button", "start_button",
    "emergency_stop", "speed_selector", "reversing_switch", "star_delta_switch", "motor_selector",
    "potentiometer", "drop_out_relay", "phase_sequence_relay", "safety_relay", "lamp",
    "converter", "electronic_source", "generator", "battery", "plug_and_socket", "brake",
    "brake_unit", "consumer",
]  # fmt: skip

LETTERS: dict[DeviceKind, str] = {
    "strip": "X", "breaker": "F", "fuse": "F", "residual_current_device": "F", "isolator": "Q",
    "contactor": "Q", "overload_relay": "F", "motor": "M", "idler": "M", "pony_motor": "M",
    "run_capacitor": "C", "start_capacitor": "C", "discharge_resistor": "R",
    "start_resistor": "R", "brake_resistor": "R", "choke": "R", "output_filter": "R",
    "drive": "T", "power_transformer": "T", "control_transformer": "T", "rectifier": "T",
    "stop_button": "S", "start_button": "S", "emergency_stop": "S", "speed_selector": "S",
    "reversing_switch": "S", "star_delta_switch": "S", "motor_selector": "S",
    "potentiometer": "S", "drop_out_relay": "K", "phase_sequence_relay": "K",
    "safety_relay": "K", "lamp": "P", "converter": "T", "electronic_source": "T",
    "generator": "G", "battery": "G", "plug_and_socket": "X", "brake": "M", "brake_unit": "T",
    "consumer": "E",
}  # fmt: skip
"""Main classes of IEC 81346-2:2009 (from memory): C storing, E heating and lighting, F protecting,
G giving energy, K processing signals, M driving and braking, P indicating, Q switching power, R
restricting, S operated by hand, T transforming, X connecting. Subclasses are not used: they were
not verified."""

Phasor = tuple[str, float, float]
"""A terminal with the real and the imaginary part of its volts (rms)."""
Pairs = tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Device:
    """One thing with terminals.

    `positions`: which of its terminals it joins, in each position it can be in; a contactor or
    breaker has one (closed). `windings` are joined inside but are no straight path. `sources`
    are terminals at which a voltage arises; `generated` the one of them that is line 3 made here.
    `left_open` are terminals to which nothing is wired, on purpose. `note` is
    what to do at it, in words; `links_known` is False
    for a motor that must be measured before anything is joined in its box.

    `rated_v` are the volts it is made for: of a coil, a capacitor, a socket, a load, of a motor
    between its lines as it is linked; `winding_v` those of one of its windings; `sees_v` the
    highest volts across it that were computed. `phasors_v` are the volts at its sources against
    the reference of their `system`: the supply's, where none is named its own.
    """

    id: str
    kind: DeviceKind
    unit: str
    words: str
    terminals: tuple[str, ...]
    positions: tuple[Pairs, ...] = ()
    coil: tuple[str, str] | None = None
    windings: Pairs = ()
    sources: tuple[str, ...] = ()
    generated: str | None = None
    left_open: tuple[str, ...] = ()
    rating: float | None = None
    rating_unit: str = ""
    specification: str = ""
    priced: bool = False
    note: str = ""
    links_known: bool = True
    rated_v: float | None = None
    winding_v: float | None = None
    sees_v: float | None = None
    phasors_v: tuple[Phasor, ...] = ()
    system: str = ""

    def at(self, terminal: str) -> str:
        """A terminal of this device as it is written."""
        return f"{self.id}:{terminal}"


@dataclass(frozen=True, slots=True)
class Conductor:
    """A wire, a link or a cable's core from one terminal to another.

    `potential` is what it carries (`L3`, `U`, `PE`, a control wire's number), `mark` what is
    written at both its ends, `colour` that of its insulation. `circuit` is the id of the circuit
    it belongs to; its size and length are that circuit's.
    """

    id: str
    unit: str
    from_: str
    to: str
    potential: str
    mark: str
    colour: str
    kind: Literal["wire", "link", "screen"] = "wire"
    circuit: str | None = None
    size: str | None = None
    length_m: float | None = None


How = Literal["series", "across", "beside", "box", "end"]


@dataclass(frozen=True, slots=True)
class Element:
    """A device, or one part of it, as it stands in a column of a diagram.

    `legs` are the conductors of the column it sits in (series, box, end), beside (a second
    path round the element before it) or between (across); `ins` and `outs` its terminals there.
    """

    device: str
    shape: str
    how: How
    legs: tuple[int, ...]
    ins: tuple[str, ...]
    outs: tuple[str, ...] = ()
    potentials: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Rail:
    """A terminal from which columns are fed: drawn as a line across the sheet."""

    terminal: str
    potential: str


@dataclass(frozen=True, slots=True)
class Column:
    """What hangs on some rails, from top to bottom."""

    rails: tuple[int, ...]
    elements: tuple[Element, ...]


@dataclass(frozen=True, slots=True)
class Band:
    """Rails with the columns that hang on them; `later` where nothing of it is there yet."""

    title: str
    rails: tuple[Rail, ...]
    columns: tuple[Column, ...]
    control: bool = False
    later: bool = False


@dataclass(frozen=True, slots=True)
class Unit:
    """A circuit of the plan with its diagram: the intake, what is shared, a motor, a consumer."""

    id: str
    title: str
    subject: str
    bands: tuple[Band, ...]
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Wanted:
    """How many devices of a kind the plan asks for, in a unit or anywhere, and what asks."""

    kind: DeviceKind
    unit: str
    count: int
    words: str


@dataclass(frozen=True, slots=True)
class Later:
    """A motor that may come: the unit it will be, when and how likely, and the terminals on which
    it will hang, where the plan says so."""

    unit: str
    motor: str
    words: str
    hangs_on: str


@dataclass(frozen=True, slots=True)
class There:
    """A load that hangs on the supply already and of which the plan changes nothing [A]."""

    words: str
    current_a: float


@dataclass(frozen=True, slots=True)
class Wiring:
    """All devices and conductors of a plan, and how they are drawn, unit by unit.

    `unwired` are the motors to which the plan leads nothing that could be drawn; `wanted` is what
    the plan's circuits and purchases ask for, made without looking at the devices; `later` is
    what may come, of which nothing is wired yet, `there` what hangs on the supply already.
    """

    plan: str
    region: Region
    shop: str
    units: tuple[Unit, ...]
    devices: tuple[Device, ...]
    conductors: tuple[Conductor, ...]
    unwired: tuple[str, ...] = ()
    wanted: tuple[Wanted, ...] = ()
    later: tuple[Later, ...] = ()
    there: tuple[There, ...] = ()

    def device(self, id: str) -> Device:
        """The device of this designation; raises KeyError without one."""
        for each in self.devices:
            if each.id == id:
                return each
        raise KeyError(f"no device {id!r}")

    def of_unit(self, unit: str) -> Iterator[Device]:
        """The devices of one unit, in the order in which they were wired."""
        return (each for each in self.devices if each.unit == unit)
