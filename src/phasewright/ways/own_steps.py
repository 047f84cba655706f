"""The speeds a machine changes by itself (belts, gears), and whether they cover a wish."""

from __future__ import annotations

from phasewright.quantities.value import Value, exact, figure
from phasewright.shop.machine import OwnSpeeds, Wants
from phasewright.tables.drives import own_step_ratio


def step_ratio_of(own: OwnSpeeds) -> Value | None:
    """One of the machine's speeds over the next slower one; None where it has not
    two, or all of them are the same."""
    if own.kind not in ("belts", "gears") or own.steps is None or own.steps < 2:
        return None
    if own.range is None:
        return own_step_ratio()
    if own.range <= 1.0:
        return None
    ratio = own.range ** (1.0 / (own.steps - 1))
    inputs = {"fastest over slowest": (own.range, ""), "steps": (float(own.steps), "")}
    return figure(ratio, "", "ways.own_steps.step_ratio_of", inputs, "shop file, even steps")


def own_range_of(own: OwnSpeeds | None) -> Value | None:
    """The machine's fastest own speed over its slowest; None where nothing is known of it."""
    if own is None or own.kind == "none":
        return None
    if own.range is not None:
        return exact(own.range, "", "stated", "shop file")
    step = step_ratio_of(own)
    if step is None or own.steps is None:
        return None
    number, low, high = (each ** (own.steps - 1) for each in (step.number, step.low, step.high))
    inputs = {"a step": (step.number, ""), "steps": (float(own.steps), "")}
    return figure(
        number, "", "ways.own_steps.own_range_of", inputs, step.source, low=low, high=high
    )


def cover(own: OwnSpeeds | None, wants: Wants) -> bool | None:
    """Whether the machine's own speeds span the wished ones; None where nothing is known."""
    reach = own_range_of(own)
    if reach is None or wants.speed is None or wants.speed[0] <= 0.0:
        return None
    return wants.speed[1] / wants.speed[0] <= reach.number
