"""YAML text to a tree that knows its lines, safe against whatever is in the file.

The tree is built from the parser's events, so that a hostile file is refused before anything
grows: no alias is ever followed, and size, depth and count of nodes are capped.
"""

from __future__ import annotations

import stat
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Final

from ruamel.yaml import YAML
from ruamel.yaml.error import MarkedYAMLError, YAMLError
from ruamel.yaml.events import (
    AliasEvent,
    DocumentStartEvent,
    MappingEndEvent,
    MappingStartEvent,
    ScalarEvent,
    SequenceEndEvent,
    SequenceStartEvent,
)

from phasewright.quantities.errors import Mistake, ShopFileError

MOST_BYTES: Final = 1_000_000
MOST_NODES: Final = 30_000
MOST_DEPTH: Final = 20


@dataclass(slots=True)
class Scalar:
    """A single value as it is typed; `start` and `end` are its place in the text."""

    text: str
    plain: bool
    line: int
    start: int
    end: int

    @property
    def empty(self) -> bool:
        """True where nothing stands after the key."""
        return self.plain and self.text in ("", "~", "null", "Null", "NULL")


@dataclass(slots=True)
class Items:
    """A list."""

    line: int
    start: int
    flow: bool
    end: int = 0
    items: list[Node] = field(default_factory=list)


@dataclass(slots=True)
class Mapping:
    """A mapping; `keys` holds the scalar of each key, `nodes` what stands there."""

    line: int
    start: int
    flow: bool
    end: int = 0
    keys: dict[str, Scalar] = field(default_factory=dict)
    nodes: dict[str, Node] = field(default_factory=dict)


Node = Scalar | Items | Mapping


def load(path: Path) -> str:
    """The text of a file. Raises ShopFileError where it is no readable text of modest size."""
    name = str(path)
    try:
        if not stat.S_ISREG(path.stat().st_mode):
            raise _refused(name, 0, "is no ordinary file", "a file")
        with path.open("rb") as file:
            raw = file.read(MOST_BYTES + 1)
    except OSError as error:
        raise _refused(name, 0, f"cannot be read: {error.strerror or error}", "a file") from error
    return decoded(raw, name)


def decoded(raw: bytes, name: str) -> str:
    """The text of these bytes. Raises ShopFileError for binary, other encodings and size."""
    if len(raw) > MOST_BYTES:
        raise _refused(name, 0, "is larger than 1 MB", "such a file has some hundred lines")
    if raw.startswith((b"\xff\xfe", b"\xfe\xff")) or b"\x00" in raw:
        raise _refused(name, 0, "is not plain text", "text in UTF-8")
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        message = "holds a letter that is not UTF-8"
        raise _refused(name, line, message, "text in UTF-8: save it as UTF-8") from error


def tree(text: str, name: str) -> Mapping:
    """The tree of a YAML text with a mapping on top; `name` names the file in mistakes.

    Raises ShopFileError where the text is no YAML, has something else than one mapping on top,
    repeats a key, uses anchors, aliases or tags, or is too large or too deep.
    """
    if len(text.encode("utf-8", "surrogatepass")) > MOST_BYTES:
        raise _refused(name, 0, "is larger than 1 MB", "such a file has some hundred lines")
    try:
        top = _Builder(name).build(text)
    except MarkedYAMLError as error:
        raise _not_yaml(name, error, text) from error
    except YAMLError as error:
        message = " ".join(str(error).split())[:200]
        raise _refused(name, 0, f"is no YAML: {message}", "text with keys and values") from error
    if not isinstance(top, Mapping):
        found = "is empty" if top is None else "has no keys on top"
        line = 0 if top is None else top.line
        raise _refused(name, line, found, "keys and values, beginning with 'phasewright: 1'")
    return top


class _Builder:
    """Builds the tree event by event, on a stack of its own."""

    def __init__(self, name: str) -> None:
        self._name = name
        self._stack: list[Items | Mapping] = []
        self._key: list[Scalar | None] = []
        self._top: Node | None = None
        self._documents = 0
        self._nodes = 0

    def build(self, text: str) -> Node | None:
        for event in YAML(typ="safe", pure=True).parse(text):
            self._take(event)
        return self._top

    def _take(self, event: Any) -> None:
        line = event.start_mark.line + 1
        if isinstance(event, DocumentStartEvent):
            self._documents += 1
            if self._documents > 1:
                raise _refused(self._name, line, "a second document begins", "one shop a file")
        elif isinstance(event, AliasEvent):
            raise _refused(self._name, line, "an alias ('*') stands here", _WRITTEN_OUT)
        elif isinstance(event, (MappingEndEvent, SequenceEndEvent)):
            self._key.pop()
            self._stack.pop().end = event.end_mark.index
        elif isinstance(event, (ScalarEvent, MappingStartEvent, SequenceStartEvent)):
            self._begin(event, line)

    def _begin(self, event: Any, line: int) -> None:
        if event.anchor:
            raise _refused(self._name, line, "an anchor ('&') stands here", _WRITTEN_OUT)
        if event.tag and str(event.tag) != "!":
            raise _refused(self._name, line, "a tag ('!') stands here", "plain values only")
        self._nodes += 1
        if self._nodes > MOST_NODES:
            message = f"holds more than {MOST_NODES} values"
            raise _refused(self._name, line, message, "such a file has some hundred lines")
        start, end = event.start_mark.index, event.end_mark.index
        if isinstance(event, ScalarEvent):
            plain = event.style is None or event.style == ""
            self._add(Scalar(event.value, plain, line, start, end))
            return
        if len(self._stack) >= MOST_DEPTH:
            message = f"is nested deeper than {MOST_DEPTH} levels"
            raise _refused(self._name, line, message, "keys as the contract names them")
        made = Mapping if isinstance(event, MappingStartEvent) else Items
        node = made(line, start, bool(event.flow_style))
        self._add(node)
        self._stack.append(node)
        self._key.append(None)

    def _add(self, node: Node) -> None:
        if not self._stack:
            self._top = node
            return
        holder = self._stack[-1]
        if isinstance(holder, Items):
            holder.items.append(node)
            return
        key = self._key[-1]
        if key is not None:
            if isinstance(node, Scalar) and node.empty:
                node.line = key.line  # the parser sees an empty value on the next line
            holder.nodes[key.text] = node
            self._key[-1] = None
            return
        if not isinstance(node, Scalar):
            raise _refused(self._name, node.line, "a key is a list or a mapping", "a word as key")
        if node.text in holder.keys:
            first = holder.keys[node.text].line
            message = f"the key '{_cut(node.text)}' stands here again, first in line {first}"
            raise _refused(self._name, node.line, message, "every key once")
        holder.keys[node.text] = node
        self._key[-1] = node


_WRITTEN_OUT = "values written out where they are needed; put text with such a sign in quotes"


def _not_yaml(name: str, error: MarkedYAMLError, text: str) -> ShopFileError:
    mark = error.problem_mark or error.context_mark
    line = mark.line + 1 if mark else 0
    lines = text.splitlines()
    here = lines[line - 1] if 0 < line <= len(lines) else ""
    if "\t" in here:
        return _refused(name, line, "a tab stands in this line", "spaces to indent with")
    problem = " ".join(str(error.problem or error.context or "it cannot be read").split())
    return _refused(name, line, f"is no YAML here: {problem[:200]}", "text with keys and values")


def _refused(name: str, line: int, found: str, allowed: str) -> ShopFileError:
    return ShopFileError((Mistake(name, line, "", found, allowed),))


def _cut(text: str) -> str:
    return text if len(text) <= 60 else text[:60] + "…"
