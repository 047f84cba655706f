"""The workings of what is no single figure: findings, facts to find out, turning points, buys."""

from __future__ import annotations

from phasewright.papers.plan_words import about, bought, part_words
from phasewright.papers.workings.parts import Line, Working, listed, named, of_motor
from phasewright.papers.workings.places import priced
from phasewright.plan.study import ChangesIf, StaysIf, Study, YearSide
from phasewright.quantities.finding import Finding, Missing
from phasewright.quantities.told import amount, money
from phasewright.rules.register import all_rules
from phasewright.shop.model import Shop
from phasewright.ways.figures import Buy, Part

TURNED = (
    "Found by working out every plan again with this fact moved, until another plan costs less "
    "over the years."
)
STAYED = "Every plan was worked out again with this fact at both its ends: the same is the best."
PAID = (
    "Payments of all years until then, as they are paid, not discounted, expected over the "
    "futures; 5 of 100 futures lie below the low end and 5 above the high one."
)
MEASURED = "how it is measured: common practice, no source"
ADDED = "Added up from its parts."
WORTH = (
    "What keeping the plan of today would cost more than the best plan, expected over the lowest, "
    "the expected and the highest value of this fact."
)


def of_finding(study: Study, shop: Shop, pointer: str, of: Finding) -> Working:
    """A finding: the rule it comes from, what was found, what is allowed, the source."""
    rule = next((each for each in all_rules() if each.id == of.rule), None)
    lines = [
        Line(name, number if isinstance(number, str) else _found(number, of.unit))
        for name, number in (("found", of.found), ("allowed", of.allowed))
        if number is not None
    ]
    beside: list[tuple[str, tuple[Line, ...]]] = []
    for place, plan in enumerate(study.plans):
        if plan.id != of.plan:
            continue
        for seat, circuit in enumerate(plan.circuits or ()):
            if circuit.id == of.circuit:
                beside += listed(study, shop, f"/plans/{place}/circuits/{seat}")
        for seat, motor in enumerate(plan.motors):
            if motor.motor == of.subject:
                beside += listed(study, shop, f"/plans/{place}/motors/{seat}")
        for seat, each in enumerate(plan.equipment):
            if each.id == of.subject:
                beside += listed(study, shop, f"/plans/{place}/equipment/{seat}")
    for place, side in enumerate(study.motors):
        if side.id == of.subject:
            beside += of_motor(study, shop, place)
    if of.subject in ("supply", "service"):
        beside += listed(study, shop, "/supply")
    how = "" if rule is None else " ".join(rule.words.split("\n\n")[0].split())
    return Working(
        title=f"What was found: {of.subject}",
        at=pointer,
        says=of.words,
        how=how,
        put_in=tuple(lines),
        source=of.source or ("" if rule is None else rule.source),
        made_by=of.rule,
        beside=tuple(beside),
    )


def _found(number: float, unit: str | None) -> str:
    """What a rule found or allows; a number without a unit also as a share, where it may be one."""
    if unit:
        return amount(number, unit)
    return f"{number:.3g}" + (f" ({number:.1%})" if abs(number) < 1.0 else "")


def of_missing(study: Study, shop: Shop, pointer: str, of: Missing) -> Working:
    """A fact worth finding out: the span that is reckoned with, and what was taken."""
    places = [
        place for place, each in enumerate(study.assumed)
        if each.path == of.path or each.path.startswith(f"{of.path}.")
    ]  # fmt: skip
    lines = [named(study, shop, f"/assumed/{place}/value") for place in places]
    unit = study.assumed[places[0]].value.unit if places else ""
    lines += [
        Line(name, end if isinstance(end, str) else amount(end, unit))
        for name, end in (("at the least", of.low), ("at the most", of.high))
        if end is not None
    ]
    if of.worth is not None:
        lines.append(Line("what it is worth", money(of.worth, study.currency)))
    where = about(of.path, shop)
    taken_from = dict.fromkeys(study.assumed[place].value.source for place in places)
    return Working(
        title=f"{of.field}, {where}" if where else of.field,
        at=pointer,
        says=f"{of.words} {of.how_to_measure}",
        how=WORTH if of.worth is not None else "",
        put_in=tuple(lines),
        source="; ".join(taken_from) or MEASURED,
    )


def of_turn(study: Study, pointer: str, of: ChangesIf) -> Working:
    """A turning point: how it was found, and how the fact stands."""

    def shown(number: float) -> str:
        return priced(number, of.unit, study.currency) or amount(number, of.unit)

    return Working(
        title=f"What would turn the answer: {of.what}",
        at=pointer,
        figure=shown(of.to),
        how=f"{TURNED} Beyond it: {of.then}.",
        put_in=(Line("as it is", shown(of.from_)),),
        source="computed from this shop",
    )


def of_staying(study: Study, pointer: str, of: StaysIf) -> Working:
    """A fact that was moved to both its ends without another plan becoming the best."""

    def shown(number: float) -> str:
        return priced(number, of.unit, study.currency) or amount(number, of.unit)

    return Working(
        title=f"What would not turn the answer: {of.what}",
        at=pointer,
        figure=f"{shown(of.low)} to {shown(of.high)}",
        how=STAYED,
        put_in=(Line("as it is", shown(of.from_)),),
        source="computed from this shop",
    )


def of_year(study: Study, pointer: str, of: YearSide) -> Working:
    """What a plan costs in one year, and what has been paid until its end."""
    plan = study.plans[int(pointer.split("/")[2])]
    paid, currency = of.paid_so_far, study.currency
    sums = (
        ("to buy", of.buys), ("energy", of.energy), ("upkeep", of.upkeep), ("work", of.labour),
    )  # fmt: skip
    return Working(
        title=f"{plan.title}: what has been paid by the end of year {of.year}",
        at=pointer,
        figure=f"{money(paid.expected, currency)} "
        f"({money(paid.low, None)} to {money(paid.high, None)})",
        how=PAID,
        put_in=tuple(Line(f"{name}, in this year", money(sum_, currency)) for name, sum_ in sums),
        source="computed from this shop: every payment of the plan, in every future",
    )


def of_buy(study: Study, pointer: str, of: Buy) -> Working:
    """What is bought: its price from its parts, and the figures of what it is for."""
    return Working(
        title=bought(of), at=pointer, figure=money(of.price, study.currency), how=ADDED,
        put_in=tuple(
            Line(
                part_words(part) + (", already yours" if part.owned else ""),
                money(part.price, study.currency), f"{pointer}/parts/{place}",
            )
            for place, part in enumerate(of.parts)
        ),
        source=of.price_origin,
    )  # fmt: skip


def of_part(study: Study, pointer: str, of: Part) -> Working:
    """The price of a part, and where it is from."""
    size = (Line("size", amount(of.rating, of.unit)),) if of.unit else ()
    return Working(
        title=part_words(of), at=pointer, figure=money(of.price, study.currency),
        put_in=(*size, Line("how many", f"{of.quantity:g}")), source=of.price_origin,
    )  # fmt: skip
