"""A motor as the rest of the house sees it: its plate read, linked, fitted and judged."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from phasewright.machines.circuit import Circuit
from phasewright.machines.connection import link_for
from phasewright.machines.kinds import ask_about_phases, not_computable, warn_of_kind
from phasewright.machines.link import Link
from phasewright.machines.load import Load
from phasewright.machines.notes import Notes
from phasewright.machines.reading import Reading, Where, read_plate
from phasewright.machines.two_speed import DriveFeed, Layout, Speed, two_speed_of
from phasewright.machines.two_speed_drive import best_for_drive
from phasewright.machines.two_speed_motor import read_two_speeds
from phasewright.quantities.codes import Connection, MotorKind, Region
from phasewright.quantities.errors import NotComputable
from phasewright.quantities.finding import Assumed, Finding, Missing, Reason
from phasewright.quantities.identity import Hashed, hashed_once
from phasewright.quantities.value import Value, exact
from phasewright.shop.machine import Machine, motor_id
from phasewright.shop.machine import Motor as ShopMotor
from phasewright.shop.plate import Plate


@hashed_once
@dataclass(frozen=True, slots=True)
class Motor(Hashed):
    """One motor of the shop. A figure that cannot be computed is None, `reasons` says why.

    `link` is the connection for the shop's own supply volts as three phases (None where no
    connection serves, `link_reasons` says why). `circuit` stands for `circuit_link`: that link,
    or the first one there is. `full_load_current_a`, `locked_rotor_current_a` and the torques
    belong to `circuit_link` at its rated volts; `locked_nm` and `breakdown_nm` are air-gap
    torques, `rated_nm` is the shaft torque.

    A two-speed motor's own figures are those of its more powerful speed; `speeds` holds both,
    the low one first, `layout` whether one winding or two make them. `heat_share` is the share
    of its rated losses that it bears for ever where it stands, below 1 in warm or thin air.
    """

    id: str
    machine: str
    name: str
    path: str
    kind: MotorKind
    plate: Plate
    phases: int
    power_w: Value | None
    speed_rpm: Value | None
    poles: int | None
    frequency_hz: Value | None
    synchronous_speed_rpm: float | None
    power_factor: Value | None
    efficiency: Value | None
    links: tuple[Link, ...]
    link: Link | None
    link_reasons: tuple[Reason, ...]
    circuit_link: Link | None
    circuit: Circuit | None
    circuit_soft: Circuit | None
    circuit_hard: Circuit | None
    full_load_current_a: Value | None
    locked_rotor_current_a: Value | None
    no_load_current_a: Value | None
    rated_nm: Value | None
    locked_nm: Value | None
    breakdown_nm: Value | None
    inertia_kg_m2: Value | None
    load: Load | None
    reasons: tuple[Reason, ...] = ()
    findings: tuple[Finding, ...] = ()
    assumed: tuple[Assumed, ...] = ()
    missing: tuple[Missing, ...] = field(default=())
    speeds: tuple[Speed, ...] = ()
    layout: Layout | None = None
    heat_share: float = 1.0

    @property
    def three_phase(self) -> bool:
        """True for motors that want three lines."""
        return self.phases == 3

    @property
    def connection(self) -> Connection:
        """The connection for the shop's supply volts, `none` where there is none."""
        return "none" if self.link is None else self.link.connection

    def link_at(
        self, line_voltage_v: float, frequency_hz: float
    ) -> tuple[Link | None, tuple[Reason, ...]]:
        """The link for a three-phase line voltage at a frequency, and why."""
        plate_hz = frequency_hz if self.frequency_hz is None else self.frequency_hz.number
        return link_for(self.links, line_voltage_v, frequency_hz, plate_hz)

    def circuit_at(self, link: Link) -> Circuit:
        """The circuit with the winding linked as `link` says. Raises NotComputable without one."""
        if self.circuit is None:
            raise NotComputable(f"{self.id} has no circuit: " + "; ".join(self._words()))
        return self.circuit.relinked(link.line_voltage_v)

    def current_at(self, link: Link) -> float:
        """Rated line current [A] with the winding linked as `link` says."""
        return self.circuit_at(link).rated_current_a

    def drive_winding(self, output_voltage_v: float) -> tuple[Speed, DriveFeed] | None:
        """Of a two-speed motor the winding a drive of these volts should feed, and the price."""
        if self.layout is None or len(self.speeds) != 2:
            return None
        return best_for_drive(self.speeds, output_voltage_v, self.layout)

    def _words(self) -> list[str]:
        return [reason.words for reason in self.reasons] or ["nothing is known of it"]


