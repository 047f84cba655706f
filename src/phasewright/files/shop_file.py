"""Reading a shop file: every mistake at once, each with its line, its path and what may stand."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

from phasewright.files.shop_words import found_in, stand_in, value_of, wanted
from phasewright.files.yaml_tree import Items, Mapping, Node, Scalar, load, tree
from phasewright.quantities.errors import Mistake, QuantityError, ShopFileError
from phasewright.quantities.text import nearest
from phasewright.quantities.units import parse, parse_several
from phasewright.shop import keys
from phasewright.shop.check import faults
from phasewright.shop.faults import Fault
from phasewright.shop.keys import Key, Shape, keys_of
from phasewright.shop.model import Shop

MOST_MISTAKES = 200
Single = keys.Quantity | keys.Number | keys.Either | keys.Choice | keys.Flag | keys.Text
_NUMERAL = re.compile(r"[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]+)?")
# What must be readable before names that other keys use can be compared.
_NAMING = {
    "": re.compile(r"(?!)"),
    "machines": re.compile(r"(machines|places)(\[\d+\](\.name)?)?"),
    "motors": re.compile(r"machines(\[\d+\](\.motors(\[\d+\])?)?(\.name)?)?"),
}
_TRUE = ("true", "True", "TRUE", "yes", "Yes", "YES")
_FALSE = ("false", "False", "FALSE", "no", "No", "NO")


def read(path: str | Path) -> Shop:
    """The shop of a file.

    Raises ShopFileError with every mistake in it, also where there is no such file or no text.
    """
    return read_text(load(Path(path)), str(path))


def read_text(text: str, name: str = "shop.yaml") -> Shop:
    """The shop of a YAML text; `name` stands for the file in mistakes.

    Raises ShopFileError with every mistake in it.
    """
    top = tree(text, name)
    reader = _Reader(name)
    shop: Shop = reader.part(top, "", keys.Part(Shop))
    return reader.checked(shop, top.line)


class _Reader:
    """Walks the tree beside the shapes of the keys and collects mistakes.

    Where a required value cannot be read, a stand-in takes its place so that the rest can
    still be judged; a shop with a stand-in in it never leaves, for the mistake is told.
    """

    def __init__(self, name: str) -> None:
        self._name = name
        self._lines: dict[str, int] = {}
        self._broken: list[str] = []
        self._mistakes: list[Mistake] = []

    def checked(self, shop: Shop, first_line: int) -> Shop:
        """The shop with its file and lines; raises ShopFileError where there are mistakes."""
        for fault in faults(shop):
            if not any(self._rests_on(fault, path) for path in self._broken):
                line = self._line(fault.path, first_line)
                self._tell(line, fault.path, fault.found, fault.allowed, fault.remedy)
        if self._mistakes:
            self._mistakes.sort(key=lambda mistake: mistake.line)
            raise ShopFileError(tuple(self._mistakes[:MOST_MISTAKES]))
        made = {key: getattr(shop, key) for key in keys_of(Shop)}
        return Shop(**made, file=self._name, lines=self._lines)

    def _rests_on(self, fault: Fault, broken: str) -> bool:
        if _NAMING[fault.about_names].fullmatch(broken):
            return True
        paths = (fault.path, *fault.also)
        return any(within(broken, path) or within(path, broken) for path in paths)

    def _line(self, path: str, otherwise: int) -> int:
        while path:
            if path in self._lines:
                return self._lines[path]
            path = re.sub(r"(\.?[^.\[]+|\[\d+\])$", "", path)
        return otherwise

    def _tell(self, line: int, path: str, found: str, allowed: str, remedy: str = "") -> None:
        self._mistakes.append(Mistake(self._name, line, path, found, allowed, remedy))

    def _refuse(self, node: Node, path: str, found: str, allowed: str, remedy: str = "") -> None:
        self._broken.append(path)
        self._tell(node.line, path, found, allowed, remedy)

    def part(self, node: Node, path: str, shape: keys.Part) -> Any:
        """One of the shop's data classes from a mapping."""
        known = keys_of(shape.made_of)
        if isinstance(node, Scalar) and node.text in shape.words:
            return node.text
        if not isinstance(node, Mapping):
            self._refuse(node, path, found_in(node), wanted(shape))
            return stand_in(shape)
        for name, typed in node.keys.items():
            if name not in known:
                self._unknown(typed, _join(path, name), known, node)
        made: dict[str, Any] = {}
        for name, key in known.items():
            where = _join(path, name)
            if name not in node.keys:
                if key.required:
                    self._missing(node, path, key)
                    made[name] = stand_in(key.shape)
                continue
            self._lines[where] = node.keys[name].line
            before = len(self._broken)
            value = self._value(node.nodes[name], where, key.shape)
            if where not in self._broken[before:] or key.required:
                made[name] = value
        return shape.made_of(**made)

    def _unknown(self, key: Scalar, path: str, known: dict[str, Key], node: Mapping) -> None:
        shown = f"'{key.text[:60]}' is no key here"
        like = nearest(key.text, (name for name in known if name not in node.keys))
        remedy = f"did you mean '{like}'?" if like else ""
        self._refuse(key, path[:200], shown, f"one of {', '.join(known)}", remedy)

    def _missing(self, node: Mapping, path: str, key: Key) -> None:
        where = _join(path, key.name)
        self._broken.append(where)
        line = self._line(where, node.line)
        self._tell(line, where, "is missing", f"must be there: {wanted(key.shape)}")

    def _value(self, node: Node, path: str, shape: Shape) -> Any:
        if isinstance(node, Scalar) and node.empty:
            self._refuse(node, path, "is empty", f"{wanted(shape)}, or leave the key out")
            return stand_in(shape)
        if isinstance(shape, keys.Part):
            return self.part(node, path, shape)
        if isinstance(shape, keys.ListOf):
            return self._list(node, path, shape)
        if isinstance(shape, keys.Pair):
            return self._pair(node, path, shape)
        if not isinstance(node, Scalar):
            self._refuse(node, path, found_in(node), wanted(shape))
            return stand_in(shape)
        return self._scalar(node, path, shape)

    def _list(self, node: Node, path: str, shape: keys.ListOf) -> tuple[Any, ...]:
        single = isinstance(shape.item, keys.Text | keys.Choice)
        if isinstance(node, Scalar) and single and not node.empty:
            return (self._value(node, path, shape.item),)
        if not isinstance(node, Items):
            self._refuse(node, path, found_in(node), f"a list of {wanted(shape.item)}")
            return ()
        if len(node.items) > shape.most:
            found = f"a list of {len(node.items)} items"
            self._refuse(node, path, found, f"at most {shape.most}")
            return ()
        values = []
        for i, item in enumerate(node.items):
            where = f"{path}[{i}]"
            self._lines[where] = item.line
            values.append(self._value(item, where, shape.item))
        return tuple(values)

    def _pair(self, node: Node, path: str, shape: keys.Pair) -> tuple[float, float] | None:
        if not isinstance(node, Items) or len(node.items) != 2:
            self._refuse(node, path, found_in(node), wanted(shape))
            return None
        number = keys.Number(shape.low, shape.high, "a number")
        low, high = (self._value(item, f"{path}[{i}]", number) for i, item in enumerate(node.items))
        return (low, high)

    def _scalar(self, node: Scalar, path: str, shape: Single) -> Any:
        if isinstance(shape, keys.Quantity):
            return self._quantity(node, path, shape)
        if isinstance(shape, keys.Number):
            return self._number(node, path, shape)
        if isinstance(shape, keys.Either):
            if node.text in shape.word.options:
                return node.text
            if _NUMERAL.fullmatch(node.text):
                return self._number(node, path, shape.number)
        elif isinstance(shape, keys.Choice):
            if (word := _chosen(node.text, shape.options)) is not None:
                return word
        elif isinstance(shape, keys.Flag):
            if node.text in (*_TRUE, *_FALSE):
                return node.text in _TRUE
        elif len(node.text) <= shape.longest and node.text.isprintable():
            return node.text
        like = nearest(node.text, shape.options) if isinstance(shape, keys.Choice) else None
        remedy = f"did you mean '{like}'?" if like else ""
        self._refuse(node, path, found_in(node), wanted(shape), remedy)
        return stand_in(shape)

    def _quantity(self, node: Scalar, path: str, shape: keys.Quantity) -> Any:
        if node.text in shape.words:
            return node.text
        read_as = parse_several if shape.several else parse
        try:
            numbers = read_as(node.text, shape.kind, low=shape.low, high=shape.high)
        except QuantityError as error:
            self._refuse(node, path, error.found, error.allowed)
            return stand_in(shape)
        if isinstance(numbers, tuple):
            return tuple(value_of(number, path, shape) for number in numbers)
        return value_of(numbers, path, shape)

    def _number(self, node: Scalar, path: str, shape: keys.Number) -> float | int:
        text, allowed = node.text, wanted(shape)
        if not _NUMERAL.fullmatch(text):
            remedy = "write a decimal point" if re.fullmatch(r"-?\d+,\d+", text) else ""
            self._refuse(node, path, found_in(node), allowed, remedy)
            return shape.low
        if re.match(r"[+-]?0[0-9]", text):
            remedy = f"write {text.lstrip('+-').lstrip('0') or '0'}"
            self._refuse(node, path, f"'{text}' begins with a nought", allowed, remedy)
            return shape.low
        number = float(text)
        if not shape.low <= number <= shape.high or (shape.whole and not number.is_integer()):
            self._refuse(node, path, f"'{text}' is out of place", allowed)
            return shape.low
        return int(number) if shape.whole else number


def within(inner: str, outer: str) -> bool:
    """Whether a path is another one or lies under it."""
    return inner == outer or inner.startswith((f"{outer}.", f"{outer}["))


def _join(path: str, name: str) -> str:
    return f"{path}.{name}" if path else name


def _chosen(text: str, options: tuple[str, ...]) -> str | None:
    if text in options:
        return text
    plain = text.replace("_", " ").casefold()
    same = [option for option in options if option.replace("_", " ").casefold() == plain]
    return same[0] if len(same) == 1 else None
