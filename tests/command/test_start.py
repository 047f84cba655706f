"""The command `start`: what it says, what it writes, and every end it can come to."""

from __future__ import annotations

import json

import pytest
from network_files import load, machine, network, source, start, start_branch
from reference_machines import I4A, L2A

from phasewright.command.app import run

TOWN = source(230.0, 0.25, 0.15, 50.0)
IDLER = machine("idler", I4A, 0.0125, initial_speed_rad_s=156.8)
SAW = machine("Saw/motor", L2A, 0.03, load=load("constant", 8.0), closes_s=0.3)
STUCK = {**SAW, "load": load("constant", 60.0)}
FILES = {"start.json", "start.csv", "start.svg", "start.png", "start.cir"}


@pytest.fixture
def file(tmp_path):
    def write(*machines, **more):
        path = tmp_path / "network.json"
        tree = network(TOWN, (0, 25, 118), *machines, seconds=1.0, **more)
        path.write_text(json.dumps(tree), encoding="utf-8")
        return str(path)

    return write


def test_what_is_said_and_nothing_written_without_out(file, tmp_path, capsys):
    path = file(IDLER, SAW)
    assert run(["start", "--network", path]) == 0
    said = capsys.readouterr().out
    assert said.startswith("Saw/motor runs up in")
    assert "0.300 s: Saw/motor on" in said
    assert "Capacitors hold a dangerous charge" in said
    assert max(map(len, said.splitlines())) <= 80
    assert [each.name for each in tmp_path.iterdir()] == ["network.json"]


def test_a_start_that_fails_is_an_answer(file, capsys):
    assert run(["start", "--network", file(IDLER, STUCK)]) == 0
    said = capsys.readouterr().out
    assert "Saw/motor does not turn" in said or "stalls" in said


def test_a_folder_is_written_whole_and_the_one_before_is_kept(file, tmp_path, capsys):
    path, out = file(IDLER, SAW), tmp_path / "out"
    assert run(["start", "--network", path, "--out", str(out)]) == 0
    assert {each.name for each in out.iterdir()} == FILES
    assert "start.png" in capsys.readouterr().out
    assert run(["start", "--network", path, "--settled", "--out", str(out)]) == 0
    assert {each.name for each in out.iterdir()} == {"start.json"}
    assert {each.name for each in (tmp_path / "out.1").iterdir()} == FILES


def test_operating_points_are_said_line_by_line(file, capsys):
    assert run(["start", "--network", file(IDLER, SAW), "--settled"]) == 0
    said = capsys.readouterr().out
    assert "OPERATING POINT 1: EVERYTHING RUNS" in said
    assert "Saw/motor: 14" in said
    assert max(map(len, said.splitlines())) <= 80


def test_that_nothing_settles_is_an_answer_too(file, tmp_path, capsys):
    path, out = file(IDLER, STUCK), tmp_path / "out"
    assert run(["start", "--network", path, "--settled", "--out", str(out)]) == 0
    assert "Saw/motor" in capsys.readouterr().out
    told = json.loads((out / "start.json").read_text(encoding="utf-8"))
    assert told["settled"] == []
    assert "Saw/motor" in told["told"][0]


def test_mistakes_are_1_and_all_are_listed(file, tmp_path, capsys):
    path = file({**IDLER, "poles": "four"}, {**SAW, "closes_s": -3})
    out = tmp_path / "out"
    assert run(["start", "--network", path, "--out", str(out)]) == 1
    told = capsys.readouterr()
    assert told.out == ""
    assert "machines[0].poles: the text 'four'" in told.err
    assert "machines[1].closes_s: -3" in told.err
    assert not out.exists()


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        ([], "--network"),
        (["--network"], "--network"),
        (["--network", "none.json"], "There is no file none.json"),
        (["--network", "."], "is a folder"),
        (["shop.yaml"], "--network"),
    ],
)
def test_wrong_use_is_2(arguments, words, capsys):
    assert run(["start", *arguments]) == 2
    assert words in capsys.readouterr().err


def test_out_that_is_a_file_is_wrong_use(file, tmp_path, capsys):
    (tmp_path / "out").write_text("mine")
    assert run(["start", "--network", file(IDLER), "--out", str(tmp_path / "out")]) == 2
    assert "is a file" in capsys.readouterr().err
    assert (tmp_path / "out").read_text() == "mine"


def test_no_supply_at_the_end_settles_nowhere(file, tmp_path, capsys):
    path = tmp_path / "dark.json"
    tree = network({**TOWN, "lost_s": 0.1}, (0, 25, 118), IDLER)
    path.write_text(json.dumps(tree))
    assert run(["start", "--network", str(path), "--settled"]) == 4
    assert "supply is lost" in capsys.readouterr().err


def test_the_picture_names_what_happened(tmp_path):
    tree = network(
        TOWN, (0, 47.5, 63), {**IDLER, "initial_speed_rad_s": 0.0}, {**SAW, "closes_s": 0.5},
        start_branch=start_branch(300, 0.5, "idler"), load_steps=[{"machine": "Saw/motor", "at_s": 0.9, "share": 2.0}],
    )  # fmt: skip
    found = start(tree, tmp_path)
    drawn = (tmp_path / "out" / "start.svg").read_text(encoding="utf-8")
    for words in ("0.00 s idler on", "start capacitor out", "0.50 s Saw/motor on",
                  "0.90 s load of Saw/motor changes", "Saw/motor up to speed"):  # fmt: skip
        assert words in drawn
    assert found.json["verdict"]["words"][0] in drawn


@pytest.mark.parametrize(("key", "value"), [("rated_current_a", 1e-5), ("rated_speed_rpm", 1499.9)])
def test_a_plate_that_is_not_this_circuits_leaves_its_heat_unjudged(tmp_path, key, value):
    found = start(network(TOWN, (0, 25, 118), IDLER, {**SAW, key: value}, seconds=1.5), tmp_path)
    assert "heat" not in found.json
    assert found.json["verdict"]["runs_up"] is True


def test_a_motor_that_hums_for_long_is_judged_too_hot(tmp_path):
    found = start(network(TOWN, (0, 25, 118), IDLER, STUCK, seconds=60.0), tmp_path)
    assert found.json["heat"]["verdict"] == "too_hot"
