"""The house as it is laid out: folders, empty doors, the list of ways, what a door may load."""

import ast
import importlib
import importlib.util
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from phasewright.quantities.codes import WAYS

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "src" / "phasewright"
CONTRACTS = {
    contract["id"]: contract
    for contract in tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["tool"][
        "importlinter"
    ]["contracts"]
}
FOLDERS = sorted(
    entry.name for entry in PACKAGE.iterdir() if entry.is_dir() and entry.name != "__pycache__"
)


def test_every_folder_has_its_floor_and_no_floor_is_empty():
    assert sorted(CONTRACTS["floors"]["layers"]) == FOLDERS


@pytest.mark.parametrize("folder", FOLDERS)
def test_the_door_of_a_folder_is_empty(folder):
    assert (PACKAGE / folder / "__init__.py").read_text() == ""


def test_no_folder_is_a_drawer_for_everything():
    names = {path.stem for path in PACKAGE.rglob("*")}
    assert not names & {"utils", "helpers", "common", "core", "misc"}


def test_the_ways_that_must_not_know_each_other_are_the_ten():
    listed = [name.rpartition(".")[2] for name in CONTRACTS["ways"]["modules"]]
    assert sorted(listed) == sorted(WAYS)


def test_the_locks_name_no_address_and_have_a_hash_for_everything():
    for lock in (ROOT / "locks").glob("*.txt"):
        text = lock.read_text(encoding="utf-8")
        assert "://" not in text
        lines = text.splitlines()
        named = [place for place, line in enumerate(lines) if "==" in line]
        assert named
        for place in named:
            assert "--hash=sha256:" in lines[place + 1]


def loaded_by(program):
    """Top-level names of the modules a program has loaded when it ends."""
    ending = "; import sys; print(*sorted({name.split('.')[0] for name in sys.modules}))"
    told = subprocess.run(
        [sys.executable, "-c", program + ending], capture_output=True, text=True, check=True
    )
    return set(told.stdout.splitlines()[-1].split())


@pytest.mark.parametrize(
    ("program", "barred"),
    [
        ("import phasewright", {"numpy", "scipy", "numba", "rich", "ruamel", "argparse"}),
        ("import phasewright.command.app", {"numpy", "scipy", "numba", "rich", "ruamel"}),
        (
            "import phasewright.command.study, phasewright.job.study",
            {"fastapi", "starlette", "uvicorn", "jinja2", "pydantic"},
        ),
        (
            "import sys; from phasewright.command.app import run; "
            f"run(['check', {str(ROOT / 'examples' / 'pottery.shop.yaml')!r}])",
            {"scipy", "numba"},
        ),
    ],
)
def test_a_door_loads_no_more_than_it_needs(program, barred):
    assert loaded_by(program) & barred == set()


@pytest.mark.parametrize(
    "path",
    sorted((*ROOT.glob("benchmarks/*.py"), *ROOT.glob("tools/*.py"))),
    ids=lambda of: of.name,
)
def test_what_a_program_beside_the_house_takes_from_it_is_there(path):
    """No test runs a benchmark: a name that moved away would be missed only when it is run."""
    missing = [
        f"{taken.module}.{name.name}"
        for taken in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(taken, ast.ImportFrom) and (taken.module or "").startswith("phasewright")
        for name in taken.names
        if not hasattr(importlib.import_module(taken.module), name.name)
        and importlib.util.find_spec(f"{taken.module}.{name.name}") is None
    ]
    assert missing == []
