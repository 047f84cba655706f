"""Where on the page a fact of the shop file is typed."""

from __future__ import annotations

import re

from phasewright.job.plate import LINE_KEYS
from phasewright.shop.machine_groups import MOTOR

_MOTOR = re.compile(r"machines\[(\d+)\]\.motors\[(\d+)\]\.?(.*)")
_OTHER = re.compile(r"machines\[(\d+)\]\.others\[(\d+)\]\.?(.*)")
_MACHINE = re.compile(r"machines\[(\d+)\]\.?(.*)")
_THING = re.compile(r"(places|owned_parts|quotes)\[(\d+)\]\.?(.*)")
_PAGES = {"places": "place", "owned_parts": "shelf", "quotes": "price"}
_IN_THE_LINE = {f"plate.{key}" for key in LINE_KEYS}
_ASKED = {question.key for group in MOTOR for question in group.questions}
"""Facts of a motor with a field of their own, some of them of the plate too."""
_OWN_NAMES = {"measured_voltage": "measured", "other_loads": "loads", "kind": "feeds"}
"""Facts of the supply whose fields have names of their own."""


def typed_at(path: str) -> str:
    """The address below the shop's of the form that holds a fact, with the name of its field behind
    a #; a field of several parts is meant by the first of them."""
    if found := _MOTOR.fullmatch(path):
        machine, motor, key = found.groups()
        own = key and (key not in _IN_THE_LINE or key in _ASKED)
        return _address(f"machine/{machine}", f"motor{motor}.{key}" if own else f"line{motor}")
    if found := _OTHER.fullmatch(path):
        machine, other, key = found.groups()
        return _address(f"machine/{machine}/other/{other}", key)
    if found := _MACHINE.fullmatch(path):
        return _address(f"machine/{found[1]}", found[2])
    if found := _THING.fullmatch(path):
        return _address(f"things/{_PAGES[found[1]]}/{found[2]}", found[3])
    top, _, key = path.partition(".")
    if top != "supply":
        return _address("wishes", path)
    if key.startswith("converter_circuit"):
        return _address("converter", path)
    return _address("supply", _OWN_NAMES.get(key, key))


def _address(page: str, field: str) -> str:
    name = "".join(c if c.isascii() and c.isalnum() else "-" for c in field)
    return f"{page}#{name}" if name else page
