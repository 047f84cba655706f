"""The result file: a study filled by its types, full and bare, written, read and checked."""

import copy
import json
from pathlib import Path

import jsonschema
import pytest
from filled_study import fill

from phasewright.files.result_file import study_text, texts, workings_text
from phasewright.files.result_schema import result_schema, result_schema_text
from phasewright.plan.study import Study

ROOT = Path(__file__).resolve().parents[2]
SCHEMA = result_schema()
CHECK = jsonschema.Draft202012Validator(SCHEMA)


@pytest.fixture(scope="module", params=[True, False], ids=["full", "bare"])
def study(request):
    return fill(Study, full=request.param)


def test_the_schema_is_a_schema_and_the_one_in_docs():
    jsonschema.Draft202012Validator.check_schema(SCHEMA)
    kept = (ROOT / "docs" / "result.schema.json").read_text(encoding="utf-8")
    assert kept == result_schema_text(), "run: python tools/schemas.py"


def test_what_is_written_follows_the_schema(study):
    CHECK.validate(json.loads(study_text(study)))


def spoil_a_name(tree):
    tree["answer"]["headlines"] = tree["answer"].pop("headline")


def spoil_a_type(tree):
    tree["made"]["quick"] = "no"


def spoil_a_list(tree):
    tree["motors"][0]["ways"][0]["verdict"] = "perhaps"


def spoil_with_a_placeholder(tree):
    tree["motors"][0]["full_load_current_a"] = None


def spoil_a_row(tree):
    tree["plans"][0]["cases"][0]["line_currents_a"][0]["amps"].append(1.0)


@pytest.mark.parametrize(
    "spoil",
    [spoil_a_name, spoil_a_type, spoil_a_list, spoil_with_a_placeholder, spoil_a_row],
)
def test_the_schema_refuses_what_is_wrong(spoil):
    tree = json.loads(study_text(fill(Study, full=True)))
    CHECK.validate(tree)
    wrong = copy.deepcopy(tree)
    spoil(wrong)
    assert not CHECK.is_valid(wrong)


def test_nothing_is_null_but_a_linear_branch(study):
    def nulls(tree, path):
        if tree is None:
            yield path
        elif isinstance(tree, dict):
            for key, part in tree.items():
                yield from nulls(part, f"{path}/{key}")
        elif isinstance(tree, list):
            for place, part in enumerate(tree):
                yield from nulls(part, f"{path}/{place}")

    assert all(path.endswith("/saturation") for path in nulls(json.loads(study_text(study)), ""))


def test_every_working_points_at_its_figure(study):
    tree, workings = json.loads(study_text(study)), json.loads(workings_text(study))
    for pointer, working in workings.items():
        part = tree
        for key in pointer.split("/")[1:]:
            part = part[int(key)] if isinstance(part, list) else part[key]
        number = part["value"] if isinstance(part, dict) else part
        assert number == working["value"]
        assert set(working) == {
            "value", "unit", "low", "high", "origin", "formula", "inputs", "source"
        }  # fmt: skip


def test_a_full_study_has_workings():
    assert len(json.loads(workings_text(fill(Study, full=True)))) > 50


def test_the_names_are_those_of_the_contract():
    """Typed again from the contract: top level, a motor's circuit, a plan's case."""
    definitions = SCHEMA["$defs"]
    assert list(definitions["Study"]["properties"]) == [
        "made", "shop", "region", "currency", "answer", "supply", "motors", "others", "plans",
        "findings", "assumed", "missing", "sources", "places",
    ]  # fmt: skip
    assert {
        "frequency_hz", "stator_resistance_ohm", "stator_leakage_ohm", "magnetising_ohm",
        "saturation", "core_loss_ohm", "cages", "friction_w", "stray_w", "inertia_kg_m2",
    } <= set(definitions["CircuitSide"]["properties"])  # fmt: skip
    assert {
        "running", "supply_current_a", "supply_power_w", "room_left_a", "line_voltages_v",
        "unbalance", "line_currents_a",
    } <= set(definitions["PlanCase"]["properties"])  # fmt: skip
    assert {"what", "path", "from", "to", "unit", "then"} <= set(
        definitions["ChangesIf"]["properties"]
    )


def test_the_same_study_gives_the_same_text(study):
    first = texts(study)
    assert first == texts(study)
    for name in ("study.json", "workings.json"):
        assert first[name].endswith("\n")
        assert "\r" not in first[name]


def test_to_dict_is_the_file(study):
    assert study.to_dict() == json.loads(study_text(study))
