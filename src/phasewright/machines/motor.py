"""A motor as the rest of the house sees it: its plate read, linked, fitted and judged."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from phasewright.machines.circuit import Circuit
from phasewright.machines.connection import link_for, linking
from phasewright.machines.fit_motor import fit_motor
from phasewright.machines.kinds import not_computable, warn_of_kind
from phasewright.machines.link import Link
from phasewright.machines.load import Load, load_of
from phasewright.machines.notes import Notes
from phasewright.machines.questions import ask_about_amps, ask_about_leads
from phasewright.machines.rated_point import RatedPoint, power_from_current, rated_point
from phasewright.machines.speed import Turning, turning
from phasewright.machines.unreadable import power_from_measures
from phasewright.quantities.codes import Connection, MotorKind, Region
from phasewright.quantities.errors import NotComputable
from phasewright.quantities.finding import Assumed, Finding, Missing, Reason
from phasewright.quantities.value import Value, spread
from phasewright.shop.model import Machine, motor_id
from phasewright.shop.model import Motor as ShopMotor
from phasewright.shop.plate import Plate
from phasewright.tables.motors import default_inertia_kg_m2

USUAL_VOLTS: dict[Region, tuple[float, float]] = {"IEC": (230.0, 400.0), "NEC": (230.0, 460.0)}


@dataclass(frozen=True, slots=True)
class Motor:
    """One motor of the shop. A figure that cannot be computed is None, `reasons` says why.

    `link` is the connection for the shop's own supply volts as three phases (None where no
    connection serves, `link_reasons` says why). `circuit` stands for `circuit_link`: that link,
    or the first one there is. `full_load_current_a`, `locked_rotor_current_a` and the torques
    belong to `circuit_link` at its rated volts; `locked_nm` and `breakdown_nm` are air-gap
    torques, `rated_nm` is the shaft torque.
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
) -> Motor:
    """Read a plate. `supply_voltage_v` and `frequency_hz` are the shop's own.

    Never refuses for a missing fact: what is missing is taken from the tables and listed in
    `assumed`; what cannot be computed at all is None, with the reason.
    """
    notes = Notes(motor_id(machine, motor), path)
    plate = motor.plate
    shell = _empty(machine, motor, path)
    why = not_computable(plate)
    if why is not None:
        return replace(shell, reasons=(why,), phases=1 if why.code == "single_phase_motor" else 3)
    try:
        return _read(shell, machine, motor, notes, supply_voltage_v, frequency_hz, region)
    except NotComputable as refusal:
        return replace(
            shell,
            links=linking(plate, region).links,
            reasons=(Reason("not_computable", str(refusal)),),
            findings=tuple(notes.findings),
            assumed=tuple(notes.assumed),
            missing=tuple(notes.missing),
        )


def _empty(machine: Machine, motor: ShopMotor, path: str) -> Motor:
    return Motor(
        id=motor_id(machine, motor), machine=machine.name, name=motor.name, path=path,
        kind=motor.plate.kind, plate=motor.plate, phases=3, power_w=_stamped_power(motor.plate),
        speed_rpm=None, poles=None, frequency_hz=motor.plate.frequency,
        synchronous_speed_rpm=None, power_factor=None, efficiency=None, links=(), link=None,
        link_reasons=(), circuit_link=None, circuit=None, circuit_soft=None, circuit_hard=None,
        full_load_current_a=None, locked_rotor_current_a=None, no_load_current_a=None,
        rated_nm=None, locked_nm=None, breakdown_nm=None, inertia_kg_m2=None, load=None,
    )  # fmt: skip


def _stamped_power(plate: Plate) -> Value | None:
    """The stamped power; of a two-speed plate the larger one."""
    return max(plate.power, key=lambda value: value.number) if plate.power else None


def _stamped_speed(plate: Plate, frequency_hz: float) -> float | None:
    """The stamped speed that belongs to the power that counts."""
    if not plate.speed:
        return None
    speeds = [value.number for value in plate.speed]
    if len(speeds) == 2 and max(speeds) / min(speeds) < 1.27:
        hertz = frequency_hz if plate.frequency is None else plate.frequency.number
        return max(speeds) if hertz > 55.0 else min(speeds)
    if len(speeds) == 2 and len(plate.power) == 2:
        return speeds[0] if plate.power[0].number >= plate.power[1].number else speeds[1]
    return max(speeds)


