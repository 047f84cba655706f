"""A motor of a plan as the wiring takes it: its box, its capacitors, its drive."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from phasewright.machines.motor import Motor
from phasewright.papers.wiring.banks import Can, cans_of, parted
from phasewright.papers.wiring.drive_device import DriveFeed, Transformer
from phasewright.papers.wiring.hanging import Hanging
from phasewright.papers.wiring.job import DRIVES, Job
from phasewright.papers.wiring.origin import own_residual
from phasewright.papers.wiring.terminals import TerminalBox, box_of, speed_box
from phasewright.papers.wiring.windings import rated_winding_v
from phasewright.plan.study import PlanEquipment, PlanMotor
from phasewright.ways.figures import Figures, Part

FILTERS = ("output_choke", "sine_filter")
CHOKES = ("ac_choke", "dc_choke")


def hanging(job: Job, each: PlanMotor) -> Hanging:
    """The motor with what its circuit is made from."""
    motor, machine = job.motors[each.motor], job.machine(each.motor)
    number = list(job.motors).index(each.motor) + 1
    wants = machine.motor(motor.name).wants
    parts = job.parts(each.motor, each.way or "")
    stop = each.figures.emergency_stop
    link = next((one for one in motor.links if one.connection == each.connection), motor.link)
    return Hanging(
        f"=M{number}", motor, machine, _box(job, each, motor),
        None if each.overload_setting_a is None else each.overload_setting_a.number,
        None if link is None else link.line_voltage_v,
        frozenset(part.kind for part in parts), _carried(each, parts),
        reverses=wants.reverse, speed_wanted=wants.speed is not None,
        origin=job.origin(*_fed_by(job, each)),
        winding_v=rated_winding_v(motor, each.connection, job.shop.region),
        braked=_braked(job, each), category=0 if stop is None else stop.category,
        halt_words="" if stop is None else stop.words, ramp_s=_ramp_s(each.figures),
    )  # fmt: skip


def _fed_by(job: Job, each: PlanMotor) -> tuple[str, ...]:
    """What the circuit leads to at whose beginning the motor's own devices stand."""
    if job.wiring_kind(each) == "drive":
        ahead = transformer_of(each.motor)
        return (ahead,) if job.circuits(ahead) else (each.equipment or "",)
    return (each.motor,)


def transformer_of(motor: str) -> str:
    """What a circuit to the transformer before a motor's drive is said to lead to."""
    return f"transformer {motor}"


def _ramp_s(figures: Figures) -> float | None:
    """The ramp down as it is set; where no setting is told, the shortest that serves."""
    for setting in figures.settings or ():
        if setting.code == "ramp_down" and isinstance(setting.value, float):
            return setting.value
    found = figures.ramp_down_s or (figures.stopping.time_s if figures.stopping else None)
    return None if found is None else found.number


def _braked(job: Job, each: PlanMotor) -> bool:
    """A machine's brake is with its first motor; a motor that is swapped has none."""
    brake = job.machine(each.motor).brake
    if brake is None or brake.kind not in ("spring_electric", "dc_injection"):
        return False
    own = [one for one in job.motors if one.partition("/")[0] == each.motor.partition("/")[0]]
    return own[0] == each.motor and each.way != "motor_swap"


def _box(job: Job, each: PlanMotor, motor: Motor) -> TerminalBox:
    region = job.shop.region
    if motor.speeds:
        own = motor.layout == "two_windings"
        strong = max(
            motor.speeds,
            key=lambda speed: (speed.on_drive.worst if speed.on_drive else 0.0,
                               speed.power_w.number),
        )  # fmt: skip
        return speed_box(
            region, own_windings=own, high=strong.name == "high",
            double_star=strong.winding == "double_star", words=strong.words,
        )  # fmt: skip
    link = next((one for one in motor.links if one.connection == each.connection), motor.link)
    return box_of(link, motor.plate.leads, region)


