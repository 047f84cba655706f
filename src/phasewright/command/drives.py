"""The drives of the plan on the screen: the values that matter most, in one line a motor."""

from __future__ import annotations

from rich.console import Console
from rich.text import Text

from phasewright.command.screen import heading, line
from phasewright.papers.drive_sheets import entered, on_drives
from phasewright.plan.study import PlanMotor, PlanSide
from phasewright.ways.drive_sheet import Setting

_SHORT = {
    "base_voltage": "{}",
    "base_frequency": "at {}",
    "rated_current": "overload at {}",
    "torque_boost": "boost {}",
    "lowest_frequency": "from {}",
    "highest_frequency": "up to {}",
    "ramp_up": "ramp up {}",
    "ramp_down": "down {}",
    "stop_mode": "stop: {}",
    "flying_start": "flying start {}",
}


def drives(console: Console, plan: PlanSide) -> None:
    """How the plan's drives are set; nothing where it has none."""
    motors = on_drives(plan)
    if not motors:
        return
    heading(console, "How the drives are set")
    for motor in motors:
        line(console, f"{motor.motor}: {_short(motor)}.", mark=Text("-"))
    line(
        console,
        "Every setting with its reason, and the steps of moving the machine's own switches to the "
        "drive's inputs: with --out, in settings.csv and drives.txt.",
    )


def _short(motor: PlanMotor) -> str:
    by_code = {each.code: each for each in motor.figures.settings or ()}
    words = ", ".join(
        form.format(_with_unit(by_code[code])) for code, form in _SHORT.items() if code in by_code
    )
    return words.replace(", at ", " at ", 1)


def _with_unit(of: Setting) -> str:
    return f"{entered(of)} {of.unit}".rstrip()
