"""The switches that machines of a kind bring along, and where each goes with a drive.

Common practice, no source: what can open while the output is on is moved to a control input.
"""

from __future__ import annotations

from dataclasses import dataclass

from phasewright.quantities.codes import LoadKindName


@dataclass(frozen=True, slots=True)
class OwnSwitch:
    """A switch of a kind of machine: its name, its input's function, why, how it is wired, and
    what to take care of."""

    code: str
    function: str
    why: str
    words: str
    caution: str


_PRESSURE = OwnSwitch(
    "move_pressure_switch",
    "run permit (runs while it is closed)",
    "its pressure switch stops and starts it; after a power loss the start button comes first",
    "Take the pressure switch out of the motor's lines and wire one of its contacts, in row with "
    "the stop button's latch, to the run-permit input. Its air valve that unloads the head stays "
    "where it is.",
    "Opened in the motor's lines under power it would destroy the drive. Let the air out and see "
    "that the head is unloaded before every start.",
)
_LIMIT = OwnSwitch(
    "move_limit_switches",
    "run permit (runs while it is closed)",
    "its limit or guard switch stops it when it opens; without one the input stays bridged",
    "Take its limit and guard switches, where it has any, out of the motor's lines and wire them "
    "in a row, closed when all is well, to the run-permit input.",
    "Where a guard switch protects people an ordinary input is not enough: that takes a safety "
    "relay or a certified torque-off input, judged by a competent person.",
)
_FLOAT = OwnSwitch(
    "move_float_switch",
    "run permit (runs while it is closed)",
    "its float or pressure switch stops and starts it; without one the input stays bridged",
    "Take the float or pressure switch out of the motor's lines and wire its contact to the "
    "run-permit input.",
    "Opened in the motor's lines under power it would destroy the drive.",
)
_FOOT = OwnSwitch(
    "move_foot_switch",
    "run permit (runs while it is closed)",
    "its foot switch; without one the input stays bridged",
    "Wire the foot switch to the run-permit input through a small relay; the clutch's own foot "
    "switch or pedal stays as it is.",
    "Presses hurt: guards, clutch and brake stay as they are, and a competent person judges any "
    "change.",
)

OWN_SWITCHES: dict[LoadKindName, OwnSwitch] = {
    "compressor": _PRESSURE,
    "vacuum_pump": _PRESSURE,
    "refrigeration": _PRESSURE,
    "pump": _FLOAT,
    "submersible": _FLOAT,
    "press": _FOOT,
    "saw": _LIMIT,
    "conveyor": _LIMIT,
    "mixer": _LIMIT,
    "feed": _LIMIT,
    "crusher": _LIMIT,
    "lift": _LIMIT,
}
"""What a kind of machine usually has beside its starter; kinds that are not here have nothing."""
