"""The shop drawn, the plans beside each other, and what each motor can run on."""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Mapping, Sequence

from phasewright.papers.cost_picture import cost_picture
from phasewright.papers.plan_words import chosen, key_figures, sentence
from phasewright.papers.report.blocks import (
    SPAN,
    Block,
    Column,
    Heading,
    Picture,
    Words,
    table,
)
from phasewright.papers.report.looks import COSTS, SHOP, styled
from phasewright.papers.shop_sheet import WIDTHS, shop_sheet
from phasewright.papers.svg import svg
from phasewright.plan.study import MotorSide, PlanSide, Study
from phasewright.quantities.codes import WAYS, Verdict, WayName
from phasewright.quantities.finding import Reason
from phasewright.quantities.told import amount, money, spread
from phasewright.quantities.words import VERDICT_WORDS, WAY_SHORT, WAY_WORDS
from phasewright.shop.model import Shop

COST_WIDTH = 740.0
SHOWN = 3
"""Plans in the picture of the costs."""
SHAPES: dict[Verdict, str] = {"suits": "● yes", "with_conditions": "◐ if", "refused": "○ no"}


def drawn(shop: Shop, study: Study) -> Iterator[Block]:
    """The shop as a single-line drawing with the answer's plan in it."""
    sheet = shop_sheet(shop, study, chosen(study), width=WIDTHS["tablet"])
    yield Heading("The shop", 1, page=True)
    yield Picture(svg(styled(sheet, SHOP)), f"The shop drawn: {study.answer.headline}", fills=True)


def comparison(study: Study) -> Iterator[Block]:
    """All plans beside each other, on one page: money, amps, dip, what each gives and gives up."""
    yield Heading("Plans compared", 1, page=True)
    best = [plan for plan in study.plans if plan.feasible][:SHOWN]
    if best:
        picture = cost_picture(best, study.currency, study.answer.plan, COST_WIDTH)
        told = "; ".join(
            f"{plan.title}: {money(plan.lifetime_cost.expected.number, study.currency)}"
            for plan in best
        )
        yield Picture(svg(styled(picture, COSTS)), f"Cost over the years. {told}")
    columns = (
        Column(""), Column("Plan", 2.6), Column("To buy", side="right"),
        Column("In all", side="right"), Column("from to", side="right"),
        Column("Supply", side="right"), Column("Dip", side="right"), Column("dB(A)", side="right"),
    )  # fmt: skip
    yield from table(columns, (
        (str(number), *_plan_row(study, plan)) for number, plan in enumerate(study.plans, start=1)
    ), small=True)  # fmt: skip
    sign = f" Money in {study.currency}." if study.currency else ""
    yield Words(
        "In all: expected over the years planned, future money discounted; from to: 5th and 95th "
        f"in a hundred, the bars of the picture.{sign} Supply: amps at the most, running. Dip: the "
        "deepest fall of the volts at a start. Plans that are not feasible are listed to show what "
        "stands against them.",
        look="small",
    )
    yield from table(
        (Column("Plans", 1.0), Column("", 6.0)),
        (
            *_terms("What they give", study, [plan.gives for plan in study.plans]),
            *_terms("What they give up", study, [plan.gives_up for plan in study.plans]),
        ),
        small=True,
    )


def _plan_row(study: Study, plan: PlanSide) -> tuple[str, ...]:
    life = plan.lifetime_cost
    mark = "► " if plan.id == study.answer.plan else ""
    stops = "" if plan.feasible else " (not feasible)"
    amps, dip = plan.supply_current_a.running, plan.voltage_dip
    return (
        f"{mark}{plan.title}{stops}",
        money(plan.purchase.number, None),
        money(life.expected.number, None),
        f"{money(life.low, None)} to {money(life.high, None)}",
        "" if amps is None else amount(amps.number, "A"),
        "" if dip is None else f"{dip.ratio.number:.1%}",
        "" if plan.noise_dba is None else f"{plan.noise_dba.number:.0f}",
    )


def _terms(title: str, study: Study, said: Sequence[Sequence[Reason]]) -> Iterator[tuple[str, str]]:
    """Each thing once, with the plans it holds for by their numbers; which motors it holds for is
    told by the plan."""
    motors = {motor.id for motor in study.motors}
    by_words: dict[str, list[str]] = {}
    for number, reasons in enumerate(said, start=1):
        for reason in reasons:
            by_words.setdefault(_unnamed(reason.words, motors), []).append(str(number))
    if by_words:
        yield SPAN, title
    for words, numbers in by_words.items():
        yield ", ".join(dict.fromkeys(numbers)), words


def _unnamed(words: str, motors: Container[str]) -> str:
    """Words without the motors they begin or end with, as in `Saw/arbor: one at a time`."""
    names, between, rest = words.partition(": ")
    if between and all(name in motors for name in names.split(", ")):
        return sentence(rest)
    start, between, names = words.rstrip(".").rpartition(" for ")
    named = between and all(name in motors for name in names.split(", "))
    return sentence(start) if named else words


