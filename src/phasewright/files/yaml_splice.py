"""Changing a few places of a YAML text and leaving every other letter as it is."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from phasewright.files import yaml_tree
from phasewright.files.yaml_tree import Items, Node, Scalar
from phasewright.files.yaml_words import Entry, block, flow, listed_item
from phasewright.quantities.errors import UsageError

_STEP = re.compile(r"\.?([A-Za-z_][A-Za-z0-9_]*)|\[([0-9]{1,6})\]")


def changed(text: str, changes: Mapping[str, Entry | None], name: str) -> str:
    """The text with every change made, one after the other.

    A path leads to a key or an item; None takes it away, anything else replaces or adds it. The
    word `none` gives way to keys that are wanted under it.
    Raises UsageError for a path that cannot be followed, ShopFileError for text that is no
    YAML of ours.
    """
    windows = text.count("\r\n") == text.count("\n") > 0
    text = text.replace("\r\n", "\n") if windows else text
    for path, entry in changes.items():
        text = _change(text, path, entry, name)
    return text.replace("\n", "\r\n") if windows else text


def steps(path: str) -> list[str | int]:
    """The keys and indices of a path such as `machines[1].name`."""
    found: list[str | int] = []
    at = 0
    while at < len(path):
        step = _STEP.match(path, at)
        if not step:
            raise UsageError(f"'{path}' is no path in a shop file")
        found.append(step.group(1) if step.group(1) else int(step.group(2)))
        at = step.end()
    if not found:
        raise UsageError("an empty path leads nowhere")
    return found


def _change(text: str, path: str, entry: Entry | None, name: str) -> str:
    way = steps(path)
    holder: Node = yaml_tree.tree(text, name)
    for i, step in enumerate(way[:-1]):
        if not _has(holder, step, path):
            return text if entry is None else _add(text, holder, step, _nest(way[i + 1 :], entry))
        under = _at(holder, step)
        if isinstance(under, Scalar) and under.text == "none" and entry is not None:
            return _replace(text, holder, step, _nest(way[i + 1 :], entry))
        holder = under
    last = way[-1]
    if not _has(holder, last, path):
        return text if entry is None else _add(text, holder, last, entry)
    if entry is None:
        return _remove(text, holder, last, path)
    return _replace(text, holder, last, entry)


def _has(holder: Node, step: str | int, path: str) -> bool:
    if isinstance(holder, yaml_tree.Mapping) and isinstance(step, str):
        return step in holder.nodes
    if isinstance(holder, Items) and isinstance(step, int) and step <= len(holder.items):
        return step < len(holder.items)
    raise UsageError(f"'{path}' leads nowhere: there is no place for '{step}'")


def _at(holder: Node, step: str | int) -> Node:
    if isinstance(holder, yaml_tree.Mapping) and isinstance(step, str):
        return holder.nodes[step]
    if isinstance(holder, Items) and isinstance(step, int):
        return holder.items[step]
    raise UsageError(f"there is no place for '{step}'")


def _nest(way: list[str | int], entry: Entry) -> Entry:
    """The entry inside the mappings and lists that the rest of the way needs."""
    for step in reversed(way):
        if isinstance(step, int) and step:
            raise UsageError(f"a list begins with item 0, not {step}")
        entry = {step: entry} if isinstance(step, str) else [entry]
    return entry


def _replace(text: str, holder: Node, step: str | int, entry: Entry) -> str:
    node = _at(holder, step)
    if isinstance(node, Scalar) and not node.empty:
        return text[: node.start] + flow(entry) + text[node.end :]
    if isinstance(holder, yaml_tree.Mapping) and isinstance(step, str):
        start = holder.keys[step].end
        return text[:start] + f": {flow(entry)}" + text[max(start + 1, _end(text, node)) :]
    return text[: node.start] + flow(entry) + text[_end(text, node) :]


def _end(text: str, node: Node) -> int:
    """Where what belongs to a node ends, without the blank and comment lines after it."""
    if isinstance(node, Scalar):
        return node.start + len(text[node.start : node.end].rstrip())
    if node.flow:
        return node.end
    parts = list(node.nodes.values()) if isinstance(node, yaml_tree.Mapping) else node.items
    last = _end(text, parts[-1])
    if isinstance(node, yaml_tree.Mapping):
        last = max(last, text.find(":", list(node.keys.values())[-1].end) + 1)
    return last


def _add(text: str, holder: Node, step: str | int, entry: Entry) -> str:
    if isinstance(holder, Scalar):
        raise UsageError(f"there is no place for '{step}' in a single value")
    if holder.flow:
        words = f"{step}: {flow(entry)}" if isinstance(step, str) else flow(entry)
        close = holder.end - 1
        inside = text[holder.start + 1 : close].strip()
        joint = "" if not inside or inside.endswith(",") else ", "
        head = text[:close].rstrip()
        return head + joint + words + text[close:]
    end = _line_end(text, _end(text, holder))
    column = holder.start - _line_start(text, holder.start)
    lines = block({step: entry}, column) if isinstance(step, str) else listed_item(entry, column)
    return text[:end] + "\n" + "\n".join(lines) + text[end:]


def _remove(text: str, holder: Node, step: str | int, path: str) -> str:
    parts = _spans(text, holder)
    at = list(holder.nodes).index(str(step)) if isinstance(holder, yaml_tree.Mapping) else step
    if not isinstance(at, int) or isinstance(holder, Scalar):
        raise UsageError(f"'{path}' cannot be taken away")
    start, end = parts[at]
    if holder.flow:
        if at + 1 < len(parts):
            return text[:start] + text[parts[at + 1][0] :]
        return text[: parts[at - 1][1] if at else start] + text[end:]
    if len(parts) == 1:
        raise UsageError(f"'{path}' is the last of its kind here; take away what holds it")
    begin = _line_start(text, start)
    if text[begin:start].strip():  # the first key of a list item, behind its dash
        return text[:start] + text[parts[at + 1][0] :]
    return text[:begin] + text[_line_end(text, end) + 1 :]


def _spans(text: str, holder: Node) -> list[tuple[int, int]]:
    if isinstance(holder, yaml_tree.Mapping):
        pairs = zip(holder.keys.values(), holder.nodes.values(), strict=True)
        return [(key.start, max(_end(text, node), key.end + 1)) for key, node in pairs]
    if isinstance(holder, Items) and holder.flow:
        return [(item.start, _end(text, item)) for item in holder.items]
    if isinstance(holder, Items):
        ends = [_end(text, item) for item in holder.items]
        return list(zip(_dashes(text, holder, ends), ends, strict=True))
    return []


def _dashes(text: str, holder: Items, ends: list[int]) -> Iterator[int]:
    """The places of the dashes of a block list; they stand in one column."""
    yield holder.start
    column = holder.start - _line_start(text, holder.start)
    dash = re.compile(rf"^ {{{column}}}-", re.MULTILINE)
    for end in ends[:-1]:
        found = dash.search(text, end)
        if not found:
            raise UsageError("a list in this file is laid out in a way that cannot be changed")
        yield found.end() - 1


def _line_start(text: str, at: int) -> int:
    return text.rfind("\n", 0, at) + 1


def _line_end(text: str, at: int) -> int:
    end = text.find("\n", at)
    return len(text) if end < 0 else end
