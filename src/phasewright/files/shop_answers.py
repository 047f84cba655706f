"""The shop file that the answers of an interview make, with what is not known in its comments."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence
from typing import Any

from phasewright.files.shop_file import read_text
from phasewright.files.yaml_words import block, flow, listed_item
from phasewright.quantities.errors import Mistake, ShopFileError
from phasewright.quantities.text import listed
from phasewright.shop.interview import Draft
from phasewright.shop.keys import keys_of
from phasewright.shop.machine import Machine, Motor
from phasewright.shop.model import Shop
from phasewright.shop.plate import Plate
from phasewright.shop.questions import Question
from phasewright.shop.supply import Supply

_STAND_IN_SUPPLY = {
    "IEC": {"kind": "single_phase", "voltage": "230 V", "frequency": "50 Hz"},
    "NEC": {"kind": "single_phase", "voltage": "240 V", "frequency": "60 Hz"},
}
_STAND_IN_PLATE = {"power": "1 kW"}
_WIDE = 96
_HEAD = (
    "# Written from answers. What was not known is left out; a comment says what it is and how to",
    "# find it out. Until it is written here a usual value with its spread is taken.",
)


def mistakes(draft: Draft) -> tuple[Mistake, ...]:
    """What a reader of the shop file would say to the answers so far; empty where nothing.

    What has not been asked yet is filled with stand-ins, which never leave.
    """
    try:
        read_text("\n".join(_lines(_completed(draft), {})) + "\n", "answers")
    except ShopFileError as refused:
        return refused.mistakes
    return ()


def answers_text(draft: Draft) -> str:
    """The text of the shop file; raises ShopFileError where it would not read back."""
    text = "\n".join((*_HEAD, *_lines(draft, draft.unknown))) + "\n"
    read_text(text, "answers")
    return text


def _completed(draft: Draft) -> Draft:
    """The draft with stand-ins for what a shop file must hold."""
    machines = [_with_motor(machine) for machine in draft.machines]
    return Draft(
        top={"shop": "shop", "region": draft.region} | draft.top,
        supply=_STAND_IN_SUPPLY.get(draft.region, _STAND_IN_SUPPLY["IEC"]) | draft.supply,
        tariff=draft.tariff,
        machines=machines or [_with_motor({"name": "machine", "motors": []})],
        wishes=draft.wishes,
    )


def _with_motor(machine: dict[str, Any]) -> dict[str, Any]:
    motors = machine["motors"] or [{"name": "motor"}]
    return machine | {"motors": [{"plate": _STAND_IN_PLATE} | motor for motor in motors]}


def _lines(draft: Draft, unknown: dict[str, list[Question]]) -> Iterator[str]:
    yield from block(_ordered({"phasewright": "1", **draft.top}, Shop))
    yield from _not_known(unknown.get("", ()), 0)
    yield "supply:"
    yield from block(_ordered(draft.supply, Supply), 2)
    yield from _not_known(unknown.get("supply", ()), 2)
    yield from _part("tariff", draft.tariff, unknown.get("tariff", ()))
    yield "machines:"
    for place, machine in enumerate(draft.machines):
        yield from _machine(machine, f"machines[{place}]", unknown)
    yield from _part("wishes", draft.wishes, unknown.get("wishes", ()))


def _ordered(entries: dict[str, Any], made_of: type[Any]) -> dict[str, Any]:
    """The entries in the order of the contract."""
    return {key: entries[key] for key in keys_of(made_of) if key in entries}


def _part(key: str, entries: dict[str, Any], unknown: Sequence[Question]) -> Iterator[str]:
    """A part that is told in comments alone where nothing in it is known."""
    if entries:
        yield f"{key}:"
        yield from block(entries, 2)
        yield from _not_known(unknown, 2)
    else:
        yield from _not_known(unknown, 0, key)


def _machine(
    machine: dict[str, Any], part: str, unknown: dict[str, list[Question]]
) -> Iterator[str]:
    facts = _ordered(machine, Machine)
    motors = facts.pop("motors")
    yield f"  - name: {flow(facts.pop('name'))}"
    yield from block(facts, 4)
    yield from _not_known(unknown.get(part, ()), 4)
    yield "    motors:"
    for seat, motor in enumerate(motors):
        whole = _ordered(motor, Motor) | {"plate": _ordered(motor["plate"], Plate)}
        yield from listed_item(whole, 6)
        yield from _not_known(unknown.get(f"{part}.motors[{seat}]", ()), 8)


def _not_known(questions: Sequence[Question], indent: int, within: str = "") -> Iterator[str]:
    """A comment for every key that is not known: what it is, and what to look at."""
    lead = " " * indent
    for question in questions:
        deeper, _, key = question.key.rpartition(".")
        deeper = deeper or within
        where = f"{key} in {deeper}" if deeper else key
        words = f"not known: {where}. {question.asks} {question.look}".rstrip()
        if spelt := _spelt(question):
            words = f"{words} Written as {spelt}."
        yield from textwrap.wrap(
            words,
            _WIDE,
            initial_indent=f"{lead}# ",
            subsequent_indent=f"{lead}#   ",
            break_on_hyphens=False,
        )


def _spelt(question: Question) -> str:
    """How the answers of a closed list are written in the file."""
    if not question.options:
        return ""
    entries = [option.entry for option in question.options]
    if all(isinstance(entry, float) for entry in entries):
        return f"a bare number, as {flow(entries[len(entries) // 2])}"
    shown = (
        flow(option.entry)
        if isinstance(option.entry, bool)
        else f"{flow(option.entry)} ({option.words})"
        for option in question.options
    )
    return listed(shown)