def motors(study: Study) -> Iterator[Block]:
    """What each motor can run on, judged alone: verdicts at a glance, then why."""
    if not study.motors:
        return
    yield Heading("What each motor can run on", 1)
    there = {way.way for motor in study.motors for way in motor.ways}
    ways = [way for way in WAYS if way in there]
    columns = (Column("Motor", 1.5), *(Column(_narrow(WAY_SHORT[way]), 1.0) for way in ways))
    yield from table(columns, (_verdicts(motor, ways) for motor in study.motors), small=True)
    legend = "; ".join(f"{shape}: {VERDICT_WORDS[verdict]}" for verdict, shape in SHAPES.items())
    yield Words(
        f"{legend}. Each motor is judged with its machine alone. Conditions are told of the way it "
        "has in the plan; figures and conditions of every other way stand in study.json.",
        look="small",
    )
    plan = chosen(study)
    hung = {} if plan is None else {motor.motor: motor.way for motor in plan.motors}
    columns = (Column("Motor", 1.0), Column("Plate", 1.7), Column("Its way in the plan", 3.6))
    yield from table(
        columns,
        (_motor_row(motor, hung.get(motor.id), study.currency) for motor in study.motors),
        small=True,
    )
    yield from _conditions(study, hung)
    yield from _refusals(study)


def _narrow(words: str) -> str:
    """Words that may be parted in a narrow column."""
    for word, parted in (("converter", "con\u00adverter"), ("capacitor", "capac\u00aditor"),
                         ("electronic", "elec\u00adtronic")):  # fmt: skip
        words = words.replace(word, parted)
    return words


def _verdicts(motor: MotorSide, ways: Sequence[str]) -> tuple[str, ...]:
    found = {way.way: SHAPES[way.verdict] for way in motor.ways}
    return (motor.id, *(found.get(way, "") for way in WAYS if way in ways))


def _motor_row(motor: MotorSide, hung: WayName | None, currency: str | None) -> tuple[str, ...]:
    rated = [
        "" if value is None else amount(value.number, value.unit)
        for value in (motor.rated_power_w, motor.rated_speed_rpm, motor.line_voltage_v)
    ]
    if motor.full_load_current_a is not None:
        rated.append(spread(motor.full_load_current_a))
    way = next((way for way in motor.ways if way.way == hung), None)
    told = "" if way is None else f"{WAY_WORDS[way.way]}: {key_figures(way.figures, currency)}"
    return motor.id, ", ".join(filter(None, rated)), sentence(told or "not in the plan of today")


def _conditions(study: Study, hung: Mapping[str, WayName | None]) -> Iterator[Block]:
    """How they are linked and what must be kept on the way each has in the plan, once for all."""
    found: dict[str, list[str]] = {}
    for motor in study.motors:
        found.setdefault(sentence(motor.connection_words), []).append(motor.id)
    for motor in study.motors:
        for way in motor.ways:
            if way.way == hung.get(motor.id):
                for reason in way.conditions:
                    found.setdefault(sentence(reason.words), []).append(motor.id)
    if found:
        yield Heading("How they are linked, and what their ways in the plan ask")
        yield from table(
            (Column("Motor", 1.0), Column("", 4.0)),
            (
                (_of(dict.fromkeys(names), len(study.motors)), words)
                for words, names in found.items()
            ),
            small=True,
        )


def _refusals(study: Study) -> Iterator[Block]:
    """Why a way is refused; of several motors once, and of other figures only of which motors."""
    found: dict[tuple[WayName, str], dict[str, list[str]]] = {}
    for motor in study.motors:
        for way in motor.ways:
            if way.verdict == "refused":
                for reason in way.reasons:
                    by_words = found.setdefault((way.way, reason.code), {})
                    by_words.setdefault(sentence(reason.words), []).append(motor.id)
    if found:
        yield Heading("Why not")
        rows = (
            (WAY_SHORT[way], *_together(by_words, len(study.motors)))
            for (way, _), by_words in sorted(found.items(), key=_way_first)
        )
        columns = (Column("Way", 0.8), Column("Motor", 1.0), Column("", 4.0))
        yield from table(columns, rows, small=True)


def _together(by_words: Mapping[str, Sequence[str]], every: int) -> tuple[str, str]:
    first, names = next(iter(by_words.items()))
    others = [name for words, of in by_words.items() if words != first for name in of]
    too = f" With other figures (study.json): {', '.join(others)}." if others else ""
    return _of(dict.fromkeys(names), every), first + too


def _way_first(entry: tuple[tuple[WayName, str], object]) -> int:
    return WAYS.index(entry[0][0])


def _of(names: Iterable[str], every: int) -> str:
    told = tuple(names)
    return "every motor" if len(told) == every > 1 else ", ".join(told)
