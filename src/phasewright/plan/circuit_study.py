"""A circuit of a plan as the result file tells it; field names are the file's."""

from __future__ import annotations

from dataclasses import dataclass

from phasewright.circuits.installation import (
    Circuit,
    Device,
    Isolator,
    Lines,
    MotorServed,
    Panel,
    PhaseRelay,
    ProtectiveConductor,
    ResidualCurrentDevice,
    Role,
    Socket,
    VoltageDrop,
)
from phasewright.quantities.value import Value


@dataclass(frozen=True, slots=True)
class NotGiven:
    """A field of a circuit that is absent, and why; `field` is the result file's name."""

    field: str
    words: str


@dataclass(frozen=True, slots=True)
class PlanDrop:
    """Voltage drop of a circuit as a share of its voltage, running and at the hardest start."""

    running: Value | None
    starting: Value | None

    def installed(self) -> VoltageDrop:
        """The same as an installation has it, for the rules."""
        running, starting = (
            None if each is None else each.number for each in (self.running, self.starting)
        )
        return VoltageDrop(running, starting)


@dataclass(frozen=True, slots=True)
class PlanCircuit:
    """One circuit of a plan, from the device at its beginning to what it feeds.

    Currents and volts rms, shares as fractions. `earth_fault_a` is the current of an earth fault at
    its end (on the generated line the least of its lines), `first_cycles_a` what line 3 gives
    before the idler's flux has died away; `disconnects_s` is within how long something has
    surely opened it, `within_s` what is asked. `upstream_blind`: an isolating
    source stands ahead, so no residual-current device before that sees its earth faults.
    What was not computed is absent.
    """

    id: str
    role: Role
    from_: str
    to: str
    lines: Lines
    place: str | None
    voltage_v: Value
    design_current_a: Value | None
    starting_current_a: Value | None
    starting_s: float | None
    conductor: str | None
    conductor_m2: float | None
    length_m: Value
    method: str | None
    ambient_c: float | None
    grouped: int
    loaded: int
    ampacity_a: Value | None
    voltage_drop: PlanDrop | None
    device: Device | None
    residual_current: ResidualCurrentDevice | None
    fault_at_origin_a: Value | None
    fault_at_end_a: Value | None
    loop_ohm: Value | None
    earth_fault_a: Value | None
    first_cycles_a: Value | None
    disconnects_s: Value | None
    within_s: float | None
    protective_conductor: ProtectiveConductor | None
    isolator: Isolator | None
    socket: Socket | None
    phase_relay: PhaseRelay | None
    overload_setting_a: Value | None
    undervoltage_release: bool
    upstream_blind: bool
    capacitance_f: Value | None
    discharge_ohm: Value | None
    why_it_holds: str | None
    why_it_trips: str | None
    findings: tuple[str, ...]
    sources: tuple[str, ...]
    full_load_a: tuple[float, ...] = ()
    motor: MotorServed | None = None
    panel: Panel | None = None
    behind_overload: bool | None = None
    fused: bool | None = None
    there: tuple[str, ...] = ()
    """What of it stands there already and is kept, by the keys of the shop file."""
    ahead: str | None = None
    """The circuit whose breaker stands ahead of its own."""
    selective_up_to_a: Value | None = None
    """Short-circuit current up to which its breaker surely opens without that one."""
    not_given: tuple[NotGiven, ...] = ()


def installed(
    of: PlanCircuit,
    equipment: str | None,
    nameplate_input_a: float | None,
) -> Circuit:
    """The same circuit as an installation has it, for the rules."""
    return Circuit(
        id=of.id,
        feeds=(of.to,),
        source=of.from_,
        lines=of.lines,
        design_current_a=of.design_current_a,
        conductor=of.conductor,
        length_m=of.length_m.number,
        ampacity_a=of.ampacity_a,
        voltage_drop=None if of.voltage_drop is None else of.voltage_drop.installed(),
        device=of.device,
        residual_current=of.residual_current,
        loop_ohm=of.loop_ohm,
        earth_fault_a=of.earth_fault_a,
        disconnects_s=of.disconnects_s,
        overload_setting_a=of.overload_setting_a,
        role=of.role,
        place=of.place,
        equipment=equipment,
        voltage_v=of.voltage_v.number,
        full_load_a=of.full_load_a,
        motor=of.motor,
        panel=of.panel,
        behind_overload=of.behind_overload,
        fused=of.fused,
        nameplate_input_a=nameplate_input_a,
        starting_current_a=of.starting_current_a,
        starting_s=of.starting_s,
        conductor_m2=of.conductor_m2,
        loaded=of.loaded,
        method=of.method,
        ambient_c=of.ambient_c,
        grouped=of.grouped,
        fault_at_origin_a=of.fault_at_origin_a,
        fault_at_end_a=of.fault_at_end_a,
        protective_conductor=of.protective_conductor,
        isolator=of.isolator,
        socket=of.socket,
        phase_relay=of.phase_relay,
        undervoltage_release=of.undervoltage_release,
        capacitance_f=None if of.capacitance_f is None else of.capacitance_f.number,
        discharge_ohm=None if of.discharge_ohm is None else of.discharge_ohm.number,
        why_it_holds=of.why_it_holds,
        why_it_trips=of.why_it_trips,
    )
