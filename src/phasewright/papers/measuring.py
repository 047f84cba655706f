"""How a fact is found with a meter, a clamp or the eye: what to take, where to hold it, what to
read, what to beware of (common practice, no source)."""

from __future__ import annotations

from dataclasses import dataclass

_LIVE = (
    "The contacts are live: probes made for the mains of a building, one hand, nobody hurrying; "
    "leave it to somebody who is used to it where in doubt."
)
_DEAD = (
    "Supply off and locked, the plug out; wait until capacitors and drives have lost their charge, "
    "and prove with the meter that nothing is live."
)
_TURNING = "Guards on, nobody within reach, the tool off or clear; the leads away from what turns."


@dataclass(frozen=True, slots=True)
class Measuring:
    """What to take, where to hold it, what to read; `care` is empty where only eyes are needed."""

    take: str
    where: str
    read: str
    care: str = ""


_OUTLET = "One lead in each of the two live contacts of the outlet that will feed the machines."
_BY_KEY: dict[str, Measuring] = {
    "heater_test": Measuring(
        "A meter on AC volts that shows tenths, a clamp, a heater of 2 to 3 kW.",
        f"{_OUTLET} The clamp around one wire of the heater, not around its whole cord.",
        "The volts without the heater, the volts with it, its amps; five times, the middle one.",
        _LIVE,
    ),
    "measured_voltage": Measuring(
        "A meter on AC volts.", _OUTLET,
        "By day, in the evening and at the weekend; type the lowest and the highest, as 236/251 V.",
        _LIVE,
    ),
    "volts_to_earth": Measuring(
        "A meter on AC volts.",
        "One lead at the earth contact, the other in one live contact, then in the other.",
        "The volts of each line to earth.", _LIVE,
    ),
    "plate.no_load_current": Measuring(
        "A clamp on AC amps.",
        "Around one of the motor's three wires, the belt or the tool off; on three real phases, as "
        "at a neighbour's or a workshop's.",
        "The amps when it has run for a minute; of all three wires, the mean.",
        f"{_TURNING} The box stays closed: clamp the wire where it is insulated.",
    ),
    "plate.winding_resistance": Measuring(
        "A meter on ohms, zeroed with its leads together.",
        "The links of the terminal box off, one lead at each end of one winding (U1 and U2).",
        "The ohms, cold; all three windings are alike or one is hurt.", _DEAD,
    ),
    "plate.speed": Measuring(
        "A meter on milliamps, or the plate.",
        "Both leads at one winding, the links off; turn the shaft slowly by hand.",
        "How often the needle swings in one turn: that is the number of poles.", _DEAD,
    ),
    "control.fed_from": Measuring(
        "Your eyes, then a meter on ohms.",
        "The label of the contactor's coil; its two wires, followed to where they end.",
        "The volts on the label, and which lines or which transformer feeds it.", _DEAD,
    ),
    "control.voltage": Measuring(
        "Your eyes.", "The label of the contactor's coil.", "Its volts.", _DEAD,
    ),
    "service_rating": Measuring(
        "Your eyes.", "The main fuse carrier or the main breaker at the intake.",
        "The number before the A. What is sealed stays closed.",
    ),
    "residual_current": Measuring(
        "Your eyes.", "The board, and the outlet: a breaker with a button marked T or test.",
        "Its mA, its type (AC, A, F, B) and whether it is marked S.",
    ),
    "earthing": Measuring(
        "Your eyes.", "The intake, and the ground outside for a rod.",
        "A rod and nothing more, an earth core in the cable, or a label about multiple earthing.",
    ),
    "cable.length": Measuring(
        "A tape, or your steps.", "From the board to the machine, the way the cable runs.",
        "The metres or feet, one way, corners and drops included.",
    ),
    "never_above": Measuring(
        "Your eyes.", "The tool itself: wheel, blade, chuck, cutter block.",
        "The highest rpm stamped on it, or in the machine's book.",
    ),
}  # fmt: skip


def measuring(path: str) -> Measuring | None:
    """How the fact at a path of the shop file is found; None where it is known, not measured."""
    return next(
        (how for key, how in _BY_KEY.items() if path == key or path.endswith(f".{key}")), None
    )
