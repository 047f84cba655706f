"""One motor as a candidate for a shared drive, before any drive is chosen: fit, or why not."""

from __future__ import annotations

from dataclasses import dataclass, replace

from phasewright.machines.circuit import Circuit
from phasewright.machines.link import Link
from phasewright.machines.load import Load
from phasewright.machines.motor import Motor
from phasewright.machines.performance import locked, rated
from phasewright.quantities.codes import WayName
from phasewright.quantities.errors import TableEnds
from phasewright.quantities.finding import Reason
from phasewright.quantities.value import exact
from phasewright.tables.drives import (
    changeover_minutes,
    hours_between_changeovers,
    overload_share,
)
from phasewright.ways import wishes
from phasewright.ways.asked import Asked, condition, told
from phasewright.ways.drive_asks import asked_of_drive, base_of
from phasewright.ways.drive_here import drive_link, kept_off_drives
from phasewright.ways.drive_in_time import on_usual_drive
from phasewright.ways.drive_speed import Speeds, speeds_of
from phasewright.ways.drive_winding import on_its_winding
from phasewright.ways.driven import hours_of
from phasewright.ways.purchase import Item, buy, item
from phasewright.ways.site import Site
from phasewright.ways.stopping import Stop, stop_of
from phasewright.ways.way import Offer, Service, Task

NAME: WayName = "shared_drive"
PLACE, FIRST = 0, 1
"""The variants: a further place, with all it asks for; the first place, which is the drive's."""
MOST_UNLIKE = 1.25
"""Above this ratio of base volts or hertz two motors never share a drive (our choice): the set of
the other, left in by mistake, would over-flux the winding at once."""


@dataclass(frozen=True, slots=True)
class Candidate:
    """A motor that a drive of this supply turns, on the winding and link it has there."""

    task: Task
    link: Link
    circuit: Circuit
    load: Load
    speeds: Speeds
    asked: Asked
    relay: Item
    place: Item
    stop: Stop

    @property
    def amps(self) -> float:
        """Rated amps of the link."""
        return self.circuit.rated_current_a

    @property
    def power_w(self) -> float:
        """Rated shaft power."""
        return power_of(self.task.motor, self.circuit)


def power_of(motor: Motor, circuit: Circuit) -> float:
    """Shaft power of the plate, or of the circuit where none is stamped [W]."""
    return rated(circuit).shaft_power_w if motor.power_w is None else motor.power_w.number


def candidate(task: Task, site: Site) -> Candidate | tuple[Reason, ...]:
    """The motor as a candidate, or every reason why it is none."""
    against = kept_off_drives(task, site, NAME)
    if against:
        return against
    motor, of_winding = on_its_winding(task.motor, site.source.voltage_v)
    task = replace(task, motor=motor)
    link, why = drive_link(motor, site)
    if link is None:
        return (why,)
    several = _of_machine(task, site)
    if several:
        return several
    circuit, load = motor.circuit_at(link), motor.load
    assert load is not None  # a motor without one was kept off
    speeds = speeds_of(task.machine, task.motor, circuit, load, base_of(link, circuit, site))
    asked = asked_of_drive(task, link, circuit, load, site, speeds) + of_winding
    if asked.refusals:
        return asked.refusals
    power_w = power_of(motor, circuit)
    try:
        place = item("shared_place", power_w, "W", site.quotes, quote_kind=NAME)
        relay = item("overload_relay", circuit.rated_current_a, "A", site.quotes)
    except TableEnds as end:
        return (Reason("beyond_the_tables", f"Beyond what is known: {end}."),)
    # what its stop asks for is judged on the smallest drive that bears it, whichever it comes to
    on = on_usual_drive(motor, circuit, site.source.voltage_v)
    stop = stop_of(task.machine, motor, on, site)
    asked += stop.asked + _of_sharing(circuit)
    return Candidate(task, link, circuit, load, speeds, asked, relay, place, stop)


def like(one: Candidate, other: Candidate) -> bool:
    """Whether one drive may turn two motors together: the same set, speed and kind of load."""
    return _set_of(one) == _set_of(other)


def _set_of(one: Candidate) -> tuple[object, ...]:
    wants = wishes.wants_of(one.task.machine, one.task.motor)
    return (
        one.circuit.frequency_hz, one.link.line_voltage_v, one.circuit.poles,
        one.load.name, wants.speed,
    )  # fmt: skip


