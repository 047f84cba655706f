"""What a circuit of a plan has to do, before it is sized: one plain record for every kind."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import Literal

from phasewright.circuits.cables import Laid
from phasewright.circuits.devices import Start
from phasewright.circuits.installation import (
    Device,
    Lines,
    MotorServed,
    Panel,
    PhaseRelay,
    ResidualCurrentDevice,
    Role,
)
from phasewright.network.shortcircuit import peak_current_a
from phasewright.plan.circuit_runs import Run
from phasewright.plan.circuit_supply import Tap
from phasewright.quantities.codes import Region, ResidualType
from phasewright.quantities.errors import TableEnds
from phasewright.quantities.value import Value
from phasewright.rules.motor_circuits import (
    motor_conductor_a,
    motor_device_a,
    raised_device_a,
)
from phasewright.rules.nec_places import panel_most_a
from phasewright.rules.nec_transformers import primary_device_a
from phasewright.rules.phase_converters import fixed_load_conductor_a, variable_loads
from phasewright.running.line3_fault import Line3Fault
from phasewright.tables.circuits import start_power_factor, usual
from phasewright.tables.currents import full_load_current_a
from phasewright.tables.efficiency import W_PER_HP
from phasewright.tables.protection import share
from phasewright.tables.sizes import BREAKERS_NEC_A, next_size

Kind = Literal["motor", "converter", "drive", "other"]


@dataclass(frozen=True, slots=True)
class Job:
    """A circuit to be laid.

    `design` is what flows for ever; `code_a` the amps a code counts from (a table's full-load
    current, a plate's input) where they differ. `tap` is where it begins, None behind a source
    whose fault current is not known; `ahead_ohm` one conductor of what lies between. `drives`
    and `leakage_ma` are of everything behind it. `isolates`: nothing upstream sees its faults.
    `covering` is the residual-current device of the circuit that covers it, where that is told;
    `resistor_ohm` discharges every run capacitor beside this one too.
    """

    role: Role
    source: str
    to: str
    lines: Lines
    place: str
    kind: Kind
    voltage_v: float
    design: Value
    run: Run
    tap: Tap | None
    region: Region
    code_a: float | None = None
    ahead_ohm: complex = 0j
    starts: tuple[Start, ...] = ()
    line3: Line3Fault | None = None
    return_ohm: complex = 0j
    device: Device | None = None
    own_device: bool = True
    socket: bool = False
    cord: bool = False
    isolator: bool = True
    early_break: bool = False
    overload: Value | None = None
    release: bool = False
    relay: PhaseRelay | None = None
    ambient_c: float | None = None
    equipment: str | None = None
    full_load_a: tuple[float, ...] = ()
    nameplate_input_a: float | None = None
    motor: MotorServed | None = None
    panel: Panel | None = None
    behind_overload: bool | None = None
    fixed_loads_a: tuple[float, ...] | None = None
    leakage_ma: float = 0.0
    residual_type: ResidualType = "A"
    isolates: bool = False
    covered_by: str | None = None
    covering: ResidualCurrentDevice | Literal["none"] | None = None
    more_least: float = 1.0
    capacitance: Value | None = None
    resistor_ohm: float | None = None
    in_series: bool = False
    sources: tuple[str, ...] = field(default_factory=tuple)

    @property
    def id(self) -> str:
        return f"{self.source} to {self.to}"

    @property
    def unseen(self) -> bool:
        """Whether nothing is known of the earth behind what isolates it."""
        return self.isolates and (self.tap is None or self.tap.own is None)

    @property
    def length(self) -> Value:
        """Metres one way."""
        return self.run.length

    @property
    def laid(self) -> Laid:
        """As it is told, else as usual; a cord lies in free air, taken as in a pipe."""
        return Laid(
            self.region,
            3 if self.lines in ("1-2-3", "drive output") else 2,
            None if self.region == "NEC" else self.run.laid_as,
            self.ambient_c,
            self.run.grouped or int(usual("bunched")),
        )


@dataclass(frozen=True, slots=True)
class Asked:
    """What the code of a region asks of a circuit's conductors and device [A]."""

    ampacity_a: float
    device_from_a: float
    device_to_a: float
    follows: bool
    small: bool


def asked_of(job: Job) -> Asked:
    """IEC: the device carries the design current, the conductor the device. NEC: by article."""
    design = max(job.design.number, job.design.high)
    if job.region != "NEC":
        return Asked(job.more_least * design, design, float("inf"), follows=True, small=False)
    base = job.code_a if job.code_a is not None else design
    if job.kind == "motor":
        least = max(motor_conductor_a(base), job.more_least * design)
        most = min(raised_device_a(base), _panel_most_a(job))
        return Asked(least, max(base, design), most, follows=False, small=False)
    if job.kind == "converter":
        needs, least = variable_loads(base), variable_loads(base).conductor_a
        if job.fixed_loads_a is not None:
            least = min(least, fixed_load_conductor_a(job.fixed_loads_a))
        return Asked(least, design, needs.device_standard_a, follows=False, small=False)
    if job.kind == "drive":
        least = share("nec_430_122", "supply") * base
        most = motor_device_a(base)
        return Asked(least, next_size(least, BREAKERS_NEC_A, "breaker"), most, True, small=False)
    least, most = share("nec_430_52", "conductor") * base, float("inf")
    if job.role == "supply_to_transformer":
        most = primary_device_a(base, with_secondary=True)
    return Asked(max(least, job.more_least * design), least, most, True, small=True)


def _panel_most_a(job: Job) -> float:
    """The largest device that may stand ahead of the panel at its end (NFPA 70, 409.21)."""
    branch = None if job.panel is None else job.panel.largest_branch_a
    return math.inf if branch is None else panel_most_a(branch)


def code_amps(power_w: float | None, voltage_v: float, phases: int, region: Region) -> float | None:
    """A motor's full-load current by the code's own table (430.6), None where it has no row."""
    if region != "NEC" or power_w is None:
        return None
    try:
        return full_load_current_a(round(power_w / W_PER_HP, 2), voltage_v, phases)
    except TableEnds:
        return None


def motor_start(current_a: float, seconds: float) -> Start:
    """A motor's start: its locked amps all the while, and the crest of the first half cycle."""
    factor = start_power_factor()
    reactance = (1.0 - factor * factor) ** 0.5
    return Start(current_a, seconds, peak_current_a(current_a, factor, reactance))
