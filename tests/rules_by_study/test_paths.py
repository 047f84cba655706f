"""Every remedy that names a place in the shop file can be put there, in every shop we have."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from rules_by_study.edits import entry_of

import phasewright
from phasewright.files.shop_file import read_text
from phasewright.files.yaml_splice import changed
from phasewright.shop import keys
from phasewright.shop.model import Shop

pytestmark = pytest.mark.whole
ROOT = Path(__file__).resolve().parents[2]
SHOPS = sorted((*(ROOT / "examples").glob("*.shop.yaml"),
                *(ROOT / "tests" / "stories").glob("*.shop.yaml")))  # fmt: skip


def remedies(study):
    """Of every finding and of every condition of a way."""
    said = [
        *study.findings,
        *(
            each
            for motor in study.motors
            for way in motor.ways
            for each in (*way.conditions, *way.reasons)
        ),
    ]
    return {each.remedy for each in said if each.remedy is not None and each.remedy.path}


def stands(path):
    """Whether the shop file has a key at this path at all."""
    shape = keys.Part(Shop)
    for step in re.findall(r"[^.\[\]]+", path):
        if isinstance(shape, keys.ListOf) and step.isdigit():
            shape = shape.item
            continue
        if not isinstance(shape, keys.Part) or step not in keys.keys_of(shape.made_of):
            return False
        shape = keys.keys_of(shape.made_of)[step].shape
    return True


@pytest.mark.parametrize("path", SHOPS, ids=lambda path: path.name.split(".")[0])
def test_the_file_takes_every_remedy(path):
    text = path.read_text(encoding="utf-8")
    for remedy in remedies(phasewright.study(read_text(text), quick=True)):
        assert stands(remedy.path), remedy
        if remedy.value is not None:
            read_text(changed(text, {remedy.path: entry_of(remedy)}, path.name))


def test_a_path_is_a_key_of_the_file_or_is_none():
    assert stands("machines[3].circuit.isolator.poles")
    assert stands("supply.converter_circuit.cable.conductor")
    assert not stands("brake.kind")
    assert not stands("machines[0].brake.kinds")


def test_there_are_remedies_with_a_place():
    assert len(SHOPS) > 20
    study = phasewright.study(phasewright.read(str(ROOT / "examples" / "cider-barn.shop.yaml")))
    assert remedies(study)
