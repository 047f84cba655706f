"""Another motor or another winding for the supply's own volts, each with a drive of its own.

A new low-voltage motor, the old one with its star point brought out and linked in delta, or the
old one rewound: all three then run on an ordinary drive. They make sense only where the winding
cannot be linked for the low voltage as it stands.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from phasewright.electronics.drive import motor_share, three_phase_type_share
from phasewright.machines.circuit import Circuit
from phasewright.machines.link import Link
from phasewright.machines.motor import Motor
from phasewright.machines.standard import standard_motor
from phasewright.quantities.errors import NotComputable, TableEnds
from phasewright.quantities.finding import Reason
from phasewright.tables.labour import hours
from phasewright.tables.motor_swap import ruin_chance
from phasewright.tables.motors import default_year
from phasewright.tables.sizes import (
    DRIVE_OUTPUT_A,
    DRIVE_SIZES_W,
    THREE_PHASE_DRIVE_OUTPUT_A,
    THREE_PHASE_DRIVE_SIZES_W,
    motor_sizes_w,
    next_size,
)
from phasewright.ways.chokes import Choke, choke_item
from phasewright.ways.conditions import demand_ratio, typical_ratio
from phasewright.ways.drive_duty import duty_of, starting_torque_ratio
from phasewright.ways.drive_here import no_drive_at
from phasewright.ways.drive_in_time import on_this_drive
from phasewright.ways.driven import (
    asked_and_speeds,
    drive_job,
    driven_figures,
    hours_of,
    over_supply,
    plate_hertz,
    power_of,
    reached,
    two_speeds,
)
from phasewright.ways.figures import Figures
from phasewright.ways.purchase import Item, buy, item, quoted
from phasewright.ways.site import Site
from phasewright.ways.stopping import stop_of
from phasewright.ways.surroundings import amps_share, boxes
from phasewright.ways.swap_money import old_motor_sold, risk_of_ruin
from phasewright.ways.way import Offer, Service, Task

NEW_MOTOR = "a new low-voltage motor with a drive"
STAR_POINT = "the star point brought out and a drive"
REWOUND = "the motor rewound for the low voltage and a drive"
LOW_VOLTS = 230.0
YEAR_OF_NEW = 2020


@dataclass(frozen=True, slots=True)
class Changed:
    """The motor as it will be: its circuit and link, what the change costs and asks.

    `larger` is its rated power over the old one's, by which the load's shares shrink.
    """

    words: str
    circuit: Circuit
    link: Link
    larger: float
    items: tuple[Item, ...]
    jobs: tuple[str, ...]
    conditions: tuple[Reason, ...]


@dataclass(frozen=True, slots=True)
class OnDrive:
    """A changed motor judged on its drive; no offer where it is refused."""

    reasons: tuple[Reason, ...]
    conditions: tuple[Reason, ...] = ()
    figures: Figures | None = None
    offer: Offer | None = None
    link: Link | None = None


@dataclass(frozen=True, slots=True)
class _Drive:
    rating_w: float
    usable_a: float
    three_phase_type: bool
    heave: float


def changes(task: Task, site: Site) -> Iterator[Changed]:
    """The changes that make sense for this motor: a new one, its star point, another winding; none
    where no ordinary drive is made for the supply's volts."""
    if no_drive_at(site.source.voltage_v):
        return
    for change in (_new_motor, _star_point, _rewound):
        changed = change(task.motor, site)
        if changed is not None:
            yield changed


def _low_link(words: str, circuit: Circuit, connection_delta: bool | None) -> Link:
    volts = circuit.line_voltage_v
    return Link(
        "delta" if connection_delta else "low_voltage", words, volts, circuit.rated_current_a,
        volts, volts, connection_delta,
    )  # fmt: skip


