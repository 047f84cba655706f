"""The supply as its owner describes it, what hangs on it, its tariff, and the places of a shop.

Attribute names are the keys of the shop file, as in the model of the whole shop.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from phasewright.quantities import codes
from phasewright.quantities.value import Value
from phasewright.shop.keys import Money, Number, Quantity, Says, Text
from phasewright.shop.standing import CircuitThere, ResidualCurrent


@dataclass(frozen=True, slots=True, kw_only=True)
class VoltageRange:
    """What the meter showed at its lowest and at its highest."""

    low: Annotated[Value, Quantity("voltage", 50, 1000, "measured")]
    high: Annotated[Value, Quantity("voltage", 50, 1000, "measured")]


@dataclass(frozen=True, slots=True, kw_only=True)
class Surge:
    """What a generator or inverter gives for a while, and the peakiness it bears."""

    rating: Annotated[Value, Quantity("apparent_power", 100, 1e6)]
    seconds: Annotated[float | None, Number(0.01, 3600, "seconds")] = None
    crest_factor: Annotated[float | None, Number(1, 6, "peak over rms current")] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class HeaterTest:
    """Volts without and with a heater on, and its amps: the owner's way to the impedance."""

    unloaded: Annotated[Value, Quantity("voltage", 50, 1000, "measured")]
    loaded: Annotated[Value, Quantity("voltage", 50, 1000, "measured")]
    current: Annotated[Value, Quantity("current", 0.5, 200, "measured")]


@dataclass(frozen=True, slots=True, kw_only=True)
class VoltsToEarth:
    """Volts of each supply wire to earth, read with a lamp or a meter of low resistance."""

    line_1: Annotated[Value, Quantity("voltage", 0, 1000, "measured")]
    line_2: Annotated[Value, Quantity("voltage", 0, 1000, "measured")]


@dataclass(frozen=True, slots=True, kw_only=True)
class Feeder:
    """The cable between the service and the place where the power is used."""

    length: Annotated[Value | None, Quantity("length", 0, 2000), Says("one way")] = None
    conductor: Annotated[Value | None, Quantity("area", 1e-7, 1e-3)] = None
    material: codes.Conductor = "copper"
    method: Annotated[codes.Method | None, Says("how the cable is laid")] = None
    breaker: Annotated[
        str, Text("a breaker or fuse", 20), Says("ahead of it, as marked: B16, gG 25 A")
    ] = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cable:
    """The cable from the board, or from what feeds it, to a machine or to its socket."""

    length: Annotated[Value | None, Quantity("length", 0.1, 500), Says("one way")] = None
    conductor: Annotated[
        Value | None, Quantity("area", 1e-7, 1e-3), Says("where it lies there already, copper")
    ] = None
    method: Annotated[codes.Method | None, Says("how the cable is laid")] = None
    grouped: Annotated[
        int | None,
        Number(1, 20, "a count of circuits", whole=True),
        Says("circuits that lie in a bunch with it, itself counted"),
    ] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ConverterCircuit(CircuitThere):
    """What stands there of whatever makes three phases: the circuit to it, and what is in it."""

    cable: Cable | None = None
    phase_relay: Annotated[
        bool | None, Says("a relay keeps its outlets dead until three lines stand in order")
    ] = None
    discharge_resistor: Annotated[
        Value | Literal["none"] | None,
        Quantity("resistance", 100, 1e8, words=("none",)),
        Says("across each run capacitor"),
    ] = None
    line_3_marked: Annotated[bool | None, Says("at every end of it")] = None
    capacitor_fuses: Annotated[bool | None, Says("one in every line to a bank")] = None
    plate: Annotated[bool | None, Says("its plate tells volts, hertz, amps and loads")] = None
    nameplate_input: Annotated[
        Value | None, Quantity("current", 1, 1000), Says("input amps on that plate")
    ] = None
    fixed_loads: Annotated[
        bool | None, Says("it feeds the machines told here and never others")
    ] = None
    straight_breakers: Annotated[
        bool | None, Says("breakers of its lines are marked with one voltage, no slash")
    ] = None
    tied: Annotated[
        codes.TiedTo | None, Says("what line 3 or the idler's star point is tied to")
    ] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class OtherLoad:
    """What else hangs on the same service."""

    name: str
    current: Annotated[Value, Quantity("current", 0.01, 1000)]
    can_wait: Annotated[bool, Says("it may wait while the machines work")] = False
    lines: codes.LoadLines = "both"
    type: codes.LoadType | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Supply:
    """The supply that will feed the conversion."""

    kind: codes.SupplyKind
    earthed: Annotated[codes.Earthed | None, Says("which conductor is at earth potential")] = None
    country: Annotated[str, Text("a country's two letters, as GB or US", 2)] = ""
    voltage: Annotated[
        Value, Quantity("voltage", 90, 700), Says("between the two lines that will be used")
    ]
    frequency: Annotated[Value, Quantity("frequency", 40, 70)]
    measured_voltage: VoltageRange | None = None
    service_rating: Annotated[
        Value | None, Quantity("current", 1, 2000), Says("main fuse or breaker")
    ] = None
    contracted_power: Annotated[Value | None, Quantity("apparent_power", 500, 1e6)] = None
    residual_current: ResidualCurrent | None = None
    surge: Surge | None = None
    transformer: Annotated[Value | None, Quantity("apparent_power", 1000, 5e6)] = None
    earthing: codes.Earthing | None = None
    loop_impedance: Annotated[Value | None, Quantity("resistance", 0.001, 10, "measured")] = None
    prospective_fault_current: Annotated[Value | None, Quantity("current", 20, 2e5, "measured")] = (
        None
    )
    insulation_monitor: Annotated[
        bool | None, Says("one watches a supply of which no conductor is earthed")
    ] = None
    heater_test: HeaterTest | None = None
    volts_to_earth: VoltsToEarth | None = None
    feeder: Feeder | None = None
    outlet_rating: Annotated[
        Value | None, Quantity("current", 1, 1000), Says("where only an outlet may be used")
    ] = None
    converter_circuit: ConverterCircuit | None = None
    farm: Annotated[bool | None, Says("it feeds a farm or market garden")] = None
    dwelling: Annotated[bool | None, Says("dwellings share its transformer")] = None
    service_conductor: Annotated[
        Value | None, Quantity("area", 1e-7, 1e-3), Says("copper, in from the street")
    ] = None
    electrode_conductor: Annotated[
        Value | None, Quantity("area", 1e-7, 1e-3), Says("copper, to its earth electrode")
    ] = None
    bonding_conductor: Annotated[
        Value | None, Quantity("area", 1e-7, 1e-3), Says("copper, to pipes and steel")
    ] = None
    other_loads: tuple[OtherLoad, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Tariff:
    """What energy costs, in the shop's currency."""

    energy: Annotated[float | None, Money, Says("for one kWh")] = None
    fuel: Annotated[float | None, Money, Says("for one litre, where a generator may run")] = None
    standing_per_year: Annotated[float | None, Money] = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """A building or room with its own feeder."""

    name: str
    feeder: Feeder | None = None
    residual_current: ResidualCurrent | None = None
    electrode: Annotated[Value | None, Quantity("resistance", 0.1, 1e4, "measured")] = None
    dust: bool = False
    damp: bool = False
    ambient: Annotated[Value | None, Quantity("temperature", -50, 70)] = None
    altitude: Annotated[Value | None, Quantity("length", 0, 6000)] = None
    users: codes.Users | None = None
