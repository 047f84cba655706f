"""What a plan is like to live with, point by point, so that plans can be laid side by side.

Every sentence is made from the plan's own figures; a point of which nothing is known is left out.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from phasewright.plan.arrays import Choice
from phasewright.plan.flows import sold_at_end
from phasewright.plan.gives import owner_hours
from phasewright.plan.problem import Solution
from phasewright.plan.study import PlanCase, PlanMotor, PlanSide
from phasewright.quantities.codes import ON_A_DRIVE, ComparedBy
from phasewright.quantities.finding import Reason
from phasewright.quantities.told import amount, spread
from phasewright.quantities.value import Value
from phasewright.shop.machine import Machine

Told = tuple[ComparedBy, str]
LEAST_DIP = 0.005
"""A fall of the volts below this is none to an eye."""
_MAY_HUM = ("rotary_converter", "electronic_converter")
_STOPPED_BY: dict[str, str] = {
    "ramp": "by the ramp of a drive", "ramp_with_resistor": "by a drive with a brake resistor",
    "dc_injection": "by direct current", "own_brake": "by a brake of its own",
}  # fmt: skip


def compared_of(choice: Choice, plan: Solution, side: PlanSide) -> tuple[Reason, ...]:
    """A plan by each point of `ComparedBy`, in its order; `side` is the plan as it is told."""
    on = [motor for motor in side.motors if motor.way is not None]
    if not on:
        return ()
    told: list[Told] = [
        ("speed", _speed(on)),
        ("stopping", _stopping(choice, on)),
        ("controls", _controls(on)),
        ("together", _together(side)),
        ("starting", _starting(side)),
        ("sound", _sound(side)),
        ("energy", _energy(choice, side)),
        ("failure", _failure(side, len(on))),
        ("growth", _growth(choice, side)),
        ("resale", _resale(choice, plan)),
        ("work", _work(choice, plan, side)),
    ]
    return tuple(Reason(by, words) for by, words in told if words)


def _seconds(number: float) -> str:
    """A time that somebody stands by for."""
    if number < 0.1:
        return "less than 0.1 s"
    return f"{number:.1f} s" if number < 10.0 else f"{number:.0f} s"


def _about(number: float, currency: str | None) -> str:
    """An amount of money that is no price."""
    return f"{number:,.0f} {currency or ''}".rstrip()


def _names(of: Iterable[str]) -> str:
    return ", ".join(of)


def _driven(motor: PlanMotor) -> bool:
    return motor.way in ON_A_DRIVE or motor.figures.speed_max_ratio is not None


def _speed(on: Sequence[PlanMotor]) -> str:
    """Which motors have their speed by a knob, and how far."""
    ranges = [
        f"{motor.motor} {low.number:.0%} to {high.number:.0%}"
        for motor in on
        if (low := motor.figures.speed_min_ratio) and (high := motor.figures.speed_max_ratio)
    ]
    if not ranges:
        return "Every motor at the speed it has; no knob."
    rest = "" if len(ranges) == len(on) else " The others at the speed they have."
    return f"By a knob, of the plate's speed: {_names(ranges)}.{rest}"


def _stopping(choice: Choice, on: Sequence[PlanMotor]) -> str:
    """How long every motor takes to stop, and by what."""
    machines = {unit.id: unit.task.machine for unit in choice.facts.units}
    by: dict[str, list[str]] = {}
    for motor in on:
        how, time = _stop_of(choice, motor, machines[motor.motor])
        words = motor.motor if time is None else f"{motor.motor} in {_seconds(time.number)}"
        by.setdefault(how, []).append(words)
    told = "; ".join(f"{how}: {_names(names)}" for how, names in by.items())
    return f"{told[:1].upper()}{told[1:]}."


def _stop_of(choice: Choice, motor: PlanMotor, machine: Machine) -> tuple[str, Value | None]:
    """What stops a motor, and in how long where that is known."""
    stopping = motor.figures.stopping
    if stopping is not None and stopping.by in _STOPPED_BY:
        return _STOPPED_BY[stopping.by], stopping.time_s
    if machine.brake is not None and machine.brake.kind != "none":
        return _STOPPED_BY["own_brake"], None
    return "runs out by itself", _runs_out(choice, motor)


def _runs_out(choice: Choice, motor: PlanMotor) -> Value | None:
    """Seconds until it rests with its power off: the same whatever gave the power."""
    if motor.figures.coasting_s is not None:
        return motor.figures.coasting_s
    unit = next(k for k, each in enumerate(choice.facts.units) if each.id == motor.motor)
    times = (judged.figures.coasting_s for judged in choice.facts.judgements[unit])
    return next((time for time in times if time is not None), None)


def _controls(on: Sequence[PlanMotor]) -> str:
    """Whose switches stay as they are."""
    moved = [motor.motor for motor in on if _driven(motor)]
    another = [m.motor for m in on if m.way == "motor_swap" and m.motor not in moved]
    kept = [m.motor for m in on if m.motor not in moved and m.motor not in another]
    parts = [
        f"{lead}: {_names(names)}"
        for lead, names in (
            ("as they are", kept), ("moved to the inputs of a drive", moved),
            ("to suit another motor", another),
        )
        if names
    ]  # fmt: skip
    return f"Switches {'; '.join(parts)}."


def _together(side: PlanSide) -> str:
    """What may turn at one time, and what the fullest set leaves of the supply."""
    turns = [
        f"Only one at a time of {_names(each.serves)}, which share a drive."
        for each in side.equipment
        if each.way == "shared_drive" and len(each.serves) > 1
    ]
    fullest = _fullest(side.cases)
    if fullest is not None:
        left = fullest.room_left_a
        turns.append(
            f"The fullest set, {_names(fullest.running)}, takes "
            f"{amount(fullest.supply_current_a.number, 'A')}"
            + ("." if left is None else f" and leaves {amount(left.number, 'A')}.")
        )
    return " ".join(turns)


def _fullest(cases: Sequence[PlanCase]) -> PlanCase | None:
    return max(cases, key=lambda case: case.supply_current_a.number, default=None)


def _starting(side: PlanSide) -> str:
    """The hardest start that is not on a drive of its own."""
    slow = [each for each in side.starts if each.runs_up and each.time_s is not None]
    stuck = [each.motor for each in side.starts if not each.runs_up]
    parts = []
    if stuck:
        parts.append(f"Not every start is sure: {_names(stuck)}.")
    if slow:
        last = max(slow, key=lambda each: 0.0 if each.time_s is None else each.time_s.number)
        assert last.time_s is not None
        parts.append(f"The slowest, {last.motor}, runs up in {_seconds(last.time_s.number)}.")
    if side.voltage_dip is not None and side.voltage_dip.ratio.number >= LEAST_DIP:
        parts.append(f"The hardest pulls the volts down by {side.voltage_dip.ratio.number:.1%}.")
    return " ".join(parts) or "By the ramps of drives: no start pulls the volts down."


def _sound(side: PlanSide) -> str:
    """What a way of powering adds to the noise of the machines."""
    if side.noise_dba is not None:
        return f"{spread(side.noise_dba)} at 1 m from what makes the three phases, while it is on."
    if any(each.way in _MAY_HUM for each in side.equipment):
        return ""  # it is heard, and nobody told how loud
    return "Nothing hums or turns but the machines."


def _energy(choice: Choice, side: PlanSide) -> str:
    """What energy costs in a year, and what of it is burnt with nothing turning."""
    currency = choice.facts.shop.currency or None
    idle = side.idle_energy_per_year_kwh.number
    less = f", {amount(idle, 'kWh')} of it while nothing turns" if idle >= 1.0 else ""
    return f"{_about(side.energy_per_year.number, currency)} a year{less}."


def _failure(side: PlanSide, motors: int) -> str:
    """How many motors stand when one thing fails."""
    worst = max(side.equipment, key=lambda each: len(each.serves), default=None)
    if worst is None or len(worst.serves) < 2:
        return "What fails stops one motor." if side.equipment else ""
    name = worst.id.replace("_", " ").removesuffix(" per motor")
    return f"Where the {name} fails, {len(worst.serves)} of {motors} motors stand."


def _growth(choice: Choice, side: PlanSide) -> str:
    """What the machines to come will ask for, and when."""
    currency = choice.facts.shop.currency or None
    coming = [unit.id for unit in choice.facts.units if not unit.now]
    parts = []
    for name in coming:
        buys = [each for each in side.buys if each.year > 0 and name in each.serves]
        if buys:
            price = _about(sum(each.price for each in buys), currency)
            parts.append(f"{name} then needs things of about {price}.")
        else:
            parts.append(f"{name} then needs nothing more.")
    return " ".join(parts)


def _resale(choice: Choice, plan: Solution) -> str:
    """What the things are worth in the end."""
    currency, years = choice.facts.shop.currency or None, choice.terms.years
    sold = sold_at_end(choice, plan)
    if sold < 1.0:
        return f"After {years:g} years nothing that sells."
    return f"After {years:g} years the things sell for about {_about(sold, currency)}."


def _work(choice: Choice, plan: Solution, side: PlanSide) -> str:
    """Hours of work now, and every year."""
    yearly = owner_hours(choice, plan)
    more = f", and {amount(yearly, 'h')} a year at the selector" if yearly > 0.0 else ""
    return f"{spread(side.hours_of_work)} of work now{more}."
