"""What is asked on the page of cables and circuits as they stand today, in an owner's words."""

from __future__ import annotations

from dataclasses import replace

from phasewright.shop.questions import LAID, YES_NO, Group, Option, Question

METALS = (Option("copper", "copper"), Option("aluminium", "aluminium, silver in colour"))
THICK = (
    "Printed on the cable, as 10 mm2 or 6 AWG; else the thickness of one bare wire in mm, squared "
    "times 0.79."
)
LID = (
    "read what is marked outside; whatever needs a lid opened is for somebody licensed, with the "
    "supply off, locked and proved dead."
)
JUDGED = "What is told here is judged; what serves is kept and not bought again."
BREAKER = "As it is marked: B16, C20, gG 25 A; in North America 20 A."


def cable(at: str, length: str) -> tuple[Question, ...]:
    """Questions of the cable at a key: `length` says from where to where."""
    return (
        Question(f"{at}.length", "How long is the cable, one way?", length),
        Question(
            f"{at}.conductor",
            "How thick is one of its wires, where it lies there already?",
            f"Copper. {THICK}",
            enter="it is still to be laid, or not known",
        ),
        replace(LAID, key=f"{at}.method"),
        Question(
            f"{at}.grouped",
            "How many circuits lie in a bunch with it, itself counted?",
            "In the same pipe, trunking or bundle; a bare number, as 3.",
        ),
    )


def feeder(at: str) -> tuple[Question, ...]:
    """Questions of a feeder at a key."""
    return (
        Question(f"{at}.length", "How long is the cable to it, one way?", "As 25 m or 80 ft."),
        Question(f"{at}.conductor", "How thick is one of its wires?", THICK),
        Question(f"{at}.material", "Of which metal are its wires?", options=METALS),
        replace(LAID, key=f"{at}.method"),
    )


def residual(at: str, asks: str, none_at: str = "") -> tuple[Question, ...]:
    """Questions of a residual-current device at a key."""
    none = " Write none where there is none." if none_at else ""
    return (
        Question(
            f"{at}.rating", asks, f"What is printed behind IΔn or as trip current, as 30 mA.{none}",
            enter="none, or not known", none_at=none_at,
        ),
        Question(
            f"{at}.type",
            "Of which type is that device?",
            "The little wave printed on it: a sine is AC; a sine and pulses A; dashes besides, B.",
            tuple(Option(name, name) for name in ("AC", "A", "F", "B")),
        ),
        Question(
            f"{at}.delayed",
            "Does it wait for the devices behind it?",
            "An S in a square is printed on one that does.",
            YES_NO,
        ),
        Question(f"{at}.where", "Where does it hang?", "As intake or barn."),
    )  # fmt: skip


def _circuit(at: str, own: str) -> tuple[Question, ...]:
    """Questions of what protects a circuit and stands in it."""
    return (
        Question(
            f"{at}.breaker", "Which breaker or fuse is before it today?", BREAKER,
            enter="none yet, or not known",
        ),
        Question(
            f"{at}.breaking",
            "What short circuit can that breaker or fuse break?",
            "The number in a box on it, 6000 for 6 kA; as 6 kA.",
        ),
        *residual(
            f"{at}.residual_current",
            "Has it a residual-current device of its own?",
            f"{at}.residual_current",
        ),
        Question(f"{at}.protective_conductor", "How thick is its earth wire?", THICK),
        Question(
            f"{at}.earth_wire",
            "How does its earth wire run?",
            options=(
                Option("in_cable", "in the same cable"),
                Option("in_pipe", "in the same pipe"),
                Option("open", "by itself"),
            ),
        ),
        Question(
            f"{at}.isolator.rating",
            "If it has an isolator: for how many amps?",
            "On its plate, as 20 A. Write none where there is none.",
            enter="no isolator, or not known",
            none_at=f"{at}.isolator",
        ),
        Question(
            f"{at}.isolator.poles",
            "How many wires does that isolator cut?",
            "A bare number, as 3; 4 with the neutral.",
        ),
        Question(f"{at}.isolator.lockable", "Can that isolator be locked open?", "", YES_NO),
        Question(
            f"{at}.isolator.power",
            "For which motor power is that isolator marked?",
            "On its plate beside the volts, as 3 hp or 2.2 kW.",
        ),
        Question(f"{at}.isolator.in_sight", f"Can it be seen from {own}?", "", YES_NO),
        Question(
            f"{at}.undervoltage_release",
            "After a power cut, does it stay off until it is switched on again?",
            "A contactor with start and stop buttons does, a plain switch does not.",
            YES_NO,
        ),
    )  # fmt: skip


