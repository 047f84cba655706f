"""Every decisive figure of the plan with its formula, what was put in, its result and source.

In the order of the job; a figure stands here once. Figures of one working stand together.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from phasewright.papers.algebra import (
    BY_ANGLES,
    VECTORS,
    first_sentence,
    formula_of,
    in_words,
    put_in,
)
from phasewright.papers.plan_words import INSIDE, own_drives
from phasewright.papers.sheets.paper import Paper
from phasewright.papers.sheets.sheet import Paragraph, Section, Sheet, Table
from phasewright.plan.study import PlanSide
from phasewright.quantities.plain import figures
from phasewright.quantities.told import money
from phasewright.quantities.value import Input, Value

COLUMNS = ("figure", "numbers put in, and result", "formula or method, source")
DIGITS = 4
"""Digits of what is put in, so that the result can be worked out again."""
SUPPLY = ("impedance_ohm", "fault_current_a", "headroom_a")
MOTOR = ("full_load_current_a",)
SHARED = (
    "idler_power_w", "drive_rating_w", "run_capacitance_f", "travelling_capacitance_f",
    "start_capacitance_f", "idle_power_w", "line_voltages_v", "efficiency_loaded",
    "line3_earth_fault_a",
)  # fmt: skip
BUILT = (
    "overload_setting_a", "drive_rating_w", "input_current_a", "usable_power_w",
    "starting_torque_ratio", "capacitor_voltage_v", "tuned_run_capacitance_f",
)  # fmt: skip
START = ("time_s", "dip", "line3_lowest_v", "supply_peak_a")
CASE = ("supply_current_a", "line_voltages_v", "unbalance/vuf", "room_left_a")
CIRCUIT = (
    "design_current_a", "ampacity_a", "voltage_drop/running", "loop_ohm", "earth_fault_a",
    "disconnects_s",
)  # fmt: skip
BRANCH = ("discharge_ohm",)
BREAKER = ("circuit_rating_a",)
NETWORK = ("flicker_at_intake/expected",)
MONEY = (
    "purchase", "hours_of_work", "labour", "idle_energy_per_year_kwh", "energy_per_year",
    "lifetime_cost",
)  # fmt: skip
PLAIN_MONEY = {"purchase", "labour", "energy_per_year", "lifetime_cost"}
SHARES = ("dip", "ratio", "vuf", "efficiency_loaded", "voltage_drop")
SAID = {
    "dip": "fall of the volts", "line3_lowest_v": "lowest volts of line 3", "time_s": "running up",
    "supply_peak_a": "highest amps of the supply", "circuit_rating_a": "breaker",
    "disconnects_s": "opens within", "loop_ohm": "earth loop", "headroom_a": "headroom",
    "voltage_drop": "fall along the cable,", "lifetime_cost": "cost over the years",
    "energy_per_year": "energy a year", "line_voltages_v": "volts 1-2, 2-3, 3-1",
    "vuf": "(negative over positive sequence)",
    "discharge_ohm": "discharge resistor",
    "idle_energy_per_year_kwh": "energy of idling a year", "room_left_a": "room left",
    "flicker_at_intake": "flicker severity at the intake", "r": "resistance", "x": "reactance",
    "line3_earth_fault_a": "earth fault of line 3",
    "c12": "lines 1-2", "c23": "lines 2-3", "c31": "lines 3-1",
}  # fmt: skip
_UNITS = {"v", "a", "w", "f", "s", "ma", "ohm", "nm", "hz", "kwh"}
WORDS = (
    "Decisive figures of the plan in the order of the job, each once. A result in brackets is its "
    "spread. What is solved rather than worked out in one line (networks, starts in time, "
    "rectifiers) is told in words with what went in. Every figure of the answer, these among them, "
    "stands with all its inputs in workings.json."
)


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure: whose it is, its path within that, and the figure itself."""

    of: str
    path: tuple[str, ...]
    value: Value

    @property
    def field(self) -> str:
        """Its own name, not the name of its place in a list."""
        return next(name for name in reversed(self.path) if not name.isdigit())


def calculations(of: Paper) -> Sheet | str:
    """The sheet, in the order of the job; why there is none where nothing was computed."""
    sections = [
        Section(title, (Table(COLUMNS, rows, (), (3, 9, 7), wide=True),))
        for title, found in _groups(of)
        if (rows := tuple(_rows(of, tuple(found))))
    ]
    if not sections:
        return "nothing of this plan is computed"
    return Sheet("calculations", "Calculations", (Section("", (Paragraph(WORDS),)), *sections))


def _groups(of: Paper) -> Iterator[tuple[str, Iterator[Figure]]]:
    plan, study = of.plan, of.study
    places = ((each.name or "the intake", each) for each in study.places)
    laid = [each for each in plan.circuits or () if each.role not in INSIDE]
    branches = [each for each in plan.circuits or () if each.role == "capacitor_branch"]
    yield "The supply", _of((("", study.supply), *places), (*SUPPLY, "limit_a"))
    yield "The motors", _of(((each.id, each) for each in study.motors), MOTOR)
    yield "What makes three phases", _of(_shared(of, plan), SHARED)
    yield "What each motor has", _of(
        ((each.motor, {"overload_setting_a": each.overload_setting_a, **_own(each.figures, BUILT)})
         for each in of.served), BUILT,
    )  # fmt: skip
    yield "Starts", _of(((each.motor, each) for each in plan.starts), START)
    yield "Circuits", _of(((of.named(each.id), each) for each in laid), CIRCUIT)
    yield "Breakers", _of(((each.motor, each.figures) for each in of.served), BREAKER)
    yield "Branches of capacitors", _of(((of.named(each.id), each) for each in branches), BRANCH)
    yield (
        "Sets that turn together",
        _of(((", ".join(each.running), each) for each in plan.cases), CASE),
    )
    yield "The network", _of((("", plan.network_effects),), NETWORK)
    yield "Money", _of((("", plan),), MONEY)


