"""What of a study concerns the plan that is told."""

from __future__ import annotations

import dataclasses

import pytest
from filled_study import fill

from phasewright.papers.plan_words import findings_of
from phasewright.plan.study import Study
from phasewright.quantities.codes import ON_A_DRIVE, WAYS


@pytest.mark.parametrize("way", WAYS)
def test_what_the_mains_does_to_a_motor_is_left_out_only_behind_a_drive(way):
    study = fill(Study, full=True)
    motor = dataclasses.replace(study.plans[0].motors[0], motor="Lathe/spindle", way=way)
    plan = dataclasses.replace(study.plans[0], motors=(motor,), findings=())
    found = tuple(
        dataclasses.replace(study.findings[0], id=rule, rule=rule, subject=motor.motor, plan=None)
        for rule in ("mains_high", "mains_low", "plate.misread")
    )
    kept = {each.rule for each in findings_of(dataclasses.replace(study, findings=found), plan)}
    assert "plate.misread" in kept
    assert ({"mains_high", "mains_low"} <= kept) == (way not in ON_A_DRIVE)


def test_findings_of_another_plan_are_not_told():
    study = fill(Study, full=True)
    plan = dataclasses.replace(study.plans[0], findings=("a",))
    both = tuple(
        dataclasses.replace(study.findings[0], id=name, plan=plan.id) for name in ("a", "b")
    )
    told = findings_of(dataclasses.replace(study, findings=both), plan)
    assert [each.id for each in told] == ["a"]
