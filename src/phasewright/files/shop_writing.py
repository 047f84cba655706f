"""Writing a shop file: a fresh one from a shop, or a few keys of one that is there."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import MISSING, fields
from pathlib import Path
from typing import Any

from phasewright.files.kept import put
from phasewright.files.shop_file import read_text
from phasewright.files.yaml_splice import changed
from phasewright.files.yaml_tree import load
from phasewright.files.yaml_words import Entry, block
from phasewright.quantities.units import spelt
from phasewright.quantities.value import Value
from phasewright.shop import keys
from phasewright.shop.keys import Shape, keys_of
from phasewright.shop.model import Shop


def write(shop: Shop, path: str | Path) -> None:
    """A fresh file of a shop; one that stands there is kept as PATH.1, PATH.2 and so on.

    What is written reads back as an equal shop; ShopFileError where the shop has facts that
    do not agree (nothing is written then), MachineFault where the computer refuses to write.
    """
    text = shop_text(shop)
    read_text(text, str(path))
    put(Path(path), text)


def shop_text(shop: Shop) -> str:
    """The text of a shop file: every key that is not at its default, in the contract's order."""
    return "\n".join(block(entries_of(shop, shop.region))) + "\n"


def rewrite(path: str | Path, changes: Mapping[str, Entry | None]) -> Shop:
    """Change some keys of a shop file and leave everything else as it is, comments too.

    `changes` maps paths such as `machines[1].motors[0].plate.power` to what shall stand there;
    None takes the key or the item away; an index one beyond a list's end adds to it. The
    version before is kept as PATH.1, PATH.2 and so on. Returns the new shop. Raises
    ShopFileError where the new text has mistakes (nothing is written then), UsageError for a
    path that cannot be followed, MachineFault where the computer refuses to write.
    """
    before = load(Path(path))
    text = changed(before, changes, str(path))
    shop = read_text(text, str(path))
    if text != before:
        put(Path(path), text)
    return shop


def entries_of(part: Any, region: str) -> dict[str, Entry]:
    """A part of a shop as entries of the file, what is at its default left out."""
    known = keys_of(type(part))
    defaults = {field.name: _default(field) for field in fields(part)}
    return {
        name: _entry(getattr(part, name), key.shape, region)
        for name, key in known.items()
        if key.required or getattr(part, name) != defaults[name]
    }


def _default(field: Any) -> Any:
    if field.default is not MISSING:
        return field.default
    return field.default_factory() if field.default_factory is not MISSING else None


def _entry(value: Any, shape: Shape, region: str) -> Entry:
    if isinstance(value, str):
        return value
    if isinstance(value, Value) and isinstance(shape, keys.Quantity):
        return spelt((value.number,), shape.kind, region)
    if isinstance(shape, keys.Quantity):
        return spelt(tuple(one.number for one in value), shape.kind, region)
    if isinstance(shape, keys.Part):
        return entries_of(value, region)
    if isinstance(shape, keys.ListOf):
        return [_entry(item, shape.item, region) for item in value]
    if isinstance(shape, keys.Pair):
        return list(value)
    plain: Entry = value
    return plain