def _shared(of: Paper, plan: PlanSide) -> Iterator[tuple[str, object]]:
    """What serves several motors; a drive of one motor is told with that."""
    own = own_drives(plan)
    for each in plan.equipment:
        if each.id not in own:
            yield of.named(each.id), each.figures


def _own(tree: object, names: Iterable[str]) -> dict[str, object]:
    return {name: found for name in names if (found := getattr(tree, name, None)) is not None}


def _of(trees: Iterable[tuple[str, object]], names: tuple[str, ...]) -> Iterator[Figure]:
    """Of each tree the figures of these names, in the order of the names."""
    found = [
        Figure(whose, tuple(pointer.strip("/").split("/")), value)
        for whose, tree in trees
        for pointer, value in figures(tree)
    ]
    for name in names:
        at = tuple(name.split("/"))
        yield from (each for each in found if each.path[: len(at)] == at)


def _rows(of: Paper, found: tuple[Figure, ...]) -> Iterator[tuple[str, ...]]:
    """Figures of one working in a row. Where there is algebra each with its numbers in it, like
    ones together; else each with what went in."""
    rows: dict[tuple[str, str, str], list[Figure]] = {}
    for each in found:
        if each.value.number == each.value.low == each.value.high == 0.0:
            continue  # nothing that has to be computed
        solved = each.value.inputs and not formula_of(each.value, each.field)
        name = "" if solved else _said(each.path)
        rows.setdefault((name, _how(each), _source(each.value)), []).append(each)
    for (name, how, source), alike in rows.items():
        if name:
            yield name, _worked_out(of, alike), _sourced(how, source)
        else:
            names = dict.fromkeys(_said(each.path) for each in alike)
            yield ", ".join(names), _solved(of, alike), _sourced(how, source)


def _sourced(how: str, source: str) -> str:
    return f"{how.rstrip('.')}. Source: {source}."


def _how(each: Figure) -> str:
    """The algebra in names; in words where there is no line of it."""
    value = each.value
    formula = formula_of(value, each.field)
    if formula:
        by_angles = f" ({BY_ANGLES})" if (value.formula, each.field) in VECTORS else ""
        return in_words(formula) + by_angles
    return first_sentence(value.formula) if value.formula else "taken as it is"


def _worked_out(of: Paper, alike: list[Figure]) -> str:
    """The numbers in the formula and what it comes to; of what was taken as it is the result."""
    told: dict[str, list[str]] = {}
    for each in alike:
        result = _result(of, each)
        if formula := formula_of(each.value, each.field):
            numbers = put_in(formula, each.value.inputs, lambda n, unit: _number(of, n, unit))
            result = f"{numbers} = {result}"
        told.setdefault(result, []).append(each.of)
    return "; ".join(
        f"{', '.join(whose)}: {result}" if any(whose) else result for result, whose in told.items()
    )


def _solved(of: Paper, alike: list[Figure]) -> str:
    """Results with what went in; what went in everywhere is said once."""
    groups: dict[tuple[Input, ...], dict[str, dict[str, list[str]]]] = {}
    several = len({_said(each.path) for each in alike}) > 1
    for each in alike:
        results = groups.setdefault(each.value.inputs, {}).setdefault(each.of, {})
        name = _said(each.path) if several else ""
        results.setdefault(name, []).append(_result(of, each))
    common = [one for one in alike[0].value.inputs if all(one in inputs for inputs in groups)]
    parts = []
    for inputs, by_whose in groups.items():
        like: dict[str, list[str]] = {}
        for whose, named in by_whose.items():
            told = ", ".join(f"{name} {' / '.join(found)}".strip() for name, found in named.items())
            like.setdefault(told, []).append(whose)
        said = "; ".join(
            f"{', '.join(whose)}: {results}" if any(whose) else results
            for results, whose in like.items()
        )
        own = _went(of, [one for one in inputs if one not in common])
        parts.append(f"{said} ({own})" if own else said)
    return "; ".join(parts) + (f". From {_went(of, common)}" if common else "")


def _went(of: Paper, inputs: Iterable[Input]) -> str:
    return ", ".join(f"{one.name} {of.amount(one.number, one.unit)}" for one in inputs)


def _number(of: Paper, number: float, unit: str) -> str:
    """What is put in; a sum of money as it is."""
    return f"{number:,.2f}".removesuffix(".00") if not unit else of.amount(number, unit, DIGITS)


def _source(value: Value) -> str:
    source = value.source or value.origin
    known = value.origin in ("computed", source) or value.origin in source
    return source if known else f"{source} ({value.origin})"


def _result(of: Paper, each: Figure) -> str:
    value = each.value
    if each.path[0] in PLAIN_MONEY:
        spread = "" if value.sure else f" ({money(value.low, None)} to {money(value.high, None)})"
        return money(value.number, of.study.currency) + spread
    if (not value.unit and each.field.endswith(SHARES)) or each.path[0] == "voltage_drop":
        low, middle, high = (f"{part:.1%}" for part in (value.low, value.number, value.high))
        return middle if low == high else f"{middle} ({low} to {high})"
    if value.sure:
        return of.amount(value.number, value.unit)
    return of.within(value.number, value.low, value.high, value.unit)


def _said(path: tuple[str, ...]) -> str:
    """A path as words: without places in a list and without units, which results have."""
    words = []
    for name in path:
        if name in ("expected", "impedance_ohm") or name.isdigit():
            continue
        bare = " ".join(part for part in name.split("_") if part not in _UNITS)
        words.append(SAID.get(name, bare))
    return " ".join(words)
