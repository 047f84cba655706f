"""The words in which names of the closed lists are told to an owner."""

from __future__ import annotations

from phasewright.quantities.codes import (
    Buyable,
    ComparedBy,
    Connection,
    Severity,
    Verdict,
    WayName,
)

INTAKE = "the intake"
"""Where the supply comes in: the place of a machine of which no place is told."""


def place_words(name: str) -> str:
    """A place as a sentence names it: `barn` is the barn, `Upper Barn` its own name."""
    if not name:
        return INTAKE
    return f"the {name}" if name[0].islower() and not name.startswith("the ") else name


WAY_WORDS: dict[WayName, str] = {
    "drive_per_motor": "a drive for this motor alone",
    "shared_drive": "a drive shared by several motors, one at a time",
    "rotary_converter": "rotary converter",
    "static_converter": "static converter (start capacitor only)",
    "capacitor_run": "run capacitor on the motor itself",
    "electronic_converter": "electronic three-phase source",
    "step_up_drive": "drive with a raised output voltage",
    "motor_swap": "another motor in its place",
    "utility_service": "three-phase service from the network operator",
    "direct": "straight from the supply",
}
WAY_SHORT: dict[WayName, str] = {
    "drive_per_motor": "own drive",
    "shared_drive": "shared drive",
    "rotary_converter": "rotary converter",
    "static_converter": "static converter",
    "capacitor_run": "run capacitor",
    "electronic_converter": "electronic source",
    "step_up_drive": "step-up drive",
    "motor_swap": "other motor",
    "utility_service": "new service",
    "direct": "straight on",
}
"""Names of the ways for the head of a narrow column."""
BROUGHT_WORDS = "capacitors it brings to the converter"
"""What a motor buys of its own, in farads, to hang on a rotary converter."""
PLACE_WORDS = "its own place on the shared drive"
"""What a motor buys of its own to hang on a shared drive."""
VERDICT_WORDS: dict[Verdict, str] = {
    "suits": "suits",
    "with_conditions": "with conditions",
    "refused": "refused",
}
CONNECTION_WORDS: dict[Connection, str] = {
    "delta": "linked in delta",
    "star": "linked in star",
    "low_voltage": "linked for the low voltage",
    "high_voltage": "linked for the high voltage",
    "fixed": "linked inside, cannot be changed",
    "unknown": "link not known",
    "none": "no three-phase winding",
}
SEVERITY_WORDS: dict[Severity, str] = {
    "stop": "stop",
    "condition": "condition",
    "caution": "caution",
    "info": "note",
}
COMPARED_WORDS: dict[ComparedBy, str] = {
    "speed": "Speed",
    "stopping": "Stopping",
    "controls": "The old switches",
    "together": "At one time",
    "starting": "Starting",
    "sound": "Noise it adds",
    "energy": "Energy",
    "failure": "When a thing fails",
    "growth": "Machines to come",
    "resale": "Sold again",
    "work": "Your work",
}
BUYABLE_WORDS: dict[Buyable, str] = {
    "new": "new",
    "self_built": "built by yourself",
    "used": "second-hand",
    "owned": "already yours",
    "hired": "hired by the day",
}
