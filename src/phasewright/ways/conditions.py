"""What the load and the machine itself ask of any way: controls, neutral, brake, starter.

Each function reads the owner's facts and says what follows. Where a fact is not given, nothing
is claimed: what is worth asking stands in the answer's list of missing facts. All of it is
common practice, no source, unless the rule that says it names a clause.
"""

from __future__ import annotations

from phasewright.machines.load import Load
from phasewright.machines.motor import Motor
from phasewright.rules.drives import nothing_opens_behind
from phasewright.rules.generated_line import (
    control_on_supply_lines,
    neutral,
    single_phase_loads_on_supply_lines,
    wrong_direction,
)
from phasewright.rules.register import Ruling
from phasewright.shop.machine import Machine
from phasewright.tables.drives import winding_asks_short_lead
from phasewright.tables.loads import LoadWay
from phasewright.ways.asked import Asked, by_rules, condition, refusal, told
from phasewright.ways.consumers import rectifies

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
    whole = of_cautions(load)
    for limit in load.kind.limits(way, power_w, loaded=load.starts_loaded):
        if limit.torque is not None and typical_ratio(load) <= limit.torque:
            continue
        words = f"{limit.why[0].upper()}{limit.why[1:]}."
        said = refusal if limit.verdict == "refused" else condition
        whole += said(f"load_kind_{load.name}", words)
    return whole


def of_cautions(load: Load) -> Asked:
    """What is to be known of this kind of load whatever powers it."""
    whole = Asked()
    for words in load.kind.cautions:
        whole += told(f"load_kind_{load.name}", words)
    return whole


def of_direction(load: Load, subject: str) -> Asked:
    """The direction is proved first where the wrong one does harm."""
    return by_rules(direction_ruling(load, subject))


def direction_ruling(load: Load | None, subject: str) -> Ruling:
    """The rule on direction, for a load that may not be known."""
    if load is None:
        return wrong_direction(None, False, subject, "")
    return wrong_direction(load.wrong_direction_harms, False, subject, load.kind.wrong_direction)


def has_electronics(machine: Machine) -> bool:
    """Whether electronics, which bear less unbalance, are in its controls or on its three lines."""
    control = machine.control
    return (control is not None and (control.cnc or control.electronics)) or any(
        each.kind == "electronics" and rectifies(each) for each in machine.others
    )


def generated_line_rulings(machine: Machine, *, on_line_3: bool) -> tuple[Ruling, ...]:
    """Controls, single-phase consumers and neutral of a machine beside a generated line.

    `on_line_3`: its consumers hang where they hang today, so one may be on the generated line;
    False where a plan wires them to lines 1 and 2. Controls that nobody told of are a matter of
    the plan's: here they are asked for, not judged.
    """
    control = machine.control
    single = tuple(dict.fromkeys(each.kind for each in machine.others if each.phases != 3))
    fed_from = None if control is None else control.fed_from
    told_of = None if control is None and not on_line_3 else control is not None
    return (
        control_on_supply_lines(fed_from, told_of, machine.name),
        single_phase_loads_on_supply_lines(single, on_line_3, machine.name),
        neutral(machine.needs_neutral, False, machine.name),
    )


def on_three_lines(machine: Machine, *, idler: bool) -> Asked:
    """What holds where the machine hangs on two supply lines and a generated third one.

    `idler`: one makes that line, and what rectifiers do on it is computed.
    """
    whole = by_rules(*generated_line_rulings(machine, on_line_3=True))
    if any(each.phases == 3 and not (idler and rectifies(each)) for each in machine.others):
        whole += condition(
            "three_phase_consumers",
            "Its three-phase heaters or rectifiers are not weighed here: split a heater into "
            "single-phase parts on lines 1 and 2, and keep rectifiers off the generated line.",
        )
    if not (idler and machine.starter == "drive_inside"):
        whole += _starter_on_three_lines(machine)
    return whole + brake_on_three_lines(machine)


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
                "It has a drive inside, which would draw all its current from lines 1 and 2: "
                "without an idler there is no third line for it. Ask its maker for single-phase "
                "feed.",
            )
        case _:
            return Asked()


def brake_on_three_lines(machine: Machine) -> Asked:
    """An injection brake must get its own volts; spring brakes are told with the motor's kind."""
    brake = machine.brake
    if brake is None or brake.kind != "dc_injection" or brake.fed_from == "two lines":
        return Asked()
    return condition(
        "brake_own_feed",
        "Feed its direct-current brake from lines 1 and 2, with a contactor that cuts the "
        "motor off first.",
    )


def on_drive(machine: Machine, motor: Motor) -> Asked:
    """What holds where a drive is wired straight to one motor of this machine."""
    return (
        _switches_on_drive(machine, motor.id)
        + _beside_drive(machine)
        + _brake_on_drive(machine)
        + _old_winding(motor)
    )


def switches_of(machine: Machine) -> tuple[str, ...] | None:
    """What stands in the motor's lines today, as told or by its starter; None where not known."""
    if machine.circuit is not None and machine.circuit.behind_drive:
        return machine.circuit.behind_drive
    switch = STARTER_SWITCHES.get(machine.starter or "")
    return None if switch is None else (switch,)


def _switches_on_drive(machine: Machine, subject: str) -> Asked:
    """What stands between the supply and the motor today must not stand behind a drive."""
    starter, switches = machine.starter, switches_of(machine)
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


def _brake_on_drive(machine: Machine) -> Asked:
    if machine.brake is None or machine.brake.kind != "dc_injection":
        return Asked()
    return condition(
        "brake_unit_off",
        "Take its direct-current brake off the motor: it would feed into the drive, which can "
        "brake by itself.",
    )


def _old_winding(motor: Motor) -> Asked:
    lead_m = winding_asks_short_lead(motor.plate.year, motor.plate.insulation_class)
    if lead_m is None:
        return Asked()
    return told(
        "old_winding",
        f"Its insulation is from before drives: at these volts it is safe with a motor lead of at "
        f"most {lead_m:.0f} m (common practice); a longer one asks for an output filter.",
    )
