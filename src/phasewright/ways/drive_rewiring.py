"""The steps of wiring a drive and of moving the machine's own switches to its inputs.

Common practice, no source; who may wire, and how, is for the local code to say.
"""

from __future__ import annotations

from collections.abc import Iterator

from phasewright.machines.motor import Motor
from phasewright.quantities.codes import Starter
from phasewright.shop.machine import Machine
from phasewright.ways.drive_sheet import RewiringStep
from phasewright.ways.figures import Figures
from phasewright.ways.own_switches import OWN_SWITCHES

Step = tuple[str, str, str | None]
LOW_LEVEL = (
    "Contacts that switched motor current are burnt: at 24 V and a few milliamps they do not make "
    "surely. Use unused contacts, new low-level (gold) ones, or a small relay between."
)
_STARTERS: dict[Starter, tuple[Step, ...]] = {
    "direct": (
        (
            "remove_contactor",
            "Take the motor's contactor and its overload relay out of the motor's lines: the drive "
            "does their work. Wire the start button (closes) and the stop button (opens) to the "
            "start and stop inputs.",
            LOW_LEVEL,
        ),
    ),
    "reversing_drum": (
        (
            "move_drum_switch",
            "Take all six wires off the drum switch and join nothing in their place. With a meter "
            "find one contact that is closed only in forward and one only in reverse; wire both "
            "from the drive's control common, to the forward and the reverse input.",
            LOW_LEVEL,
        ),
        (
            "drum_at_rest",
            "Switch the drive on with the drum in the middle; thrown over, the drive ramps down "
            "and up again by itself.",
            "Left in forward at a power loss it must not start again: see that the restart lock "
            "asks for the middle position first.",
        ),
    ),
    "two_speed_switch": (
        (
            "move_speed_switch",
            "Take the speed switch out of the motor's lines and wire the one winding that is "
            "driven straight to the drive, its unused ends kept apart and covered. One contact of "
            "the switch goes to the preset-speed input.",
            LOW_LEVEL,
        ),
    ),
    "star_delta": (
        (
            "remove_star_delta",
            "Take the three contactors and the timer out, and link the motor once in its terminal "
            "box as the sheet says. Start and stop buttons go to the start and stop inputs.",
            LOW_LEVEL,
        ),
    ),
    "soft_starter": (
        (
            "remove_soft_starter",
            "Take the soft starter out: drive and soft starter destroy each other. Start and stop "
            "buttons go to the start and stop inputs.",
            LOW_LEVEL,
        ),
    ),
    "drive_inside": (
        (
            "replace_drive_inside",
            "Take the drive that is inside out. Its control wires may be low-level already: write "
            "down what each does before it comes off.",
            "An old drive keeps its charge: wait as it says, then measure its link.",
        ),
    ),
}
_UNKNOWN: tuple[Step, ...] = (
    (
        "find_switches",
        "Follow the motor's three lines from its terminal box to the supply and write down "
        "everything that can open in them: switch, contactor, overload relay, limit switches. All "
        "of it comes out of the lines; what the operator uses goes to the inputs.",
        LOW_LEVEL,
    ),
)


def rewiring_of(
    machine: Machine, motor: Motor, figures: Figures, *, several: bool
) -> tuple[RewiringStep, ...]:
    """The steps in their order; `several`: other motors hang on the same drive."""
    steps = [
        *_first(),
        *(_UNKNOWN if machine.starter is None else _STARTERS[machine.starter]),
        *_of_load(motor),
        *_straight(several),
        *_beside(machine),
        *_last(machine, motor, figures),
    ]
    return tuple(RewiringStep(k, *step) for k, step in enumerate(steps, start=1))


def _first() -> Iterator[Step]:
    yield (
        "isolate",
        "Switch off, lock off, and prove every line dead; draw and photograph what is there before "
        "anything is moved.",
        "A drive keeps its charge: wait as its cover says, at least five minutes, and measure the "
        "link before touching it.",
    )


def _of_load(motor: Motor) -> Iterator[Step]:
    own = None if motor.load is None else OWN_SWITCHES.get(motor.load.name)
    if own is not None:
        yield own.code, own.words, own.caution


def _straight(several: bool) -> Iterator[Step]:
    if several:
        yield (
            "wire_selector",
            "Wire each motor through its own overload relay to the selector, only one of which can "
            "be closed; the selector's early-break contact and all relays go in a row to the "
            "enable input.",
            "Change over only at rest: opened or closed under power it destroys the drive.",
        )
    else:
        yield (
            "wire_motor",
            "Wire the motor straight to the drive's output in a screened lead, its earth with it; "
            "between them only a lockable isolator whose early-break contact goes to the enable "
            "input.",
            "Nothing else may open between drive and motor while the output is on.",
        )
    yield (
        "control_wires",
        "Run the control wires screened and apart from the motor lead, from the drive's own 24 V; "
        "earth the screen at the drive.",
        "Never bring the machine's old control volts to a drive's input.",
    )


def _beside(machine: Machine) -> Iterator[Step]:
    if len(machine.motors) > 1 or machine.others or machine.control is not None:
        yield (
            "controls_on_supply",
            "Wire pumps, lamps and the control transformer to the supply lines ahead of the drive, "
            "behind a protection of their own.",
            None,
        )
    brake = machine.brake
    if brake is not None and brake.kind == "spring_electric":
        yield (
            "brake_coil",
            "Feed the spring brake's coil from the supply lines through a contact of the drive "
            "that closes when it gives current and opens at rest.",
            "On the motor's terminals it would see changing volts and never let go; without the "
            "contact the load falls.",
        )
    if brake is not None and brake.kind == "dc_injection":
        yield (
            "brake_unit_off",
            "Take the direct-current brake off the motor; the drive brakes.",
            "Left on it would feed into the drive's output.",
        )


def _last(machine: Machine, motor: Motor, figures: Figures) -> Iterator[Step]:
    emergency = figures.emergency_stop
    yield (
        "emergency_stop",
        "Wire the emergency stop: it takes the power away, or goes to a certified torque-off input "
        "with two channels." + ("" if emergency is None else f" {emergency.words}"),
        "An ordinary stop input is no emergency stop, and a stopped drive is not isolated.",
    )
    harms = motor.load is not None and motor.load.wrong_direction_harms
    nose = machine.spindle_nose == "threaded"
    yield (
        "prove",
        "Enter the settings, then try at low hertz with the belt off: direction, every switch, the "
        "stop. Pull the plug and put it back with the switch still on: it must stay at rest.",
        "The wrong direction does harm here." if harms or nose else None,
    )
