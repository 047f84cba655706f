"""A motor as a plan has it, with the three lines it hangs on: what its curves are computed from."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

from phasewright.plan.arrays import Choice, choice_of, where_it_hangs
from phasewright.plan.facts import facts_of
from phasewright.plan.line_starts import pairs_on_lines, three_lines
from phasewright.plan.listed import listed_plans
from phasewright.plan.problem import Solution
from phasewright.plan.starts import hardest_case
from phasewright.plan.terms import terms_of
from phasewright.plan.titles import plan_id
from phasewright.quantities.errors import UsageError
from phasewright.quantities.identity import Same
from phasewright.quantities.value import Input, Value
from phasewright.running.converter import IDLER, alone, on_converter
from phasewright.running.network import Between, Connected, Network
from phasewright.shop.model import Shop
from phasewright.ways.conditions import typical_ratio
from phasewright.ways.on_two_lines import Linked, linked

ON_MADE_LINES = ("rotary_converter", "static_converter", "capacitor_run")
"""Ways of which the third line is made by capacitors, with or without an idler."""


@dataclass(frozen=True, slots=True)
class Hung:
    """A motor on lines 1, 2 and a made line 3: `network` has it at its rated torque, at `place`
    among the machines, everything else at its usual load; `beside` are the others' names."""

    motor: Linked
    network: Network
    place: int
    beside: tuple[str, ...]

    @property
    def idle(self) -> Network | None:
        """The idlers alone with the run capacitors; None where there is no idler."""
        idlers = tuple(each for each in self.network.machines if each.name.startswith(IDLER))
        return replace(self.network, machines=idlers) if idlers else None

    @property
    def usual(self) -> float:
        """Its usual torque over the rated one."""
        return typical_ratio(self.motor.load)

    @property
    def inputs(self) -> tuple[Input, ...]:
        """The numbers that are put in, as a working tells them."""
        source, bank = self.network.source, self.network.capacitance_f
        return (
            Input("supply", source.voltage_v, "V"),
            Input("supply resistance", source.resistance_ohm, "ohm"),
            Input("supply reactance", source.reactance_ohm, "ohm"),
            Input("C12", bank.c12, "F"),
            Input("C23", bank.c23, "F"),
            Input("C31", bank.c31, "F"),
            Input("rated torque", self.motor.rated_nm, "N m"),
            Input("usual torque over rated", self.usual, ""),
        )


@lru_cache(maxsize=4)
def choice_behind(shop: Same[Shop]) -> Choice:
    """What a plan of this shop was chosen from; kept for the shops that were asked of last."""
    return choice_of(facts_of(shop.it), terms_of(shop.it))


def _place_of(shop: Shop, motor: str) -> tuple[Choice, int]:
    """The choice behind a shop's plans and a motor's place in it; raises UsageError for a motor
    that is not there."""
    choice = choice_behind(Same(shop))
    ids = [unit.id for unit in choice.facts.units]
    if motor not in ids:
        raise UsageError(f"There is no motor {motor!r} in this shop.")
    return choice, ids.index(motor)


def on_three_lines(shop: Shop, motor: str, plan: str) -> tuple[Linked, float]:
    """A motor linked for what makes the three lines of a plan, and their hertz; raises UsageError
    where there are none or it cannot be linked for them."""
    choice, unit = _place_of(shop, motor)
    on = three_lines(choice, where_it_hangs(choice, solution_of(choice, plan), unit))
    pairs = () if on is None else pairs_on_lines(choice, on, (unit,))
    if on is None or not pairs:
        raise UsageError("This motor does not hang on three lines of this plan.")
    return pairs[0][1], on.frequency_hz


def motor_of(shop: Shop, motor: str) -> tuple[Choice, int, Linked]:
    """The choice behind a shop's plans, a motor's place in it, and the motor as it is linked.

    Raises UsageError for a motor that is not there or cannot be linked, with the reason.
    """
    choice, unit = _place_of(shop, motor)
    found = linked(choice.facts.units[unit].task.motor)
    if not isinstance(found, Linked):
        raise UsageError(found.words)
    return choice, unit, found


def hung(shop: Shop, motor: str, way: str, plan: str) -> Hung:
    """A motor on the made lines of a plan, in its hardest case; raises UsageError where there are
    none."""
    choice, unit, found = motor_of(shop, motor)
    if way == "rotary_converter":
        return _on_converter(choice, unit, plan)
    source = choice.facts.site_at(choice.facts.units[unit].place).source
    judged = next(j for j in choice.facts.judgements[unit] if j.way == way)
    run = judged.figures.run_capacitance_f
    run_f = run.number if isinstance(run, Value) else 0.0
    network = alone(source, Between(c31=run_f), found.connected(1.0))
    return Hung(found, network, 0, ())


def _on_converter(choice: Choice, unit: int, plan: str) -> Hung:
    case = hardest_case(choice, where_it_hangs(choice, solution_of(choice, plan), unit), unit)
    if case is None:
        raise UsageError("This motor does not hang on the lines of a converter by itself.")
    one = case.one[1]
    others = [pair[1] for pair in case.motors if pair[1].motor.id != one.motor.id]
    motors = (*(_at_work(each) for each in others), one.connected(1.0))
    network = on_converter(case.source, case.converter, motors)
    place = len(network.machines) - 1
    return Hung(one, network, place, tuple(each.motor.id for each in others))


def solution_of(choice: Choice, plan: str) -> Solution:
    """The listed plan of this id; raises UsageError where there is none."""
    for each in listed_plans(choice):
        if plan_id(choice, each.plan) == plan:
            return each.plan
    raise UsageError(f"There is no plan {plan!r}.")


def _at_work(motor: Linked) -> Connected:
    return motor.connected(typical_ratio(motor.load))
