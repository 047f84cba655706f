"""What is chosen in a drive, not computed: how it stops, restarts, and what its inputs do."""

from __future__ import annotations

from collections.abc import Iterator

from phasewright.machines.load import Load
from phasewright.machines.motor import Motor
from phasewright.machines.stamped import speeds_of
from phasewright.quantities.codes import StopsBy
from phasewright.shop.machine import Machine
from phasewright.tables.drive_settings import load_settings
from phasewright.ways.drive_sheet import Setting
from phasewright.ways.figures import Figures
from phasewright.ways.own_switches import OWN_SWITCHES
from phasewright.ways.wishes import wants_of

PRACTICE = "common practice, no source"
VECTOR_FROM = 1.0
"""From this breakaway torque on (over rated) the drive had better know its motor (our choice)."""


def choices(
    machine: Machine, motor: Motor, figures: Figures, *, three_phase_type: bool
) -> Iterator[Setting]:
    """Choices in the order drives ask for them."""
    load = motor.load
    assert load is not None  # ways keep motors without one out
    yield from _control(load)
    yield from _stopping(machine, load, figures)
    yield from _restarting(load)
    yield _reverse(machine, motor, load)
    if three_phase_type:
        yield Setting(
            "input_phase_loss", "input phase-loss detection", "off", "",
            "it is made for three phases and gets one: only where its maker allows that",
            "drive_rating_w", PRACTICE,
        )  # fmt: skip
    yield from _inputs(machine, motor, load)
    yield from _presets(machine, motor, figures)


def _choice(code: str, words: str, value: str, why: str, from_: str) -> Setting:
    return Setting(code, words, value, "", why, from_, PRACTICE)


def _control(load: Load) -> Iterator[Setting]:
    share = load.breakaway_torque.number
    vector = share >= VECTOR_FROM
    yield _choice(
        "control_mode", "motor control",
        "sensorless vector, after measuring the motor at standstill" if vector
        else "volts over hertz",
        f"it breaks away with {share:.0%} of rated torque"
        + ("" if vector else ": the simple way with its boost does"),
        "motor_on_drive.breakaway_a",
    )  # fmt: skip
    fan = load.law == "fan"
    yield _choice(
        "volts_over_hertz", "curve of volts over hertz", "square" if fan else "straight line",
        "its torque falls with the square of the speed: less heat and hum when slow" if fan
        else "it wants its torque at every speed",
        "load.kind",
    )  # fmt: skip


def stops_by_ramp(figures: Figures) -> bool:
    """Whether it is stopped by the drive's ramp, with a brake resistor or without."""
    return figures.stopping is not None and figures.stopping.by in ("ramp", "ramp_with_resistor")


_STOPS: dict[StopsBy, str] = {
    "ramp": "by the ramp",
    "ramp_with_resistor": "by the ramp, into the brake resistor",
    "dc_injection": "by direct current (DC injection)",
    "own_brake": "output off at once, its own brake stops it",
    "coasting": "coast (output off at once)",
}


def _stopping(machine: Machine, load: Load, figures: Figures) -> Iterator[Setting]:
    by = "coasting" if figures.stopping is None else figures.stopping.by
    yield _choice("stop_mode", "stop mode", _STOPS[by],
                  f"such a machine: {load.kind.stopping}", "stopping.by")  # fmt: skip
    if stops_by_ramp(figures):
        fitted = by == "ramp_with_resistor"
        yield _choice(
            "ramp_holding", "hold the ramp when the link's volts rise", "off" if fitted else "on",
            "the brake resistor takes what comes back; held, the drive would not use it" if fitted
            else "without a brake resistor the drive then takes longer instead of tripping",
            "brake_resistor.ohm" if fitted else "ramp_down_s",
        )  # fmt: skip
    yield from _injection(machine, figures, by)


def _injection(machine: Machine, figures: Figures, by: StopsBy) -> Iterator[Setting]:
    """Direct current at the stop: amps and seconds where it is what stops the machine, else off."""
    of = figures.dc_injection
    if by == "dc_injection" and of is not None:
        for code, words, value, why in (
            ("dc_current", "current", of.current_a, "what the winding bears for ever"),
            ("dc_time", "time", of.time_s, "until the shaft rests; longer only heats it"),
        ):
            yield Setting(code, f"DC injection at the stop, {words}", value.number, value.unit, why,
                          "dc_injection." + ("current_a" if code == "dc_current" else "time_s"),
                          value.source)  # fmt: skip
        return
    threaded = machine.spindle_nose == "threaded"
    why = "its jerk would unscrew the chuck" if threaded else "it is stopped otherwise"
    yield _choice("dc_injection", "DC injection at the stop", "off", why,
                  "spindle_nose" if threaded else "stopping.by")  # fmt: skip


