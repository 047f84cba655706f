"""Questions as fields of a form, and what is typed into them as changes of the shop file."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, replace
from typing import Any

from starlette.datastructures import FormData
from starlette.requests import Request

from phasewright.job.texts import MOST_BYTES, rewritten
from phasewright.page.open_shop import Seen
from phasewright.quantities.codes import Region
from phasewright.quantities.errors import QuantityError, ShopFileError, UsageError
from phasewright.shop import keys
from phasewright.shop.bounds import bounds, shape_at
from phasewright.shop.questions import Group, Question

Entries = Mapping[str, Any]
MOST_FIELDS = 2000
"""Fields of the longest form that is read."""
MOST_IN_A_FIELD = 2 * MOST_BYTES
"""Bytes of the longest field: the largest shop file in base64url."""


async def form_of(request: Request) -> FormData:
    """What was typed into a form; its files are not kept."""
    async with request.form(
        max_files=1, max_fields=MOST_FIELDS, max_part_size=MOST_IN_A_FIELD
    ) as form:
        return form


def texts(form: FormData) -> dict[str, str]:
    """The typed fields of a form; what is ticked of one question stands in lines; no files."""
    told: dict[str, list[str]] = {}
    for name, text in form.multi_items():
        if isinstance(text, str):
            told.setdefault(name, []).append(text)
    return {
        name: of[0] if len(of) == 1 else "\n".join(filter(None, of)) for name, of in told.items()
    }


@dataclass(frozen=True, slots=True)
class Field:
    """A question with its name in the form and the answer it has; `other` is an answer that is
    none of its options and stays until another is chosen. `bounds` says what it may be."""

    name: str
    question: Question
    value: str
    other: str = ""
    bounds: str = ""

    @property
    def id(self) -> str:
        """The name an element of the page can have."""
        return "".join(c if c.isascii() and c.isalnum() else "-" for c in self.name)

    @property
    def ticked(self) -> frozenset[str]:
        """The options that are ticked, of a question with several."""
        return frozenset(self.value.splitlines())


class NotTaken(Exception):
    """Answers that cannot be taken: what is wrong, by the field's name; empty for no field."""

    def __init__(self, wrong: Mapping[str, list[str]]) -> None:
        super().__init__("; ".join(words for of in wrong.values() for words in of))
        self.wrong = dict(wrong)


def fields(
    questions: Iterable[Question],
    entries: Entries,
    prefix: str = "",
    at: str = "",
    region: Region = "IEC",
    typed: Mapping[str, str] | None = None,
) -> list[Field]:
    """Every question with the answer that the shop file gives, or that was typed instead."""
    found = [_field(question, entries, prefix) for question in questions]
    return [
        replace(
            field,
            value=field.value if typed is None else typed.get(field.name, field.value),
            bounds="" if field.question.options else bounds(_at(at, field.question.key), region),
        )
        for field in found
    ]


@dataclass(frozen=True, slots=True)
class FieldGroup:
    """Fields that belong together, with what warns before them."""

    title: str
    fields: tuple[Field, ...]
    care: str

    def names(self) -> frozenset[str]:
        """What its fields are called in the form."""
        return frozenset(field.name for field in self.fields)


def groups(
    of: Iterable[Group],
    entries: Entries,
    prefix: str,
    at: str,
    region: Region,
    typed: Mapping[str, str] | None,
) -> list[FieldGroup]:
    """Groups of questions as groups of fields."""
    return [
        FieldGroup(
            group.title,
            tuple(fields(group.questions, entries, prefix, at, region, typed)),
            group.care,
        )
        for group in of
    ]


def _field(question: Question, entries: Entries, prefix: str) -> Field:
    entry = held(entries, question.key)
    name = f"{prefix}{question.key}"
    if entry is None:
        none = bool(question.none_at) and held(entries, question.none_at) == "none"
        return Field(name, question, "none" if none else "")
    shown = question.told(entry)
    known = not question.options or question.many or shown in (o.words for o in question.options)
    return Field(name, question, shown, "" if known else shown)


def held(entries: Entries, key: str) -> Any:
    """The entry at a key, dots leading deeper; None where there is none."""
    found: Any = entries
    for part in key.split("."):
        if not isinstance(found, Mapping) or part not in found:
            return None
        found = found[part]
    return found


