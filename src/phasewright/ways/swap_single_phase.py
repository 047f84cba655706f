"""A single-phase capacitor motor in the place of a three-phase one, straight on lines 1 and 2.

Its currents are NFPA 70 (NEC) table 430.248 or usual catalogue figures (from memory). The start
is judged as an impedance at standstill behind the supply, the run-up by its mean torque. What is
lost with the old motor is told in words (common practice, no source).
"""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass

from phasewright.machines.link import Link
from phasewright.machines.load import Load
from phasewright.machines.motor import Motor
from phasewright.quantities.errors import TableEnds
from phasewright.quantities.finding import Reason
from phasewright.quantities.value import Value, exact, figure
from phasewright.tables.labour import hours
from phasewright.tables.motor_swap import (
    SinglePhaseMotor,
    single_phase_motor,
    start_limits,
)
from phasewright.tables.sizes import motor_sizes_w, next_size
from phasewright.ways.conditions import demand_ratio, typical_ratio
from phasewright.ways.driven import hours_of, power_of
from phasewright.ways.figures import Figures, Range
from phasewright.ways.mains import over_surge, surge_not_known
from phasewright.ways.purchase import Item, buy, item, quoted, total
from phasewright.ways.site import Site
from phasewright.ways.swap_conditions import WORDS, barred, conditions, start_conditions
from phasewright.ways.swap_money import old_motor_sold
from phasewright.ways.way import Draw, Offer, Service, Task
from phasewright.ways.wishes import without_drive

LEAST_CONTACTOR_A = 9.0
"""The smallest contactor made; a new starter is counted, for the old one's coil, poles and heaters
belong to three lines of the old volts (common practice, no source)."""
DEEPEST_DIP = 0.15
"""A deeper dip drops contactors out (IEC 60947-4-1: they pull in at 85 %, from memory)."""


@dataclass(frozen=True, slots=True)
class Swapped:
    """A single-phase motor judged: its figures and conditions, and its offer unless refused."""

    reasons: tuple[Reason, ...]
    conditions: tuple[Reason, ...] = ()
    figures: Figures | None = None
    offer: Offer | None = None


@dataclass(frozen=True, slots=True)
class _Start:
    """At standstill on this supply: amps, dip, torque over rated; run-up in seconds."""

    current_a: float
    dip: float
    torque_ratio: float
    run_up_s: float


def single_phase_swap(task: Task, site: Site) -> Swapped:
    """Whether a single-phase motor can stand in, and on what terms."""
    load = task.motor.load
    assert load is not None
    why_not = barred(task.motor, load)
    return stands_in(task, site) if why_not is None else Swapped((why_not,))


def stands_in(task: Task, site: Site) -> Swapped:
    """A single-phase motor of the same power on this supply, whatever the machine is."""
    motor, load = task.motor, task.motor.load
    assert load is not None
    try:
        size = next_size(power_of(motor), motor_sizes_w(site.region), "motor [W]")
        new = single_phase_motor(size, _plate_volts(site), site.region)
    except TableEnds as refusal:
        return Swapped((Reason("no_single_phase_motor", f"{WORDS}: {refusal}."),))
    start = _start(motor, load, new, site)
    items = _items(new, motor, site)
    current = new.current_at(demand_ratio(load) * power_of(motor) / size)
    figures = _figures(new, load, start, items, size / power_of(motor), current)
    stop = _refusal(new, load, start, site, current)
    if stop is not None:
        return Swapped((stop,), figures=figures)
    wished = without_drive(task.machine, motor, lone=None) + surge_not_known(site, start.current_a)
    told = (
        *conditions(task, load, site),
        *start_conditions(new, load, start.current_a, site),
        *wished.conditions,
    )
    reason = Reason(
        "single_phase_motor",
        f"{WORDS}: {size / 1000.0:.3g} kW straight on lines 1 and 2, no drive, no third line.",
    )
    offer = _offer(task, new, start, items, figures, size / power_of(motor))
    return Swapped((reason,), told, figures, offer)


def _plate_volts(site: Site) -> float:
    """Single-phase motors are stamped 230 V; those for other supplies by the supply's volts."""
    volts = site.source.voltage_v
    return 230.0 if 207.0 <= volts <= 253.0 else volts


def _start(motor: Motor, load: Load, new: SinglePhaseMotor, site: Site) -> _Start:
    source = site.source
    held = new.voltage_v / new.starting_current_a.number
    winding = cmath.rect(held, math.acos(new.starting_power_factor))
    supply = complex(source.resistance_ohm, source.reactance_ohm)
    current = source.voltage_v / abs(winding + supply)
    volts = current * abs(winding)
    weaker = (volts / new.voltage_v) ** 2
    return _Start(
        current_a=current,
        dip=1.0 - volts / source.voltage_v,
        torque_ratio=new.starting_torque_ratio.number * weaker,
        run_up_s=_run_up_s(motor, load, new.power_w, weaker),
    )


