"""The papers of a plan that is not the answer are of that plan throughout."""

import json

import pytest

from phasewright.job.instead import with_plan
from phasewright.job.papers import papers
from phasewright.job.read import read
from phasewright.job.study import study
from phasewright.quantities.errors import UsageError

pytestmark = pytest.mark.whole


@pytest.fixture(scope="module")
def barn():
    from page.conftest import ROOT

    shop = read(ROOT / "examples" / "cider-barn.shop.yaml")
    return shop, study(shop)


def test_another_plan_has_its_own_readings_cautions_and_papers(barn):
    shop, found = barn
    drives = next(p for p in found.plans if {m.way for m in p.motors} == {"drive_per_motor"})
    told = with_plan(shop, found, drives.id)
    plan = next(each for each in told.plans if each.id == drives.id)
    assert told.answer.plan == drives.id
    assert told.answer.headline.startswith(drives.title)
    assert [each.id for each in told.plans if each.readings_expected] == [drives.id]
    codes = {each.code for each in plan.readings_expected}
    assert "dc_link_volts" in codes
    assert "line_volts" not in codes  # no line is made
    assert plan.lifetime_cost == drives.lifetime_cost
    files = papers(shop, told).files
    assert json.loads(files["wiring.json"])["plan"] == drives.id
    assert json.loads(files["study.json"])["answer"]["plan"] == drives.id
    assert files["report.pdf"].startswith(b"%PDF")
    settings = files["settings.csv"]
    assert all(motor.motor in settings for motor in drives.motors)


def test_the_answers_own_plan_is_the_answer_and_a_plan_that_is_not_there_is_refused(barn):
    shop, found = barn
    assert with_plan(shop, found, found.answer.plan) is found
    with pytest.raises(UsageError):
        with_plan(shop, found, "none-00000000")