def unlike(one: Candidate, lead: Candidate) -> Asked:
    """What it means that the drive is sized for and set up with another motor."""
    volts = (one.link.line_voltage_v, lead.link.line_voltage_v)
    hertz = (one.circuit.frequency_hz, lead.circuit.frequency_hz)
    own = f"{volts[0]:.0f} V at {hertz[0]:g} Hz"
    if max(max(pair) / min(pair) for pair in (volts, hertz)) > MOST_UNLIKE:
        return Asked(
            refusals=(
                Reason(
                    "too_unlike",
                    f"Its base point of {own} is too far from the {volts[1]:.0f} V at "
                    f"{hertz[1]:g} Hz of {lead.task.motor.id}: with the wrong set left in, its "
                    "winding would burn.",
                ),
            )
        )
    if (volts[0], hertz[0]) != (volts[1], hertz[1]):
        return condition(
            "own_parameter_set",
            f"A parameter set of its own, {own}, chosen by the selector itself: that of "
            f"{lead.task.motor.id} must never drive it.",
        )
    return told("one_parameter_set", f"One parameter set fits both: {own}.")


def own_things(one: Candidate, first: bool, service: Service) -> Offer:
    """What the motor must have of its own on a shared drive: a place, or in the first place only
    its own overload relay (the rest of that place is the drive's), and the brake resistor that its
    stop asks for."""
    things = (one.relay if first else one.place, *one.stop.items)
    nothing = exact(0.0, "h", "assumed", "done with the drive")
    return Offer(
        service=service,
        buys=(buy(NAME, one.power_w, "W", (one.task.motor.id,), things),),
        items=things,
        labour_h=nothing if first else hours_of(("shared_place", "drive_settings")),
        upkeep_h_per_year=0.0,
        owner_h_per_hour=changeover_minutes().number / 60.0 / hours_between_changeovers().number,
    )


def _of_machine(task: Task, site: Site) -> tuple[Reason, ...]:
    """Against a machine whose motors turn together, unless they are like and it holds no more."""
    others = [other for other in task.siblings if other.three_phase]
    if not others:
        return ()
    machine = task.machine
    alike = all(_same_make(task.motor, other, site) for other in others)
    if alike and machine.control is None and not machine.others:
        return _in_order(task, others)
    what = "unlike motors" if not alike else "controls of its own"
    return (
        Reason(
            "several_motors",
            f"{machine.name} has {1 + len(others)} motors that turn together, and {what}: on one "
            "drive its pump, feed and controls would see changing hertz and volts. Give every "
            "motor a drive of its own with the controls on the supply lines, or let a converter "
            "feed the whole machine.",
        ),
    )


def _in_order(task: Task, others: list[Motor]) -> tuple[Reason, ...]:
    """Against motors of which one must run before another: a drive starts all that hang on it."""
    names = {task.motor.name, *(other.name for other in others)}
    machine = task.machine
    known = names | {f"{machine.name}/{name}" for name in names}
    for first, then in machine.orders:
        if first in known and then in known:
            return (
                Reason(
                    "one_after_another",
                    f"{machine.name}: {first} must run before {then}, and motors on one drive "
                    "start together from rest; switched on later it would meet a running drive. "
                    "Give each a drive of its own, the second released by the first.",
                ),
            )
    return ()


def _same_make(motor: Motor, other: Motor, site: Site) -> bool:
    """Whether a motor of the same machine asks for the same volts, hertz, field speed and load."""
    link, mine = drive_link(other, site)[0], drive_link(motor, site)[0]
    if link is None or mine is None or other.circuit is None:
        return False
    if motor.load is None or other.load is None or motor.load.name != other.load.name:
        return False
    one, two = motor.circuit_at(mine), other.circuit_at(link)
    return (one.frequency_hz, mine.line_voltage_v, one.poles) == (
        two.frequency_hz, link.line_voltage_v, two.poles,
    )  # fmt: skip


def _of_sharing(circuit: Circuit) -> Asked:
    """What every motor on a shared drive asks for (common practice, no source)."""
    start = locked(circuit).current_a / circuit.rated_current_a
    return (
        condition(
            "selector_interlocked",
            "Between drive and motors a selector, or contactors of which only one can close, "
            "interlocked with the drive: its early-break contact takes the enable away first. "
            "Change over only with the motor at rest.",
        )
        + condition(
            "own_overload",
            f"An overload relay of its own set to {circuit.rated_current_a:.3g} A, wired to the "
            "drive's enable: the drive knows only one motor's amps.",
        )
        + condition(
            "never_onto_running",
            f"Never close it onto a running drive: straight on it takes about {start:.1f} times "
            f"its amps, and a drive gives about {overload_share():.1f} times its own: it trips "
            "or dies.",
        )
        + told("changeover_time", _time_words())
    )


def _time_words() -> str:
    minutes, between = changeover_minutes(), hours_between_changeovers()

    def hours(time: float, each: float) -> float:
        return 100.0 * time / 60.0 / each

    return (
        f"{minutes.number:.0f} min a changeover; at one for every {between.number:g} h it turns "
        f"({between.low:g} to {between.high:g} h, assumed), 100 h of turning cost the owner about "
        f"{hours(minutes.number, between.number):.2g} h at the selector "
        f"({hours(minutes.low, between.high):.2g} to {hours(minutes.high, between.low):.2g} h)."
    )
