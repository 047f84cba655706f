"""What a run writes: the rows obey Kirchhoff, the block repeats the bytes, the schema holds."""

from __future__ import annotations

import csv
import json
import math
from dataclasses import replace
from pathlib import Path

import jsonschema
import numpy as np
import pytest
from network_files import back
from reference_machines import I4A, L2A, fan, uf
from starts.courses import idler_start, then_motor

from phasewright.files.start_csv import columns_of, csv_lines, every_of
from phasewright.files.start_file import start_schema_text
from phasewright.files.start_network import read_network
from phasewright.job.start import run_network, settled_points, write_points, write_run
from phasewright.network.supply import Source
from phasewright.quantities.errors import UsageError
from phasewright.starts.course import WHEN_SETTLED, Course, LoadStep, StartResistor
from phasewright.starts.waves import waves

ROOT = Path(__file__).resolve().parents[2]
CHECK = jsonschema.Draft202012Validator(json.loads(start_schema_text()))
NAMES = ["start.cir", "start.csv", "start.json", "start.png", "start.svg"]

RUN = replace(
    then_motor(idler_start(300, circuit=I4A, steps=100), fan(14.5, 1445), circuit=L2A, at=0.5, seconds=1.2),
    load_steps=(LoadStep("motor", 0.9, 0.5),),
)  # fmt: skip
WAITS = replace(
    then_motor(idler_start(300, resistor=StartResistor(1.0, WHEN_SETTLED), steps=100),
               fan(14.5, 1445), at=WHEN_SETTLED, seconds=9.0),
    stops_when_settled=True,
)  # fmt: skip
TRAVELS = replace(RUN, capacitance_f=uf(5, 20, 40), starters=(
    RUN.starters[0], replace(RUN.starters[1], travelling_f=uf(0, 8, 75))))  # fmt: skip
COURSES = {"run": RUN, "waits": WAITS, "travels": TRAVELS}


def written(course: Course, folder: Path) -> Path:
    folder.mkdir()
    write_run(run_network(course), folder)
    return folder


@pytest.mark.parametrize("name", COURSES)
def test_the_block_given_back_makes_the_same_bytes(name, tmp_path):
    first = written(COURSES[name], tmp_path / "first")
    again = written(read_network(first / "start.json"), tmp_path / "again")
    assert sorted(each.name for each in first.iterdir()) == NAMES
    for each in first.iterdir():
        assert each.read_bytes() == (again / each.name).read_bytes(), each.name


@pytest.mark.parametrize("name", COURSES)
def test_the_start_file_follows_its_schema(name, tmp_path):
    told = json.loads((written(COURSES[name], tmp_path / "out") / "start.json").read_text("utf-8"))
    CHECK.validate(told)
    told["verdict"]["runs"] = told["verdict"].pop("runs_up")
    assert not CHECK.is_valid(told)


def test_the_schema_is_a_schema_and_the_one_in_docs():
    jsonschema.Draft202012Validator.check_schema(CHECK.schema)
    kept = (ROOT / "docs" / "start.schema.json").read_text(encoding="utf-8")
    assert kept == start_schema_text(), "run: python tools/schemas.py"


@pytest.mark.parametrize("name", COURSES)
def test_kirchhoff_at_the_supply_node_row_by_row(name, tmp_path):
    """Rows and the parameters of the network block alone: what the supply gives at line 1 goes
    into capacitors, start capacitor and machines. The capacitors' currents by the trapezoidal
    rule between two rows, so that means of two rows are compared; not just after a switching. The
    iron's state is corrected after the nodes are solved: 0.02 %."""
    found = back(written(COURSES[name], tmp_path / "out"))
    net, wave, time = found.json["network"], found.wave, found.time
    step = time[1] - time[0]
    g = math.tan(math.pi * found.hertz * step) / (2 * math.pi * found.hertz)

    def into(capacitance_f, name):
        return capacitance_f * np.diff(wave[name]) / (2 * g)

    def mean(name):
        return 0.5 * (wave[name][1:] + wave[name][:-1])

    bank = net["run_capacitance_f"]
    out = into(bank["c12"], "v12_v") - into(bank["c31"], "v31_v") - mean("start_capacitor_a")
    for each in net["machines"]:
        out = out + mean(f"{each['id']}.current1_a")
        tied, closed = each["travelling_capacitance_f"], time[1:] > each["closes_s"] + step
        out = out + closed * (into(tied["c12"], "v12_v") - into(tied["c31"], "v31_v"))
    quiet = np.ones(out.size, bool)
    for event in found.json["events"]:
        quiet &= abs(time[1:] - event["at_s"] - step) > 3 * step
    miss = abs(out - mean("supply_a"))
    assert quiet.mean() > 0.95
    assert miss[quiet].max() < 2e-4 * found.json["supply_peak_a"]


