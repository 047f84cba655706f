"""Every decisive figure of the plan with its formula, what was put in, its result and source."""

from __future__ import annotations

from collections.abc import Iterator

from phasewright.papers.sheets.paper import Paper
from phasewright.papers.sheets.sheet import Paragraph, Section, Sheet, Table
from phasewright.quantities.plain import figures
from phasewright.quantities.value import Value

COLUMNS = ("figure", "result", "formula", "put in", "source")
MOTOR = ("full_load_current_a", "line_voltage_v", "locked_rotor_current_a")
EQUIPMENT = (
    "idle_power_w", "idler_power_w", "run_capacitance_f", "start_capacitance_f",
    "line3_earth_fault_a", "self_excites",
)  # fmt: skip
BUILT = (
    "input_current_a", "input_power_w", "usable_power_w", "starting_torque_ratio",
    "starting_current_a", "output_current_a", "dc_link_v", "leakage_ma", "ramp_up_s",
    "run_capacitance_f", "capacitor_voltage_v",
)  # fmt: skip
CIRCUIT = (
    "design_current_a", "ampacity_a", "loop_ohm", "earth_fault_a", "disconnects_s",
    "fault_at_origin_a", "capacitance_f", "discharge_ohm",
)  # fmt: skip
_UNITS = {"v", "a", "w", "f", "s", "ma", "ohm", "nm", "hz"}
MONEY = ("purchase", "labour", "hours_of_work", "energy_per_year", "lifetime_cost")


def calculations(of: Paper) -> Sheet | str:
    """The sheet, in the order of the job; why there is none where nothing was computed."""
    plan, study = of.plan, of.study
    groups: list[tuple[str, Iterator[tuple[str, Value]]]] = [
        ("Supply", figures(study.supply)),
        *((each.id, _named(each, MOTOR)) for each in study.motors),
        *((of.named(each.id), _named((each.figures, each.supply_lost), EQUIPMENT))
          for each in plan.equipment),
        *((f"{each.motor}, as built", _named(each.figures, BUILT)) for each in of.served),
        *((f"Working: {', '.join(each.running)}", figures(each)) for each in plan.cases),
        *((f"Start of {each.motor}", _first(each)) for each in plan.starts),
        *((of.named(f"Circuit {each.id}"), _named(each, CIRCUIT)) for each in plan.circuits or ()),
        ("Network", figures(plan.network_effects)),
        ("Money", _named(plan, MONEY)),
    ]  # fmt: skip
    sections = []
    for title, found in groups:
        rows = tuple(_row(of, name, value) for name, value in found)
        if rows:
            sections.append(Section(title, (Table(COLUMNS, rows, (), (5, 4, 5, 7, 6)),)))
    if not sections:
        return "nothing of this plan is computed"
    return Sheet(
        "calculations",
        "Calculations",
        (
            Section(
                "",
                (
                    Paragraph(
                        "Decisive figures of the plan in the order of the job. All figures with "
                        "their past, those of the readings with them, stand in workings.json."
                    ),
                ),
            ),
            *sections,
        ),
    )


def _named(tree: object, names: tuple[str, ...]) -> Iterator[tuple[str, Value]]:
    """The figures of a tree whose path holds one of these names at its top."""
    for pointer, value in figures(tree):
        parts = [part for part in pointer.strip("/").split("/") if not part.isdigit()]
        path = "/".join(parts)
        if any(path == name or path.startswith(f"{name}/") for name in names):
            yield pointer, value


def _first(tree: object) -> Iterator[tuple[str, Value]]:
    return ((pointer, value) for pointer, value in figures(tree) if pointer.count("/") == 1)


def _row(of: Paper, name: str, value: Value) -> tuple[str, ...]:
    result = of.amount(value.number, value.unit)
    if not value.sure:
        result = of.within(value.number, value.low, value.high, value.unit)
    put_in = "; ".join(f"{one.name} {of.amount(one.number, one.unit)}" for one in value.inputs)
    return _said(name), result, value.formula or value.origin, put_in, value.source


def _said(name: str) -> str:
    """A path as words: without places in a list, and without units, which the result has."""
    words = name.replace("/", " ").replace("_", " ").split()
    return " ".join(word for word in words if not word.isdigit() and word not in _UNITS)
