"""Whatever shop is written down: an answer that is whole, finite and valid, and does not depend on
how the same facts were written."""

from __future__ import annotations

import json
import math
import re
from typing import Any

import jsonschema
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from invariants.shops import shop_of, shops

from phasewright.files.result_schema import result_schema
from phasewright.plan.answer import answer
from phasewright.quantities.codes import WAYS

CHECK = jsonschema.Draft202012Validator(result_schema())
SLOW = [HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.filter_too_much]


def some(examples: int) -> Any:
    return settings(deadline=None, max_examples=examples, suppress_health_check=SLOW)


def study(tree: dict[str, Any], *, other: bool = False) -> dict[str, Any]:
    return answer(shop_of(tree, other=other), quick=True).to_dict()


def every_number(tree: Any) -> Any:
    if isinstance(tree, dict):
        for value in tree.values():
            yield from every_number(value)
    elif isinstance(tree, list):
        for value in tree:
            yield from every_number(value)
    elif isinstance(tree, (int, float)) and not isinstance(tree, bool):
        yield tree


@some(12)
@given(tree=shops(3, 2))
def test_an_answer_whole_finite_and_valid(tree: dict[str, Any]) -> None:
    told = study(tree)
    CHECK.validate(json.loads(json.dumps(told, allow_nan=False)))
    assert all(math.isfinite(number) for number in every_number(told))
    assert told["answer"]["plan"] in [plan["id"] for plan in told["plans"]]
    best = next(plan for plan in told["plans"] if plan["id"] == told["answer"]["plan"])
    assert best["feasible"] or told["answer"]["obstacles"]
    chances = {m["name"]: m.get("chance") for m in tree["machines"]}
    for motor in told["motors"]:
        if chances[motor["id"].split("/")[0]] == 0.0:
            continue  # it never comes
        assert {way["way"] for way in motor["ways"]} == set(WAYS)
        for way in motor["ways"]:
            assert way["reasons"] or way["verdict"] != "refused"
            assert way["conditions"] or way["verdict"] != "with_conditions"


@some(6)
@given(tree=shops(2, 2))
def test_horsepower_feet_milliohm_and_pounds_change_no_figure(tree: dict[str, Any]) -> None:
    one, two = study(tree), study(tree, other=True)
    for told in (one, two):
        del told["made"]
    same(one, two)


def same(one: Any, two: Any, path: str = "") -> None:
    """Equal words and choices, and numbers but for their last digits."""
    assert type(one) is type(two) or {type(one), type(two)} == {int, float}, path
    if isinstance(one, dict):
        assert one.keys() == two.keys(), path
        for key in one:
            same(one[key], two[key], f"{path}/{key}")
    elif isinstance(one, list):
        assert len(one) == len(two), path
        for at, (a, b) in enumerate(zip(one, two, strict=True)):
            same(a, b, f"{path}/{at}")
    elif isinstance(one, (int, float)) and not isinstance(one, bool):
        assert one == pytest.approx(two, rel=1e-9, abs=1e-12), path
    else:
        assert one == two, path


@some(6)
@given(tree=shops(3, 2), turn=st.randoms(use_true_random=False))
def test_the_order_of_machines_motors_and_keys_changes_nothing(tree: Any, turn: Any) -> None:
    def shuffled(part: Any) -> Any:
        if isinstance(part, dict):
            keys = list(part)
            turn.shuffle(keys)
            return {key: shuffled(part[key]) for key in keys}
        return [shuffled(each) for each in part] if isinstance(part, list) else part

    other = shuffled(tree)
    turn.shuffle(other["machines"])
    for machine in other["machines"]:
        turn.shuffle(machine["motors"])
        turn.shuffle(machine.get("runs_with", []))
    one, two = study(tree), study(other)
    for told, of in ((one, tree), (two, other)):
        del told["made"]
        told["paths"] = None
        named(told, of)
    assert one == two


def named(told: dict[str, Any], tree: dict[str, Any]) -> None:
    """Places in the file by their names, and lists that follow the file's order sorted."""

    def by_name(match: re.Match[str]) -> str:
        machine = tree["machines"][int(match[1])]
        seat = "" if match[2] is None else "/" + machine["motors"][int(match[2])]["name"]
        return f"<{machine['name']}{seat}>"

    def walk(part: Any) -> Any:
        if isinstance(part, dict):
            return {key: walk(value) for key, value in part.items()}
        if isinstance(part, list):
            return [walk(value) for value in part]
        if isinstance(part, str):
            return re.sub(r"machines\[(\d+)\](?:\.motors\[(\d+)\])?", by_name, part)
        return part

    for key, value in walk(told).items():
        told[key] = value
    for key in ("motors", "others", "findings", "assumed", "missing"):
        told[key] = sorted(told[key], key=lambda entry: json.dumps(entry, sort_keys=True))
