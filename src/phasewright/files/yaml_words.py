"""Plain data as YAML text, in the form the shop files of this house have."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping, Sequence
from typing import TypeAlias

Entry: TypeAlias = "str | float | int | bool | Sequence[Entry] | Mapping[str, Entry]"
"""What may stand at a key: text, a number, true or false, a list, a mapping."""

WIDE = 96
_PLAIN = re.compile(r"[A-Za-z0-9.](?:[A-Za-z0-9 ._/°µ²()+-]*[A-Za-z0-9.)²])?")


def flow(entry: Entry) -> str:
    """The entry in one line: `{length: 25 m, conductor: 10 mm2}`."""
    if isinstance(entry, str):
        return _quoted(entry)
    if isinstance(entry, bool):
        return "true" if entry else "false"
    if isinstance(entry, (int, float)):
        return f"{entry:.17g}" if float(f"{entry:.15g}") != entry else f"{entry:.15g}"
    if isinstance(entry, Mapping):
        return "{" + ", ".join(f"{key}: {flow(part)}" for key, part in entry.items()) + "}"
    return "[" + ", ".join(flow(part) for part in entry) + "]"


def block(entry: Mapping[str, Entry], indent: int = 0) -> Iterator[str]:
    """The lines of a mapping, one key a line, what is small in one line."""
    lead = " " * indent
    for key, part in entry.items():
        if _small(part, indent + len(key) + 2):
            yield f"{lead}{key}: {flow(part)}"
        elif isinstance(part, Mapping):
            yield f"{lead}{key}:"
            yield from block(part, indent + 2)
        elif isinstance(part, Sequence) and not isinstance(part, str):
            yield f"{lead}{key}:"
            for item in part:
                yield from listed_item(item, indent + 2)
        else:
            yield f"{lead}{key}: {flow(part)}"


def listed_item(item: Entry, indent: int) -> Iterator[str]:
    """The lines of one item of a list, the dash at `indent`."""
    lead = " " * indent
    if not isinstance(item, Mapping) or _small(item, indent + 2):
        yield f"{lead}- {flow(item)}"
        return
    first, *others = block(item, indent + 2)
    yield f"{lead}- {first.lstrip()}"
    yield from others


def _small(entry: Entry, column: int) -> bool:
    if not isinstance(entry, str | float | int) and column + len(flow(entry)) > WIDE:
        return False
    if isinstance(entry, Mapping):
        return len(entry) <= 5 and not any(_holds_keys(part) for part in entry.values())
    return not _holds_keys(entry)


def _holds_keys(entry: Entry) -> bool:
    if isinstance(entry, Sequence) and not isinstance(entry, str):
        return any(isinstance(part, Mapping) for part in entry)
    return isinstance(entry, Mapping)


def _quoted(text: str) -> str:
    if _PLAIN.fullmatch(text) and text not in ("null", "Null", "NULL"):
        return text
    return json.dumps(text, ensure_ascii=False)
