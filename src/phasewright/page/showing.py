"""What of a study is shown, and in which order; nothing is computed here."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import lru_cache

from phasewright.papers.cost_picture import BEST, cost_picture
from phasewright.papers.plan_words import about, findings_of
from phasewright.papers.svg import Mark
from phasewright.plan.study import MotorSide, PlanSide, Study, WaySide
from phasewright.quantities.codes import Verdict
from phasewright.quantities.finding import Assumed, Finding, Missing
from phasewright.quantities.identity import Same
from phasewright.quantities.plain import figures
from phasewright.quantities.told import spread
from phasewright.quantities.value import Value
from phasewright.quantities.words import WAY_SHORT
from phasewright.shop.model import Shop
from phasewright.ways.figures import Buy

_BEST_FIRST: tuple[Verdict, ...] = ("suits", "with_conditions", "refused")


@dataclass(frozen=True, slots=True)
class MotorRow:
    """A motor with its ways, the best verdict first, and their short names by verdict."""

    motor: MotorSide
    ways: tuple[WaySide, ...]
    by_verdict: dict[Verdict, tuple[str, ...]]


@dataclass(frozen=True, slots=True)
class Ask:
    """A fact worth finding out, the same one of several motors once."""

    fact: Missing
    about: tuple[str, ...]


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
    assumed: tuple[tuple[Assumed, int], ...] = ()
    costs: dict[str, Mark] | None = None


def shown(shop: Shop, study: Study | None, wanted: str = "") -> Shown:
    """What is shown of a study with the plan of this id, else with the answer's own."""
    if study is None:
        return Shown()
    ids = {plan.id: plan for plan in study.plans}
    plan = ids.get(wanted) or ids.get(study.answer.plan)
    buys = () if plan is None else tuple(sorted(plan.buys, key=lambda buy: buy.year))
    return Shown(
        plan=plan,
        best=plan is not None and plan.id == study.answer.plan,
        plans=study.plans,
        now=tuple(buy for buy in buys if buy.year == 0),
        later=tuple(buy for buy in buys if buy.year > 0),
        motors=tuple(_row(motor) for motor in study.motors),
        findings=_alike(findings_of(study, plan)),
        asks=tuple(_asks(study.missing, shop)),
        assumed=_assumed(study.assumed),
        costs=_costs(study, plan),
    )


def _alike(findings: Iterable[Finding]) -> tuple[tuple[Finding, ...], ...]:
    """Findings of the same rule and severity together, in the order of the first of each."""
    groups: dict[tuple[str, str], list[Finding]] = {}
    for one in findings:
        groups.setdefault((one.severity, one.rule), []).append(one)
    return tuple(tuple(group) for group in groups.values())


def pointers(study: Study | None) -> dict[int, str]:
    """Of every figure of this very study, by its `id`, where it stands in the result file."""
    return {} if study is None else _pointers(Same(study))


def pointer_of(study: Study | None) -> Callable[[Value], str]:
    """Where a figure of this very study stands in the result file; empty where it is none of it."""
    return lambda value: pointers(study).get(id(value), "")


@lru_cache(maxsize=8)
def _pointers(study: Same[Study]) -> dict[int, str]:
    found: dict[int, str] = {}
    for pointer, value in figures(study.it):
        found.setdefault(id(value), pointer)
    return found


@dataclass(frozen=True, slots=True)
class FigureRow:
    """A figure of the answer: its name in words, itself, where it stands in the result file."""

    name: str
    value: Value
    pointer: str


def figure_groups(study: Study, plan: PlanSide) -> list[tuple[str, list[FigureRow]]]:
    """The figures of the supply and of a plan, by what they are of; those of a drive's settings,
    which stand in its own list, are left out."""
    at = f"/plans/{study.plans.index(plan)}"
    groups: dict[str, list[FigureRow]] = {}
    for pointer, value in figures(study.supply, "/supply"):
        groups.setdefault("The supply", []).append(FigureRow(figure_name(pointer), value, pointer))
    for pointer, value in figures(plan, at):
        names = pointer.removeprefix(at).split("/")[1:]
        if "settings" not in names:
            row = FigureRow(_reading(plan, names) or figure_name(pointer), value, pointer)
            groups.setdefault(_of(plan, names), []).append(row)
    return list(groups.items())


