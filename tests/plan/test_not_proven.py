"""A plan that could not be proven the cheapest never comes quietly."""

from __future__ import annotations

from dataclasses import replace

import pytest
from plan.example_choices import choice_of_example

from phasewright.plan.listed import listed_plans
from phasewright.plan.wording import cautions_of


@pytest.mark.parametrize("name", ["pottery"])
def test_a_search_that_was_stopped_is_told_with_its_bound(name: str) -> None:
    one = choice_of_example(name)
    best = listed_plans(one)[0].plan
    assert best.proven
    assert "not_proven" not in {reason.code for reason in cautions_of(one, best)}
    stopped = replace(best, proven=False, bound=123.0)
    told = next(reason for reason in cautions_of(one, stopped) if reason.code == "not_proven")
    assert "123" in told.words
