"""The sheets of a plan's drives: what to set, and how the machine's own switches are moved.

As a table in text (`settings.csv`, one row a setting) and to be read at the machine
(`drives.txt`, one sheet a motor). Both are empty where the plan has no drive.
"""

from __future__ import annotations

import csv
import io
import textwrap
from collections.abc import Iterator

from phasewright.plan.study import PlanMotor, PlanSide
from phasewright.ways.drive_sheet import Setting

COLUMNS = ("motor", "drive", "setting", "value", "unit", "why", "from", "source")
CAUTION = (
    "These are calculated values, not a permission: the drive's own manual and the local code "
    "decide, and who may wire is theirs to say. Enter the motor's data first; some drives change "
    "other values with them."
)
_WIDE = 78


def on_drives(plan: PlanSide) -> tuple[PlanMotor, ...]:
    """The plan's motors that have a drive's settings."""
    return tuple(motor for motor in plan.motors if motor.figures.settings)


def entered(setting: Setting) -> str:
    """A value as it is entered: three figures, whole numbers from a thousand up."""
    value = setting.value
    if isinstance(value, str):
        return value
    return f"{value:.0f}" if abs(value) >= 1000.0 else f"{value:.3g}"


def settings_csv(plan: PlanSide) -> str:
    """The text of `settings.csv`."""
    text = io.StringIO()
    rows = csv.writer(text, lineterminator="\n")
    rows.writerow(COLUMNS)
    for motor in on_drives(plan):
        for each in motor.figures.settings or ():
            rows.writerow(
                (motor.motor, motor.equipment or "", each.words, entered(each), each.unit,
                 each.why, each.from_, each.source)
            )  # fmt: skip
    return text.getvalue()


def drives_text(plan: PlanSide) -> str:
    """The text of `drives.txt`."""
    return "\n".join(line for motor in on_drives(plan) for line in (*_sheet(motor), ""))


def _sheet(motor: PlanMotor) -> Iterator[str]:
    yield f"The drive of {motor.motor}"
    yield "=" * len(f"The drive of {motor.motor}")
    yield from _wrapped(CAUTION, "")
    yield ""
    yield "What to set"
    for each in motor.figures.settings or ():
        yield from _wrapped(f"{each.words}: {entered(each)} {each.unit}".rstrip(), "  ")
        yield from _wrapped(each.why, "      ")
    steps = motor.figures.rewiring or ()
    if steps:
        yield ""
        yield "Wiring it, and moving the machine's own switches to its inputs"
    for step in steps:
        yield from _wrapped(f"{step.step}. {step.words}", "  ", "     ")
        if step.caution is not None:
            yield from _wrapped(f"Take care: {step.caution}", "     ")


def _wrapped(words: str, first: str, then: str | None = None) -> list[str]:
    return textwrap.wrap(
        words, _WIDE, initial_indent=first, subsequent_indent=first if then is None else then
    )