def _read(
    shell: Motor, machine: Machine, motor: ShopMotor, notes: Notes,
    supply_voltage_v: float, frequency_hz: float, region: Region,
) -> Motor:  # fmt: skip
    plate = _with_volts(motor.plate, region, notes)
    ways = linking(plate, region)
    ask_about_leads(plate, ways, notes)
    if not ways.links:
        return replace(
            shell, reasons=ways.reasons, link_reasons=ways.reasons,
            findings=tuple(notes.findings), assumed=tuple(notes.assumed),
        )  # fmt: skip
    ask_about_amps(plate, ways.links, notes)
    warn_of_kind(plate, machine, notes)
    rpm = _stamped_speed(plate, frequency_hz)
    power = _stamped_power(plate) or power_from_measures(plate, notes)
    guess = power.number if power is not None else 1500.0
    turns = turning(plate, guess, region, frequency_hz, rpm, notes)
    plate_hz = turns.frequency_hz.number
    link, reasons = link_for(ways.links, supply_voltage_v, frequency_hz, plate_hz)
    at = link or ways.links[0]
    if power is None:
        if at.full_load_current_a is None:
            text = "Neither power nor current nor size of this motor is known."
            raise NotComputable(text)
        power = power_from_current(plate, at, plate_hz, turns.poles, notes)
    point = rated_point(plate, power, at, turns, notes)
    inertia = notes.take(
        "rotor inertia",
        "plate",
        default_inertia_kg_m2(power.number, turns.poles, plate.year),
    )
    fitted = fit_motor(plate, point, at, turns, inertia, notes)
    load, assumed = load_of(
        motor.load, machine, inertia, shell.path,
        rated_nm=fitted.rated_nm.number, speed_rpm=turns.speed_rpm.number,
    )  # fmt: skip
    whole = _filled(shell, turns, point, inertia, load)
    return replace(
        whole,
        links=_with_currents(ways.links, at, fitted.circuit.rated_current_a),
        link=None if link is None else _with_current(link, at, fitted.circuit.rated_current_a),
        link_reasons=ways.reasons + reasons,
        circuit_link=_with_current(at, at, fitted.circuit.rated_current_a),
        circuit=fitted.circuit,
        circuit_soft=fitted.circuit_soft,
        circuit_hard=fitted.circuit_hard,
        locked_rotor_current_a=fitted.locked_current_a,
        no_load_current_a=fitted.no_load_current_a,
        rated_nm=fitted.rated_nm,
        locked_nm=fitted.locked_nm,
        breakdown_nm=fitted.breakdown_nm,
        findings=tuple(notes.findings),
        assumed=tuple(notes.assumed) + assumed,
        missing=tuple(notes.missing),
    )


def _with_volts(plate: Plate, region: Region, notes: Notes) -> Plate:
    if plate.voltage:
        return plate
    low, high = USUAL_VOLTS[region]
    source = "usual plate of the region (common practice, no source)"
    values = (
        spread(low, 190.0, 400.0, "V", "assumed", source),
        spread(high, 380.0, 690.0, "V", "assumed", source),
    )
    notes.take("voltage", "plate.voltage", values[0])
    notes.wanted(
        "voltage", "plate.voltage", values[0], "Whether this motor runs on the low voltage at all.",
        "Look for the volts on the plate or in the lid; else a winder can tell.",
        "connection, way of powering",
    )  # fmt: skip
    return replace(plate, voltage=values)


def _filled(shell: Motor, turns: Turning, point: RatedPoint, inertia: Value, load: Load) -> Motor:
    return replace(
        shell,
        power_w=point.power_w,
        speed_rpm=turns.speed_rpm,
        poles=turns.poles,
        frequency_hz=turns.frequency_hz,
        synchronous_speed_rpm=turns.synchronous_speed_rpm,
        power_factor=point.power_factor,
        efficiency=point.efficiency,
        full_load_current_a=point.current_a,
        inertia_kg_m2=inertia,
        load=load,
    )


def _with_current(link: Link, at: Link, amps: float) -> Link:
    if link.full_load_current_a is not None:
        return link
    return replace(link, full_load_current_a=amps * at.line_voltage_v / link.line_voltage_v)


def _with_currents(links: tuple[Link, ...], at: Link, amps: float) -> tuple[Link, ...]:
    return tuple(_with_current(link, at, amps) for link in links)
