"""Questions whose answers safety rests on: earth, protection, what hangs on the motor's wires.

Nothing is computed from a guess here: until they are answered the worst holds. How they are put
is common practice, no source; local codes and licensed practice decide what follows.
"""

from __future__ import annotations

from collections.abc import Mapping

from phasewright.quantities.codes import ON_A_DRIVE, Users, WayName
from phasewright.quantities.finding import Missing
from phasewright.shop.machine import Machine
from phasewright.shop.model import Shop
from phasewright.shop.supply import Supply
from phasewright.tables.stopping import hurts_running_down

TOOL_LIMITS_SPEED = ("spindle", "grinder", "saw", "sander", "fan", "flywheel", "separator")
"""Loads whose wheel, blade, chuck or drum has a highest safe speed of its own."""
MAY_HAVE_BRAKE = ("spindle", "saw", "lift", "flywheel", "grinder", "press")
"""Loads that are often held or stopped by a brake."""
ANY: tuple[WayName, ...] = ("drive_per_motor", "rotary_converter")
"""What a motor may come to hang on, while nothing is decided."""


def safety_questions(shop: Shop, ways: Mapping[str, WayName | None] | None) -> tuple[Missing, ...]:
    """What must be found out before anything is wired.

    `ways` tells what every motor hangs on in the plan, for some questions arise only with it;
    None before there is a plan: then all are asked that may arise.
    """
    found = _supply(shop.supply, shop.region, told=_residual_current_told(shop))
    for i, machine in enumerate(shop.machines):
        ids = [f"{machine.name}/{motor.name}" for motor in machine.motors]
        used: set[WayName | None] = set(ANY)
        if ways is not None:
            used = {ways[each] for each in ids if each in ways}
        if used - {None, "direct"}:
            found += _machine(machine, f"machines[{i}]", used, shop.users_of(machine))
    return tuple(found)


def _residual_current_told(shop: Shop) -> bool:
    """Whether a device is told at the intake, or in every place where a machine stands."""
    if shop.supply.residual_current is not None:
        return True
    told = {place.name for place in shop.places if place.residual_current is not None}
    return all(machine.place in told for machine in shop.machines)


def _supply(supply: Supply, region: str, *, told: bool) -> list[Missing]:
    found = []
    if supply.earthed in (None, "unknown") and supply.volts_to_earth is None:
        found.append(
            _question(
                "which conductor is earthed", "supply.earthed",
                "Which supply wire is at earth potential decides how far every line stands from "
                "earth, the generated one above all.",
                "Meter from each supply wire to earth: one shows about zero (line_2), both show "
                "half (centre), or neither (none).",
                "volts to earth, kind of breaker and filter; until known the worst counts",
            )
        )  # fmt: skip
    if region == "IEC" and supply.earthing is None:
        found.append(
            _question(
                "earthing", "supply.earthing",
                "How the place is earthed decides what clears an earth fault.",
                "A rod at the building? A label about multiple earthing? A separate earth core "
                "in the cable?",
                "protection against earth faults; until known it is taken as an electrode of "
                "its own (TT), which needs a residual-current device",
            )
        )  # fmt: skip
    if not told:
        found.append(
            _question(
                "residual-current device", "supply.residual_current",
                "A device already ahead of the machines carries the leakage of all drives and may "
                "be of a type that a drive blinds; without one, a fault of the generated line to "
                "earth may not be cleared in time.",
                "Look for a breaker with a test button at the intake or the outlet: read its mA, "
                "its type (AC, A, F, B) and where it is.",
                "which drives it stands, what protects the outlets of a converter",
            )
        )  # fmt: skip
    return found


def _machine(
    machine: Machine, path: str, used: set[WayName | None], users: Users | None
) -> list[Missing]:
    kinds = {motor.load.kind for motor in machine.motors}
    driven = not used.isdisjoint(ON_A_DRIVE)
    found = []
    if machine.needs_neutral is None:
        found.append(
            _question(
                "needs a neutral", f"{path}.needs_neutral",
                "A converter that makes the third line gives no neutral, and lines 1 and 2 are no "
                "substitute: a lamp or transformer between a line and the neutral must be found.",
                "How many pins or wires has its plug? Is a lamp, a socket or a small transformer "
                "inside?",
                "whether it may be connected as it is",
            )
        )  # fmt: skip
    if machine.control is None or machine.control.fed_from in (None, "unknown"):
        found.append(
            _question(
                "what feeds its controls", f"{path}.control.fed_from",
                "Coils and control transformers belong on lines 1 and 2: on the generated line "
                "they chatter at a start, and behind a drive they burn.",
                "A push button with a contactor? Read the coil's volts and follow its two wires.",
                "how the controls are wired",
            )
        )  # fmt: skip
    if machine.brake is None and kinds.intersection(MAY_HAVE_BRAKE):
        found.append(
            _question(
                "brake", f"{path}.brake",
                "A brake coil on the motor's terminals does not release behind a drive, and one "
                "on the generated line releases late.",
                "Is there a brake? Does it hold with the power off? Where do its wires go?",
                "where the coil is fed from, how the machine stops",
            )
        )  # fmt: skip
    faster = any((m.wants.speed or (1.0, 1.0))[1] > 1.0 for m in machine.motors)
    if machine.never_above is None and (driven or faster) and kinds & {*TOOL_LIMITS_SPEED}:
        found.append(
            _question(
                "highest safe speed of the tool", f"{path}.never_above",
                "A drive can turn a tool faster than it stands.",
                "Read the highest rpm on wheel, blade or chuck; where none is marked, never above "
                "the plate's speed.",
                "the highest speed a drive is set to",
            )
        )  # fmt: skip
    if users is None and driven and any(hurts_running_down(kind) for kind in kinds):
        found.append(
            _question(
                "who uses it", f"{path}.users",
                "Who stands at a machine decides how its emergency stop must work and how soon its "
                "tool must rest.",
                "Do guests or employees use it, or you alone?",
                "what is asked of the emergency stop, whether a brake must be bought",
            )
        )  # fmt: skip
    if machine.spindle_nose is None and driven and "spindle" in kinds:
        found.append(
            _question(
                "spindle nose", f"{path}.spindle_nose",
                "A threaded chuck unscrews at a quick stop or in reverse.",
                "Is the chuck screwed on, or held by studs, cams or a nut?",
                "how quickly it may be stopped and whether it may reverse",
            )
        )  # fmt: skip
    return found


def _question(field: str, path: str, words: str, how: str, changes: str) -> Missing:
    return Missing(field, path, None, None, words, how, changes)
