"""A fault of the answer's wiring is told with the answer, never hidden."""

from dataclasses import replace
from pathlib import Path

import pytest

import phasewright
from phasewright.job import wiring_check
from phasewright.papers.wiring.plan import wiring_of
from phasewright.plan.answer import answer

ROOT = Path(__file__).resolve().parents[2]
pytestmark = pytest.mark.whole


@pytest.fixture(scope="module")
def pottery():
    shop = phasewright.read(ROOT / "examples" / "pottery.shop.yaml")
    return shop, answer(shop, quick=True)


def test_an_answer_whose_wiring_is_sound_is_the_same(pottery):
    shop, study = pottery
    assert wiring_check.with_wiring_checked(shop, study) is study


def test_a_fault_is_a_finding_of_the_plan(pottery, monkeypatch):
    shop, study = pottery

    def without_its_last_wire(*asked):
        made = wiring_of(*asked)
        return replace(made, conductors=made.conductors[:-1])

    monkeypatch.setattr(wiring_check, "wiring_of", without_its_last_wire)
    told = wiring_check.with_wiring_checked(shop, study)
    found = [each for each in told.findings if each.rule.startswith("wiring.")]
    assert "wiring.open_terminal" in {each.rule for each in found}
    assert {each.severity for each in found} == {"stop"}
    plan = next(each for each in told.plans if each.id == told.answer.plan)
    assert {each.id for each in found} <= set(plan.findings)
    assert {each.plan for each in found} == {plan.id}
    assert len({each.id for each in told.findings}) == len(told.findings)
