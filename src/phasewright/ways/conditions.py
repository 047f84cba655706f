"""What the load and the machine itself ask of any way: controls, neutral, brake, starter.

Each function reads the owner's facts and says what follows. Where a fact is not given, nothing
is claimed: what is worth asking stands in the answer's list of missing facts. All of it is
common practice, no source, unless the rule that says it names a clause.
"""

from __future__ import annotations

from phasewright.machines.load import Load
from phasewright.machines.motor import Motor
from phasewright.quantities.codes import WayName
from phasewright.rules.drives import nothing_opens_behind
from phasewright.rules.generated_line import (
    control_on_supply_lines,
    neutral,
    single_phase_loads_on_supply_lines,
    wrong_direction,
)
from phasewright.shop.model import Machine
from phasewright.tables.drives import winding_asks_short_lead
from phasewright.tables.loads import LoadWay
from phasewright.ways.asked import Asked, by_rules, condition, refusal, told

STARTER_SWITCHES = {
    "direct": "contactor",
    "star_delta": "star_delta",
    "reversing_drum": "reversing_drum",
    "two_speed_switch": "two_speed_switch",
    "soft_starter": "soft_starter",
}
"""What a starter puts between the supply and its motor."""


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


def of_kind(load: Load, way: LoadWay, power_w: float) -> Asked:
    """What the kind of load means for this way, in the trade's words."""
    whole = Asked(told=cautions_of_kind(load).told)
    for limit in load.kind.limits(way, power_w):
        if limit.torque is not None and typical_ratio(load) <= limit.torque:
            continue
        words = f"{limit.why[0].upper()}{limit.why[1:]}."
        said = refusal if limit.verdict == "refused" else condition
        whole += said(f"load_kind_{load.name}", words)
    return whole


def cautions_of_kind(load: Load) -> Asked:
    """What the trade tells of this kind of load, whatever powers it."""
    whole = Asked()
    for words in load.kind.cautions:
        whole += told(f"load_kind_{load.name}", words)
    return whole


def of_direction(load: Load, subject: str) -> Asked:
    """The direction is proved first where the wrong one does harm."""
    return by_rules(
        wrong_direction(load.wrong_direction_harms, False, subject, load.kind.wrong_direction)
    )


def of_motor_kind(motor: Motor, way: LoadWay | WayName) -> Asked:
    """Motors that are more than a plain three-phase cage motor."""
    kind = motor.plate.kind
    whole = Asked()
    if kind in ("hermetic", "submersible"):
        words = (
            f"A {kind} motor is cooled and sealed by what it pumps: only what its maker allows "
            "in writing."
        )
        lone = way in ("static_start_only", "static_tuned", "capacitor_run")
        whole += (refusal if lone else condition)("closed_in_motor", words)
    if kind == "slip_ring":
        on_drive = way == "drive_per_motor"
        whole += condition(
            "slip_ring",
            "Short its slip rings for good; the starting resistors are not used any more."
            if on_drive
            else "It starts through its rotor resistors; the starting figures here hold for "
            "shorted rings.",
        )
    if motor.plate.rigged and way != "capacitor_run":
        whole += condition(
            "capacitor_off",
            "Take the capacitor off first: the motor is a three-phase one that was rigged to run "
            "on two lines.",
        )
    return whole


def on_three_lines(machine: Machine) -> Asked:
    """What holds where the machine hangs on two supply lines and a generated third one."""
    control = machine.control
    single = tuple(dict.fromkeys(each.kind for each in machine.others if each.phases != 3))
    whole = by_rules(
        control_on_supply_lines(
            None if control is None else control.fed_from, control is not None, machine.name
        ),
        single_phase_loads_on_supply_lines(single, True, machine.name),
        neutral(machine.needs_neutral, False, machine.name),
    )
    if any(each.phases == 3 for each in machine.others):
        whole += condition(
            "three_phase_consumers",
            "Its three-phase heaters or rectifiers are not weighed here: split a heater into "
            "single-phase parts on lines 1 and 2, and keep rectifiers off the generated line.",
        )
    return whole + _starter_on_three_lines(machine) + brake_on_three_lines(machine)


