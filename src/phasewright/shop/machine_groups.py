"""What is asked on the page of a machine and its motors beyond the first questions."""

from __future__ import annotations

from phasewright.shop import machine_questions as ask
from phasewright.shop.circuit_questions import BEHIND_DRIVE, THICK, cable
from phasewright.shop.questions import YES_NO, Group, Option, Question
from phasewright.shop.thing_questions import USERS


def _of(*keys: str) -> tuple[Question, ...]:
    return tuple(q for key in keys for q in (*ask.MACHINE_MORE, *ask.MOTOR_MORE) if q.key == key)


FED_FROM = (
    Option("two lines", "two of its lines"),
    Option("three lines", "all three lines"),
    Option("line and neutral", "a line and the neutral"),
    Option("motor terminals", "the motor's terminals"),
    Option("transformer", "a transformer in it"),
    Option("unknown", "not known"),
)
MACHINE = (
    Group(
        "How much it is used",
        (
            *_of("hours_per_year"),
            Question(
                "idle_hours_per_year",
                "How many hours a year is what makes three phases left on, with nothing turning?",
                "Between cuts, in this machine's sessions; a bare number, as 60.",
            ),
            *_of("starts_per_hour"),
            Question("users", "Who uses it?", "", USERS),
        ),
    ),
    Group(
        "Its switch and its controls",
        (
            *_of("starter", "needs_neutral", "control.voltage"),
            Question(
                "control.fed_from", "Where do its controls take their supply?", "", FED_FROM
            ),
            Question(
                "control.electronics", "Are there electronics in it?",
                "A board, a display, a speed knob.", YES_NO, enter="no, or not known",
            ),
            Question("control.cnc", "Is it numerically controlled?", "", YES_NO, enter="no"),
            Question(
                "connects_by", "How is it connected?",
                options=(Option("fixed", "wired in"), Option("plug", "by plug and socket")),
            ),
            Question(
                "panel.short_circuit_rating",
                "What fault current does its control panel bear?",
                "Marked inside its door as SCCR, as 5 kA.",
            ),
            Question(
                "panel.largest_branch",
                "How large is the largest breaker or fuse of one motor in that panel?",
                "As 20 A.",
            ),
            BEHIND_DRIVE,
            Question(
                "starts_before",
                "What must run before what?",
                "Motors or machines, with commas between, as: pump before spindle.",
                many="list",
                enter="no order",
            ),
        ),
    ),
    Group(
        "Its speeds, its brake, its direction",
        (
            Question(
                "own_speeds.kind",
                "How does it change speed by itself?",
                options=(
                    Option("belts", "by belts and pulleys"),
                    Option("gears", "by gears"),
                    Option("variator", "by a variator, without steps"),
                    Option("none", "not at all"),
                ),
            ),
            Question("own_speeds.steps", "In how many steps?", "A bare number, as 5."),
            Question(
                "own_speeds.range",
                "How many times its slowest speed is its fastest?",
                "With the motor as on its plate; a bare number, as 8.",
            ),
            *_of("never_above", "brake.kind"),
            Question("brake.coil", "For how many volts is the brake's coil?", "As 180 V."),
            Question("brake.fed_from", "Where does the brake take its supply?", "", FED_FROM),
            Question(
                "wrong_direction_harms", "Is anything harmed when it turns the wrong way?",
                "A chuck or wheel unscrews, a pump runs dry, a saw throws.", YES_NO,
            ),
            ask.SPINDLE_NOSE,
        ),
    ),
    Group(
        "The cable to it",
        cable(
            "cable",
            "From the board, or from what makes three phases for it, to the machine or its socket, "
            "as 8 m or 25 ft.",
        ),
    ),
)  # fmt: skip
"""Asked of a machine; its circuit as it stands comes after, where it has one motor."""
MOTOR = (
    Group(
        "How it works and what you want of it",
        (
            *_of("load.start", "load.duty"),
            Question(
                "load.torque",
                "How hard does it work?",
                "Amps on a clamp in a normal cut over the amps on its plate, a bare number: 1 is "
                "fully loaded, 0.5 hardly. Do lights dim or belts slip? Then near 1.",
            ),
            Question(
                "wants.speed",
                "Slowest and fastest speed you want, as shares of the plate's speed?",
                "As 0.5 to 1.2.",
                many="pair",
                enter="the plate's speed alone",
            ),
            Question(
                "wants.stop_within", "What is the longest stop you can bear?",
                "From pressing stop to standing still, as 4 s.", enter="no matter",
            ),
            Question("wants.reverse", "Must it turn both ways?", "", YES_NO, enter="no"),
            Question("wants.soft_start", "Shall it start gently?", "", YES_NO, enter="no matter"),
        ),
    ),
    Group(
        "If it turns something heavy",
        (
            Question("load.wheel.diameter", "How wide across is the heavy wheel?",
                     "Flywheel, saw wheel, grindstone; as 70 cm or 28 in."),
            Question("load.wheel.width", "How thick is it?", "As 40 mm or 2 in."),
            Question(
                "load.wheel.material", "What is it made of?",
                options=tuple(
                    Option(name, name) for name in ("iron", "steel", "aluminium", "wood", "stone")
                ),
            ),
            Question("load.wheel.rim", "If it has spokes: how thick is its rim?",
                     "Towards the hub, as 50 mm.", enter="a solid disc"),
            Question("load.wheel.speed", "How fast does it turn?", "As 620 rpm.",
                     enter="as fast as the motor"),
            Question("load.wheel.count", "How many such wheels?", "A bare number.", enter="one"),
            Question(
                "load.run_up",
                "Or: how long did it take to run up on a real three-phase supply?",
                "Switched straight on, nothing being worked; as 6 s.",
            ),
            Question("load.inertia", "Or, if you know it: its moment of inertia?",
                     "Seen at the motor's shaft, as 0.15 kg m2."),
        ),
    ),
    Group(
        "The motor itself",
        (
            *_of("plate.leads"),
            Question(
                "plate.kind", "What kind of motor is it?",
                options=(
                    Option("cage", "an ordinary one, nothing rubs on its rotor"),
                    Option("slip_ring", "with slip rings and resistors to start"),
                    Option("commutator", "with brushes on a commutator"),
                    Option("dc", "direct current"),
                    Option("hermetic", "sealed in with a compressor"),
                    Option("submersible", "under water, in a well"),
                    Option("torque", "a torque motor, made to stall"),
                    Option("brake_motor", "with a brake built in"),
                ),
                enter="an ordinary one",
            ),
            *_of("plate.year"),
            Question("plate.thermistor", "Has it sensors in its windings?",
                     "Two thin extra wires, marked PTC or T1, T2.", YES_NO, enter="no"),
            Question("plate.no_load_current", "Amps with nothing to do?",
                     "A clamp around one of its three wires, as 3.2 A."),
            Question("plate.shaft_height", "How high is the middle of the shaft above its feet?",
                     "A rule, as 90 mm."),
            Question("plate.shaft_diameter", "How thick is its shaft?", "A caliper, as 24 mm."),
            Question("plate.winding_resistance", "How many ohms has one winding?",
                     "Disconnected, across one winding (or two of three leads), as 5.0 ohm."),
            Question("plate.starting_current", "How many times its amps does it draw at the start?",
                     "If stamped or in its papers, a bare number, as 6.1."),
            Question("plate.starting_torque", "Its torque at the start over that at full load?",
                     "If stamped or in its papers, a bare number, as 2.2."),
            Question("plate.breakdown_torque", "The most torque it can give, over full load's?",
                     "If in its papers, a bare number, as 2.8."),
            Question(
                "insulation_resistance",
                "How good is its insulation?",
                "From its windings to its frame at 500 V, disconnected, as 20 Mohm.",
            ),
            Question("lead_length", "How far is it from where a drive would hang?",
                     "As 4 m or 12 ft."),
            Question("lead_conductor", "How thick is a wire of that lead, where it lies?", THICK),
        ),
        "power off, locked and proved dead before a lid is opened or a winding measured.",
    ),
)  # fmt: skip
"""Asked of each motor."""
