"""Which running machines help a start and which drag line 3 down, each by itself."""

from __future__ import annotations

from phasewright.plan.arrays import Choice
from phasewright.plan.currents import running_sets
from phasewright.plan.problem import Solution
from phasewright.plan.start_study import Effect, StartBeside
from phasewright.plan.start_told import WHERE
from phasewright.plan.starts import HOW, Hardest, pairs_of
from phasewright.quantities.errors import NoOperatingPoint
from phasewright.quantities.value import Value, figure
from phasewright.starts.brief import Brief
from phasewright.ways.conditions import typical_ratio
from phasewright.ways.hardest_start import start_beside
from phasewright.ways.on_two_lines import Linked
from phasewright.ways.starting_order import Pair, running_before

LITTLE_V = 0.005
"""Change of line 3 over the supply's volts that hardly matters."""
LITTLE_TIME = 0.02
"""Change of a start's time, over that with nothing beside, that hardly matters."""


def beside_of(choice: Choice, plan: Solution, unit: int, case: Hardest) -> tuple[StartBeside, ...]:
    """The start of a unit with every other motor that may run beside it, one at a time."""
    alone = _start(case, ())
    if alone is None:
        return ()
    tried = ((other, _start(case, (other[1],))) for other in _others(choice, plan, unit, case))
    return tuple(_told(case, other, alone, start) for other, start in tried if start is not None)


def _start(case: Hardest, beside: tuple[Linked, ...]) -> Brief | None:
    """The start with these running; None where they do not run there, so that there is none."""
    at_once = tuple(each[1] for each in case.at_once)
    try:
        return start_beside(case.source, case.converter, case.one[1], beside, at_once)
    except NoOperatingPoint:
        return None


def _others(choice: Choice, plan: Solution, unit: int, case: Hardest) -> tuple[Pair, ...]:
    """Motors that may run already when the unit starts, over all sets that turn together."""
    name = case.one[1].motor.id
    found: dict[str, Pair] = {}
    for running in running_sets(choice, plan):
        hung = choice.admission.hung(running)
        if unit not in hung:
            continue
        motors = pairs_of(choice, hung)
        one = next(each for each in motors if each[1].motor.id == name)
        found |= {each[1].motor.id: each for each in running_before(motors, one)}
    return tuple(found[each] for each in sorted(found))


def _told(case: Hardest, other: Pair, alone: Brief, start: Brief) -> StartBeside:
    source, motor = case.source, other[1]
    inputs = {
        "supply": (source.voltage_v, "V"),
        "load of the one beside": (typical_ratio(motor.load), ""),
        "its power": (motor.rated_w, "W"),
    }

    def out(number: float, unit: str) -> Value:
        return figure(number, unit, WHERE, inputs, HOW)

    change_v = (start.lowest_ratio - alone.lowest_ratio) * source.voltage_v
    both = alone.runs_up and start.runs_up
    ratio = start.seconds / alone.seconds if both and alone.seconds > 0.0 else None
    shown = ratio if ratio is not None and abs(ratio - 1.0) > LITTLE_TIME else None
    effect = _effect(alone, start, shown)
    return StartBeside(
        motor=motor.motor.id,
        runs_up=start.runs_up,
        time_ratio=None if ratio is None else out(ratio, ""),
        line3_change_v=out(change_v, "V"),
        effect=effect,
        words=_words(case.one[1].motor.id, motor.motor.id, alone, start, shown, change_v, effect),
    )


def _effect(alone: Brief, start: Brief, ratio: float | None) -> Effect:
    """By whether it runs up, then by its time (`ratio` None: hardly another), then by line 3."""
    if alone.runs_up != start.runs_up:
        return "helps" if start.runs_up else "hinders"
    if ratio is not None:
        return "helps" if ratio < 1.0 else "hinders"
    change = start.lowest_ratio - alone.lowest_ratio
    if abs(change) > LITTLE_V:
        return "helps" if change > 0.0 else "hinders"
    return "hardly_matters"


def _words(
    one: str, other: str, alone: Brief, start: Brief, ratio: float | None, change_v: float,
    effect: Effect,
) -> str:  # fmt: skip
    told = "helps" if effect == "helps" else "makes it harder"
    moves = "lifts" if change_v > 0.0 else "drags"
    down = "" if change_v > 0.0 else " down"
    line3 = f"it {moves} line 3{down} by {abs(change_v):.0f} V"
    if effect == "hardly_matters":
        return f"{other} running beside hardly matters to the start of {one}."
    if start.pulled_down:
        what = f"{', '.join(start.pulled_down)} is pulled down"
    elif not start.runs_up:
        what = f"{one} does not run up then"
    elif not alone.runs_up:
        what = f"{one} runs up only then"
    elif ratio is None:
        what = f"{one} takes as long"
    else:
        what = f"{one} takes {ratio:.0%} of the time"
    joined = "and" if (effect == "helps") == (change_v > 0.0) else "but"
    return f"{other} running beside {told}: {what}, {joined} {line3}."
