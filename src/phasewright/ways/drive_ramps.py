"""The ramps of a drive: never shorter than the shortest that motor and drive bear."""

from __future__ import annotations

import math
from collections.abc import Iterator

from phasewright.quantities.value import Value
from phasewright.tables.drive_settings import ramp_margin
from phasewright.ways.drive_case import Driven, of_figure
from phasewright.ways.drive_choices import stops_by_ramp
from phasewright.ways.drive_sheet import Setting


def up_to(seconds: float) -> float:
    """A ramp as it can be set, not below: tenths below 10 s, seconds below 100 s, then tens."""
    step = 0.1 if seconds < 10.0 else 1.0 if seconds < 100.0 else 10.0
    return round(step * math.ceil(seconds / step - 1e-9), 1)


def down_to(seconds: float) -> float:
    """A ramp as it can be set, not above."""
    step = 0.1 if seconds < 10.0 else 1.0
    return round(step * math.floor(seconds / step + 1e-9), 1)


def ramp_up_s(on: Driven) -> float | None:
    """The ramp up that is set [s]; None where none serves."""
    least = on.figures.ramp_up_s
    if least is None:
        return None
    return up_to(max(ramp_margin() * least.number, on.of_load.least_up_s))


def ramp_down_s(on: Driven) -> float | None:
    """The ramp down that is set [s]: the shortest with a margin, but no longer than is wished."""
    least, wish = on.figures.ramp_down_s, on.wants.stop_within
    if least is None:
        return None
    usual = up_to(max(ramp_margin() * least.number, on.of_load.least_down_s))
    if wish is not None and least.number <= wish.number < usual:
        return max(up_to(least.number), down_to(wish.number)) if on.by == "ramp" else up_to(
            least.number
        )  # fmt: skip
    return usual


def ramps_of(on: Driven) -> Iterator[Setting]:
    """Both ramps, as far as any serves."""
    up, down = on.figures.ramp_up_s, on.figures.ramp_down_s
    rising, falling = ramp_up_s(on), ramp_down_s(on)
    if up is not None and rising is not None:
        yield of_figure(
            "ramp_up", "acceleration ramp, 0 Hz to base frequency", up, "s",
            f"the shortest within the drive's current is {_seconds(up.number)}"
            + _spread(up) + _why_longer(rising, up, on.of_load.least_up_s),
            "ramp_up_s", rising,
        )  # fmt: skip
    if down is not None and falling is not None:
        least = on.of_load.least_down_s
        resistor = on.by == "ramp_with_resistor"
        yield of_figure(
            "ramp_down", "deceleration ramp, base frequency to 0 Hz", down, "s",
            f"the shortest {'with its' if resistor else 'without a'} brake resistor is "
            f"{_seconds(down.number)}" + _spread(down) + _why_longer(falling, down, least)
            + ("" if stops_by_ramp(on.figures)
               else "; it does not stop by it, so this is for slowing down by the speed knob"),
            "ramp_down_s", falling,
        )  # fmt: skip


def _seconds(number: float) -> str:
    return f"{number:.2g} s" if number < 10.0 else f"{number:.0f} s"


def _spread(of: Value) -> str:
    if of.high > 1.2 * of.number:
        return (
            f" (up to {_seconds(of.high)} if more turns than is assumed: lengthen it if it trips)"
        )
    return ""


def _why_longer(chosen: float, of: Value, least: float) -> str:
    return "; this kind of machine asks for more" if up_to(least) == chosen > of.number else ""
