"""Reading a JSON file into frozen data: every mistake at once, each with its path.

The shapes are those of `shop.keys`, read from the annotations of the data classes; numbers must be
numbers and nothing is turned into something else. Where a key may be left out, null says the same.
"""

from __future__ import annotations

import json
import math
from collections.abc import Iterable
from typing import Any

from phasewright.files.shop_file import within
from phasewright.files.shop_words import stand_in, wanted
from phasewright.quantities.errors import Mistake, ShopFileError
from phasewright.quantities.text import nearest
from phasewright.shop import keys
from phasewright.shop.faults import Fault
from phasewright.shop.keys import Shape, keys_of

MOST_MISTAKES = 200
_CUT = 60


class Keyed(dict[str, Any]):
    """An object of the file; `repeated` are the keys that stand there more than once."""

    repeated: tuple[str, ...] = ()


class Bare(str):
    """What stands in the file where JSON has no such value (NaN, Infinity)."""


def tree_of(text: str, name: str) -> Any:
    """The tree of a JSON text; `name` names the file in mistakes.

    Raises ShopFileError where the text is no JSON or nested too deep to be one of ours.
    """
    try:
        return json.loads(
            text, object_pairs_hook=_keyed, parse_constant=Bare, parse_int=_number
        )  # fmt: skip
    except json.JSONDecodeError as fault:
        found = f"is no JSON here: {fault.msg}, at letter {fault.colno}"
        raise _refused(name, fault.lineno, found, "keys and values in JSON") from fault
    except RecursionError as fault:
        allowed = "keys as docs/contract.md says"
        raise _refused(name, 0, "is nested far too deep", allowed) from fault


def _keyed(pairs: list[tuple[str, Any]]) -> Keyed:
    made = Keyed(pairs)
    if len(made) < len(pairs):
        names = [key for key, _ in pairs]
        made.repeated = tuple(sorted({key for key in names if names.count(key) > 1}))
    return made


def _number(digits: str) -> float | int:
    """A whole number; one too long for that is a number without bounds, which no key allows."""
    return int(digits) if len(digits) < 20 else float(digits)


def _refused(name: str, line: int, found: str, allowed: str) -> ShopFileError:
    return ShopFileError((Mistake(name, line, "", found, allowed),))


class Reader:
    """Walks a tree beside the shapes of its keys and collects mistakes.

    A stand-in takes the place of what cannot be read, so that the rest can be judged; nothing
    made of it may leave before `judge` has been called.
    """

    def __init__(self, name: str) -> None:
        self._name = name
        self._mistakes: list[Mistake] = []
        self._broken: list[str] = []

    def judge(self, faults: Iterable[Fault], under: str = "") -> None:
        """Tell the disagreements that do not rest on a mistake told already.

        Raises ShopFileError where there is any mistake. `under` is the path of what was read.
        """
        for fault in faults:
            paths = [_join(under, path) for path in (fault.path, *fault.also)]
            if "" in self._broken or under in self._broken:
                break
            if not any(within(one, path) or within(path, one)
                       for one in self._broken for path in paths):  # fmt: skip
                self._tell(paths[0], fault.found, fault.allowed, fault.remedy)
        if self._mistakes:
            raise ShopFileError(tuple(self._mistakes[:MOST_MISTAKES]))

    def _tell(self, path: str, found: str, allowed: str, remedy: str) -> None:
        self._mistakes.append(Mistake(self._name, 0, path, found, allowed, remedy))

    def _refuse(self, path: str, found: str, allowed: str, remedy: str = "") -> None:
        self._broken.append(path)
        self._tell(path, found, allowed, remedy)

    def part(self, node: Any, path: str, shape: keys.Part) -> Any:
        """One of the data classes from an object."""
        if not isinstance(node, Keyed):
            self._refuse(path, found_in(node), f"an object: {wanted(shape)}")
            return stand_in(shape)
        known = keys_of(shape.made_of)
        for name in node.repeated:
            self._refuse(_join(path, name), "stands here more than once", "every key once")
        for name in node:
            if name not in known:
                self._unknown(name, path, [key for key in known if key not in node])
        made: dict[str, Any] = {}
        for name, key in known.items():
            where = _join(path, name)
            value = node.get(name)
            if value is None and not key.required:
                continue
            if name not in node:
                self._refuse(where, "is missing", f"must be there: {wanted(key.shape)}")
                made[name] = stand_in(key.shape)
            else:
                made[name] = self._value(value, where, key.shape)
        return shape.made_of(**made)

    def _unknown(self, name: str, path: str, free: list[str]) -> None:
        like = nearest(name, free)
        remedy = f"did you mean '{like}'?" if like else "take it out"
        allowed = f"one of {', '.join(free)}" if free else "nothing else: all keys are there"
        self._refuse(_join(path, _printable(name)), "is no key here", allowed, remedy)

    def _value(self, node: Any, path: str, shape: Shape) -> Any:
        match shape:
            case keys.Part():
                return self.part(node, path, shape)
            case keys.ListOf():
                return self._list(node, path, shape)
            case keys.Number() if (number := _within(node, shape)) is not None:
                return number
            case keys.Either() if (number := _within(node, shape.number)) is not None:
                return number
            case keys.Either() if isinstance(node, str) and node in shape.word.options:
                return node
            case keys.Choice() if isinstance(node, str) and node in shape.options:
                return node
            case keys.Flag() if isinstance(node, bool):
                return node
            case keys.Text() if _fits(node, shape):
                return node
        self._refuse(path, found_in(node), wanted(shape), _remedy(node, shape))
        return stand_in(shape)

    def _list(self, node: Any, path: str, shape: keys.ListOf) -> tuple[Any, ...]:
        if not isinstance(node, list):
            self._refuse(path, found_in(node), f"a list of {wanted(shape.item)}")
            return ()
        if len(node) > shape.most:
            self._refuse(path, f"a list of {len(node)} items", f"at most {shape.most}")
            return ()
        return tuple(self._value(item, f"{path}[{at}]", shape.item) for at, item in enumerate(node))


def found_in(node: Any) -> str:
    """What stands there, cut short and made printable."""
    if isinstance(node, dict):
        return "an object"
    if isinstance(node, list):
        return "a list"
    if isinstance(node, str) and not isinstance(node, Bare):
        return f"the text '{_printable(node)}'"
    return _printable(str(node)) if isinstance(node, Bare) else _printable(json.dumps(node))


def _within(node: Any, shape: keys.Number) -> float | int | None:
    """The number, where it is one and between the bounds."""
    if isinstance(node, bool) or not isinstance(node, int | float) or not math.isfinite(node):
        return None
    if not shape.low <= node <= shape.high or (shape.whole and not float(node).is_integer()):
        return None
    return int(node) if shape.whole else float(node)


def _fits(node: Any, shape: keys.Text) -> bool:
    return (
        isinstance(node, str) and not isinstance(node, Bare)
        and 0 < len(node) <= shape.longest and node.isprintable()
    )  # fmt: skip


def _remedy(node: Any, shape: Shape) -> str:
    words = shape.word if isinstance(shape, keys.Either) else shape
    if isinstance(words, keys.Choice) and isinstance(node, str):
        like = nearest(node, words.options)
        return f"did you mean '{like}'?" if like else ""
    if isinstance(shape, keys.Number | keys.Either) and isinstance(node, str):
        return "write the number in SI, without quotes and without a unit"
    return ""


def _printable(text: str) -> str:
    shown = "".join(c if c.isprintable() else "?" for c in text[:_CUT])
    return shown + "…" if len(text) > _CUT else shown


def _join(path: str, name: str) -> str:
    return f"{path}.{name}" if path else name
