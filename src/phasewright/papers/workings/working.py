"""Where a figure of an answer comes from: how it was computed, the numbers put in, the source.

Whatever stands in an answer has a working by its place in the result file: a figure its own, a
sentence what it was told from, a thing that is bought what it is made of.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Any

from phasewright.papers.algebra import first_sentence, formula_of, in_words, put_in
from phasewright.papers.workings.names import MONEY
from phasewright.papers.workings.parts import Line, Working, listed, of_motor
from phasewright.papers.workings.places import (
    Placed,
    figure_words,
    input_words,
    placed,
    priced,
    thing,
    told_of,
)
from phasewright.papers.workings.sentences import absolute
from phasewright.papers.workings.things import (
    of_buy,
    of_finding,
    of_missing,
    of_part,
    of_staying,
    of_turn,
    of_year,
)
from phasewright.plan.study import Answer, ChangesIf, StaysIf, Study, YearSide
from phasewright.quantities.finding import Assumed, Finding, Missing, Reason, Said
from phasewright.quantities.plain import along
from phasewright.quantities.told import amount, money
from phasewright.quantities.value import Value
from phasewright.shop.model import Shop
from phasewright.ways.figures import Buy, Part

OF_A_MOTOR = 2
"""Slashes in the place of a motor: what lies deeper is one of its ways."""


def working(study: Study, shop: Shop, pointer: str) -> Working:
    """The working of what stands at a place of the result file.

    Raises LookupError where nothing stands there that has one.
    """
    found = along(study, pointer)
    last = found[-1]
    match last:
        case Value():
            return _of_figure(placed(study, shop, pointer), pointer, study.currency)
        case Reason():
            return _of_reason(study, shop, pointer, last)
        case Finding():
            return of_finding(study, shop, pointer, last)
        case Missing():
            return of_missing(study, shop, pointer, last)
        case Answer():
            return _sentence(study, shop, pointer, "The answer", last.headline, last.figures)
        case Assumed():
            return working(study, shop, f"{pointer}/value")
        case str():
            return _of_words(study, shop, pointer, last)
    if (alone := _ALONE.get(type(last))) is not None:
        return alone(study, pointer, last)
    title = thing(found, shop)
    if not told_of(last, shop):
        raise LookupError(f"nothing at {pointer} has a working")
    return Working(title, pointer, beside=tuple(listed(study, shop, pointer)))


def _of_figure(of: Placed, pointer: str, currency: str | None) -> Working:
    value = of.value
    in_money = of.key in MONEY

    def shown(number: float, unit: str) -> str:
        if in_money and not unit:
            return money(number, None)
        return priced(number, unit, currency) or amount(number, unit)

    formula = formula_of(value, pointer.rpartition("/")[2])
    return Working(
        title=of.title,
        at=pointer,
        figure=figure_words(of, currency),
        how=first_sentence(value.formula) if value.formula else "",
        formula=in_words(formula) if formula else "",
        worked=put_in(formula, value.inputs, shown) if formula else "",
        put_in=tuple(
            Line(input_words(one.name), shown(one.number, one.unit)) for one in value.inputs
        ),
        source=value.source or value.origin,
        origin=value.origin if value.source else "",
        made_by=value.formula,
    )


def _of_reason(study: Study, shop: Shop, pointer: str, of: Reason) -> Working:
    """A sentence of a way, a plan or the answer: its own figures, and those of what it is of."""
    found = along(study, pointer)
    return _sentence(
        study, shop, pointer, thing(found, shop) or "The answer", of.words, of.figures
    )  # fmt: skip


def _sentence(
    study: Study, shop: Shop, pointer: str, title: str, words: str,
    told: Sequence[Said] | None,
) -> Working:  # fmt: skip
    base = pointer.rsplit("/", 2)[0]
    own: list[Line] = []
    for each in told or ():
        if not each.words:
            again = working(study, shop, absolute(each.at[0], base))
            return Working(
                title=again.title, at=pointer, says=words, put_in=again.put_in,
                beside=again.beside,
            )  # fmt: skip
        own += [_put_in(study, shop, each, absolute(place, base)) for place in each.at]
    return Working(
        title, pointer, says=words, put_in=tuple(own),
        beside=tuple(_beside(study, shop, base)),
    )  # fmt: skip


def _beside(
    study: Study, shop: Shop, pointer: str
) -> Iterator[tuple[str, tuple[Line, ...]]]:  # fmt: skip
    """The figures of what a sentence is of, and of the motor where it is one of its ways; none of
    the answer as a whole, whose sentences name their own."""
    if not pointer.startswith(("/motors/", "/plans/", "/supply")):
        return
    if pointer.count("/") > OF_A_MOTOR or not pointer.startswith("/motors/"):
        yield from listed(study, shop, pointer)
    if pointer.startswith("/motors/"):
        yield from of_motor(study, shop, int(pointer.split("/")[2]))


def _of_words(study: Study, shop: Shop, pointer: str, words: str) -> Working:
    """A sentence that stands in a thing of the answer: the figures of that thing."""
    found = along(study, pointer)
    title = thing(found, shop)
    if not title or " " not in words:
        raise LookupError(f"nothing at {pointer} has a working")
    places = pointer.split("/")
    while not told_of(along(study, "/".join(places))[-1], shop):
        places.pop()
    beside = tuple(_beside(study, shop, "/".join(places)))
    return Working(title, pointer, says=words, beside=beside)


def _put_in(study: Study, shop: Shop, said: Said, at: str) -> Line:
    """What a figure of a sentence is, or is made from."""
    last = along(study, at)[-1]
    if not isinstance(last, Value):
        return Line(working(study, shop, at).title, said.words, at)
    one = placed(study, shop, at)
    name = one.title if len(said.at) == 1 else f"for {said.words}, {said.how}: {one.title}"
    return Line(name, figure_words(one, study.currency), at)


_ALONE: dict[type, Callable[[Study, str, Any], Working]] = {
    ChangesIf: of_turn, StaysIf: of_staying, YearSide: of_year, Buy: of_buy, Part: of_part,
}  # fmt: skip
"""Workings that need nothing but the answer itself, by what they are of."""