def test_the_source_behind_its_impedance_row_by_row(tmp_path):
    """e - v12 = R i + L di/dt, and the three volts add up to nothing."""
    found = back(written(RUN, tmp_path / "out"))
    of, wave = found.json["network"]["source"], found.wave
    w, step = 2 * math.pi * of["frequency_hz"], found.time[1] - found.time[0]
    e = math.sqrt(2) * of["voltage_v"] * np.sin(w * found.time + of["phase_rad"])
    g = math.tan(w * step / 2) / w
    mid = [0.5 * (x[1:] + x[:-1]) for x in (e, wave["v12_v"], wave["supply_a"])]
    miss = mid[0] - mid[1] - of["resistance_ohm"] * mid[2]
    miss = miss - of["reactance_ohm"] / w * np.diff(wave["supply_a"]) / (2 * g)
    quiet = np.ones(miss.size, bool)
    for event in found.json["events"]:
        quiet &= abs(found.time[1:] - event["at_s"] - step) > 3 * step
    assert abs(miss[quiet]).max() < 1e-4 * of["voltage_v"]
    total = wave["v12_v"] + wave["v23_v"] + wave["v31_v"]
    assert abs(total).max() < 1e-4


def test_rows_a_cycle_and_names_in_quotes():
    assert [every_of(replace(RUN, steps_per_cycle=n)) for n in (40, 100, 400, 1600)] == [
        1,
        1,
        4,
        16,
    ]
    with pytest.raises(UsageError, match="40 rows"):
        every_of(replace(RUN, steps_per_cycle=38))
    machine = replace(RUN.starters[0].machine, name='Saw, "big"/motor')
    course = replace(
        RUN,
        starters=(replace(RUN.starters[0], machine=machine),),
        start=None,
        load_steps=(),
        seconds=0.1,
    )
    rows = list(csv.reader("".join(csv_lines(waves(course, every=1))).splitlines()))
    assert rows[0] == columns_of(course)
    assert rows[0][5:] == [
        f'Saw, "big"/motor.{n}'
        for n in ("current1_a", "current2_a", "current3_a", "torque_nm", "speed_rpm")
    ]
    assert len(rows) == 1 + 5 * 100
    assert {len(row) for row in rows} == {10}


def test_a_supply_without_impedance_is_said(tmp_path):
    out = written(replace(RUN, source=Source(230.0, 0.0, 0.0, 50.0)), tmp_path / "out")
    told = json.loads((out / "start.json").read_text("utf-8"))
    assert "hardly any impedance" in told["told"][0]
    assert told["network"]["source"]["resistance_ohm"] == 0.0


def test_operating_points_alone(tmp_path):
    write_points(*settled_points(RUN), RUN, tmp_path)
    told = json.loads((tmp_path / "start.json").read_text("utf-8"))
    CHECK.validate(told)
    assert list(told) == ["settled", "network"]
    assert read_network(tmp_path / "start.json") == RUN
    run = run_network(replace(RUN, seconds=2.5, load_steps=(LoadStep("motor", 0.9, 0.5),)))
    assert told["settled"][0]["line_voltages_v"] == pytest.approx(
        run.waves.volts_v[-1].tolist(), rel=0.01
    )


def test_figures_are_those_of_the_waves():
    found = run_network(RUN)
    assert found.verdict.supply_peak_a == abs(waves(RUN, every=1).record[:, 4]).max()