def _new_motor(motor: Motor, site: Site) -> Changed | None:
    """A new three-phase motor for the low voltage; None where the tables have none of its size."""
    hertz = site.source.frequency_hz
    assert motor.poles is not None
    try:
        size = next_size(power_of(motor), motor_sizes_w(site.region), "motor [W]")
        circuit = standard_motor(size, LOW_VOLTS, hertz, motor.poles, YEAR_OF_NEW)
        items = (
            item("motor_swap_three_phase", size, "W", site.quotes, quote_kind="motor_swap"),
            item("motor_mounting", size, "W", site.quotes),
            *old_motor_sold(power_of(motor)),
        )
    except (TableEnds, NotComputable):
        return None
    told = [
        Reason(
            "mount_and_shaft",
            "Another motor: does one exist with this foot or flange, shaft height and shaft end? "
            "Measure before ordering.",
        )
    ]
    if two_speeds(motor):
        told.append(
            Reason(
                "second_speed_lost",
                "New motor: its second speed comes from the drive, with less torque above the "
                "plate's speed; the speed switch goes.",
            )
        )
    if motor.kind == "brake_motor":
        told.append(Reason("brake_lost", "New motor: the old motor's brake goes with it."))
    return Changed(
        NEW_MOTOR, circuit, _low_link("new motor linked for the low voltage", circuit, True),
        size / power_of(motor), items, ("motor_swap",), tuple(told),
    )  # fmt: skip


def _star_point(motor: Motor, site: Site) -> Changed | None:
    """The star point brought out: only where the winding is, or may be, a single star inside."""
    if len(motor.links) != 1 or two_speeds(motor) or motor.links[0].delta is True:
        return None
    link = motor.links[0]
    circuit = motor.circuit_at(link).relinked(link.line_voltage_v / math.sqrt(3.0))
    low = _low_link("star point brought out, linked in delta", circuit, True)
    if not reached(low, plate_hertz(motor, site), site.source.voltage_v):
        return None
    year = motor.plate.year
    chance = ruin_chance(default_year().number if year is None else float(year))
    power = power_of(motor)
    told = [
        Reason(
            "winding_at_risk",
            f"Star point: {chance.low:.0%} to {chance.high:.0%} of such windings are ruined in "
            "the work"
            + ("" if year is not None else " (year taken as usual)")
            + ": varnish of before 1960 cracks when coil ends are lifted. The cost of rewinding "
            "is counted by that chance; test the insulation before and after.",
        )
    ]
    if link.delta is None:
        told.append(
            Reason(
                "prove_star",
                "Star point: whether this winding is a star inside is not known; look into it "
                "first (three leads joined under tape). A delta winding has no star point.",
            )
        )
    try:
        items = (item("star_point_out", power, "W", site.quotes), risk_of_ruin(power, chance))
    except TableEnds:
        return None
    return Changed(STAR_POINT, circuit, low, 1.0, items, ("star_point_out",), tuple(told))


def _rewound(motor: Motor, site: Site) -> Changed | None:
    """The old motor with a new winding for the low voltage; a two-speed one gets one speed."""
    try:
        items = (item("rewind", power_of(motor), "W", site.quotes),)
    except TableEnds:
        return None
    circuit = motor.circuit_at(motor.links[0]).relinked(LOW_VOLTS)
    told = []
    if two_speeds(motor):
        told.append(
            Reason(
                "second_speed_lost",
                "Rewound: with one speed, that of the larger power; the drive does the rest.",
            )
        )
    link = _low_link("rewound for the low voltage", circuit, True)
    return Changed(REWOUND, circuit, link, 1.0, items, (), tuple(told))


