"""What the machine itself asks of any way of powering: controls, neutral, brake, starter, start.

Each function reads the owner's facts and returns conditions in words (or none). Where a fact is
not given, nothing is claimed: what is worth asking stands in the answer's list of missing facts.
All of it is common practice, no source, unless a clause is named.
"""

from __future__ import annotations

from phasewright.machines.load import Load
from phasewright.quantities.finding import Reason
from phasewright.shop.model import Machine
from phasewright.tables.loads import LoadWay


def demand_ratio(load: Load) -> float:
    """The highest torque the machine may ask for steadily, as a share of the rated torque.

    The owner's figure where it is given; else the high end of the kind's range, but not more
    than the rated torque, which the motor was made for.
    """
    running = load.running_torque
    return running.number if running.sure else min(1.0, running.high)


def typical_ratio(load: Load) -> float:
    """The usual running torque as a share of the rated torque."""
    return load.running_torque.number


def kind_limits(load: Load, way: LoadWay, power_w: float) -> tuple[list[Reason], list[Reason]]:
    """(refusals, conditions) that the kind of load means for this way, in the trade's words."""
    refusals: list[Reason] = []
    conditions: list[Reason] = []
    for limit in load.kind.limits(way, power_w):
        if limit.torque is not None and typical_ratio(load) <= limit.torque:
            continue
        reason = Reason(f"load_kind_{load.name}", limit.why)
        (refusals if limit.verdict == "refused" else conditions).append(reason)
    return refusals, conditions


def three_line_conditions(machine: Machine, load: Load | None) -> list[Reason]:
    """What must hold where the machine hangs on two supply lines and a generated third one."""
    found: list[Reason] = []
    control = machine.control
    if control is not None:
        where = control.fed_from or "unknown"
        if where not in ("two lines",):
            found.append(
                Reason(
                    "control_on_lines_1_2",
                    "Feed contactor coils and the control transformer from lines 1 and 2 only: "
                    "on the generated line they chatter or drop out.",
                )
            )
        if control.cnc or control.electronics:
            found.append(
                Reason(
                    "electronics_on_three_lines",
                    "The machine has electronics: machines built to IEC 60204-1 expect at most "
                    "2 % negative sequence (from memory); ask its maker what it tolerates.",
                )
            )
    if machine.others:
        found.append(
            Reason(
                "single_phase_loads_on_lines_1_2",
                "Heaters, lamps, welders and other single-phase consumers of the machine go on "
                "lines 1 and 2, never on the generated line.",
            )
        )
    if machine.needs_neutral:
        found.append(
            Reason(
                "neutral",
                "The machine needs a neutral and this way has none: find what uses it (lamp, "
                "transformer, coil) and feed that from the supply.",
            )
        )
    if load is not None and load.wrong_direction_harms:
        found.append(
            Reason(
                "prove_direction",
                "Prove the direction of rotation before the machine is coupled: "
                + (load.kind.wrong_direction or "the wrong way does harm here."),
            )
        )
    return found


def drive_conditions(machine: Machine, load: Load | None) -> list[Reason]:
    """What must hold where a drive is wired straight to one motor of this machine."""
    found: list[Reason] = []
    if machine.starter in ("reversing_drum", "two_speed_switch", "star_delta", "direct"):
        found.append(
            Reason(
                "nothing_opens_behind_drive",
                "Nothing may open between drive and motor while the output is on: move switches "
                "to the drive's inputs; a lockable isolator needs an early-break contact to its "
                "enable.",
            )
        )
    if machine.starter == "star_delta":
        found.append(
            Reason("star_delta_bypassed", "Bypass the star-delta starter; link the motor once.")
        )
    if len(machine.motors) > 1 or machine.others or machine.control is not None:
        found.append(
            Reason(
                "controls_on_supply",
                "Pump, lamps, coils and transformers of the machine stay on the supply lines: "
                "behind a drive they would see changing volts and hertz.",
            )
        )
    brake = machine.brake
    if brake is not None and brake.kind == "spring_electric":
        feed = brake.fed_from or "unknown"
        if feed != "two lines":
            found.append(
                Reason(
                    "brake_own_feed",
                    "Feed the brake coil from the supply at its own volts, switched by the "
                    "drive's relay: from the motor terminals it would never release rightly.",
                )
            )
    if machine.spindle_nose == "threaded":
        found.append(
            Reason(
                "threaded_nose",
                "Threaded spindle nose: no reversing and no fast stop without a clamp, or the "
                "chuck unscrews.",
            )
        )
    if load is not None and load.wrong_direction_harms:
        found.append(
            Reason("prove_direction", f"Prove the direction first: {load.kind.wrong_direction}")
        )
    return found
