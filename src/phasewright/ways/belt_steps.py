"""Which steps of a machine's own belts or gears a drive's speed range replaces, and which stay.

Belts trade speed for torque: at every step the tool gets the same power. A drive beside one step
must give that power at the motor's own speed, so its torque must grow as it slows. A step serves
from the slowest to the fastest motor speed at which the motor bears that for ever.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from phasewright.machines.load import Load
from phasewright.quantities.value import Value
from phasewright.shop.machine import Machine, OwnSpeeds
from phasewright.ways.drive_speed import law_ratio
from phasewright.ways.motor_figures import BeltSteps
from phasewright.ways.own_steps import step_ratio_of
from phasewright.ways.torque_speed import Envelope

_EVEN = 1e-9


def tool_need(load: Load, speed: float) -> float:
    """Torque over rated with the tool's power kept (a pump or fan: by its own law)."""
    if load.law != "constant" or speed <= 0.0:
        return law_ratio(load, speed)
    return load.running_torque.number / speed


def lasting_span(of: Envelope, load: Load) -> tuple[float, float]:
    """The motor's speeds over the plate's, round the plate's own, at which it bears the tool's
    usual power for ever by its own fan; both 1 where it never does."""
    bears = np.array([
        bool(lasts >= tool_need(load, float(speed)) - _EVEN)
        for speed, lasts in zip(of.speed, of.lasting, strict=True)
    ])  # fmt: skip
    at = int(np.argmin(np.abs(of.speed - 1.0)))
    if not bears[at]:
        return 1.0, 1.0
    low = high = at
    while low > 0 and bears[low - 1]:
        low -= 1
    while high + 1 < len(bears) and bears[high + 1]:
        high += 1
    return float(of.speed[low]), float(of.speed[high])


def kept_steps(steps: int, ratio: float, slowest: float, fastest: float) -> tuple[int, ...]:
    """The fewest of `steps` (1 = the slowest) whose reaches join, from the first step's plate speed
    to the last's. A step reaches from `slowest` to `fastest` times its own speed; where no reach
    joins the next, all that is left open is left open by any choice, and the next step is kept."""
    grow = math.log(ratio)
    down, up = math.log(slowest) / grow, math.log(fastest) / grow
    covered, kept = 0.0, list[int]()
    while not kept or kept[-1] - 1 + up < steps - 1 - _EVEN:
        reaching = [k for k in range(steps) if k + down <= covered + _EVEN]
        new = max(reaching, default=0)
        if kept and new + 1 <= kept[-1]:
            new = kept[-1]
        kept.append(new + 1)
        covered = new + up
    return tuple(kept)


def steps_for(
    wished: float, steps: int, ratio: float, slowest: float, fastest: float
) -> int | None:
    """How few steps give a span of wished speeds (fastest over slowest) without a gap; None where
    no number of them does. Neighbours may stand as far apart as one step reaches."""
    reach, grow = math.log(fastest / slowest), math.log(ratio)
    apart = math.floor(reach / grow + _EVEN)
    missing = max(0.0, math.log(wished) - reach)
    if missing <= _EVEN:
        return 1
    if apart < 1 or missing > (steps - 1) * grow + _EVEN:
        return None
    return 1 + math.ceil(missing / (apart * grow) - _EVEN)


def belt_steps(
    machine: Machine, of: Envelope, load: Load, wished: tuple[float, float] | None = None
) -> BeltSteps | None:
    """What the drive makes of the machine's own steps, and of the `wished` speeds over the plate's;
    None for a machine without at least two steps."""
    own = machine.own_speeds
    step = None if own is None else step_ratio_of(own)
    if own is None or own.steps is None or step is None:
        return None
    slowest, fastest = lasting_span(of, load)
    kept = kept_steps(own.steps, step.number, slowest, fastest)
    for_wish = (
        None
        if wished is None or wished[0] <= 0.0
        else steps_for(wished[1] / wished[0], own.steps, step.number, slowest, fastest)
    )
    words = _words(own, step, slowest, fastest, kept)
    if wished is not None and wished[0] > 0.0:
        words += _of_wish(wished, for_wish)
    return BeltSteps(
        own.steps, step, slowest, fastest, kept, own.steps - len(kept), for_wish, words
    )


def _of_wish(wished: tuple[float, float], steps: int | None) -> str:
    span = f" The wished {wished[0]:.0%} to {wished[1]:.0%}, at the tool's usual power,"
    if steps is None:
        return f"{span} is more than the steps and the drive give without a gap."
    return f"{span} asks for {'one step' if steps == 1 else f'{steps} steps'} with the drive."


def _words(
    own: OwnSpeeds, step: Value, slowest: float, fastest: float, kept: Sequence[int]
) -> str:  # fmt: skip
    what = "belt steps" if own.kind == "belts" else "gears"
    steps = own.steps or 0
    listed = ", ".join(str(each) for each in kept)
    how = "" if step.sure else f" (a step taken as {step.number:.2g} to one, common practice)"
    span = (
        f"With its usual power at the tool the motor bears {slowest:.0%} to {fastest:.0%} of its "
        f"speed for ever{how}"
    )
    if len(kept) == steps:
        return f"{span}: all {steps} {what} stay; the drive fills in between them."
    left = steps - len(kept)
    does = "the other one" if left == 1 else f"the other {left}"
    return (
        f"{span}: of its {steps} {what}, counted from the slowest, {listed} "
        f"{'stays' if len(kept) == 1 else 'stay'} and the drive does {does}. Keep the slow ones "
        "fitted all the same: for hard work they give torque that no drive gives."
    )
