"""Another motor in place of the one that is there, or another winding in it.

Variants, each an offer with its own figures: a single-phase motor straight on the supply; a new
low-voltage motor, the star point brought out, or a rewound winding, each with a drive. Replacing
the whole machine or hiring the job out has a price only where the owner quotes one; else it is
told in words.
"""

from __future__ import annotations

from phasewright.machines.motor import Motor
from phasewright.quantities.codes import WayName
from phasewright.quantities.finding import Reason
from phasewright.ways.driven import plate_hertz, reached
from phasewright.ways.site import Site
from phasewright.ways.swap_driven import OnDrive, changes, on_drive
from phasewright.ways.swap_single_phase import Swapped, single_phase_swap
from phasewright.ways.swap_whole import whole_machine
from phasewright.ways.way import Judgement, Task, refused, verdict_of

NAME: WayName = "motor_swap"
FITTING = Reason(
    "fitting_motor_not_known",
    "Whether a motor that fits its flange, shaft, speed and belt can be had is not known here: "
    "without a quote of yours the plan weighs it only where nothing else serves.",
)


def judge(task: Task, site: Site) -> Judgement:
    """Every variant that makes sense for this motor, or why none does."""
    if site.supply_kind == "three_phase":
        return refused(NAME, Reason("three_lines_are_there", "The supply has three lines."))
    why = _unfit(task.motor)
    if why is not None:
        return refused(NAME, why)
    variants: list[Swapped | OnDrive] = [
        single_phase_swap(task, site),
        *_driven(task, site),
        *whole_machine(task, site),
    ]
    reasons = tuple(dict.fromkeys(reason for each in variants for reason in each.reasons))
    able = [each for each in variants if each.offer is not None]
    if not able:
        figures = next((each.figures for each in variants if each.figures is not None), None)
        return refused(NAME, *reasons, figures=figures)
    conditions = tuple(dict.fromkeys(reason for each in able for reason in each.conditions))
    if any(each.offer is not None and each.offer.last_resort for each in able):
        conditions += (FITTING,)
    first = able[0]
    assert first.figures is not None
    return Judgement(
        NAME,
        verdict_of(conditions),
        link=first.link if isinstance(first, OnDrive) else None,
        reasons=reasons,
        conditions=conditions,
        figures=first.figures,
        offers=tuple(each.offer for each in able if each.offer is not None),
    )


def _unfit(motor: Motor) -> Reason | None:
    """Motors that are not swapped: those that need no third line, and those built in."""
    if not motor.three_phase:
        return Reason("no_swap_needed", "A single-phase motor: it runs on the supply as it is.")
    if motor.kind == "slip_ring":
        return Reason(
            "slip_ring",
            "A slip-ring motor was chosen for its start; a plain motor in its place is a matter "
            "for its maker, so none is weighed.",
        )
    if motor.kind in ("hermetic", "submersible"):
        return Reason(
            "built_in",
            f"A {motor.kind} motor is part of its machine: only its maker's single-phase model "
            "replaces it.",
        )
    if motor.circuit is None or motor.load is None or not motor.links:
        return (*motor.reasons, Reason("not_computable", "This motor cannot be computed."))[0]
    return None


def _driven(task: Task, site: Site) -> list[OnDrive]:
    """Variants with a drive; none where the winding can be linked for the supply's volts."""
    motor = task.motor
    hertz = plate_hertz(motor, site)
    if any(reached(link, hertz, site.source.voltage_v) for link in motor.links):
        return []
    return [on_drive(task, site, changed) for changed in changes(task, site)]