def _starter_on_three_lines(machine: Machine) -> Asked:
    match machine.starter:
        case "star_delta":
            return condition(
                "star_delta_start",
                "Its star-delta starter gives a third of the torque while in star; the starting "
                "torque here is that of delta, straight on.",
            )
        case "soft_starter":
            return condition(
                "soft_starter_off",
                "Bypass its electronic soft starter: it is made for three real phases, and "
                "capacitors behind it destroy it.",
            )
        case "drive_inside":
            return refusal(
                "drive_inside",
                "It has a drive inside, which would draw nearly all its current from lines 1 and "
                "2: a rectifier on generated lines is not computed yet. Ask its maker for "
                "single-phase feed.",
            )
        case _:
            return Asked()


def brake_on_three_lines(machine: Machine) -> Asked:
    """A brake coil must get its own volts, whatever the motor is linked for."""
    brake = machine.brake
    if brake is None or brake.kind in ("none", "mechanical"):
        return Asked()
    if brake.fed_from == "two lines":
        return Asked()
    if brake.kind == "dc_injection":
        return condition(
            "brake_own_feed",
            "Feed its direct-current brake from lines 1 and 2, with a contactor that cuts the "
            "motor off first.",
        )
    coil = "" if brake.coil is None else f" (made for {brake.coil.number:.0f} V)"
    return condition(
        "brake_own_feed",
        f"Feed the brake coil{coil} from lines 1 and 2 at its own volts by a contact of its own: "
        "at the motor's terminals it follows the links and the generated line.",
    )


def on_drive(machine: Machine, motor: Motor) -> Asked:
    """What holds where a drive is wired straight to one motor of this machine."""
    whole = _switches_on_drive(machine, motor.id)
    if machine.starter == "two_speed_switch" or len(motor.plate.speed) > 1:
        whole += condition(
            "one_winding", "Fix the speed switch in one position: the drive makes the speeds."
        )
    return whole + _beside_drive(machine) + _brake_on_drive(machine, motor) + _old_winding(motor)


def _switches_on_drive(machine: Machine, subject: str) -> Asked:
    """What stands between the supply and the motor today must not stand behind a drive."""
    starter = machine.starter or ""
    switches = (STARTER_SWITCHES[starter],) if starter in STARTER_SWITCHES else None
    whole = by_rules(nothing_opens_behind(switches, subject))
    if switches is not None:
        whole += told(
            "isolator_with_early_break",
            "A lockable isolator near the motor is allowed where its early-break contact takes "
            "the drive's enable away first.",
        )
    if starter == "star_delta":
        whole += condition("star_delta_bypassed", "Take it out for good and link the motor once.")
    if starter == "drive_inside":
        whole += condition(
            "instead_of_drive_inside", "It takes the place of the drive that is inside."
        )
    return whole


def _beside_drive(machine: Machine) -> Asked:
    """Everything else of the machine stays on the supply."""
    whole = Asked()
    if len(machine.motors) > 1 or machine.others or machine.control is not None:
        whole += condition(
            "controls_on_supply",
            "Pump, lamps, coils and transformers of the machine stay on the supply lines: "
            "behind a drive they would see changing volts and hertz.",
        )
    if machine.needs_neutral:
        whole += condition(
            "neutral_from_supply", "What uses its neutral is fed from the supply, not the drive."
        )
    return whole


def _brake_on_drive(machine: Machine, motor: Motor | None) -> Asked:
    brake = machine.brake
    own = motor is not None and motor.plate.kind == "brake_motor"
    kind = "spring_electric" if own else "none"
    if brake is not None and brake.kind != "none":
        kind = brake.kind
    if kind == "dc_injection":
        return condition(
            "brake_unit_off",
            "Take its direct-current brake off the motor: it would feed into the drive, which can "
            "brake by itself.",
        )
    if kind == "spring_electric" and (brake is None or brake.fed_from != "two lines"):
        return condition(
            "brake_own_feed",
            "Feed the brake coil from the supply at its own volts, switched by the drive's "
            "relay: from the motor terminals it would never release rightly.",
        )
    return Asked()


def _old_winding(motor: Motor) -> Asked:
    lead_m = winding_asks_short_lead(motor.plate.year, motor.plate.insulation_class)
    if lead_m is None:
        return Asked()
    return told(
        "old_winding",
        f"Its insulation is from before drives: at these volts it is safe with a motor lead of at "
        f"most {lead_m:.0f} m (common practice); a longer one asks for an output filter.",
    )
