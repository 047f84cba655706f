"""One variable-frequency drive wired straight to one motor.

Rated by the motor's amps; its input current comes from the rectifier's periodic state with the
spread of what makers build. A drive made for three-phase input serves only at a share of its
amps and where its maker allows it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from phasewright.electronics.drive import motor_share, three_phase_type_share
from phasewright.machines.circuit import Circuit
from phasewright.machines.connection import Link
from phasewright.machines.frequency import base_point
from phasewright.machines.motor import Motor
from phasewright.quantities.codes import Buyable, WayName
from phasewright.quantities.errors import NotComputable
from phasewright.quantities.finding import Reason
from phasewright.quantities.value import exact, figure
from phasewright.tables.labour import hours
from phasewright.tables.sizes import (
    DRIVE_OUTPUT_A,
    DRIVE_SIZES_W,
    THREE_PHASE_DRIVE_OUTPUT_A,
    THREE_PHASE_DRIVE_SIZES_W,
)
from phasewright.ways.conditions import demand_ratio, drive_conditions, kind_limits, typical_ratio
from phasewright.ways.drive_duty import Duty, duty_of, starting_torque_ratio
from phasewright.ways.figures import Figures, Range
from phasewright.ways.purchase import Item, buy, item, total
from phasewright.ways.site import Site
from phasewright.ways.way import Judgement, Offer, Service, Task, refused, verdict_of

NAME: WayName = "drive_per_motor"
LEAST_BASE_RATIO = 0.94
"""Below this share of the plate's hertz the drive runs out of volts before full speed."""


@dataclass(frozen=True, slots=True)
class _Drive:
    """A drive on the market or on the owner's shelf; `usable_a` is what it may give here."""

    rating_w: float
    usable_a: float
    three_phase_type: bool
    origin: Buyable = "new"
    owned_item: int | None = None


def judge(task: Task, site: Site) -> Judgement:
    """Verdict, figures and offer of a drive for this motor."""
    motor = task.motor
    unfit = _unfit(motor)
    if unfit is not None:
        return refused(NAME, unfit)
    link, why = _link(motor, site)
    if link is None:
        return refused(NAME, why)
    circuit, load = motor.circuit_at(link), motor.load
    if load is None:
        return refused(NAME, Reason("no_load_known", "Nothing is known of what it drives."))
    refusals, conditions = kind_limits(load, "drive_per_motor", circuit_power_w(motor))
    if refusals:
        return refused(NAME, *refusals)
    judged: list[Judgement] = []
    for drive in _drives(circuit, site):
        verdict, share = motor_share(circuit.rated_current_a, drive.usable_a)
        if verdict == "refused":
            continue
        heave = starting_torque_ratio(circuit, drive.usable_a)
        if heave < load.breakaway_torque.number:
            continue
        judged.append(_judged(task, site, link, circuit, drive, heave, [share], conditions))
        if drive.origin != "owned":
            break
    if judged:
        offers = tuple(offer for each in judged for offer in each.offers)
        return replace(judged[0], offers=offers)
    return refused(
        NAME,
        Reason(
            "no_drive_fits",
            f"No drive for {site.source.voltage_v:.0f} V single-phase feed in the tables gives "
            f"this motor's {circuit.rated_current_a:.1f} A and its starting torque.",
        ),
    )


def circuit_power_w(motor: Motor) -> float:
    """Rated shaft power [W]; NotComputable where it is not known."""
    if motor.power_w is None:
        raise NotComputable(f"{motor.id}: its power is not known")
    return motor.power_w.number


def _unfit(motor: Motor) -> Reason | None:
    if not motor.three_phase or motor.plate.capacitor:
        return Reason(
            "capacitor_motor",
            "A single-phase or capacitor motor cannot run on a drive; a three-phase motor that "
            "was rigged with a capacitor can, once the capacitor is taken off.",
        )
    if motor.circuit is None:
        return (*motor.reasons, Reason("not_computable", "This motor cannot be computed."))[0]
    return None


def _link(motor: Motor, site: Site) -> tuple[Link | None, Reason]:
    """The link of the highest volts the drive still reaches at the plate's speed."""
    hertz = motor.frequency_hz.number if motor.frequency_hz else site.source.frequency_hz
    reach = site.source.voltage_v
    within = [
        link
        for link in motor.links
        if base_point(link.voltage_low_v, hertz, 4, reach).frequency_hz >= LEAST_BASE_RATIO * hertz
    ]
    if within:
        best = max(within, key=lambda link: link.line_voltage_v)
        return best, Reason("link", best.words)
    lowest = min((link.line_voltage_v for link in motor.links), default=0.0)
    at = base_point(lowest, hertz, 4, reach).frequency_hz if lowest else 0.0
    return None, Reason(
        "volts_too_low",
        f"A drive on {reach:.0f} V gives at most {reach:.0f} V; this winding wants {lowest:.0f} V. "
        f"Full flux would end at {at:.1f} Hz and the breakdown torque at {hertz:g} Hz would be "
        f"about {(reach / lowest) ** 2 * 100.0 if lowest else 0.0:.0f} % of the plate's. A drive "
        "or transformer that steps up, a converter for its volts, or a winder are the ways.",
    )


def _drives(circuit: Circuit, site: Site) -> Iterator[_Drive]:
    """Drives that may serve, the owner's first, then new ones from the smallest up."""
    need = circuit.rated_current_a
    for index, part in enumerate(site.owned):
        if part.kind == "drive" and part.current and part.power is not None:
            share = 1.0 if part.input_phases != 3 else three_phase_type_share()[0]
            usable = part.current[0].number * share
            if usable >= need:
                yield _Drive(part.power.number, usable, part.input_phases == 3, "owned", index)
    for rating, amps in zip(DRIVE_SIZES_W, DRIVE_OUTPUT_A, strict=True):
        if amps >= need:
            yield _Drive(rating, amps, False)
    share, _ = three_phase_type_share()
    for rating, amps in zip(THREE_PHASE_DRIVE_SIZES_W, THREE_PHASE_DRIVE_OUTPUT_A, strict=True):
        if share * amps >= need:
            yield _Drive(rating, share * amps, True)


