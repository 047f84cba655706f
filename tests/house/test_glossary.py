"""The glossary knows every name: closed lists, fields of the result file, keys of the shop file."""

import dataclasses
import re
import runpy
from pathlib import Path

import pytest

from phasewright.files.result_schema import result_schema, schema_of
from phasewright.files.start_file import StartFile
from phasewright.files.wiring_files import WiringFile
from phasewright.shop import model, plate, standing

ROOT = Path(__file__).resolve().parents[2]
TEXT = (ROOT / "docs" / "glossary.md").read_text(encoding="utf-8")
NAMES = set(re.findall(r"`([^`\s]+)`", TEXT))
OURS = {"file", "lines"}  # where a shop was read from; no keys of the file


def result_names() -> set[str]:
    records = result_schema()["$defs"].values()
    return {name for record in records for name in record["properties"]}


def start_names() -> set[str]:
    records = schema_of(StartFile, "")["$defs"].values()
    return {name for record in records for name in record["properties"]}


def wiring_names() -> set[str]:
    records = schema_of(WiringFile, "")["$defs"].values()
    return {name for record in records for name in record["properties"]}


def shop_names() -> set[str]:
    return {
        entry.name
        for module in (model, plate, standing)
        for kind in vars(module).values()
        if dataclasses.is_dataclass(kind) and kind.__module__ == module.__name__
        for entry in dataclasses.fields(kind)
    }


def test_the_result_file_has_names_to_look_for():
    assert {"headline", "magnetising_ohm", "r", "from"} <= result_names()


@pytest.mark.parametrize("names", [result_names, start_names, wiring_names, shop_names])
def test_every_name_stands_in_the_glossary(names):
    assert sorted(names() - NAMES - OURS) == []


def test_the_closed_lists_are_those_of_the_code():
    tool = runpy.run_path(str(ROOT / "tools" / "glossary.py"))
    assert tool["renewed"](TEXT) == TEXT
    assert len(tool["closed_lists"]()["WayName"]) == 10


def test_a_list_that_grew_would_be_missed(monkeypatch):
    from phasewright.quantities import codes

    tool = runpy.run_path(str(ROOT / "tools" / "glossary.py"))
    monkeypatch.setattr(codes, "Verdict", codes.Literal["suits", "with_conditions", "maybe"])
    with pytest.raises(KeyError):
        tool["renewed"](TEXT)
