"""Every example from file to answer: valid, repeatable, told, and honest about its status."""

import json
import os
import subprocess
import sys
from pathlib import Path

import jsonschema
import pytest

import phasewright
from phasewright.files.result_schema import result_schema

ROOT = Path(__file__).resolve().parents[2]
EXAMPLES = sorted((ROOT / "examples").glob("*.shop.yaml"))
SERVED = ("cider-barn", "farm-sawmill", "furniture-shop", "pottery")
HOPELESS = ("tight-shop",)
CHECK = jsonschema.Draft202012Validator(result_schema())
pytestmark = pytest.mark.whole


def study(shop, folder, seed="0"):
    return subprocess.run(
        [sys.executable, "-m", "phasewright", "study", str(shop), "--out", str(folder)],
        capture_output=True,
        text=True,
        check=False,
        env={**os.environ, "PYTHONHASHSEED": seed},
        timeout=300,
    )


@pytest.fixture(scope="module", params=EXAMPLES, ids=lambda path: path.name.split(".")[0])
def answered(request, tmp_path_factory):
    folder = tmp_path_factory.mktemp("answers") / "answer"
    return request.param, folder, study(request.param, folder)


def read(folder, name="study.json"):
    return json.loads((folder / name).read_text(encoding="utf-8"))


def test_there_are_examples():
    names = {path.name.split(".")[0] for path in EXAMPLES}
    assert {*SERVED, *HOPELESS} < names


def test_the_status_says_whether_the_plan_is_feasible(answered):
    shop, folder, told = answered
    tree = read(folder)
    plan = next(plan for plan in tree["plans"] if plan["id"] == tree["answer"]["plan"])
    assert told.returncode == (0 if plan["feasible"] else 3), told.stderr
    assert (tree["answer"]["obstacles"] == []) is plan["feasible"]
    name = shop.name.split(".")[0]
    assert plan["feasible"] or name not in SERVED
    assert not plan["feasible"] or name not in HOPELESS


def test_the_plan_is_wired_without_a_fault_and_drawn(answered):
    _, folder, _ = answered
    tree, wiring = read(folder), read(folder, "wiring.json")
    assert wiring["plan"] == tree["answer"]["plan"]
    assert wiring["faults"] == []
    assert list((folder / "drawings").glob("01-*.svg"))
    plan = next(plan for plan in tree["plans"] if plan["id"] == tree["answer"]["plan"])
    wired = {unit["subject"] for unit in wiring["units"]} | set(wiring["unwired"])
    assert {motor["motor"] for motor in plan["motors"]} <= wired


def test_the_file_follows_the_schema(answered):
    CHECK.validate(read(answered[1]))


def test_every_working_points_at_its_figure(answered):
    _, folder, _ = answered
    tree, workings = read(folder), read(folder, "workings.json")
    assert workings
    for pointer, working in workings.items():
        part = tree
        for key in pointer.split("/")[1:]:
            key = key.replace("~1", "/").replace("~0", "~")
            part = part[int(key)] if isinstance(part, list) else part[key]
        number = part["value"] if isinstance(part, dict) else part
        assert number == working["value"], pointer
        assert working["low"] <= working["value"] <= working["high"], pointer


def test_every_computed_figure_says_how_and_from_what(answered):
    workings = read(answered[1], "workings.json")
    bare = [
        pointer
        for pointer, working in workings.items()
        if working["origin"] == "computed" and not (working["formula"] and working["inputs"])
    ]
    assert bare == []


def test_the_same_shop_gives_the_same_bytes_in_another_process(answered, tmp_path):
    shop, folder, _ = answered
    study(shop, tmp_path / "again", seed="4711")
    for name in ("study.json", "workings.json"):
        assert (tmp_path / "again" / name).read_bytes() == (folder / name).read_bytes()


def test_the_library_gives_what_the_file_holds(answered):
    shop, folder, _ = answered
    assert phasewright.study(phasewright.read(shop)).to_dict() == read(folder)


def test_every_motor_stands_with_all_ten_ways_and_a_reason_where_refused(answered):
    for motor in read(answered[1])["motors"]:
        assert len({way["way"] for way in motor["ways"]}) == 10
        for way in motor["ways"]:
            if way["verdict"] == "refused":
                assert way["reasons"], way["way"]
            if way["verdict"] == "with_conditions":
                assert way["conditions"], way["way"]


def test_the_screen_tells_the_answer_in_80_columns(answered):
    _, folder, told = answered
    tree = read(folder)
    screen, written, _ = told.stdout.partition("\nWritten: ")
    assert written
    assert max(map(len, screen.splitlines())) <= 80
    flat = " ".join(screen.split())
    assert tree["answer"]["headline"] in flat
    assert all(motor["id"] in flat for motor in tree["motors"])
    assert "\x1b" not in told.stdout


def test_without_out_nothing_is_written(tmp_path):
    told = subprocess.run(
        [sys.executable, "-m", "phasewright", "study", str(ROOT / "examples" / "cider-barn.shop.yaml")],
        cwd=tmp_path, capture_output=True, text=True, check=False, timeout=300,
    )  # fmt: skip
    assert told.returncode == 0, told.stderr
    assert list(tmp_path.iterdir()) == []


def test_no_feasible_plan_is_3_and_is_written_all_the_same(tmp_path):
    """The pottery with an outlet that could not feed its motor by any way that is on offer, and a
    neighbour who bears no engine."""
    text = (ROOT / "examples" / "pottery.shop.yaml").read_text(encoding="utf-8")
    assert "outlet_rating: 16 A" in text
    shop = tmp_path / "tiny.shop.yaml"
    text = text.replace("outlet_rating: 16 A", "outlet_rating: 1 A")
    quiet = "  quiet: {level: 40 dB, at: neighbour, distance: 5 m, hours: day}\n"
    shop.write_text(text.rstrip() + "\n" + quiet, encoding="utf-8")
    told = study(shop, tmp_path / "answer")
    assert told.returncode == 3, told.stderr
    tree = read(tmp_path / "answer")
    CHECK.validate(tree)
    plan = next(plan for plan in tree["plans"] if plan["id"] == tree["answer"]["plan"])
    assert plan["feasible"] is False
    assert tree["answer"]["obstacles"]
    assert all(reason["words"] in " ".join(told.stdout.split())
               for reason in tree["answer"]["obstacles"])  # fmt: skip