def _carried(each: PlanMotor, parts: Sequence[Part]) -> tuple[tuple[Can, ...], tuple[Can, ...]]:
    """The cans that are switched with this motor, by their pair of lines."""
    figures = each.figures.travelling_capacitance_f or ()
    own = next((one for one in figures if one.motor == each.motor), None)
    if own is None:
        return (), ()
    second, first = parted(cans_of(parts), own.c23.number, own.c31.number)
    return first, second


def feed_of(job: Job, each: PlanMotor) -> DriveFeed:
    """The drive a motor has for itself."""
    parts = {part.kind: part for part in job.parts(each.motor, each.way or "")}
    drive = next(parts[kind] for kind in DRIVES if kind in parts)
    machine = job.machine(each.motor)
    spring = machine.brake is not None and machine.brake.kind == "spring_electric"
    made = _feed(job, parts, each.figures, _link_volts(job, each))
    ahead = _transformer(job, each, parts)
    return replace(
        made, power_w=drive.rating, input_v=made.input_v if ahead is None else ahead.out_v,
        steps_up=drive.kind == "step_up_drive", isolator_priced="isolator" in parts,
        transformer=ahead, relay=spring and _braked(job, each),
    )  # fmt: skip


def shared_feed(job: Job, of: PlanEquipment, hung: Sequence[PlanMotor]) -> DriveFeed:
    """The drive that several motors share."""
    buy = job.shared_buy(of)
    parts = {} if buy is None else {part.kind: part for part in buy.parts}
    volts = {_link_volts(job, each) for each in hung}
    made = _feed(job, parts, of.figures, volts.pop() if len(volts) == 1 else None)
    resistors = [each for each in hung if each.figures.brake_resistor is not None]
    if resistors and "brake_resistor" not in parts:
        own = {part.kind: part for each in resistors
               for part in job.parts(each.motor, each.way or "")}  # fmt: skip
        if "brake_resistor" in own:
            figures = resistors[0].figures.brake_resistor
            made = replace(
                made, resistor_w=own["brake_resistor"].rating,
                resistor_ohm=None if figures is None else figures.ohm.number,
            )  # fmt: skip
    return replace(
        made, power_w=of.rating, origin=job.origin(of.id), isolator_priced="isolator" in parts
    )


def _link_volts(job: Job, each: PlanMotor) -> float | None:
    told = each.figures.motor_on_drive
    if told is not None:
        return told.voltage_v.number
    motor = job.motors[each.motor]
    link = next((one for one in motor.links if one.connection == each.connection), motor.link)
    return None if link is None else link.line_voltage_v


def _feed(job: Job, parts: dict[str, Part], figures: Figures, output_v: float | None) -> DriveFeed:
    choke = next((parts[kind] for kind in CHOKES if kind in parts), None)
    resistor, told = parts.get("brake_resistor"), figures.brake_resistor
    return DriveFeed(
        0.0, "ac_choke" in parts, choke.rating if choke and choke.unit == "H" else None,
        "dc_choke" in parts, input_v=job.shop.supply.voltage.number, output_v=output_v,
        output_filter=next((kind for kind in FILTERS if kind in parts), ""),
        resistor_w=None if resistor is None else resistor.rating,
        resistor_ohm=None if told is None else told.ohm.number,
    )  # fmt: skip


def _transformer(job: Job, each: PlanMotor, parts: dict[str, Part]) -> Transformer | None:
    """What stands between supply and drive: as the plan's circuits size it, or by the plate."""
    part = next((parts[kind] for kind in parts if kind.endswith("transformer")), None)
    if part is None:
        return None
    behind = [c for c in job.plan.circuits or () if c.from_ == transformer_of(each.motor)]
    motor = job.motors[each.motor]
    link = next((one for one in motor.links if one.connection == each.connection), motor.link)
    volts = behind[0].voltage_v.number if behind else None if link is None else link.line_voltage_v
    if volts is None:
        return None
    leak = own_residual(behind[0]) if behind else None
    return Transformer(
        volts, part.rating, leak, "residual_current_b" in parts, "breaker_two_pole" in parts,
        any(each.isolator is not None for each in behind),
    )  # fmt: skip