def on_drive(task: Task, site: Site, changed: Changed) -> OnDrive:
    """The changed motor on the smallest drive that turns it."""
    load, words = task.motor.load, changed.words
    assert load is not None
    drive = next(
        _drives(
            changed, load.breakaway_torque.number / changed.larger, amps_share(site.surroundings)
        ),
        None,
    )
    if drive is None:
        return OnDrive(
            (
                Reason(
                    "no_drive_fits",
                    f"{words}: no drive in the tables gives {changed.circuit.rated_current_a:.1f} "
                    "A and its starting torque.",
                ),
            )
        )
    try:
        duty = duty_of(
            site.source, changed.circuit, drive.rating_w,
            typical=typical_ratio(load) / changed.larger,
            demand=demand_ratio(load) / changed.larger,
            choke=None, three_phase_type=drive.three_phase_type, room_a=site.room_a,
        )  # fmt: skip
    except NotComputable as refusal:
        return OnDrive((Reason("supply_too_weak", f"{words}: {refusal}."),))
    asked, speeds = asked_and_speeds(
        task, changed.link, changed.circuit, load, site, site.source.voltage_v
    )
    if asked.refusals:
        return OnDrive(asked.refusals)
    on = on_this_drive(
        task.motor, changed.circuit, drive.usable_a, drive.rating_w, site.source.voltage_v
    )
    lost = changed.words == NEW_MOTOR and task.motor.kind == "brake_motor"
    machine = replace(task.machine, brake=None) if lost else task.machine
    stop = stop_of(machine, task.motor, on, site)
    asked += stop.asked
    items = [*changed.items, *_drive_items(drive, duty.choke, site), *stop.items]
    figures = driven_figures(
        duty, changed.link, changed.circuit, rating_w=drive.rating_w, rating_a=drive.usable_a,
        output_v=site.source.voltage_v, heave=drive.heave * changed.larger, speeds=speeds,
        items=items, what=words,
    )  # fmt: skip
    # the load's shares are those of the old motor: a ramp up would be told too long
    figures = replace(stop.told_in(figures), ramp_up_s=None)
    over = over_supply(duty, site, words)
    if over:
        return OnDrive(tuple(over), figures=figures)
    told = changed.conditions + asked.conditions
    if drive.three_phase_type:
        terms = three_phase_type_share()[1]
        told += tuple(Reason(term.code, f"Its drive: {term.words}.") for term in terms)
    offer = Offer(
        service=Service(duty.unloaded, duty.typical, duty.demand, duty.input_current_a.number, 0.0),
        buys=(buy("motor_swap", power_of(task.motor), "W", (task.motor.id,), items),),
        items=tuple(items),
        labour_h=hours_of((*changed.jobs, drive_job(task.machine), "drive_settings")),
        upkeep_h_per_year=hours("upkeep_drive").number,
        words=words,
        link=changed.link,
        figures=figures,
        last_resort=not quoted(items, "motor_swap_three_phase"),
    )
    reason = Reason(
        "changed_motor",
        f"{words}: then {changed.circuit.line_voltage_v:.0f} V and "
        f"{changed.circuit.rated_current_a:.1f} A, which an ordinary drive gives.",
    )
    return OnDrive((reason,), told, figures, offer, changed.link)


def _drives(changed: Changed, breakaway: float, air: float) -> Iterator[_Drive]:
    """Drives on the market that bear it, single-phase ones first, from the smallest up; `air` is
    the share of its amps that a drive gives there."""
    share = air * three_phase_type_share()[0]
    sizes = [(w, air * a, False) for w, a in zip(DRIVE_SIZES_W, DRIVE_OUTPUT_A, strict=True)]
    sizes += [
        (w, share * a, True)
        for w, a in zip(THREE_PHASE_DRIVE_SIZES_W, THREE_PHASE_DRIVE_OUTPUT_A, strict=True)
    ]
    for rating, amps, three_phase_type in sizes:
        if motor_share(changed.circuit.rated_current_a, amps)[0] == "refused":
            continue
        heave = starting_torque_ratio(changed.circuit, amps)
        if heave >= breakaway:
            yield _Drive(rating, amps, three_phase_type, heave)


def _drive_items(drive: _Drive, choke: Choke, site: Site) -> list[Item]:
    kind = "three_phase_input_drive" if drive.three_phase_type else "drive_per_motor"
    found = [
        item(kind, drive.rating_w, "W", site.quotes, quote_kind="drive_per_motor"),
        item("isolator", 1.0, "", site.quotes),
        *boxes(site, drive.rating_w),
    ]
    if choke.fitted:
        found.append(choke_item(choke, drive.rating_w, site))
    return found
