"""What of a study is shown, and in which order; nothing is computed here."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from phasewright.page.typed_at import typed_at
from phasewright.papers.best_few import best_few
from phasewright.papers.cost_picture import BEST, cost_picture
from phasewright.papers.measuring import Measuring, measuring
from phasewright.papers.plan_words import about, findings_of
from phasewright.papers.shop_sheet import WIDTHS
from phasewright.papers.svg import Mark
from phasewright.papers.workings.places import figure_words, figures_of
from phasewright.papers.years_picture import years_picture
from phasewright.plan.study import MotorSide, PlanSide, Study
from phasewright.quantities.codes import Verdict, WayName
from phasewright.quantities.finding import Assumed, Finding, Missing
from phasewright.quantities.told import spread
from phasewright.shop.model import Shop
from phasewright.ways.figures import Buy

_SIZES = {"narrow": 320.0, "wide": 680.0}
_BEST_FIRST: tuple[Verdict, ...] = ("suits", "with_conditions", "refused")


@dataclass(frozen=True, slots=True)
class MotorRow:
    """A motor with its ways by verdict, the best first."""

    motor: MotorSide
    by_verdict: dict[Verdict, tuple[WayName, ...]]


@dataclass(frozen=True, slots=True)
class Ask:
    """A fact worth finding out, the same one of several motors once: what each is about and the
    address of its field, and how it is found where that takes a meter or the eye."""

    fact: Missing
    about: tuple[str, ...]
    typed_at: tuple[tuple[str, str], ...]
    how: Measuring | None


@dataclass(frozen=True, slots=True)
class Shown:
    """What a page of a shop shows of its study; empty where there is none yet. Findings of one
    rule, as bad as each other, stand together."""

    plan: PlanSide | None = None
    best: bool = False
    plans: tuple[PlanSide, ...] = ()
    now: tuple[Buy, ...] = ()
    later: tuple[Buy, ...] = ()
    motors: tuple[MotorRow, ...] = ()
    findings: tuple[tuple[Finding, ...], ...] = ()
    asks: tuple[Ask, ...] = ()
    assumed: tuple[tuple[Assumed, tuple[str, ...]], ...] = ()
    costs: dict[str, Mark] | None = None
    few: tuple[PlanSide, ...] = ()
    years: dict[str, Mark] | None = None


def shown(shop: Shop, study: Study | None, wanted: str = "") -> Shown:
    """What is shown of a study with the plan of this id, else with the answer's own."""
    if study is None:
        return Shown()
    ids = {plan.id: plan for plan in study.plans}
    plan = ids.get(wanted) or ids.get(study.answer.plan)
    few = best_few(study, plan)
    buys = () if plan is None else tuple(sorted(plan.buys, key=lambda buy: buy.year))
    return Shown(
        plan=plan,
        best=plan is not None and plan.id == study.answer.plan,
        plans=study.plans,
        now=tuple(buy for buy in buys if buy.year == 0),
        later=tuple(buy for buy in buys if buy.year > 0),
        motors=tuple(_row(motor) for motor in study.motors),
        findings=_alike(findings_of(study, plan)),
        asks=tuple(asks_of(study.missing, shop)),
        assumed=_assumed(study.assumed, shop),
        costs=_costs(study, plan),
        few=few,
        years=_years(study, plan, few),
    )


def _alike(findings: Iterable[Finding]) -> tuple[tuple[Finding, ...], ...]:
    """Findings of the same rule and severity together, in the order of the first of each."""
    groups: dict[tuple[str, str], list[Finding]] = {}
    for one in findings:
        groups.setdefault((one.severity, one.rule), []).append(one)
    return tuple(tuple(group) for group in groups.values())


@dataclass(frozen=True, slots=True)
class FigureRow:
    """A figure of the answer as it is written: its name, itself, where it stands in the file."""

    name: str
    figure: str
    at: str


def figure_groups(study: Study, shop: Shop, plan: PlanSide) -> list[tuple[str, list[FigureRow]]]:
    """The figures of the supply, of the motors by their plates and of a plan, by what they are of;
    those of a drive's settings, which stand in its own list, are left out."""
    groups: dict[str, list[FigureRow]] = {}
    for place in ("/supply", "/places", f"/plans/{study.plans.index(plan)}"):
        for at, one in figures_of(study, shop, place):
            if "/settings/" not in at:
                row = FigureRow(one.name, figure_words(one, study.currency), at)
                groups.setdefault(one.of, []).append(row)
    return list(groups.items())


def _costs(study: Study, plan: PlanSide | None) -> dict[str, Mark] | None:
    marked = "" if plan is None else plan.id
    best = [entry for entry in study.plans if entry.feasible][:BEST]
    if not best:
        return None
    return {name: cost_picture(best, study.currency, marked, wide) for name, wide in _SIZES.items()}


def _years(
    study: Study, plan: PlanSide | None, few: tuple[PlanSide, ...]
) -> dict[str, Mark] | None:
    if not few or not any(each.feasible for each in few):
        return None
    drawn = "" if plan is None else plan.id
    return {
        name: years_picture(few, study.currency, drawn, wide)
        for name, wide in (_SIZES | {"desk": WIDTHS["desk"]}).items()
    }


def _row(motor: MotorSide) -> MotorRow:
    ways = {
        verdict: tuple(way.way for way in motor.ways if way.verdict == verdict)
        for verdict in _BEST_FIRST
    }
    return MotorRow(motor, {verdict: of for verdict, of in ways.items() if of})


def asks_of(facts: Iterable[Missing], shop: Shop) -> list[Ask]:
    """Facts worth finding out, the same of several motors or machines once."""
    groups: dict[tuple[str, str, str], list[Missing]] = {}
    for fact in facts:
        key = fact.words, fact.how_to_measure, fact.would_change
        groups.setdefault(key, []).append(fact)
    return [
        Ask(
            alike[0],
            tuple(about(f.path, shop) for f in alike),
            tuple((about(f.path, shop) or f.field, typed_at(f.path)) for f in alike),
            measuring(alike[0].path),
        )
        for alike in groups.values()
    ]


def _assumed(facts: Iterable[Assumed], shop: Shop) -> tuple[tuple[Assumed, tuple[str, ...]], ...]:
    """What was taken, the same thing of several motors once, with what it is of."""
    groups: dict[tuple[str, str, str], list[Assumed]] = {}
    for fact in facts:
        key = fact.field, spread(fact.value), fact.value.origin
        groups.setdefault(key, []).append(fact)
    return tuple(
        (alike[0], tuple(dict.fromkeys(filter(None, (about(fact.path, shop) for fact in alike)))))
        for alike in groups.values()
    )
