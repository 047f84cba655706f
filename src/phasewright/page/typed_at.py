"""Where on the page a fact of the shop file is typed."""

from __future__ import annotations

import re

_MOTOR = re.compile(r"machines\[(\d+)\]\.motors\[(\d+)\]\.?(.*)")
_OTHER = re.compile(r"machines\[(\d+)\]\.others\[(\d+)\]\.?(.*)")
_MACHINE = re.compile(r"machines\[(\d+)\]\.?(.*)")
_PLACE = re.compile(r"places\[(\d+)\]\.?(.*)")
_OWN_NAMES = {"measured_voltage": "measured", "other_loads": "loads", "kind": "feeds"}
"""Facts of the supply whose fields have names of their own."""


def typed_at(path: str) -> str:
    """The address below the shop's of the form that holds a fact, with the name of its field behind
    a #; a field of several parts is meant by the first of them."""
    if found := _MOTOR.fullmatch(path):
        machine, motor, key = found.groups()
        return _address(f"machine/{machine}", f"motor{motor}.{key}" if key else f"line{motor}")
    if found := _OTHER.fullmatch(path):
        machine, other, key = found.groups()
        return _address(f"machine/{machine}/other/{other}", key)
    if found := _MACHINE.fullmatch(path):
        return _address(f"machine/{found[1]}", found[2])
    if found := _PLACE.fullmatch(path):
        return _address(f"things/place/{found[1]}", found[2])
    top, _, key = path.partition(".")
    if top != "supply":
        return _address("wishes", path)
    if key.startswith("converter_circuit"):
        return _address("converter", path)
    return _address("supply", _OWN_NAMES.get(key, key))


def _address(page: str, field: str) -> str:
    name = "".join(c if c.isascii() and c.isalnum() else "-" for c in field)
    return f"{page}#{name}" if name else page