class Answers:
    """What was typed into a form, as changes of a shop file, with what cannot be taken."""

    def __init__(self, typed: Mapping[str, str]) -> None:
        self.typed = typed
        self.made: dict[str, Any] = {}
        self.wrong: dict[str, list[str]] = {}
        self._asked: list[tuple[str, str]] = []

    def take(
        self, questions: Iterable[Question], entries: Entries, at: str, prefix: str = ""
    ) -> None:
        """The answers that differ from the part of the shop file at `at`."""
        gone: set[str] = set()
        for question in questions:
            field = _field(question, entries, prefix)
            path = _at(at, question.key)
            self._asked.append((path, field.name))
            text = self.typed.get(field.name)
            if text is None or text.strip() == field.value:
                continue
            if not text.strip():
                gone.add(question.none_at if field.value == "none" else question.key)
            elif question.none_at and text.strip().casefold() in ("none", "no"):
                self.made[_at(at, question.none_at)] = "none"
            else:
                with self.told_at(field.name):
                    self.made[path] = question.chosen(_pointed(text.strip(), path))
        none = [path for path, entry in self.made.items() if entry == "none"]
        for path in list(self.made):
            if any(path.startswith(f"{of}.") for of in none):
                del self.made[path]  # what stands below gives way to none
        for key in _wholes(gone, entries, set(self.made), at):
            self.made.setdefault(_at(at, key), None)

    @contextmanager
    def told_at(self, name: str, path: str = "") -> Iterator[None]:
        """What cannot be read in here is told at a field; so are faults found at its path."""
        if path:
            self._asked.append((path, name))
        try:
            yield
        except QuantityError as wrong:
            self.wrong.setdefault(name, []).append(f"{wrong.found}; {wrong.allowed}.")

    def rewritten(self, seen: Seen) -> str:
        """The text with every change made; raises NotTaken with all that is wrong at once."""
        text = ""
        try:
            text, _ = rewritten(seen.text, self.made, seen.shop.shop)
        except UsageError as wrong:
            self.wrong.setdefault("", []).append(str(wrong))
        except ShopFileError as wrong:
            for fault in wrong.mistakes:
                words = "; ".join(filter(None, (fault.found, fault.allowed, fault.remedy)))
                name = self._field_of(fault.path)
                told = f"{words}." if name else f"{fault.path} {words}.".lstrip()
                self.wrong.setdefault(name, []).append(told)
        if self.wrong:
            raise NotTaken(self.wrong)
        return text

    def _field_of(self, path: str) -> str:
        """The field in which a mistake at a path is mended; empty where none here does."""
        around = [(len(of), name) for of, name in self._asked if _within(path, of)]
        if around:
            return max(around, key=lambda pair: pair[0])[1]
        return next((name for of, name in self._asked if _within(of, path)), "")


_COMMA = re.compile(r"([0-9]+),([0-9]{1,2}|[0-9]{4,})")


def _pointed(text: str, path: str) -> str:
    """A bare number typed with a decimal comma as the file writes it; thousands stay as typed."""
    bare = isinstance(shape_at(path), keys.Number | keys.Either)
    return _COMMA.sub(r"\1.\2", text) if bare and _COMMA.fullmatch(text) else text


def _at(at: str, key: str) -> str:
    return f"{at}.{key}" if at else key


def _within(inner: str, outer: str) -> bool:
    return inner == outer or inner.startswith((f"{outer}.", f"{outer}["))


def _wholes(gone: set[str], entries: Entries, made: set[str], at: str) -> list[str]:
    """What to take away so that nothing empty is left: whole parts where all of one goes."""
    whole = set(gone)
    for key in sorted(gone):
        parts = key.split(".")
        while len(parts) > 1:
            room = ".".join(parts[:-1])
            inside = held(entries, room)
            stays = not isinstance(inside, Mapping) or any(
                not any(_within(f"{room}.{name}", one) for one in whole) for name in inside
            )
            if stays or any(_within(path, _at(at, room)) for path in made):
                break
            whole = {one for one in whole if not _within(one, room)} | {room}
            parts.pop()
    return sorted(whole)