def motor_of(
    machine: Machine,
    motor: ShopMotor,
    *,
    supply_voltage_v: float,
    frequency_hz: float,
    region: Region,
    path: str,
    measured_voltage_v: tuple[float, float] | None = None,
) -> Motor:
    """Read a plate. `supply_voltage_v` and `frequency_hz` are the shop's own.

    `measured_voltage_v` is the lowest and the highest reading at the outlet, where there is one.
    Never refuses for a missing fact: what is missing is taken from the tables and listed in
    `assumed`; what cannot be computed at all is None, with the reason.
    """
    notes = Notes(motor_id(machine, motor), path)
    plate = motor.plate
    shell = _empty(machine, motor, path)
    why = not_computable(plate)
    if why is not None:
        ask_about_phases(plate, notes)
        return replace(
            shell, reasons=(why,), findings=tuple(notes.findings),
            phases=1 if why.code == "single_phase_motor" else 3,
        )  # fmt: skip
    where = Where(supply_voltage_v, frequency_hz, region, measured_voltage_v)
    warn_of_kind(plate, machine, notes)
    try:
        two = two_speed_of(plate, region, notes)
        if two is None:
            return _with_notes(
                _filled(shell, read_plate(plate, machine, motor.load, where, notes)), notes
            )
        strong, speeds = read_two_speeds(two, machine, motor.load, where, notes)
        whole = replace(_filled(shell, strong), speeds=speeds, layout=two.layout)
        return _with_notes(whole, notes)
    except NotComputable as refusal:
        return _with_notes(replace(shell, reasons=(Reason("not_computable", str(refusal)),)), notes)


def _empty(machine: Machine, motor: ShopMotor, path: str) -> Motor:
    plate = motor.plate
    power = max(plate.power, key=lambda value: value.number) if plate.power else None
    return Motor(
        id=motor_id(machine, motor), machine=machine.name, name=motor.name, path=path,
        kind=plate.kind, plate=plate, phases=3, power_w=power,
        speed_rpm=None, poles=None, frequency_hz=plate.frequency,
        synchronous_speed_rpm=None, power_factor=None, efficiency=None, links=(), link=None,
        link_reasons=(), circuit_link=None, circuit=None, circuit_soft=None, circuit_hard=None,
        full_load_current_a=None, locked_rotor_current_a=None, no_load_current_a=None,
        rated_nm=None, locked_nm=None, breakdown_nm=None, inertia_kg_m2=None, load=None,
    )  # fmt: skip


def _with_notes(motor: Motor, notes: Notes) -> Motor:
    return replace(
        motor,
        findings=tuple(notes.findings),
        assumed=tuple(notes.assumed) + motor.assumed,
        missing=tuple(notes.missing),
    )


def _filled(shell: Motor, reading: Reading) -> Motor:
    """Everything a reading knows; a motor beyond the tables keeps its links and its speed."""
    turns, at, computed = reading.turns, reading.at, reading.computed
    motor = replace(
        shell, links=reading.links, link=reading.link, link_reasons=reading.link_reasons,
        circuit_link=at, power_w=reading.power_w or shell.power_w, reasons=reading.reasons,
    )  # fmt: skip
    if turns is not None:
        motor = replace(
            motor, speed_rpm=turns.speed_rpm, poles=turns.poles, frequency_hz=turns.frequency_hz,
            synchronous_speed_rpm=turns.synchronous_speed_rpm,
        )  # fmt: skip
    if computed is None:
        amps = None if at is None else at.full_load_current_a
        return (
            motor
            if amps is None
            else replace(motor, full_load_current_a=exact(amps, "A", "plate", "plate"))
        )
    point, fitted = computed.point, computed.fitted
    return replace(
        motor,
        power_w=point.power_w,
        power_factor=point.power_factor,
        efficiency=point.efficiency,
        full_load_current_a=point.current_a,
        circuit=fitted.circuit,
        circuit_soft=fitted.circuit_soft,
        circuit_hard=fitted.circuit_hard,
        locked_rotor_current_a=fitted.locked_current_a,
        no_load_current_a=fitted.no_load_current_a,
        rated_nm=fitted.rated_nm,
        locked_nm=fitted.locked_nm,
        breakdown_nm=fitted.breakdown_nm,
        inertia_kg_m2=computed.inertia,
        load=computed.load,
        assumed=computed.assumed,
    )
