"""What the README tells the reader to type is there and works."""

import json
import re
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")
TYPED = [
    line.split("#")[0].strip()
    for block in re.findall(r"```\n(.*?)```", README, re.S)
    for line in block.splitlines()
]
TARGETS = set(re.findall(r"^([a-z]+):", (ROOT / "Makefile").read_text(encoding="utf-8"), re.M))
PROGRAM = ".venv/bin/phasewright "


def test_there_is_something_to_type():
    assert TYPED[:2] == ["make", "make test"]
    assert len(TYPED) >= 5


@pytest.mark.parametrize("line", [line for line in TYPED if line.startswith("make")])
def test_make_knows_the_target(line):
    assert line == "make" or line.removeprefix("make ") in TARGETS
    told = subprocess.run(
        ["make", "--dry-run", *line.split()[1:]],
        cwd=ROOT, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert told.returncode == 0, told.stderr


@pytest.mark.whole
@pytest.mark.parametrize("line", [line for line in TYPED if not line.startswith("make")])
def test_the_program_does_it(line, tmp_path):
    assert line.startswith(PROGRAM)
    arguments = line.removeprefix(PROGRAM).replace("examples/", f"{ROOT}/examples/").split()
    told = subprocess.run(
        [sys.executable, "-m", "phasewright", *arguments],
        cwd=tmp_path, capture_output=True, text=True, check=False, timeout=300,
    )  # fmt: skip
    assert told.returncode == 0, told.stderr
    if "--out" in arguments:
        written = {entry.name for entry in (tmp_path / arguments[-1]).iterdir()}
        told = json.loads((tmp_path / arguments[-1] / "study.json").read_text(encoding="utf-8"))
        plan = next(each for each in told["plans"] if each["id"] == told["answer"]["plan"])
        drives = any("settings" in motor["figures"] for motor in plan["motors"])
        sheets = {"settings.csv", "drives.txt"} if drives else set()
        wiring = json.loads((tmp_path / arguments[-1] / "wiring.json").read_text(encoding="utf-8"))
        drawn = set() if wiring["faults"] else {"drawings", "lists"}
        pdfs = {"report.pdf", "sheets.pdf"}
        always = {"study.json", "workings.json", "wiring.json", "sheets"} | pdfs
        assert written == always | sheets | drawn


@pytest.mark.parametrize("link", re.findall(r"\]\(([^)]+)\)", README))
def test_every_link_leads_somewhere(link):
    assert (ROOT / link).exists()