def _restarting(load: Load) -> Iterator[Setting]:
    yield _choice(
        "restart_lock", "restart after power loss", "locked: only by a new start command",
        "no machine may start by itself when power comes back; a run signal that is still there "
        "must not start it", "load.kind",
    )  # fmt: skip
    yield _choice(
        "fault_reset", "automatic reset after a trip", "off",
        "a trip is looked into before it runs again", "load.kind",
    )  # fmt: skip
    caught = load_settings(load.name).caught
    yield _choice(
        "flying_start", "catch a turning motor (flying start)", "on" if caught else "off",
        "it coasts long, or air turns it: started against that the drive trips" if caught
        else "it is at rest when it is started", "load.kind",
    )  # fmt: skip


def _reverse(machine: Machine, motor: Motor, load: Load) -> Setting:
    wanted = wants_of(machine, motor).reverse or machine.starter == "reversing_drum"
    if machine.spindle_nose == "threaded":
        return _choice("reverse", "reverse direction", "locked", "a threaded chuck would unscrew",
                       "spindle_nose")  # fmt: skip
    if wanted:
        return _choice(
            "reverse", "reverse direction", "allowed, through the ramp",
            "it is reversed today" if machine.starter == "reversing_drum" else "it is wished for",
            "starter" if machine.starter == "reversing_drum" else "wants.reverse",
        )  # fmt: skip
    why, from_ = "nobody asked for it", "wants.reverse"
    if load.wrong_direction_harms:
        why, from_ = load.kind.wrong_direction, "wrong_direction_harms"
    return _choice("reverse", "reverse direction", "locked", why, from_)


def _inputs(machine: Machine, motor: Motor, load: Load) -> Iterator[Setting]:
    """The functions of the control inputs, by the machine's own switches."""
    functions = _of_starter(machine)
    own = OWN_SWITCHES.get(load.name)
    if own is not None:
        functions.append((own.function, own.why, "load.kind"))
    functions.append((
        "enable (output off at once when it opens)",
        "the early-break contact of the lockable isolator near the motor takes it away first",
        "starter",
    ))  # fmt: skip
    if motor.plate.thermistor:
        functions.append(("motor thermistor", "the winding's own feeler trips the drive",
                          "plate.thermistor"))  # fmt: skip
    for number, (value, why, from_) in enumerate(functions, start=1):
        yield _choice(f"input_{number}", f"control input {number}", value, why, from_)


def _of_starter(machine: Machine) -> list[tuple[str, str, str]]:
    if machine.starter == "reversing_drum":
        return [
            ("run forward (while it is closed)", "the drum's forward contact", "starter"),
            ("run reverse (while it is closed)", "the drum's reverse contact", "starter"),
        ]
    found = [
        ("start (a push)", "its start button, or a new one", "starter"),
        ("stop (runs while it is closed)", "its stop button: a broken wire stops it", "starter"),
    ]
    if machine.starter == "two_speed_switch":
        found.append(("preset speed 2 (while it is closed)", "its speed switch", "starter"))
    return found


def _presets(machine: Machine, motor: Motor, figures: Figures) -> Iterator[Setting]:
    """Both speeds of a speed switch as preset frequencies, no faster than is safe."""
    speeds, data = sorted(speeds_of(motor.plate)), figures.motor_on_drive
    if machine.starter != "two_speed_switch" or len(speeds) < 2 or data is None:
        return
    hertz = data.frequency_hz.number
    most = figures.speed_max_ratio
    for number, speed in enumerate(speeds, start=1):
        ratio = speed / data.speed_rpm.number
        bound = most is not None and ratio > most.number
        ratio = most.number if most is not None and bound else ratio
        why = f"the switch's {speed:.0f} rpm" + (
            " are faster than this winding bears: its fastest instead" if bound else ""
        )
        yield Setting(
            f"preset_{number}", f"preset frequency {number}", hertz * ratio, "Hz", why,
            "speed_max_ratio" if bound else "motor_on_drive.frequency_hz", data.frequency_hz.source,
        )  # fmt: skip
