"""The shop drawn, the plans beside each other, and what each motor can run on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from phasewright.papers.cost_picture import BEST, cost_picture
from phasewright.papers.plan_words import chosen, key_figures, sentence
from phasewright.papers.report.blocks import (
    SPAN,
    Block,
    Column,
    Heading,
    Picture,
    Words,
    bullets,
    table,
)
from phasewright.papers.report.looks import COSTS, SHOP, styled
from phasewright.papers.shop_sheet import WIDTHS, shop_sheet
from phasewright.papers.svg import svg
from phasewright.plan.study import MotorSide, PlanSide, Study, WaySide
from phasewright.quantities.codes import WAYS, Verdict, WayName
from phasewright.quantities.finding import Reason
from phasewright.quantities.told import amount, money, spread
from phasewright.quantities.words import VERDICT_WORDS, WAY_SHORT, WAY_WORDS
from phasewright.shop.model import Shop

COST_WIDTH = 680.0
SHAPES: dict[Verdict, str] = {"suits": "● yes", "with_conditions": "◐ if", "refused": "○ no"}


def drawn(shop: Shop, study: Study) -> Iterator[Block]:
    """The shop as a single-line drawing with the answer's plan in it."""
    sheet = shop_sheet(shop, study, chosen(study), width=WIDTHS["tablet"])
    yield Heading("The shop", 1, page=True)
    yield Picture(svg(styled(sheet, SHOP)), f"The shop drawn: {study.answer.headline}", fills=True)


def comparison(study: Study) -> Iterator[Block]:
    """All plans beside each other: money, amps, dip, what each gives and gives up."""
    yield Heading("Plans compared", 1, page=True)
    best = [plan for plan in study.plans if plan.feasible][:BEST]
    if best:
        picture = cost_picture(best, study.currency, study.answer.plan, COST_WIDTH)
        told = "; ".join(
            f"{plan.title}: {money(plan.lifetime_cost.expected.number, study.currency)}"
            for plan in best
        )
        yield Words(
            "What the best plans cost over the years planned. The ring is what is to be expected; "
            "the bar reaches from the 5th to the 95th in a hundred."
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
        f"in a hundred.{sign} Supply: amps at the most, running. Dip: the deepest fall of the "
        "volts at a start. Not feasible plans are listed to show what stands against them.",
        look="small",
    )
    yield from _terms("What the plans give", [plan.gives for plan in study.plans])
    yield from _terms("What the plans give up", [plan.gives_up for plan in study.plans])
    yield Heading("Why the answer is what it is")
    yield from bullets((reason.words for reason in study.answer.reasons), "small")


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


def _terms(title: str, said: Sequence[Sequence[Reason]]) -> Iterator[Block]:
    """Each thing once, with the plans it holds for by their numbers."""
    by_words: dict[str, list[str]] = {}
    for number, reasons in enumerate(said, start=1):
        for reason in reasons:
            by_words.setdefault(reason.words, []).append(str(number))
    if by_words:
        yield Heading(title)
        yield from table(
            (Column("Plans", 1.0), Column(title.removeprefix("What the plans ").capitalize(), 6.0)),
            ((", ".join(numbers), words) for words, numbers in by_words.items()),
            small=True,
        )


def motors(study: Study) -> Iterator[Block]:
    """What each motor can run on, judged alone: verdicts at a glance, then why."""
    if not study.motors:
        return
    yield Heading("What each motor can run on", 1, page=True)
    there = {way.way for motor in study.motors for way in motor.ways}
    ways = [way for way in WAYS if way in there]
    columns = (Column("Motor", 1.6), *(Column(WAY_SHORT[way], 1.0) for way in ways))
    yield from table(columns, (_verdicts(motor, ways) for motor in study.motors), small=True)
    legend = "; ".join(f"{shape}: {VERDICT_WORDS[verdict]}" for verdict, shape in SHAPES.items())
    yield Words(
        f"{legend}. Each motor is judged with its machine alone. Conditions are told of the way it "
        "has in the plan; those of every other way stand in study.json.",
        look="small",
    )
    plan = chosen(study)
    hung = {} if plan is None else {motor.motor: motor.way for motor in plan.motors}
    columns = (Column("Way", 1.4), Column("Verdict"), Column("Figures and reasons", 4.0))
    rows = (
        row
        for motor in study.motors
        for row in _motor_rows(motor, hung.get(motor.id), study.currency)
    )
    yield from table(columns, rows, small=True)


def _verdicts(motor: MotorSide, ways: Sequence[str]) -> tuple[str, ...]:
    found = {way.way: SHAPES[way.verdict] for way in motor.ways}
    return (motor.id, *(found.get(way, "") for way in WAYS if way in ways))


def _motor_rows(
    motor: MotorSide, hung: WayName | None, currency: str | None
) -> Iterator[tuple[str, ...]]:
    rated = [
        "" if value is None else amount(value.number, value.unit)
        for value in (motor.rated_power_w, motor.rated_speed_rpm, motor.line_voltage_v)
    ]
    if motor.full_load_current_a is not None:
        rated.append(spread(motor.full_load_current_a))
    yield SPAN, f"{motor.id}: {', '.join(filter(None, rated))}. {sentence(motor.connection_words)}"
    for way in sorted(motor.ways, key=lambda way: tuple(VERDICT_WORDS).index(way.verdict)):
        mark = "► " if way.way == hung else ""
        told = way.way == hung or way.verdict == "refused"
        yield (
            mark + WAY_WORDS[way.way], VERDICT_WORDS[way.verdict],
            _why(way, motor, currency, told=told),
        )  # fmt: skip


def _why(way: WaySide, motor: MotorSide, currency: str | None, *, told: bool) -> str:
    figures = "" if way.verdict == "refused" else key_figures(way.figures, currency)
    said = dict.fromkeys(
        sentence(reason.words)
        for reason in (*way.reasons, *way.conditions)
        if told and reason.words != motor.connection_words
    )
    marked = said if way.verdict == "refused" else (f"– {each}" for each in said)
    return "\n".join(filter(None, (sentence(figures) if figures else "", *marked)))
