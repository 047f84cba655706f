"""A motor's start straight from a shop file: told, written, repeated from its block, and checked by
a general circuit simulator through the netlist that was written."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest
from network_deck import run as simulated
from network_files import back

from phasewright.command.app import run

ROOT = Path(__file__).resolve().parents[2]
BARN = str(ROOT / "examples" / "cider-barn.shop.yaml")
ASKED = ["start", BARN, "--motor", "Scratter/mill", "--way", "rotary_converter"]


@pytest.fixture(scope="module")
def barn(tmp_path_factory):
    out = tmp_path_factory.mktemp("barn") / "out"
    assert run([*ASKED, "--out", str(out)]) == 0
    return out


@pytest.mark.whole
def test_the_start_file_says_what_it_stands_on(barn):
    told = back(barn).json
    assert told["machine"] == "Scratter/mill"
    assert "rotary converter" in told["stands_on"]
    assert {trip["kind"] for trip in told["trips"]} >= {"B", "C"}
    first, *_, last = told["network"]["machines"]
    assert (first["id"], last["id"]) == ("idler", "Scratter/mill")
    assert first["closes_s"] == 0.0
    assert last["closes_s"] > 0.1


@pytest.mark.whole
def test_the_block_given_back_makes_the_same_waves(barn, tmp_path):
    again = tmp_path / "again"
    assert run(["start", "--network", str(barn / "start.json"), "--out", str(again)]) == 0
    for name in ("start.csv", "start.cir"):
        assert (barn / name).read_bytes() == (again / name).read_bytes(), name
    first, second = back(barn).json, back(again).json
    assert first["network"] == second["network"]
    for key in ("supply_peak_a", "supply_rms_max_a", "dip", "events", "speeds_end_rpm", "outcomes"):
        assert first[key] == second[key], key


@pytest.mark.whole
@pytest.mark.ngspice
def test_the_netlist_that_was_written_agrees(barn, tmp_path):
    found = back(barn)
    theirs = simulated((barn / "start.cir").read_text(encoding="utf-8"), tmp_path)
    time, step = found.time, round(1.0 / found.hertz / (found.time[1] - found.time[0]))

    def its(name):
        return np.interp(time, theirs["time"], theirs[name])

    def rms(wave):
        return np.sqrt((wave[: wave.size // step * step].reshape(-1, step) ** 2).mean(axis=1))

    for k, machine in enumerate(found.json["network"]["machines"]):
        rpm = its(f"v(w{k})") * 30.0 / math.pi
        assert abs(rpm - found.wave[f"{machine['id']}.speed_rpm"]).max() < 0.005 * 1500
    v1, v3 = its("v(n1)"), its("v(n3)")
    for name, wave in (("v12_v", v1), ("v23_v", -v3), ("v31_v", v3 - v1)):
        assert abs(rms(found.wave[name]) - rms(wave)).max() < 0.005 * 230.0
    mine, other = rms(found.wave["supply_a"]), rms(its("i(v_supply)"))
    assert abs(mine - other).max() < 0.005 * mine.max()
    assert found.json["supply_peak_a"] == pytest.approx(abs(theirs["i(v_supply)"]).max(), rel=0.01)


@pytest.mark.whole
def test_a_motor_alone_by_its_capacitors(capsys):
    asked = ["start", BARN, "--motor", "Press/oil pump", "--way", "static_converter"]
    assert run(asked) == 0
    said = capsys.readouterr().out
    assert said.startswith("Press/oil pump")
    assert "Press/oil pump alone, by" in said


@pytest.mark.whole
def test_a_motor_on_a_source_of_three_lines(tmp_path, capsys):
    asked = ["start", BARN, "--motor", "Filter/stirrer", "--way", "electronic_converter"]
    first, again = tmp_path / "first", tmp_path / "again"
    assert run([*asked, "--out", str(first)]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert "the source of the three lines gives" in said.lower()
    assert "Three lines are live at once" in said
    assert "idler" not in said
    found = back(first)
    assert found.json["network"]["source"]["lines"] == 3
    names = [machine["id"] for machine in found.json["network"]["machines"]]
    assert names[-1] == "Filter/stirrer"
    # line 1 of the source gives what line 1 of all machines takes
    own = sum(found.wave[f"{name}.current1_a"] for name in names)
    assert abs(own - found.wave["supply_a"]).max() < 1e-3 * found.json["supply_peak_a"]
    assert run(["start", "--network", str(first / "start.json"), "--out", str(again)]) == 0
    for name in ("start.csv", "start.cir"):
        assert (first / name).read_bytes() == (again / name).read_bytes(), name
    assert run(["start", "--network", str(first / "start.json"), "--settled"]) != 0
    assert "three" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("more", "words"),
    [
        (["--motor", "Scratter/mil", "--way", "rotary_converter"], "Scratter/mill"),
        (["--motor", "Scratter/mill", "--way", "rotary"], "rotary_converter"),
        (["--motor", "Scratter/mill", "--way", "drive_per_motor"], "not followed in time"),
        (["--motor", "Scratter/mill", "--way", "direct"], "does not start on two lines"),
        (["--motor", "Scratter/mill", "--way", "utility_service", "--plan", "x"], "'x'"),
        (["--motor", "Scratter/mill", "--way", "rotary_converter", "--plan", "x"], "'x'"),
        (["--motor", "Scratter/mill"], "--way"),
        (["--way", "rotary_converter"], "--motor"),
        ([], "--network"),
        (["--network", BARN], "leave out the shop file"),
        (["--motor", "Scratter/mill", "--way", "rotary_converter", "--settled"], "--settled"),
    ],
)
def test_wrong_use_is_2_with_what_is_allowed(more, words, capsys):
    assert run(["start", BARN, *more]) == 2
    told = capsys.readouterr()
    assert words in told.err
    assert told.out == ""


def test_a_motor_beside_a_network_file_is_wrong_use(capsys):
    assert run(["start", "--network", BARN, "--motor", "x"]) == 2
    assert "leave out --motor" in capsys.readouterr().err


def test_mistakes_of_the_shop_file_are_1(tmp_path, capsys):
    shop = tmp_path / "bad.shop.yaml"
    shop.write_text("phasewright: 1\nshop: bad\n", encoding="utf-8")
    assert run(["start", str(shop), "--motor", "x", "--way", "rotary_converter"]) == 1
    assert "supply" in capsys.readouterr().err
