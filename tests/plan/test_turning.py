"""Turning points are true: the file is written anew at the path told, and the shop studied again.

One per cent beyond the point another plan wins; one per cent this side of it today's still does.
"""

from __future__ import annotations

import re

import pytest
from plan.example_choices import EXAMPLES, FOLDER, study_of_example
from ruamel.yaml import YAML, StringIO

from phasewright.files.shop_file import read_text
from phasewright.plan.answer import answer

TWO_SOME = """\
phasewright: 1
shop: Two some
region: IEC
supply: {kind: single_phase, voltage: 230 V, frequency: 50 Hz, service_rating: 60 A}
tariff: {energy: 0.3}
machines:
  - name: Saw
    hours_per_year: 150
    idle_hours_per_year: 30
    motors:
      - name: blade
        plate: {power: 1.5 kW, voltage: 230/400 V, current: 6.3/3.6 A, frequency: 50 Hz,
                speed: 1420 rpm, power_factor: 0.78, leads: 6}
        load: {kind: saw, start: unloaded}
  - name: Lathe
    have: planned
    chance: 0.5
    year: 1
    hours_per_year: 250
    idle_hours_per_year: 30
    motors:
      - name: spindle
        plate: {power: 1.1 kW, voltage: 230/400 V, current: 4.7/2.7 A, frequency: 50 Hz,
                speed: 1420 rpm, power_factor: 0.78, leads: 6}
        load: {kind: spindle, start: unloaded}
      - name: feed
        plate: {power: 0.25 kW, voltage: 230/400 V, current: 1.4/0.8 A, frequency: 50 Hz,
                speed: 1400 rpm, power_factor: 0.68, leads: 6}
        load: {kind: feed}
wishes: {labour: 12, who_wires: own}
"""

BUSY = """\
phasewright: 1
shop: Busy
region: IEC
supply: {kind: single_phase, voltage: 230 V, frequency: 50 Hz, service_rating: 60 A}
tariff: {energy: 0.25}
machines:
  - name: Saw
    hours_per_year: 150
    idle_hours_per_year: 20
    motors:
      - name: blade
        plate: {power: 2.2 kW, voltage: 230/400 V, current: 8.7/5.0 A, frequency: 50 Hz,
                speed: 1420 rpm, power_factor: 0.80, leads: 6}
        load: {kind: saw, start: unloaded}
  - name: Drill
    hours_per_year: 140
    idle_hours_per_year: 20
    motors:
      - name: spindle
        plate: {power: 0.75 kW, voltage: 230/400 V, current: 3.5/2.0 A, frequency: 50 Hz,
                speed: 1400 rpm, power_factor: 0.75, leads: 6}
        load: {kind: spindle, start: unloaded}
      - name: coolant
        plate: {power: 0.12 kW, voltage: 230/400 V, current: 0.73/0.42 A, frequency: 50 Hz,
                speed: 1350 rpm, power_factor: 0.66, leads: 6}
        load: {kind: coolant_pump}
  - name: Sander
    hours_per_year: 130
    idle_hours_per_year: 20
    motors:
      - name: belt
        plate: {power: 1.5 kW, voltage: 230/400 V, current: 6.3/3.6 A, frequency: 50 Hz,
                speed: 1420 rpm, power_factor: 0.78, leads: 6}
        load: {kind: sander}
wishes: {discount_rate: 0.03}
"""
INVENTED = {"two-some": TWO_SOME, "busy": BUSY}


def text_of(name):
    if name in INVENTED:
        return INVENTED[name]
    return (FOLDER / f"{name}.shop.yaml").read_text(encoding="utf-8")


def answered(name):
    return answer(read_text(INVENTED[name])) if name in INVENTED else study_of_example(name)


def rewritten(text, path, value):
    """The shop with one number at a path of its file, such as machines[1].chance."""
    yaml = YAML()
    tree = yaml.load(text)
    at = tree
    *steps, last = re.findall(r"\w+", path)
    for step in steps:
        if not step.isdigit() and step not in at:
            at[step] = {}
        at = at[int(step) if step.isdigit() else step]
    at[last] = float(value)
    stream = StringIO()
    yaml.dump(tree, stream)
    return read_text(stream.getvalue())


@pytest.mark.parametrize("name", [*EXAMPLES, *INVENTED])
def test_the_file_rewritten_beyond_and_this_side_of_every_turning_point(name):
    study = answered(name)
    for point in study.answer.changes_if:
        away = 1.01 if point.to > point.from_ else 1.0 / 1.01
        beyond = answer(rewritten(text_of(name), point.path, point.to * away), quick=True)
        here = answer(rewritten(text_of(name), point.path, point.to / away), quick=True)
        assert beyond.answer.plan != study.answer.plan, point
        assert here.answer.plan == study.answer.plan, point


def test_there_are_turning_points_to_try():
    paths = [point.path for name in (*EXAMPLES, *INVENTED)
             for point in answered(name).answer.changes_if]  # fmt: skip
    assert len(paths) >= 3
    assert {"tariff.energy"} <= set(paths)


@pytest.mark.parametrize("name", [*EXAMPLES, *INVENTED])
def test_what_another_plan_costs_more_now_is_what_the_listed_plans_differ_by(name):
    study = answered(name)
    best = next(plan for plan in study.plans if plan.id == study.answer.plan)
    for point in study.answer.changes_if:
        assert point.dearer_now is None or point.dearer_now > 0.0
        same = [plan for plan in study.plans if plan.title == point.then and plan.feasible]
        if len(same) == 1 and point.dearer_now is not None and point.from_ != point.looked_to:
            gap = same[0].lifetime_cost.expected.number - best.lifetime_cost.expected.number
            assert gap == pytest.approx(point.dearer_now, rel=1e-6), point


@pytest.mark.parametrize("name", [*EXAMPLES, *INVENTED])
def test_at_the_end_of_what_was_looked_at_the_plan_told_is_the_best(name):
    study = answered(name)
    for point in study.answer.changes_if:
        there = answer(rewritten(text_of(name), point.path, point.looked_to), quick=True)
        best = next(plan for plan in there.plans if plan.id == there.answer.plan)
        assert best.title == point.best_there
        kept = next((plan for plan in there.plans if plan.id == study.answer.plan), None)
        if kept is not None and point.saves_there is not None:
            gap = kept.lifetime_cost.expected.number - best.lifetime_cost.expected.number
            assert gap == pytest.approx(point.saves_there, rel=1e-6)


@pytest.mark.parametrize("name", [*EXAMPLES, *INVENTED])
def test_a_fact_that_turns_nothing_is_told_with_both_its_ends(name):
    study = answered(name)
    turned = {point.path for point in study.answer.changes_if}
    for fact in study.answer.stays_if:
        assert fact.path not in turned
        assert fact.low < fact.from_ < fact.high
        for end in (fact.low, fact.high):
            there = answer(rewritten(text_of(name), fact.path, end), quick=True)
            assert there.answer.plan == study.answer.plan, (fact, end)
