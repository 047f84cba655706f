"""The `network` block of a start file as data: every parameter of a run in time, in SI.

Words stand where there is no number: `never` for an instant that does not come, `when_settled` for
the first half cycle's end after everything before it has settled, `with_the_last` for a machine
that closes together with the one before it.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Annotated, Literal

from phasewright.running.network import LoadLawKind
from phasewright.shop.keys import Number, Says, Text
from phasewright.starts.course import FOREVER, DropRule

Never = Literal["never"]
Awaited = Literal["when_settled", "never"]
Closing = Literal["when_settled", "with_the_last", "never"]
SECONDS = Number(0.0, FOREVER, "seconds from the beginning of the run")
OHM = Number(0.0, 1e12, "ohm")
SOME_OHM = Number(1e-9, 1e12, "ohm, above zero")
TORQUE = Number(-1e6, 1e6, "newton metres")
SPEED = Number(-1e4, 1e4, "radians a second")
MOST_MACHINES = 100


@dataclass(frozen=True, slots=True)
class SourceShape:
    """Between lines 1 and 2: sqrt(2) voltage_v sin(2 pi frequency_hz t + phase_rad), behind a
    resistance and a reactance (at that frequency). When it is lost the contactor opens at the
    next zero of its current. With three `lines` it is a symmetrical source of lines 1, 2, 3 in
    that order, each behind half of the resistance and reactance."""

    voltage_v: Annotated[float, Number(1.0, 1e5, "volts rms at no load")]
    frequency_hz: Annotated[float, Number(1.0, 1000.0, "hertz")]
    resistance_ohm: Annotated[float, OHM]
    reactance_ohm: Annotated[float, OHM]
    lines: Annotated[int, Number(2, 3, "2, or 3 for a source of three lines", whole=True)] = 2
    phase_rad: Annotated[float, Number(-1e3, 1e3, "radians")] = 0.0
    lost_s: Annotated[Never | float, SECONDS] = "never"
    returns_s: Annotated[Never | float, SECONDS] = "never"


@dataclass(frozen=True, slots=True)
class ResistorShape:
    """A resistor ahead of everything, bridged at `bypass_s`."""

    ohm: Annotated[float, SOME_OHM]
    bypass_s: Annotated[Awaited | float, SECONDS]


@dataclass(frozen=True, slots=True)
class CapacitorsShape:
    """Capacitance between the lines [F]."""

    c12: Annotated[float, Number(0.0, 10.0, "farads")] = 0.0
    c23: Annotated[float, Number(0.0, 10.0, "farads")] = 0.0
    c31: Annotated[float, Number(0.0, 10.0, "farads")] = 0.0


@dataclass(frozen=True, slots=True)
class ResistiveLoadsShape:
    """Conductance of resistive loads between the lines [S]."""

    g12: Annotated[float, Number(0.0, 1e3, "siemens")] = 0.0
    g23: Annotated[float, Number(0.0, 1e3, "siemens")] = 0.0
    g31: Annotated[float, Number(0.0, 1e3, "siemens")] = 0.0


@dataclass(frozen=True, slots=True)
class DropOutShape:
    """When the start capacitor goes: at a share of synchronous speed of a machine, at a time, at
    an rms voltage across lines 3 and 1 seen through a lag of 20 ms, or never."""

    rule: DropRule
    speed_ratio: Annotated[float | None, Number(0.0, 2.0, "a share of synchronous speed")] = None
    machine: Annotated[str | None, Text("the id of a machine", 200)] = None
    time_s: Annotated[float | None, SECONDS] = None
    line_voltage_v: Annotated[float | None, Number(0.0, 1e5, "volts")] = None


@dataclass(frozen=True, slots=True)
class StartBranchShape:
    """Start capacitor in series with a resistance across lines 3 and 1; the bleeder lies across
    the capacitor once it is off."""

    capacitance_f: Annotated[float, Number(1e-12, 10.0, "farads, above zero")]
    drop_out: DropOutShape
    resistance_ohm: Annotated[float, OHM] = 0.5
    bleeder_ohm: Annotated[float | None, SOME_OHM] = None
    joins_s: Annotated[float, SECONDS] = 0.0


@dataclass(frozen=True, slots=True)
class SaturationShape:
    """Main-flux law i/i(1) = u (1 + k u^s)/(1 + k); `flux_vs` is the peak flux linkage at u = 1,
    which follows from volts, frequency and reactances and must agree with them."""

    k: Annotated[float, Number(0.0, 100.0, "a number")]
    s: Annotated[float, Number(1.0, 40.0, "a number")]
    flux_vs: Annotated[float | None, Number(1e-6, 1e4, "volt seconds")] = None


@dataclass(frozen=True, slots=True)
class CageShape:
    """One cage of the rotor, referred to the stator."""

    resistance_ohm: Annotated[float, SOME_OHM]
    leakage_ohm: Annotated[float, SOME_OHM]


@dataclass(frozen=True, slots=True)
class CircuitShape:
    """Equivalent circuit, star equivalent per phase, reactances at `frequency_hz`; friction
    torque a1 w + a2 w|w| takes 40 and 60 % of `friction_w` at rated speed. `inertia_kg_m2` is the
    rotor's alone (missing: that of the whole shaft)."""

    frequency_hz: Annotated[float, Number(1.0, 1000.0, "hertz")]
    stator_resistance_ohm: Annotated[float, SOME_OHM]
    stator_leakage_ohm: Annotated[float, OHM]
    magnetising_ohm: Annotated[float, SOME_OHM]
    core_loss_ohm: Annotated[float, SOME_OHM]
    cages: tuple[CageShape, ...]
    saturation: Annotated[SaturationShape | None, Says("null means a linear branch")] = field(
        default=None, metadata={"null": "a linear magnetising branch"}
    )
    friction_w: Annotated[float, Number(0.0, 1e6, "watts")] = 0.0
    stray_w: Annotated[float, Number(0.0, 1e6, "watts")] = 0.0
    inertia_kg_m2: Annotated[float | None, Number(1e-9, 1e6, "kg m2, above zero")] = None


