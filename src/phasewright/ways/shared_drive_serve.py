"""One motor, or several like ones, on one shared drive: what they get and take, or why not."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import lru_cache

from phasewright.electronics.drive import motor_share
from phasewright.quantities.errors import NotComputable
from phasewright.quantities.finding import Reason
from phasewright.quantities.value import exact
from phasewright.rules.drives import link_undervoltage, phase_watch
from phasewright.tables.drives import standby_power_w
from phasewright.ways.asked import Asked, by_rules
from phasewright.ways.chokes import Choke
from phasewright.ways.conditions import demand_ratio, typical_ratio
from phasewright.ways.drive_case import Driven
from phasewright.ways.drive_duty import Duty, draw_together, duty_of, starting_torque_ratio
from phasewright.ways.drive_here import Drive, drive_items, of_size
from phasewright.ways.drive_in_time import on_this_drive
from phasewright.ways.drive_norms import meets_norms, norm_rulings
from phasewright.ways.drive_settings import with_sheet
from phasewright.ways.driven import driven_figures, over_supply
from phasewright.ways.figures import Figures
from phasewright.ways.motor_side import Hung, with_motor_side
from phasewright.ways.shared_drive_motor import (
    FIRST,
    PLACE,
    Candidate,
    like,
    own_things,
    unlike,
)
from phasewright.ways.shared_source import Lines, MachineLines, Served, Turning
from phasewright.ways.site import Site
from phasewright.ways.stopping import Stop, stop_of
from phasewright.ways.surroundings import heat_ratio
from phasewright.ways.way import Draw, Service, Task


@dataclass(frozen=True, slots=True)
class OnDrive:
    """A motor on a drive: its duty there with what this drive asks of it."""

    duty: Duty
    asked: Asked
    figures: Figures


@lru_cache(maxsize=1024)
def on_drive(
    one: Candidate, drive: Drive, site: Site, choke: Choke | None
) -> OnDrive | tuple[Reason, ...]:
    """The motor alone on this drive, or why it must not be. `choke`: the one it has, None
    where that is chosen by this motor."""
    verdict, share = motor_share(one.amps, drive.usable_a)
    if verdict == "refused":
        return (Reason(share.code, f"{share.words[0].upper()}{share.words[1:]}."),)
    heave = starting_torque_ratio(one.circuit, drive.usable_a)
    wanted = one.load.breakaway_torque.number
    if heave < wanted:
        return (
            Reason(
                "start_too_hard",
                f"The drive gives {heave:.0%} of its torque at standstill; it wants {wanted:.0%}.",
            ),
        )
    try:
        duty = duty_of(
            site.source, one.circuit, drive.rating_w,
            typical=typical_ratio(one.load), demand=demand_ratio(one.load),
            choke=choke, three_phase_type=drive.three_phase_type, room_a=site.room_a,
            heat_ratio=heat_ratio(one.task.motor, one.circuit),
            meets=meets_norms(one.task, site),
        )  # fmt: skip
    except NotComputable as refusal:
        return (Reason("supply_too_weak", f"A drive: {refusal}."),)
    figures = driven_figures(
        duty, one.link, one.circuit, rating_w=drive.rating_w, rating_a=drive.usable_a,
        output_v=site.source.voltage_v, heave=heave, speeds=one.speeds,
        items=drive_items(drive, duty.choke, site), what="shared drive",
    )  # fmt: skip
    over = over_supply(duty, site, "the drive")
    if over:
        return tuple(over)
    hung = Hung(
        one.task, one.link, one.circuit, one.load, one.speeds, site.source.voltage_v, drive.usable_a
    )
    figures, of_motor = with_motor_side(figures, hung, site)
    lowest = None if duty.link_min_v is None else duty.link_min_v.number
    asked = of_size(drive, share, verdict == "suits") + of_motor
    asked += by_rules(
        link_undervoltage(lowest, one.task.motor.id),
        phase_watch(duty.ripple_share, drive.three_phase_type, one.task.motor.id),
        *norm_rulings(duty, one.task, site),
    )
    return OnDrive(duty, asked, replace(figures, price=None))


def stop_on(one: Candidate, drive: Drive, site: Site) -> Stop:
    """How the motor runs up and stops on this drive, alone."""
    on = on_this_drive(
        one.task.motor, one.circuit, drive.usable_a, drive.rating_w, site.source.voltage_v
    )
    return stop_of(one.task.machine, one.task.motor, on, site)


def shown_on(one: Candidate, drive: Drive, site: Site, figures: Figures) -> Figures:
    """The figures with those of its ramps, its stop and its settings."""
    figures = stop_on(one, drive, site).told_in(figures)
    return with_sheet(
        Driven(one.task.machine, one.task.motor, one.circuit, figures, site.quiet,
               three_phase_type=drive.three_phase_type, several=True)
    )  # fmt: skip


def service_of(duty: Duty) -> Service:
    """What the motor takes; a drive starts it within its running amps."""
    return Service(duty.unloaded, duty.typical, duty.demand, duty.input_current_a.number, 0.0)


def serve(one: Candidate, lead: Candidate, on: OnDrive) -> Served | tuple[Reason, ...]:
    """The motor on a drive that is sized for and set up with `lead`."""
    first = one is lead
    asked = one.asked + on.asked + (Asked() if first else unlike(one, lead))
    if asked.refusals:
        return asked.refusals
    service = service_of(on.duty)
    return Served(
        one.link,
        one.amps,
        service,
        asked.conditions,
        on.figures,
        told=asked.told,
        own=own_things(one, first, service),
        variant=FIRST if first else PLACE,
    )


@dataclass(frozen=True, slots=True, eq=False)
class Turns:
    """The motors of one drive, asked what a set of them takes at one time."""

    drive: Drive
    choke: Choke
    site: Site
    served: Mapping[str, tuple[Candidate, Served]]

    def __call__(self, tasks: tuple[Task, ...]) -> Turning | None:
        """One motor alone; several where they may turn together, the greatest asker at its
        highest load. None where they are not like or the supply cannot give it."""
        found = self._like(tasks)
        if not found:
            return None
        ones = [one for one, _ in found]
        draw = self._draw(ones) if len(ones) > 1 else found[0][1].service.demand
        return None if draw is None else Turning(draw, self._lines(found), self._carries(ones))

    def stand(self, tasks: tuple[Task, ...]) -> bool:
        """Whether they may turn together: only like motors, each with its own overload relay,
        where the drive carries the sum of their amps and starts all of them at once from rest."""
        return self._carries([one for one, _ in self._like(tasks)])

    def in_time(self, name: str, figures: Figures) -> Figures:
        """The figures of a motor here with those of its ramps, its stop and its settings, which
        are computed for a drive that was chosen, not for every size."""
        return shown_on(self.served[name][0], self.drive, self.site, figures)

    def _like(self, tasks: tuple[Task, ...]) -> list[tuple[Candidate, Served]]:
        """The motors of a set, none where one does not hang here or is unlike the others."""
        known = [self.served.get(task.motor.id) for task in tasks]
        found = [each for each in known if each is not None]
        if len(found) < len(known) or not all(like(one, found[0][0]) for one, _ in found):
            return []
        return found

    def _carries(self, ones: list[Candidate]) -> bool:
        amps = sum(one.amps for one in ones)
        if not ones or amps > self.drive.usable_a:
            return False
        return all(
            starting_torque_ratio(one.circuit, self.drive.usable_a * one.amps / amps)
            >= one.load.breakaway_torque.number
            for one in ones
        )

    def _draw(self, ones: list[Candidate]) -> Draw | None:
        """All at their usual loads, and the one at its highest whose highest load asks most."""
        usual = [typical_ratio(one.load) for one in ones]
        drawn = []
        for k, greatest in enumerate(ones):
            shares = [*usual[:k], demand_ratio(greatest.load), *usual[k + 1 :]]
            loads = tuple((one.circuit, share) for one, share in zip(ones, shares, strict=True))
            try:
                drawn.append(
                    draw_together(
                        self.site.source,
                        loads,
                        self.drive.rating_w,
                        self.choke,
                        self.drive.three_phase_type,
                    )
                )
            except NotComputable:
                return None
        return max(drawn, key=lambda draw: draw.current_a(self.site.source.voltage_v))

    def _lines(self, found: list[tuple[Candidate, Served]]) -> Lines:
        volts = found[0][0].link.line_voltage_v
        amps = [served.figures.output_current_a for _, served in found]
        return Lines(
            (volts, volts, volts), 0.0, 0.0,
            tuple(
                MachineLines(one.task.motor.id, (each.number,) * 3)
                for (one, _), each in zip(found, amps, strict=True)
                if each is not None
            ),
        )  # fmt: skip


def figures_of(drive: Drive) -> Figures:
    """The drive itself."""
    return Figures(
        drive_rating_w=exact(drive.rating_w, "W", "table", "standard drive sizes"),
        drive_rating_a=exact(drive.usable_a, "A", "table", "standard drive sizes"),
        idle_power_w=standby_power_w(),
    )