def _run_up_s(motor: Motor, load: Load, power_w: float, weaker: float) -> float:
    """Seconds from rest at the mean torque of the run-up; infinite where the load holds it."""
    assert motor.speed_rpm is not None
    assert motor.inertia_kg_m2 is not None
    speed = motor.speed_rpm.number * math.pi / 30.0
    typical, breakaway = typical_ratio(load), load.breakaway_torque.number
    held = typical / 3.0 if load.law == "fan" else typical
    if load.law != "fan" and not load.starts_loaded:
        held = min(typical, breakaway)
    spare = start_limits().accelerating_torque * weaker - held
    if spare <= 0.0:
        return math.inf
    whole = motor.inertia_kg_m2.number + load.inertia_kg_m2.number
    return whole * speed / (spare * power_w / speed)


def _refusal(
    new: SinglePhaseMotor, load: Load, start: _Start, site: Site, current: Value
) -> Reason | None:
    limits = start_limits()
    if current.number > site.room_a:
        return Reason(
            "supply_too_small",
            f"{WORDS}: it draws {current.number:.1f} A; {site.least.words} leaves "
            f"{site.room_a:.1f} A.",
        )
    over = over_surge(site, start.current_a, f"{WORDS}: it")
    if over:
        return over[0]
    if start.torque_ratio < load.breakaway_torque.number:
        return Reason(
            "starting_torque",
            f"{WORDS}: it starts with {start.torque_ratio:.2g} times its rated torque, "
            f"{load.breakaway_torque.number:.2g} are wanted.",
        )
    if start.run_up_s > limits.run_up_s:
        return Reason(
            "run_up_too_long",
            f"{WORDS}: its run-up would take "
            + (f"{start.run_up_s:.0f} s" if math.isfinite(start.run_up_s) else "for ever")
            + f"; start capacitor and switch bear about {limits.run_up_s:.0f} s.",
        )
    if start.dip > DEEPEST_DIP:
        return Reason(
            "dip_too_deep",
            f"{WORDS}: its start takes {start.current_a:.0f} A and pulls the supply down by "
            f"{start.dip:.0%}; {DEEPEST_DIP:.0%} is the most.",
        )
    starts = load.starts_per_hour
    if starts.origin == "stated" and starts.number > limits.starts_per_hour:
        return Reason(
            "too_many_starts",
            f"{WORDS}: {starts.number:.0f} starts an hour cook a start capacitor; about "
            f"{limits.starts_per_hour:.0f} are the most.",
        )
    return None


def _items(new: SinglePhaseMotor, motor: Motor, site: Site) -> list[Item]:
    return [
        item("motor_swap", new.power_w, "W", site.quotes, quote_kind="single_phase_motor"),
        item("motor_mounting", new.power_w, "W", site.quotes),
        item("contactor", max(LEAST_CONTACTOR_A, new.current_a.number), "A", site.quotes),
        item("overload_relay", new.current_a.number, "A", site.quotes),
        *old_motor_sold(power_of(motor)),
    ]


def _figures(
    new: SinglePhaseMotor, load: Load, start: _Start, items: list[Item], larger: float,
    current: Value,
) -> Figures:  # fmt: skip
    whole = {"rated current": (new.current_a.number, "A"), "power": (new.power_w, "W")}

    def out(number: float, unit: str) -> Value:
        return figure(
            number, unit, "ways.swap_single_phase.single_phase_swap", whole, new.current_a.source
        )

    power = new.power_at(demand_ratio(load) / larger)
    return Figures(
        input_current_a=Range(current.low, current, current.high),
        input_power_w=out(power, "W"),
        input_power_factor=out(power / (new.voltage_v * current.number), ""),
        usable_power_w=exact(new.power_w, "W", "table", "standard motor sizes"),
        starting_torque_ratio=out(start.torque_ratio, ""),
        starting_current_a=out(start.current_a, "A"),
        voltage_dip_ratio=out(start.dip, ""),
        idle_power_w=exact(0.0, "W", "common practice", "off when it stands"),
        efficiency=out(new.power_w / new.input_power_w, ""),
        price=total(items, WORDS),
    )


def _offer(
    task: Task, new: SinglePhaseMotor, start: _Start, items: list[Item], figures: Figures,
    larger: float,
) -> Offer:  # fmt: skip
    load = task.motor.load
    assert load is not None

    def draw(share: float) -> Draw:
        return Draw(new.power_at(share), new.reactive_var)

    return Offer(
        service=Service(
            draw(0.0), draw(typical_ratio(load) / larger), draw(demand_ratio(load) / larger),
            start.current_a, start.dip,
        ),
        buys=(buy("motor_swap", new.power_w, "W", (task.motor.id,), items),),
        items=tuple(items),
        labour_h=hours_of(("motor_swap",)),
        upkeep_h_per_year=hours("upkeep_capacitors").number,
        words=WORDS,
        link=Link(
            "none", "single-phase, nothing to link", new.voltage_v, new.current_a.number,
            new.voltage_v, new.voltage_v,
        ),
        figures=figures,
        last_resort=not quoted(items, "motor_swap"),
    )  # fmt: skip
