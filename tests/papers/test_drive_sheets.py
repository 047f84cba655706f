"""The sheets of a plan's drives say what the result file says, and only where there are drives."""

import csv
import io
from pathlib import Path

import pytest

import phasewright
from phasewright.files.result_file import texts
from phasewright.papers.drive_sheets import drives_text, entered, on_drives, settings_csv

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"


@pytest.fixture(scope="module")
def study():
    return phasewright.study(phasewright.read(EXAMPLES / "cider-barn.shop.yaml"), quick=True)


def plan_of(study, wanted):
    return next(plan for plan in study.plans if bool(on_drives(plan)) is wanted)


def test_the_table_holds_every_setting_of_every_drive(study):
    plan = plan_of(study, True)
    rows = list(csv.DictReader(io.StringIO(settings_csv(plan))))
    told = [
        (motor.motor, each.words, entered(each), each.unit, each.from_)
        for motor in on_drives(plan) for each in motor.figures.settings
    ]  # fmt: skip
    assert [(r["motor"], r["setting"], r["value"], r["unit"], r["from"]) for r in rows] == told
    assert all(row["why"] and row["source"] for row in rows)


def test_a_number_is_entered_to_three_figures(study):
    for motor in on_drives(plan_of(study, True)):
        for each in motor.figures.settings:
            if isinstance(each.value, float):
                assert float(entered(each)) == pytest.approx(each.value, rel=0.006)
            else:
                assert entered(each) == each.value


def test_the_sheet_reads_in_a_terminal_and_holds_every_step_and_caution(study):
    plan = plan_of(study, True)
    text = drives_text(plan)
    assert max(len(line) for line in text.splitlines()) <= 80
    flat = " ".join(text.split())
    for motor in on_drives(plan):
        for step in motor.figures.rewiring:
            assert f"{step.step}. {step.words}" in flat
            assert step.caution is None or step.caution in flat
    assert "not a permission" in flat


def test_without_a_drive_there_is_no_sheet(study):
    assert drives_text(plan_of(study, False)) == ""
    assert len(settings_csv(plan_of(study, False)).splitlines()) == 1


def test_the_files_are_those_of_the_answers_plan(study):
    plan = next(each for each in study.plans if each.id == study.answer.plan)
    sheets = {"settings.csv", "drives.txt"} if on_drives(plan) else set()
    assert set(texts(study)) == {"study.json", "workings.json"} | sheets
