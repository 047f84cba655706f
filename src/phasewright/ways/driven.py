"""A motor on a drive of its own, whatever feeds the drive: fit, figures, hours of work."""

from __future__ import annotations

from collections.abc import Sequence

from phasewright.machines.circuit import Circuit
from phasewright.machines.frequency import base_point
from phasewright.machines.link import Link
from phasewright.machines.load import Load
from phasewright.machines.motor import Motor
from phasewright.machines.stamped import speeds_of as stamped_speeds
from phasewright.machines.stamped import two_speed_stamp
from phasewright.quantities.errors import NotComputable
from phasewright.quantities.finding import Reason
from phasewright.quantities.value import Value, exact, figure
from phasewright.shop.machine import Machine
from phasewright.tables.labour import hours
from phasewright.ways.asked import Asked
from phasewright.ways.drive_asks import asked_of_drive
from phasewright.ways.drive_duty import Duty
from phasewright.ways.drive_speed import Speeds, speeds_of
from phasewright.ways.drive_supply import with_supply_side
from phasewright.ways.figures import Figures, Range
from phasewright.ways.mains import over_room
from phasewright.ways.purchase import Item, total
from phasewright.ways.site import Site
from phasewright.ways.way import Task

LEAST_BASE_RATIO = 0.94
"""Below this share of the plate's hertz a drive runs out of volts before full speed."""


def two_speeds(motor: Motor) -> bool:
    """True for a motor whose winding changes its poles."""
    return len(stamped_speeds(motor.plate)) > 1 or two_speed_stamp(motor.plate.connection)


def power_of(motor: Motor) -> float:
    """Rated shaft power [W]; NotComputable where it is not known."""
    if motor.power_w is None:
        raise NotComputable(f"{motor.id}: its power is not known")
    return motor.power_w.number


def plate_hertz(motor: Motor, site: Site) -> float:
    """The plate's frequency, or the supply's where none is stamped [Hz]."""
    return motor.frequency_hz.number if motor.frequency_hz else site.source.frequency_hz


def reached(link: Link, hertz: float, output_v: float) -> bool:
    """Whether an output of so many volts drives this link to the plate's speed at full flux."""
    base = base_point(link.voltage_low_v, hertz, 4, output_v)
    return base.frequency_hz >= LEAST_BASE_RATIO * hertz


def over_supply(duty: Duty, site: Site, what: str) -> list[Reason]:
    """Refusals where the supply's room, or the peaks its source bears, end below the demand."""
    could = duty.usable_power_w.number / 1000.0
    found = over_room(
        site, duty.input_current_a.number,
        f"At the highest load it may ask for {what} draws",
        f"With the drive's current limit set down it could give about {could:.2g} kW.",
    )  # fmt: skip
    if site.crest_factor is not None and duty.input_peak_a is not None:
        bears = site.crest_factor * site.limit.current_a.number
        if duty.input_peak_a.number > bears:
            found.append(
                Reason(
                    "peak_too_high",
                    f"{what[0].upper()}{what[1:]}: its current comes in peaks of "
                    f"{duty.input_peak_a.number:.0f} A; the source bears {bears:.0f} A.",
                )
            )
    return found


def asked_and_speeds(
    task: Task, link: Link, circuit: Circuit, load: Load, site: Site, output_v: float
) -> tuple[Asked, Speeds]:
    """What a drive that gives `output_v` asks of this motor and machine, and its speed range."""
    base = base_point(link.line_voltage_v, circuit.frequency_hz, circuit.poles, output_v)
    speeds = speeds_of(task.machine, task.motor, circuit, load, base)
    return asked_of_drive(task, link, circuit, load, site, speeds), speeds


def driven_figures(
    duty: Duty, link: Link, circuit: Circuit, *,
    rating_w: float, rating_a: float, output_v: float, heave: float, speeds: Speeds,
    items: Sequence[Item], what: str,
) -> Figures:  # fmt: skip
    """The figures of a motor on a drive that gives `output_v`; `heave` is its starting torque."""
    base = base_point(link.line_voltage_v, circuit.frequency_hz, circuit.poles, output_v)
    volts = {"link volts": (link.line_voltage_v, "V"), "output": (output_v, "V")}
    current = duty.input_current_a
    found = Figures(
        input_current_a=Range(current.low, current, current.high),
        input_power_w=duty.input_power_w,
        input_power_factor=duty.input_power_factor,
        usable_power_w=duty.usable_power_w,
        starting_torque_ratio=figure(
            heave, "", "ways.drive_duty.starting_torque_ratio", {"drive current": (rating_a, "A")},
            "motor circuit at rated flux and the drive's short-time current",
        ),
        idle_power_w=duty.idle_power_w,
        price=total(items, what),
        drive_rating_w=exact(rating_w, "W", "table", "standard drive sizes"),
        drive_rating_a=exact(rating_a, "A", "table", "standard drive sizes"),
        output_current_a=duty.output_current_a,
        efficiency=duty.efficiency,
        base_frequency_hz=figure(
            base.frequency_hz, "Hz", "machines.frequency.base_point", volts,
            "volts per hertz of the plate",
        ),
        speed_min_ratio=speeds.slowest,
        speed_max_ratio=speeds.fastest,
    )  # fmt: skip
    return with_supply_side(found, duty.side)


def drive_job(machine: Machine) -> str:
    """The job of wiring a drive to this machine, as the table of hours names it."""
    kept = machine.starter in ("reversing_drum", "two_speed_switch")
    return "drive_original_switches" if kept else "drive"


def hours_of(jobs: Sequence[str]) -> Value:
    """Hours of several jobs together."""
    of = {job: hours(job) for job in jobs}
    return figure(
        sum(value.number for value in of.values()), "h", "ways.driven.hours_of",
        {job: (value.number, "h") for job, value in of.items()},
        next(iter(of.values())).source,
        low=sum(value.low for value in of.values()), high=sum(value.high for value in of.values()),
    )  # fmt: skip
