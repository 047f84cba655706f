"""Whether the answer to a shop is whole: valid, finite, and every verdict with its reason."""

from __future__ import annotations

import json
import math
from collections.abc import Iterator
from functools import cache
from typing import Any

import jsonschema

from phasewright.files.result_schema import result_schema
from phasewright.plan.answer import answer
from phasewright.quantities.codes import WAYS
from phasewright.shop.model import Shop


@cache
def _validator() -> jsonschema.Draft202012Validator:
    return jsonschema.Draft202012Validator(result_schema())


def faults(shop: Shop) -> list[str]:
    """What is wrong with the quick answer to this shop; an exception is left to the caller."""
    told = answer(shop, quick=True).to_dict()
    return [*_numbers(told, ""), *_form(told), *_plans(told), *_verdicts(told, shop)]


def _numbers(part: Any, path: str) -> Iterator[str]:
    if isinstance(part, dict):
        for key, value in part.items():
            yield from _numbers(value, f"{path}/{key}")
    elif isinstance(part, list):
        for at, value in enumerate(part):
            yield from _numbers(value, f"{path}/{at}")
    elif isinstance(part, float) and not math.isfinite(part):
        yield f"{path} is {part}"
    elif isinstance(part, str) and (" nan" in part or "inf " in part.replace("inf.", "inf ")):
        yield f"{path} says {part!r}"


def _form(told: dict[str, Any]) -> Iterator[str]:
    plain = json.loads(json.dumps(told))
    for error in _validator().iter_errors(plain):
        yield f"{error.json_path}: {error.message[:200]}"


def _plans(told: dict[str, Any]) -> Iterator[str]:
    plans = {plan["id"]: plan for plan in told["plans"]}
    best = plans.get(told["answer"]["plan"])
    if best is None:
        yield f"the answer names plan {told['answer']['plan']!r}, which is not listed"
    elif not best["feasible"] and not told["answer"]["obstacles"]:
        yield "nothing is feasible and no obstacle is named"
    elif best["feasible"] and told["answer"]["obstacles"]:
        yield "the plan is feasible and yet there are obstacles"
    elif best["feasible"] and not told["answer"]["reasons"]:
        yield "a plan is advised without a reason"
    if not told["answer"]["headline"].strip():
        yield "no headline"
    named = {finding["id"] for finding in told["findings"]}
    for plan in plans.values():
        if missing := set(plan["findings"]) - named:
            yield f"{plan['id']} names findings that are not told: {sorted(missing)}"
        cost = plan["lifetime_cost"]
        if not cost["low"] <= cost["expected"] <= cost["high"]:
            yield f"{plan['id']}: cost {cost}"
        if plan["feasible"] and plan["regret"]["expected"] < -1e-6:
            yield f"{plan['id']}: regret {plan['regret']}"


def _verdicts(told: dict[str, Any], shop: Shop) -> Iterator[str]:
    comes = {each.name: each.chance != 0 for each in shop.machines}
    ids = [f"{each.name}/{motor.name}" for _, each, motor in shop.each_motor()]
    if [motor["id"] for motor in told["motors"]] != ids:
        yield f"motors told: {[motor['id'] for motor in told['motors']]}, in the file: {ids}"
    for motor in told["motors"]:
        ways = {way["way"]: way for way in motor["ways"]}
        if set(ways) != set(WAYS) and comes[motor["id"].split("/")[0]]:
            yield f"{motor['id']}: no word of {sorted(set(WAYS) - set(ways))}"
        for way in motor["ways"]:
            yield from _reasons(f"{motor['id']} {way['way']}", way)


def _reasons(where: str, way: dict[str, Any]) -> Iterator[str]:
    if not way["reasons"] and not (way["verdict"] == "with_conditions" and way["conditions"]):
        yield f"{where}: {way['verdict']} without a reason"
    if way["verdict"] == "with_conditions" and not way["conditions"]:
        yield f"{where}: with conditions, and none is told"
    for told in (*way["reasons"], *way["conditions"]):
        if not told["code"] or not told["words"].strip():
            yield f"{where}: a reason without words"
