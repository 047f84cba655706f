"""Questions as fields of a form, and what is typed into them as changes of the shop file."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from starlette.datastructures import FormData
from starlette.requests import Request

from phasewright.job.texts import MOST_BYTES
from phasewright.quantities.errors import QuantityError
from phasewright.shop.questions import Question

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
    """The typed fields of a form; files are left out."""
    return {name: text for name, text in form.items() if isinstance(text, str)}


@dataclass(frozen=True, slots=True)
class Field:
    """A question with its name in the form and the answer it has; `other` is an answer that is
    none of its options and stays until another is chosen."""

    name: str
    question: Question
    value: str
    other: str = ""


class NotTaken(QuantityError):
    """An answer that cannot be taken, with the name of its field."""

    def __init__(self, field: str, wrong: QuantityError) -> None:
        super().__init__(wrong.found, wrong.allowed)
        self.field = field


def fields(questions: Iterable[Question], entries: Entries, prefix: str = "") -> list[Field]:
    """Every question with the answer that the shop file gives."""
    return [_field(question, entries, prefix) for question in questions]


def _field(question: Question, entries: Entries, prefix: str) -> Field:
    entry = held(entries, question.key)
    name = f"{prefix}{question.key}"
    if entry is None:
        return Field(name, question, "")
    for option in question.options:
        if option.entry == entry:
            return Field(name, question, option.words)
    shown = f"{entry:g}" if isinstance(entry, float) else str(entry)
    return Field(name, question, shown, shown if question.options else "")


def held(entries: Entries, key: str) -> Any:
    """The entry at a key, dots leading deeper; None where there is none."""
    found: Any = entries
    for part in key.split("."):
        if not isinstance(found, Mapping) or part not in found:
            return None
        found = found[part]
    return found


def changes(
    questions: Iterable[Question],
    typed: Mapping[str, str],
    entries: Entries,
    at: str,
    prefix: str = "",
) -> dict[str, Any]:
    """What the answers change in the part of the shop file at `at`.

    Raises NotTaken for an answer that is none of the options.
    """
    made: dict[str, Any] = {}
    for question in questions:
        field = _field(question, entries, prefix)
        text = typed.get(field.name)
        if text is None or text.strip() == field.value:
            continue
        if not text.strip():
            made[_above(entries, question.key, at)] = None
            continue
        try:
            made[f"{at}.{question.key}" if at else question.key] = question.chosen(text.strip())
        except QuantityError as wrong:
            raise NotTaken(field.name, wrong) from wrong
    return made


def _above(entries: Entries, key: str, at: str) -> str:
    """The path to take away so that nothing empty is left: the part that holds this key alone."""
    parts = key.split(".")
    while len(parts) > 1:
        room = held(entries, ".".join(parts[:-1]))
        if not isinstance(room, Mapping) or len(room) > 1:
            break
        parts.pop()
    whole = ".".join(parts)
    return f"{at}.{whole}" if at else whole
