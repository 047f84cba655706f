"""After any edits of any shop the answer is that of a program which never saw the shop before.

Much is kept from one study to the next, each by what it rests on. Something kept by less than
that would tell an old figure after an edit; here everything is forgotten to compare.
"""

from __future__ import annotations

import copy
from inspect import signature
from typing import Any

import pytest
from forgetting import forget, kept
from hypothesis import given
from hypothesis import strategies as st
from invariants.shops import loads, plates, q, shop_of, shops, supplies, text_of
from invariants.test_any_shop import some

from phasewright.job.stages import Desk, Ranked

pytestmark = pytest.mark.whole
KINDS = ("plate", "load", "machine", "supply", "rating", "tariff", "wishes", "gone", "parts")


@st.composite
def edited(draw: st.DrawFn, tree: dict[str, Any]) -> dict[str, Any]:
    """The shop with one thing changed."""
    new = copy.deepcopy(tree)
    machine = draw(st.sampled_from(new["machines"]))
    motor = draw(st.sampled_from(machine["motors"]))
    kind = draw(st.sampled_from(KINDS))
    if kind == "plate":
        motor["plate"] = draw(plates(new["region"]))
    elif kind == "load":
        motor["load"] = draw(loads())
    elif kind == "machine":
        machine["hours_per_year"] = draw(st.sampled_from((5, 333, 1500)))
        machine["starter"] = draw(st.sampled_from(("direct", "star_delta", "drive_inside")))
    elif kind == "supply":
        new["supply"] = draw(supplies(new["region"]))
    elif kind == "rating":
        new["supply"]["service_rating"] = q("A", draw(st.sampled_from((25, 50, 125))))
    elif kind == "tariff":
        new["tariff"]["energy"] = draw(st.sampled_from((0.05, 0.3, 0.9)))
    elif kind == "wishes":
        new["wishes"] = {"plan_years": draw(st.sampled_from((2, 15)))}
    elif kind == "gone" and len(new["machines"]) > 1:
        gone = new["machines"].pop(0)["name"]
        for other in new["machines"]:
            other["runs_with"] = [name for name in other.get("runs_with", []) if name != gone]
    else:
        new["owned_parts"] = new["owned_parts"][1:]
    return new


def studied(desk: Desk, tree: dict[str, Any]) -> tuple[dict[str, Any], list[Ranked]]:
    """The whole answer, and the plans in the order that was told first."""
    told: list[tuple[Ranked, ...]] = []
    study = desk.study(shop_of(tree), text_of(tree), ranked=told.append)
    return study.to_dict(), [plan for each in told for plan in each]


@some(6)
@given(data=st.data(), tree=shops(3, 2))
def test_the_answer_after_edits_is_that_of_a_new_program(
    data: st.DataObject, tree: dict[str, Any]
) -> None:
    desk = Desk()
    studied(desk, tree)
    for _ in range(data.draw(st.integers(1, 3))):
        before, tree = tree, data.draw(edited(tree))
        look = desk.look(shop_of(tree), text_of(before))
        after = studied(desk, tree)
    told = after[0]
    for motor in look.motors:  # what is told at once is what the whole answer tells
        whole = next(each for each in told["motors"] if each["id"] == motor.id)
        if motor.full_load_current_a is not None:
            assert whole["full_load_current_a"] == pytest.approx(motor.full_load_current_a.number)
    forget()
    assert studied(Desk(), tree) == after


OWN_NAMES = {
    "phasewright.tables.motor_kinds.motor_kind", "phasewright.papers.algebra.first_sentence",
    "phasewright.tables.loads._kind", "phasewright.tables.own_sources._value",
    "phasewright.tables.published._document", "phasewright.tables.published.table",
    "phasewright.tables.shared_sources._value", "phasewright.tables.usage._value",
}  # fmt: skip
"""Kept without a bound, for what they are asked by are names of the program's own."""


def test_what_shops_fill_has_an_end() -> None:
    """A process lives for weeks and meets shops without number."""
    endless = {
        f"{each.__module__}.{each.__qualname__}"
        for each in kept()
        if each.cache_info().maxsize is None and signature(each.__wrapped__).parameters
    }
    assert endless == OWN_NAMES
    assert len(kept()) > 100