@dataclass(frozen=True, slots=True)
class LoadShape:
    """Torque the load asks: constant T, fan T (w/w0)|w/w0|, viscous T w/w0 with T = `torque_nm`
    and w0 = `speed_rad_s`, none; `breakaway_nm` where standing still takes more."""

    law: LoadLawKind = "none"
    torque_nm: Annotated[float, TORQUE] = 0.0
    speed_rad_s: Annotated[float, Number(1e-3, 1e4, "radians a second, above zero")] = 1.0
    breakaway_nm: Annotated[float, Number(0.0, 1e6, "newton metres")] = 0.0


@dataclass(frozen=True, slots=True)
class MachineShape:
    """A machine with its shaft. `travelling_capacitance_f` is switched with its contactor;
    below `releases_below_v` (rms of lines 1 and 2 through a lag of 20 ms) its contactor opens for
    good; `point_on_wave` is the share of a half cycle by which a closing `when_settled` waits."""

    id: Annotated[str, Text("a name of its own", 200)]
    line_voltage_v: Annotated[float, Number(1.0, 1e5, "volts")]
    poles: Annotated[int, Number(2, 100, "an even number", whole=True)]
    rated_current_a: Annotated[float, Number(1e-6, 1e6, "amps, above zero")]
    rated_speed_rpm: Annotated[float, Number(1.0, 1e5, "rpm")]
    equivalent_circuit: CircuitShape
    inertia_kg_m2: Annotated[float, Number(1e-9, 1e6, "kg m2 of the whole shaft, above zero")]
    load: LoadShape = field(default_factory=LoadShape)
    reversed: bool = False
    initial_speed_rad_s: Annotated[float, SPEED] = 0.0
    closes_s: Annotated[Closing | float, SECONDS] = 0.0
    point_on_wave: Annotated[float, Number(0.0, 1.0, "a share of a half cycle")] = 0.0
    opens_s: Annotated[Never | float, SECONDS] = "never"
    travelling_capacitance_f: CapacitorsShape = field(default_factory=CapacitorsShape)
    releases_below_v: Annotated[float, Number(0.0, 1e5, "volts, 0 for none")] = 0.0


@dataclass(frozen=True, slots=True)
class LoadStepShape:
    """From `at_s` on the load of a machine asks `share` times its law."""

    machine: Annotated[str, Text("the id of a machine", 200)]
    at_s: Annotated[float, SECONDS]
    share: Annotated[float, Number(0.0, 1e3, "a share")]


@dataclass(frozen=True, slots=True)
class NetworkShape:
    """Every parameter of one run from rest of all currents; SI, instants in seconds."""

    source: SourceShape
    machines: tuple[MachineShape, ...]
    seconds: Annotated[float, Number(1e-3, 3600.0, "seconds")]
    run_capacitance_f: CapacitorsShape = field(default_factory=CapacitorsShape)
    resistive_loads_s: ResistiveLoadsShape = field(default_factory=ResistiveLoadsShape)
    start_branch: StartBranchShape | None = None
    start_resistor: ResistorShape | None = None
    load_steps: tuple[LoadStepShape, ...] = ()
    steps_per_cycle: Annotated[int, Number(40, 100_000, "an even number", whole=True)] = 100
    stops_when_settled: bool = False
