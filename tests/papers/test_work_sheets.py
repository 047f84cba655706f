"""The sheets: their text holds the plan's figures, and what has none is left out and said."""

import dataclasses
import re
from functools import cache
from pathlib import Path

import pytest
from filled_study import fill

from phasewright.files.sheet_files import files_of
from phasewright.files.shop_file import read
from phasewright.job.papers import sheets
from phasewright.job.study import study
from phasewright.papers.sheets.folder import MAKERS, sheets_of
from phasewright.papers.sheets.paper import Paper
from phasewright.papers.sheets.sheet import Measure, Paragraph, Section, Sheet, Step, Steps, Table
from phasewright.papers.sheets.text import WIDE, text
from phasewright.plan.study import PlanSide, Study

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
SHOPS = sorted(path.name for path in EXAMPLES.glob("*.shop.yaml"))
whole_shops = pytest.mark.whole


@cache
def made(name):
    shop = read(EXAMPLES / name)
    of = study(shop, quick=True)
    plan = next(each for each in of.plans if each.id == of.answer.plan)
    return plan, sheets(shop, of)


def flat(sheet):
    return " ".join(text(sheet).split())


def parts_of(found):
    return [part for sheet in found.sheets for section in sheet.sections for part in section.parts]


@whole_shops
@pytest.mark.parametrize("name", SHOPS)
def test_every_sheet_is_made_or_left_out_with_a_reason(name):
    _, found = made(name)
    names = {each.name for each in found.sheets} | {each.name for each in found.left_out}
    assert names == {name for name, _, _ in MAKERS}
    assert all(each.words for each in found.left_out)
    contents = dict(files_of(found))["sheets/contents.txt"]
    for each in found.left_out:
        assert each.words in contents


@whole_shops
@pytest.mark.parametrize("name", SHOPS)
def test_tables_are_whole_and_their_blanks_are_columns(name):
    _, found = made(name)
    for part in parts_of(found):
        if isinstance(part, Table):
            assert part.rows
            assert set(part.blank) <= set(part.columns)
            assert all(len(row) == len(part.columns) for row in part.rows)


@whole_shops
@pytest.mark.parametrize("name", SHOPS)
def test_no_line_is_wider_than_the_sheet_and_no_sheet_is_without_a_figure(name):
    _, found = made(name)
    for each in found.sheets:
        lines = text(each).splitlines()
        assert max(map(len, lines)) <= WIDE
        assert re.search(r"\d (V|A|W|kW|ohm|milliohm|mA|µF|s|h)\b", str(each)), each.name


@whole_shops
@pytest.mark.parametrize("name", SHOPS)
def test_every_reading_stands_in_the_commissioning_once(name):
    plan, found = made(name)
    sheet = next(each for each in found.sheets if each.name == "commissioning")
    steps = [step for section in sheet.sections for part in section.parts
             if isinstance(part, Steps) for step in part.steps]  # fmt: skip
    measures = [each for step in steps for each in step.measures]
    assert len(measures) == len(plan.readings_expected)
    assert all(each.expected and each.meter and each.differs for each in measures)
    assert steps[0].caution
    told = [int(section.title.split()[1].rstrip(":")) for section in sheet.sections[1:]]
    assert told == sorted({each.step for each in plan.readings_expected})
    assert "drive_per_motor" not in text(sheet)


@whole_shops
def test_the_figures_of_the_plan_stand_on_the_sheets():
    plan, found = made("cider-barn.shop.yaml")
    by_name = {each.name: flat(each) for each in found.sheets}
    for motor in plan.motors:
        if motor.way == "rotary_converter":
            assert f"{motor.overload_setting_a.number:.3g} A" in by_name["settings"]
        for setting in motor.figures.settings or ():
            assert isinstance(setting.value, str) or setting.unit in by_name["settings"]
    converter = next(each for each in plan.equipment if each.way == "rotary_converter")
    line3 = f"{converter.lines_to_earth_v[2].number:.0f} V"
    assert line3 in by_name["before-you-open"]
    assert line3 in by_name["wall-card"]
    for start in plan.network_effects.starts:
        assert f"{start.starting_current_a.number:.3g} A" in by_name["network-operator"]


@whole_shops
def test_the_electrician_is_asked_for_the_circuits_of_every_board():
    plan, found = made("farm-sawmill.shop.yaml")
    words = next(flat(each) for each in found.sheets if each.name == "electrician")
    fed = [each for each in plan.circuits if each.role.startswith("supply_to")]
    assert fed
    assert f"{len(fed)} circuit" in words
    for each in fed:
        assert f"{each.device.rating_a:.0f} A, {each.conductor}" in words


def test_a_plan_that_powers_nothing_leaves_out_what_has_no_figures():
    shop = read(EXAMPLES / SHOPS[0])
    plan = dataclasses.replace(fill(PlanSide, full=False), motors=(), readings_expected=None)
    of = dataclasses.replace(fill(Study, full=False), plans=(plan,))
    found = sheets_of(Paper(shop, of, plan))
    left = {each.name for each in found.left_out}
    assert {"settings", "commissioning", "wall-card", "network-operator", "unknown-motor"} <= left


def test_a_sheet_is_written_with_its_cautions_boxes_and_blanks():
    sheet = Sheet(
        "one", "One",
        (
            Section(
                "First",
                (
                    Paragraph("Mind the gap.", "caution"),
                    Steps((Step("Measure.", "Live.", (Measure("1 and 2", "meter", "9 V", "off"),)),)),
                    Table(("a", "b"), (("x", ""),), ("b",)),
                ),
            ),
        ),
    )  # fmt: skip
    words = text(sheet)
    for part in ("TAKE CARE: Mind the gap.", "[ ] 1. Measure.", "TAKE CARE: Live.", "9 V",
                 "read: ____", "If not: off", "____"):  # fmt: skip
        assert part in words