def _judged(
    task: Task, site: Site, link: Link, circuit: Circuit, drive: _Drive, heave: float,
    reasons: list[Reason], conditions: list[Reason],
) -> Judgement:  # fmt: skip
    motor, load = task.motor, task.motor.load
    assert load is not None
    duty = duty_of(
        site.source, circuit, drive.rating_w,
        typical=typical_ratio(load), demand=demand_ratio(load),
        choke=drive.three_phase_type, room_a=site.room_a,
    )  # fmt: skip
    items = _items(drive, duty.choke_fitted, site)
    conditions = conditions + drive_conditions(task.machine, load)
    if drive.three_phase_type:
        conditions += list(three_phase_type_share()[1])
    conditions += [reason for reason in _speed_reasons(motor, link, site)]
    figures = _figures(motor, link, circuit, drive, duty, heave, items, site)
    over = _over_the_room(duty, site)
    if over is not None:
        return refused(NAME, over, figures=figures)
    reasons.append(Reason("link", link.words))
    return Judgement(
        NAME,
        verdict_of(tuple(conditions)),
        link=link,
        reasons=tuple(reasons),
        conditions=tuple(conditions),
        figures=figures,
        offers=(_offer(task, drive, duty, items),),
    )


def _speed_reasons(motor: Motor, link: Link, site: Site) -> list[Reason]:
    """A condition where the drive's base point is not the plate's own."""
    hertz = motor.frequency_hz.number if motor.frequency_hz else site.source.frequency_hz
    if abs(hertz / site.source.frequency_hz - 1.0) < 0.02:
        return []
    return [
        Reason(
            "base_point",
            f"Set the base point to {link.line_voltage_v:.0f} V at {hertz:g} Hz as stamped; at "
            f"{site.source.frequency_hz:g} Hz the machine would turn "
            f"{site.source.frequency_hz / hertz:.2f} times as fast.",
        )
    ]


def _over_the_room(duty: Duty, site: Site) -> Reason | None:
    current = duty.input_current_a.number
    if current <= site.room_a:
        return None
    return Reason(
        "supply_too_small",
        f"At the highest load it may ask for the drive draws {current:.1f} A; {site.limit.words} "
        f"leaves {site.room_a:.1f} A. With the drive's current limit set down it could give about "
        f"{duty.usable_power_w.number / 1000.0:.2g} kW.",
    )


def _figures(
    motor: Motor, link: Link, circuit: Circuit, drive: _Drive, duty: Duty, heave: float,
    items: list[Item], site: Site,
) -> Figures:  # fmt: skip
    hertz = circuit.frequency_hz
    base = base_point(link.line_voltage_v, hertz, circuit.poles, site.source.voltage_v)
    volts = {"link volts": (link.line_voltage_v, "V"), "supply": (site.source.voltage_v, "V")}
    return Figures(
        input_current_a=Range(
            duty.input_current_a.low, duty.input_current_a, duty.input_current_a.high
        ),
        input_power_w=duty.input_power_w,
        input_power_factor=duty.input_power_factor,
        usable_power_w=duty.usable_power_w,
        starting_torque_ratio=figure(
            heave, "", "ways.drive_duty.starting_torque_ratio",
            {"drive current": (drive.usable_a, "A")},
            "motor circuit at rated flux and the drive's short-time current",
        ),
        idle_power_w=duty.idle_power_w,
        price=total(items, "drive"),
        drive_rating_w=exact(drive.rating_w, "W", "table", "standard drive sizes"),
        drive_rating_a=exact(drive.usable_a, "A", "table", "standard drive sizes"),
        output_current_a=duty.output_current_a,
        efficiency=duty.efficiency,
        base_frequency_hz=figure(
            base.frequency_hz, "Hz", "machines.frequency.base_point", volts,
            "volts per hertz of the plate",
        ),
    )  # fmt: skip


def _items(drive: _Drive, choke: bool, site: Site) -> list[Item]:
    kind = "three_phase_input_drive" if drive.three_phase_type else "drive_per_motor"
    items = [
        item(kind, drive.rating_w, "W", site.quotes, origin=drive.origin, quote_kind=NAME),
        item("isolator", 1.0, "", site.quotes),
    ]
    if choke:
        items.append(item("ac_choke", drive.rating_w, "W", site.quotes, quote_kind="choke"))
    return items


def _offer(task: Task, drive: _Drive, duty: Duty, items: list[Item]) -> Offer:
    machine = task.machine
    keeps_switches = machine.starter in ("reversing_drum", "two_speed_switch")
    job = "drive_original_switches" if keeps_switches else "drive"
    work, settings = hours(job), hours("drive_settings")
    labour = figure(
        work.number + settings.number, "h", "hours of work",
        {job: (work.number, "h"), "drive_settings": (settings.number, "h")},
        work.source, low=work.low + settings.low, high=work.high + settings.high,
    )  # fmt: skip
    return Offer(
        service=Service(duty.unloaded, duty.typical, duty.demand, duty.input_current_a.number, 0.0),
        buys=(buy(NAME, drive.rating_w, "W", (task.motor.id,), items, origin=drive.origin),),
        items=tuple(items),
        labour_h=labour,
        upkeep_h_per_year=hours("upkeep_drive").number,
        owned_item=drive.owned_item,
    )