def _reading(plan: PlanSide, names: list[str]) -> str:
    """What a meter is held to and when; empty for what is no reading."""
    if names[0] != "readings_expected" or plan.readings_expected is None:
        return ""
    reading = plan.readings_expected[int(names[1])]
    return f"{reading.between}, {reading.state}"


def _of(plan: PlanSide, names: list[str]) -> str:
    """What a figure of a plan is of, in words."""
    part, place = names[0], int(names[1]) if len(names) > 1 and names[1].isdigit() else -1
    if place >= 0 and part == "motors":
        return f"{plan.motors[place].motor}, as built"
    if place >= 0 and part == "equipment":
        return plan.equipment[place].id.replace("_", " ").capitalize()
    if place >= 0 and part == "cases":
        return f"Turning together: {', '.join(plan.cases[place].running) or 'nothing'}"
    if place >= 0 and part == "starts":
        return f"The start of {plan.starts[place].motor}"
    if place >= 0 and part == "circuits" and plan.circuits is not None:
        return f"The circuit {plan.circuits[place].id}"
    if part == "readings_expected":
        return "What a meter should show"
    if part == "network_effects":
        return "What the network sees"
    return "The plan as a whole"


_UNITS = {"v", "a", "w", "f", "s", "ma", "ohm", "nm", "hz", "dba", "c", "m2"}
_STRUCTURE = ("plans", "motors", "figures", "ways", "equipment", "cases", "starts", "circuits")


def figure_name(pointer: str) -> str:
    """A place in the result file as words: names without their places in lists and units."""
    pairs = {"0": "1–2", "1": "2–3", "2": "3–1"}
    parts = pointer.split("/")[1:]
    kept: list[str] = []
    for before, name in zip(("", *parts), parts, strict=False):
        if name.isdigit():
            if "line_voltages" in before or before in ("idle", "loaded"):
                kept.append(pairs.get(name, name))
            elif before not in _STRUCTURE:
                kept.append(str(int(name) + 1))
        elif name not in _STRUCTURE:
            words = name.replace("~1", "/").replace("~0", "~").split("_")
            kept.append(" ".join(word for word in words if word not in _UNITS))
    return " ".join(filter(None, kept[-4:])) or "figure"


def _costs(study: Study, plan: PlanSide | None) -> dict[str, Mark] | None:
    marked = "" if plan is None else plan.id
    best = [entry for entry in study.plans if entry.feasible][:BEST]
    if not best:
        return None
    sizes = {"narrow": 320.0, "wide": 680.0}
    return {name: cost_picture(best, study.currency, marked, wide) for name, wide in sizes.items()}


def _row(motor: MotorSide) -> MotorRow:
    ways = sorted(motor.ways, key=lambda way: _BEST_FIRST.index(way.verdict))
    names = {
        verdict: tuple(WAY_SHORT[way.way] for way in ways if way.verdict == verdict)
        for verdict in _BEST_FIRST
    }
    return MotorRow(motor, tuple(ways), {verdict: of for verdict, of in names.items() if of})


def _asks(facts: Iterable[Missing], shop: Shop) -> list[Ask]:
    groups: dict[tuple[str, str, str], list[Missing]] = {}
    for fact in facts:
        key = fact.words, fact.how_to_measure, fact.would_change
        groups.setdefault(key, []).append(fact)
    return [Ask(alike[0], tuple(about(f.path, shop) for f in alike)) for alike in groups.values()]


def _assumed(facts: Iterable[Assumed]) -> tuple[tuple[Assumed, int], ...]:
    """What was taken, the same thing of several motors once, with how many times."""
    groups: dict[tuple[str, str, str], list[Assumed]] = {}
    for fact in facts:
        key = fact.field, spread(fact.value), fact.value.origin
        groups.setdefault(key, []).append(fact)
    return tuple((alike[0], len(alike)) for alike in groups.values())
