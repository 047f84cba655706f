"""Plans laid side by side: what is said of each is its own, and its money adds up."""

import re
import typing

import pytest
from plan.example_choices import EXAMPLES, study_of_example

from phasewright.papers.best_few import FEW, best_few
from phasewright.quantities.codes import ON_A_DRIVE, ComparedBy

ORDER = typing.get_args(ComparedBy)


def words_of(plan, code):
    return next((each.words for each in plan.compared if each.code == code), None)


@pytest.fixture(params=EXAMPLES)
def study(request):
    return study_of_example(request.param)


def test_the_parts_of_a_cost_add_up_to_it(study):
    for plan in study.plans:
        parts, cost = plan.lifetime_cost.parts, plan.lifetime_cost.expected.number
        total = parts.buys + parts.labour + parts.energy + parts.upkeep
        assert total == pytest.approx(cost, rel=1e-9, abs=1e-9)


def test_points_come_in_their_order_and_nothing_is_said_of_a_plan_without_motors(study):
    for plan in study.plans:
        codes = [each.code for each in plan.compared]
        assert codes == sorted(codes, key=ORDER.index)
        assert len(codes) == len(set(codes))
        assert bool(codes) == any(motor.way is not None for motor in plan.motors)


def test_every_motor_is_told_to_keep_its_switches_or_to_move_them(study):
    for plan in study.plans:
        for motor in plan.motors:
            if motor.way is None:
                continue
            said = words_of(plan, "controls")
            assert motor.motor in said
            if motor.way in ON_A_DRIVE:
                assert motor.motor in said.split("moved to the inputs of a drive: ")[1]


def test_what_the_things_sell_for_is_what_the_last_year_takes_back(study):
    """The other way round: the years are summed by kind, the sale from the payments themselves."""
    seen = 0
    for plan in study.plans:
        last, said = plan.years[-1], words_of(plan, "resale")
        if said is None or last.buys > -1.0:
            continue
        sold = float(re.search(r"about ([\d,]+)", said)[1].replace(",", ""))
        assert sold >= -last.buys - 0.5  # what is bought in that same year takes from it
        seen += sold == pytest.approx(-last.buys, abs=0.5)
    assert seen or not any(plan.years[-1].buys < -1.0 for plan in study.plans)


def test_side_by_side_stand_the_plan_drawn_and_plans_that_differ(study):
    for drawn in study.plans:
        few = best_few(study, drawn)
        assert few[0] is drawn
        assert len(few) == min(FEW, 1 + sum(p.feasible and p is not drawn for p in study.plans))
        assert all(plan.feasible for plan in few[1:])
        costs = [plan.lifetime_cost.expected.number for plan in few[1:]]
        assert costs == sorted(costs)
        mixes = [frozenset(motor.way for motor in plan.motors) for plan in few]
        every = {frozenset(motor.way for motor in plan.motors)
                 for plan in study.plans if plan.feasible} | {mixes[0]}  # fmt: skip
        assert len(set(mixes)) == min(len(every), FEW, len(few))