MACHINE_CIRCUIT = Group(
    "Its circuit as it stands today",
    (
        *_circuit("circuit", "the machine"),
        Question(
            "circuit.socket.rating", "If it has a socket: for how many amps?",
            "On its lid, as 16 A.", enter="no socket, or not known",
        ),
        Question(
            "circuit.socket.poles", "How many pins has that socket, without the earth?",
            "A bare number: 2, 3 or 4.",
        ),
        Question(
            "circuit.socket.voltage", "For how many volts is that socket?", "On its lid, as 400 V."
        ),
        Question(
            "circuit.overload",
            "To how many amps is its overload relay set?",
            "The mark of its dial, as 8.4 A. Write none where there is none.",
            enter="no relay, or not known",
        ),
        Question(
            "circuit.overload_units",
            "In how many of its wires does that relay watch the current?",
            "The heaters or poles of it, a bare number: 1, 2 or 3.",
        ),
        Question(
            "circuit.capacitors_behind_overload",
            "Do capacitors hang between that relay and the motor?",
            "", YES_NO,
        ),
    ),
    LID,
)  # fmt: skip
"""Asked of a machine of one motor."""
BEHIND_DRIVE = Question(
    "circuit.behind_drive",
    "What could open between a drive and the motor?",
    "Whatever is switched in the motor's own wires and would stay there.",
    (
        Option("isolator", "an isolator"),
        Option("drum", "a drum switch"),
        Option("reversing_drum", "a switch for forward and reverse"),
        Option("two_speed_switch", "a switch for two speeds"),
        Option("star_delta", "a star-delta switch"),
        Option("contactor", "a contactor"),
        Option("pressure_switch", "a pressure switch"),
        Option("float_switch", "a float switch"),
        Option("limit_switch", "a limit switch"),
        Option("selector", "a selector"),
        Option("socket", "a plug and socket"),
        Option("soft_starter", "a soft starter"),
    ),
    many="some",
)
CONVERTER_CIRCUIT = (
    Group(
        "The circuit to it",
        (
            *_circuit("supply.converter_circuit", "the converter"),
            *cable("supply.converter_circuit.cable", "From the board to it, as 8 m or 25 ft."),
        ),
        LID,
    ),
    Group(
        "What stands in it and behind it",
        (
            Question(
                "supply.converter_circuit.phase_relay",
                "Does a relay keep its outlets dead until three lines stand in order?",
                "A phase-sequence relay; it proves the direction before a machine can start.",
                YES_NO,
            ),
            Question(
                "supply.converter_circuit.discharge_resistor",
                "Which resistor hangs across each run capacitor?",
                "Printed on it or in its papers, as 100 kohm. Write none where there is none: a "
                "capacitor then stays charged.",
            ),
            Question(
                "supply.converter_circuit.line_3_marked",
                "Is the generated line marked at every end?",
                "Line 3 stands at other volts to earth than the other two.",
                YES_NO,
            ),
            Question(
                "supply.converter_circuit.capacitor_fuses",
                "Is there a fuse in every line to a bank of capacitors?",
                "", YES_NO,
            ),
            Question(
                "supply.converter_circuit.straight_breakers",
                "Are the breakers of its lines marked with one voltage, without a slash?",
                "As 240 V, not 120/240 V: one with a slash may not bear line 3.",
                YES_NO,
            ),
            Question(
                "supply.converter_circuit.tied",
                "What is line 3, or the idler's star point, tied to?",
                "",
                (
                    Option("nothing", "nothing"),
                    Option("earth", "earth"),
                    Option("neutral", "the neutral"),
                ),
            ),
            Question(
                "supply.converter_circuit.plate",
                "Does its plate tell volts, hertz, amps and loads?",
                "", YES_NO,
            ),
            Question(
                "supply.converter_circuit.nameplate_input",
                "How many amps does its plate give for the supply side?",
                "As 22 A.",
            ),
            Question(
                "supply.converter_circuit.fixed_loads",
                "Will it feed the machines told here and never others?",
                "Then its conductors may be sized for these.",
                YES_NO,
            ),
        ),
        "capacitors stay charged after switching off, and line 3 is live while the idler spins.",
    ),
)  # fmt: skip
"""Asked of whatever makes three phases, as it stands today; keys from the top of the file."""
