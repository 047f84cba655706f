"""What an owner needs to set a drive up: the motor's data, the settings, the wiring steps."""

from __future__ import annotations

from dataclasses import dataclass

from phasewright.quantities.value import Value


@dataclass(frozen=True, slots=True)
class MotorOnDrive:
    """The motor as a drive is told of it, on the winding and link it has there.

    Volts between lines, amps of a line, `stator_resistance_ohm` of one phase of the star that
    stands for the winding. `slip_hz` is the slip at rated torque. `breakaway_boost_v` are the line
    volts at nothing hertz with which it breaks its load away, the straight line of volts over
    hertz drawn from there to the base point; `breakaway_a` the amps of that.
    """

    voltage_v: Value
    frequency_hz: Value
    current_a: Value
    power_w: Value
    speed_rpm: Value
    poles: Value
    power_factor: Value
    no_load_current_a: Value
    stator_resistance_ohm: Value
    slip_hz: Value
    breakaway_boost_v: Value
    breakaway_a: Value


@dataclass(frozen=True, slots=True)
class Setting:
    """One value to enter in a drive, in the unit drives ask for it (none: a choice or a count).

    `from_` names the figure it comes from: one of the same figures, of the way's entry or of the
    motor's (dots lead inside); for a choice that no figure makes, the key of the shop file.
    """

    code: str
    words: str
    value: float | str
    unit: str
    why: str
    from_: str
    source: str


@dataclass(frozen=True, slots=True)
class RewiringStep:
    """One step of wiring the drive and moving the machine's own switches to its inputs."""

    step: int
    code: str
    words: str
    caution: str | None = None
