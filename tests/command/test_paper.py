"""`study --paper`: the paper of the report, named or the region's; wrong use is told and ends with 2."""

import subprocess
import sys
from pathlib import Path

import pypdfium2
import pytest

from phasewright.command.app import WRONG_USE, run

ROOT = Path(__file__).resolve().parents[2]
SHOP = ROOT / "examples" / "pottery.shop.yaml"
A4, LETTER = {595, 842}, {612, 792}


def test_another_paper_than_the_two_is_refused_in_words(capsys):
    assert run(["study", str(SHOP), "--out", "nowhere", "--paper", "a5"]) == WRONG_USE
    assert "--paper is one of a4, letter, not 'a5'" in capsys.readouterr().err


def test_a_paper_without_a_folder_is_refused_in_words(capsys):
    assert run(["study", str(SHOP), "--paper", "a4"]) == WRONG_USE
    assert "--out" in capsys.readouterr().err


def test_a_wrong_command_is_still_told_as_a_command(capsys):
    assert run(["stdy", str(SHOP)]) == WRONG_USE
    assert "no command 'stdy'" in capsys.readouterr().err


def test_the_help_of_study_names_what_the_folder_holds(capsys):
    assert run(["study", "--help"]) == 0
    told = " ".join(capsys.readouterr().out.split())
    for word in ("report", "drawings", "lists", "sheets", "wiring.json", "--paper"):
        assert word in told


@pytest.mark.whole
@pytest.mark.parametrize(("paper", "sides"), [("letter", LETTER), (None, A4)])
def test_the_report_lies_on_the_paper_that_is_named(tmp_path, paper, sides):
    named = [] if paper is None else ["--paper", paper]
    told = subprocess.run(
        [sys.executable, "-m", "phasewright", "study", str(SHOP), "--quick", "--out", "out", *named],
        cwd=tmp_path, capture_output=True, text=True, check=False, timeout=300,
    )  # fmt: skip
    assert told.returncode == 0, told.stderr
    with pypdfium2.PdfDocument(tmp_path / "out" / "report.pdf") as whole:
        found = {round(side) for page in whole for side in page.get_size()}
    assert found == sides
