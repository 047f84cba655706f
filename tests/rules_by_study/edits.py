"""Small edits of one base shop, its study, and a remedy put where it says it belongs."""

from __future__ import annotations

import copy
import json
import re
from functools import lru_cache
from pathlib import Path

from ruamel.yaml import YAML

import phasewright
from phasewright.files.shop_file import read_text

FIGURES = Path(__file__).resolve().parents[1] / "figures"


def put(shop, path, entry):
    """Set, or with None take away, what stands at a path of the shop file; the word `none` gives
    way to keys."""
    *rooms, last = re.findall(r"[^.\[\]]+", path)
    at = shop
    for room in rooms:
        if isinstance(at, list):
            at = at[int(room)]
            continue
        if at.get(room) in (None, "none"):
            at[room] = {}
        at = at[room]
    where = int(last) if isinstance(at, list) else last
    if entry is None:
        at.pop(where, None)
    else:
        at[where] = entry


@lru_cache(maxsize=2)
def base():
    """One machine of one motor on a supply of line and neutral that is earthed at its source."""
    with (FIGURES / "base_shop.yaml").open(encoding="utf-8") as text:
        shop = YAML(typ="safe").load(text)
    shop["machines"] = shop["machines"][:1]
    shop["machines"][0].pop("others")
    shop.pop("quotes")
    put(shop, "supply.earthing", "TN-S")
    return shop


def edited(*edits):
    """The base shop's text with these changes, one after the other."""
    shop = copy.deepcopy(base())
    for edit in edits:
        for path, entry in edit.items():
            put(shop, path, copy.deepcopy(entry))
    return json.dumps(shop)


@lru_cache(maxsize=256)
def studied(text):
    """The quick study of a shop's text."""
    return phasewright.study(read_text(text), quick=True)


def found(text, rule):
    """What a rule finds in all plans of a shop, and what a way says by it of a motor, each with
    where it was found."""
    study = studied(text)
    plans = [
        ((each.plan, each.circuit or each.subject), each)
        for each in study.findings
        if each.rule == rule
    ]
    ways = [
        ((motor.id, way.way), each)
        for motor in study.motors
        for way in motor.ways
        for each in (*way.conditions, *way.reasons)
        if each.code == rule
    ]
    return plans + ways


def entry_of(remedy):
    """The remedy's value as a shop file has it; a limit a little inside, as an owner would."""
    if not isinstance(remedy.value, float):
        return remedy.value
    inside = 0.999 * remedy.value
    bare = remedy.unit in (None, "", "1/h")
    return inside if bare else f"{inside:.6g} {remedy.unit}"
