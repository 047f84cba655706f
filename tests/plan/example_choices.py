"""The example shops as choices, each computed once for all tests of the plan."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from phasewright.files.shop_file import read
from phasewright.plan.answer import answer
from phasewright.plan.arrays import Choice, choice_of
from phasewright.plan.facts import Facts, facts_of
from phasewright.plan.study import Study
from phasewright.plan.terms import terms_of
from phasewright.shop.model import Shop

FOLDER = Path(__file__).resolve().parents[2] / "examples"
EXAMPLES = ("pottery", "cider-barn", "furniture-shop")


@cache
def example(name: str) -> Shop:
    return read(FOLDER / f"{name}.shop.yaml")


@cache
def facts_of_example(name: str) -> Facts:
    return facts_of(example(name))


@cache
def choice_of_example(name: str) -> Choice:
    return choice_of(facts_of_example(name), terms_of(example(name)))


@cache
def study_of_example(name: str) -> Study:
    return answer(example(name))
