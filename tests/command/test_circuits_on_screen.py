"""The circuits on the screen: every one but those in a box, and what opens line 3's fault."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from rich.console import Console

import phasewright
from phasewright.command.answer import chosen
from phasewright.command.circuits import circuits

pytestmark = pytest.mark.whole
EXAMPLES = Path(__file__).resolve().parents[2] / "examples"


def shown(plan):
    out = io.StringIO()
    circuits(Console(file=out, width=100, highlight=False, markup=False), plan, "GBP")
    return out.getvalue()


def test_a_converter_s_circuits_and_its_line_3():
    study = phasewright.study(phasewright.read(EXAMPLES / "cider-barn.shop.yaml"), quick=True)
    plan = chosen(study)
    text = shown(plan)
    for circuit in plan.circuits:
        if circuit.role not in ("capacitor_branch", "control"):
            assert circuit.conductor in text
            assert circuit.to.split(" ")[-1] in text
    assert "an earth fault of line 3" in text
    assert "not a permission" in " ".join(text.split())
    assert max(len(row) for row in text.splitlines()) <= 100


def test_a_shop_of_north_america_is_told_of_a_breaker_that_takes_long_over_line_3():
    study = phasewright.study(phasewright.read(EXAMPLES / "furniture-shop.shop.yaml"), quick=True)
    late = [each for each in study.findings if each.rule == "circuit.line3_clears_late"]
    assert late
    assert all("may take" in each.words and each.found > 5.0 for each in late)
    told = {each.plan for each in late}
    for plan in study.plans:
        on_3 = any(c.first_cycles_a is not None for c in plan.circuits)
        assert (plan.id in told) == on_3, plan.title
