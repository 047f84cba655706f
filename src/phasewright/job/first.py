"""A shop from three answers: what supply, what machine, what plate."""

from __future__ import annotations

from dataclasses import dataclass, replace

from phasewright.files.shop_answers import answers_text, mistakes
from phasewright.quantities.errors import QuantityError, ShopFileError
from phasewright.shop import machine_questions as machines
from phasewright.shop import questions as ask
from phasewright.shop.interview import replay
from phasewright.shop.questions import Question


@dataclass(frozen=True, slots=True)
class First:
    """What is asked at the first visit, each as it is typed; empty means not known.

    `region`, `feeds` and `drives` are typed as an option of their question is: its words.
    """

    region: str = ""
    feeds: str = ""
    volts: str = ""
    fuse: str = ""
    machine: str = ""
    drives: str = ""
    plate: str = ""
    no_load_current: str = ""
    shaft_height: str = ""
    winding_resistance: str = ""


class Refused(QuantityError):
    """An answer that cannot be taken; `field` is the one of `First` it was given in."""

    def __init__(self, field: str, found: str, allowed: str) -> None:
        super().__init__(found, allowed)
        self.field = field


def first_text(first: First) -> str:
    """The text of the shop file that these answers make, through the same interview as `new`.

    Raises Refused for the first answer that cannot be taken.
    """
    if not (first.plate.strip() or first.shaft_height.strip() or first.winding_resistance.strip()):
        raise Refused(
            "plate",
            "nothing tells how large the motor is",
            "type its plate, or what can be measured where there is no plate",
        )
    answers: list[str] = []
    fields: list[str] = []
    draft, question = replay(answers)
    while question is not None:
        field, answer = _answer(first, question)
        answers.append(answer)
        fields.append(field)
        try:
            draft, question = replay(answers)
        except QuantityError as wrong:
            raise Refused(field, wrong.found, wrong.allowed) from wrong
        wrong_so_far = mistakes(draft)
        if wrong_so_far:
            first_wrong = wrong_so_far[0]
            allowed = "; ".join(filter(None, (first_wrong.allowed, first_wrong.remedy)))
            raise Refused(field, first_wrong.found, allowed)
    try:
        return answers_text(draft)
    except ShopFileError as wrong:
        raise Refused("plate", wrong.mistakes[0].found, wrong.mistakes[0].allowed) from wrong


def refusals(first: First) -> list[Refused]:
    """Every answer that cannot be taken: each is told, then read as if it could."""
    found: list[Refused] = []
    while len(found) < len(_STAND_IN):
        try:
            first_text(first)
        except Refused as refused:
            found.append(refused)
            if refused.field not in _STAND_IN:
                break
            first = replace(first, **{refused.field: _STAND_IN[refused.field]})
        else:
            break
    return found


_STAND_IN = {
    "region": ask.REGION.options[0].words,
    "feeds": "",
    "volts": "",
    "fuse": "",
    "machine": "the machine",
    "drives": machines.LOAD.enter,
    "plate": "1 kW",
    "no_load_current": "",
    "shaft_height": "90 mm",
    "winding_resistance": "",
}
"""What is read in place of an answer that was refused, so that the others are judged too."""
_BY_KEY = {
    "voltage": "volts",
    "service_rating": "fuse",
    "contracted_power": "fuse",
    "no_load_current": "no_load_current",
    "shaft_height": "shaft_height",
    "winding_resistance": "winding_resistance",
}


def _answer(first: First, question: Question) -> tuple[str, str]:
    """Which answer belongs to a question of the interview, and what it is."""
    if question.options and question.options == ask.REGION.options:
        return "region", first.region
    if question.options and question.options == ask.SUPPLY_KIND.options:
        return "feeds", first.feeds
    if question.options and question.options == machines.LOAD.options:
        return "drives", first.drives
    if question == ask.MACHINE:
        return "machine", first.machine
    if question.asks.endswith(ask.PLATE.asks):
        return "plate", first.plate
    field = _BY_KEY.get(question.key, "")
    return field, str(getattr(first, field)) if field else ""
