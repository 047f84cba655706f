"""The calculation sheet: what its algebra comes to is the figure, and a figure stands there once."""

import math
import re
from dataclasses import replace
from pathlib import Path

import pytest

import phasewright
from phasewright.job.papers import wiring
from phasewright.papers.algebra import (
    FORMULAS,
    SUM,
    VECTORS,
    first_sentence,
    formula_of,
    in_words,
    put_in,
)
from phasewright.papers.sheets.calculations import _groups, calculations
from phasewright.papers.sheets.paper import Paper
from phasewright.papers.sheets.sheet import Table
from phasewright.quantities.plain import figures
from phasewright.quantities.told import amount, money
from phasewright.quantities.value import figure

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
SHOPS = ("cider-barn", "furniture-shop", "farm-sawmill", "pottery")
NAME = re.compile(r"\{([^}]*)\}")
DECISIVE = {  # what the barn's sheet must tell of, by the issue's own list
    "full load current": "rated amps of the motors", "idler power": "size of the idler",
    "run capacitance": "capacitors", "lowest volts of line 3": "volts at a start",
    "breaker": "breaker", "ampacity": "cable", "fall along the cable": "drop",
    "earth loop": "loop", "opens within": "residual device", "headroom": "headroom",
    "energy a year": "cost a year", "cost over the years": "cost",
}  # fmt: skip


def worked_out(formula, inputs):
    """What a formula comes to, computed by another reading of its signs."""
    rest = [number for name, number in inputs.items() if name not in NAME.findall(formula)]
    text = NAME.sub(
        lambda found: f"({inputs[found[1]]!r})", formula.replace(SUM, f"({sum(rest)!r})")
    )
    for sign, does in (("÷", "/"), ("×", "*"), ("−", "-"), ("²", "**2"), (";", ","), ("√", "root")):
        text = text.replace(sign, does)
    known = {"root": math.sqrt, "ln": math.log, "larger": max, "π": math.pi}
    return eval(text, {"__builtins__": {}}, known)


class Made:
    def __init__(self, name):
        self.shop = phasewright.read(EXAMPLES / f"{name}.shop.yaml")
        self.study = phasewright.study(self.shop, quick=True)
        wires, plan = wiring(self.shop, self.study)
        self.paper = Paper(self.shop, self.study, plan, wires)
        self.sheet = calculations(self.paper)


@pytest.fixture(scope="module", params=SHOPS)
def made(request):
    return Made(request.param)


def rows(sheet):
    return [row for section in sheet.sections for part in section.parts
            if isinstance(part, Table) for row in part.rows]  # fmt: skip


@pytest.mark.whole
def test_the_algebra_comes_to_the_figure(made):
    seen = set()
    for pointer, value in figures(made.study):
        field = next(name for name in reversed(pointer.split("/")) if not name.isdigit())
        formula = formula_of(value, field)
        if not formula:
            continue
        inputs = {each.name: each.number for each in value.inputs}
        found = worked_out(formula, inputs)
        if (value.formula, field) in VECTORS:  # impedances in the same quarter: |a + b| ≤ |a| + |b|
            ratio = found / value.number
            least, most = (1.0, math.sqrt(2.0)) if field == "loop_ohm" else (math.sqrt(0.5), 1.0)
            assert least - 0.02 <= ratio <= most + 0.02, pointer
        else:
            assert found == pytest.approx(value.number, rel=1e-3), pointer
        seen.add(value.formula)
    assert len(seen) > 8


@pytest.mark.whole
def test_no_figure_stands_twice(made):
    told = [(each.of, each.path) for _, found in _groups(made.paper) for each in found]
    assert len(told) == len(set(told))
    assert len(told) > 20


@pytest.mark.whole
def test_every_row_has_its_numbers_and_its_source(made):
    for name, numbers, how in rows(made.sheet):
        assert name
        assert re.search(r"\d", numbers)
        assert re.search(r"Source: \S", how)
        assert "phasewright" not in how
        assert not re.search(r"[a-z_]{3,}\.[a-z_]{3,}", how), "a function's name is no formula"


@pytest.mark.whole
def test_the_decisive_figures_of_a_converter_are_there():
    made = Made("cider-barn")
    text = " ".join(" ".join(row) for row in rows(made.sheet))
    for words in DECISIVE:
        assert words in text, words
    plan = made.paper.plan
    assert amount(made.study.supply.headroom_a.number, "A") in text
    assert money(plan.energy_per_year.number, made.study.currency) in text
    assert "voltage ÷ √(resistance² + reactance²)" in text
    dearer = replace(plan, purchase=replace(plan.purchase, number=plan.purchase.number + 777.0))
    other = calculations(replace(made.paper, plan=dearer))
    assert rows(other) != rows(made.sheet)


def test_numbers_take_the_place_of_names_and_a_sum_keeps_its_names():
    value = figure(10.0, "A", "plan.currents.cases_of",
                   {"limit": (20.0, "A"), "others": (7.0, "A"), "this": (3.0, "A")}, "test")  # fmt: skip
    formula = formula_of(value, "headroom_a")
    assert in_words(formula) == "limit − others − this"
    assert put_in(formula, value.inputs, amount) == "20 A − 7 A − 3 A"
    total = figure(3.0, "", "plan.sums.purchase", {"a_b": (1.0, ""), "c": (2.0, "")}, "test")
    assert put_in(SUM, total.inputs, lambda number, _: f"{number:g}") == "1 (a b) + 2 (c)"


def test_a_formula_whose_names_are_others_is_not_used():
    value = figure(10.0, "A", "plan.currents.cases_of", {"something": (20.0, "A")}, "test")
    assert formula_of(value, "headroom_a") == ""
    mixed = figure(1.0, "", "plan.sums.energy_per_year",
                   {"Saw": (1.0, "kWh"), "other": (1.0, "A"), "price of energy": (1.0, "")}, "t")  # fmt: skip
    assert formula_of(mixed, "energy_per_year") == ""


def test_every_algebra_is_of_a_function_that_says_what_it_does():
    for name in (*FORMULAS, *(name for name, _ in VECTORS)):
        assert not first_sentence(name).startswith(name), name
