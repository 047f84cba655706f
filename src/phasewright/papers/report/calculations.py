"""How the decisive figures come about: result, numbers put in, how, source; in the job's order.

Figures with the same working stand together. How a figure is computed is told by the first sentence
of the function that computed it, which is the one place where that is written down.
"""

from __future__ import annotations

import contextlib
import functools
import importlib
import inspect
import re
from collections.abc import Iterator
from functools import cache

from phasewright.papers.plan_words import own_drives
from phasewright.papers.report.blocks import (
    SPAN,
    Block,
    Column,
    Heading,
    Words,
    table,
)
from phasewright.plan.study import PlanSide, Study
from phasewright.quantities.plain import figures
from phasewright.quantities.told import amount, spread
from phasewright.quantities.value import Value

DECISIVE = frozenset(
    {
        "r", "x", "fault_current_a", "headroom_a", "limit_a",
        "full_load_current_a", "locked_rotor_current_a", "locked_nm", "breakdown_nm",
        "line_voltage_v", "input_current_a", "input_power_w", "input_power_factor",
        "usable_power_w", "usable_by_heat_w", "usable_by_overload_w", "starting_torque_ratio",
        "starting_current_a", "voltage_dip_ratio", "idle_power_w", "drive_rating_w",
        "output_current_a", "base_frequency_hz", "ramp_up_s", "ramp_down_s",
        "input_current_thd", "service_voltage_thd", "leakage_ma", "ohm", "run_capacitance_f",
        "c12", "c23", "c31", "start_capacitance_f", "efficiency_loaded", "line3_earth_fault_a",
        "capacitor_voltage_v", "overload_setting_a", "supply_current_a", "supply_power_w",
        "room_left_a", "line_voltages_v", "vuf", "time_s", "dip", "supply_peak_a",
        "design_current_a", "ampacity_a", "loop_ohm", "earth_fault_a", "disconnects_s",
        "discharge_ohm", "circuit_rating_a", "purchase", "labour", "hours_of_work",
        "energy_per_year", "idle_energy_per_year_kwh", "expected", "running", "starting",
        "noise_dba", "ratio",
    }
)  # fmt: skip
"""Names of the figures of the result file that decide what is bought, laid, set or refused."""
_SHARES = ("dip", "ratio", "thd", "vuf", "efficiency_loaded")
_MARKS = re.compile(r"`| \[[^]]*\]")
_UNIT_ENDINGS = (
    "_dba", "_ohm", "_rpm", "_kwh", "_ma", "_hz", "_nm", "_a", "_v", "_w", "_f", "_s", "_h",
)  # fmt: skip


def calculations(study: Study, plan: PlanSide | None) -> Iterator[Block]:
    """The decisive figures of the supply, the motors and the plan."""
    yield Heading("How the figures come about", 1, page=True)
    yield Words(
        "The decisive figures in the order of the job, with their spread in brackets. Figures of "
        "one working stand together, and the last column says under which number of the list below "
        "it is told how they were computed. Every other figure and its working: workings.json.",
        look="small",
    )
    hows: dict[str, int] = {}
    parts: dict[tuple[tuple[str, ...], ...], list[str]] = {}
    for title, tree in _parts(study, plan):
        rows = tuple(_rows(tree, hows))
        if rows:
            parts.setdefault(rows, []).append(title)
    columns = (Column("Figure and result", 2.2), Column("Numbers put in", 2.0),
               Column("How", side="right"))  # fmt: skip
    told = (row for rows, titles in parts.items() for row in ((SPAN, "; ".join(titles)), *rows))
    yield from table(columns, told, small=True)
    yield Heading("How they were computed, and by which source")
    listed = ((str(number), how) for how, number in hows.items())
    yield from table((Column(""), Column("", 1.0)), listed, small=True)


def _parts(study: Study, plan: PlanSide | None) -> Iterator[tuple[str, object]]:
    """What is told one after the other: a heading, and the tree its figures stand in."""
    yield "The supply", study.supply
    for place in study.places:
        yield f"The supply at {place.name}" if place.name else "The supply at the intake", place
    for motor in study.motors:
        told = (motor.full_load_current_a, motor.locked_rotor_current_a)
        yield f"Motor {motor.id}", {
            "full_load_current_a": told[0], "locked_rotor_current_a": told[1],
            "torque": motor.torque,
        }  # fmt: skip
    if plan is None:
        return
    own = own_drives(plan)
    for equipment in (each for each in plan.equipment if each.id not in own):
        yield f"In the plan: {equipment.id}", equipment.figures
    for motor_side in plan.motors:
        yield f"In the plan: {motor_side.motor}", {
            "overload_setting_a": motor_side.overload_setting_a, "figures": motor_side.figures,
        }  # fmt: skip
    for case in plan.cases:
        yield f"Turning together: {', '.join(case.running) or 'nothing'}", case
    for start in plan.starts:
        yield f"Start of {start.motor}", start
    for circuit in plan.circuits or ():
        ends = (own.get(end, end) for end in (circuit.from_, circuit.to))
        yield f"Circuit from {' to '.join(ends)}", circuit
    yield "Amps and money of the plan", {
        "supply_current_a": plan.supply_current_a, "voltage_dip": plan.voltage_dip,
        "purchase": plan.purchase, "labour": plan.labour, "hours_of_work": plan.hours_of_work,
        "energy_per_year": plan.energy_per_year,
        "idle_energy_per_year_kwh": plan.idle_energy_per_year_kwh,
        "lifetime_cost": plan.lifetime_cost, "noise_dba": plan.noise_dba,
    }  # fmt: skip


def _rows(tree: object, hows: dict[str, int]) -> Iterator[tuple[str, ...]]:
    """Rows of a part: like workings in one; how they were computed by its number, a new one where
    it is told for the first time."""
    alike: dict[tuple[str, str], list[str]] = {}
    for pointer, value in figures(tree):
        names = [name for name in pointer.split("/")[1:] if not name.isdigit()]
        if _decisive(names):
            told = f"{_name(pointer)}: {_told(names[-1], value)}"
            alike.setdefault((_inputs(value), _how(value)), []).append(told)
    for (inputs, how), results in alike.items():
        yield "; ".join(results), inputs, str(hows.setdefault(how, len(hows) + 1))


def _told(name: str, value: Value) -> str:
    """A figure with its spread; shares in a hundred."""
    if value.unit or not name.endswith(_SHARES):
        return spread(value)
    low, middle, high = (f"{each:.1%}" for each in (value.low, value.number, value.high))
    return middle if low == high else f"{middle} ({low} to {high})"


def _decisive(names: list[str]) -> bool:
    """A figure by its own name, or by that of the figure it is the expected value of."""
    inner = ("harmonics", "torque_speed", "delta_87", "insulation", "motor_on_drive", "beside",
             "rectifier", "starts_per_hour", "winding_c", "dc_injection")  # fmt: skip
    return names[-1] in DECISIVE and not any(name in inner for name in names)


def _name(pointer: str) -> str:
    """Words for a figure of the tree: its path without unit endings."""
    lines = {"0": "1-2", "1": "2-3", "2": "3-1"}
    words = []
    for name in pointer.split("/")[1:]:
        if name in ("figures", "expected"):
            continue
        ending = next((end for end in _UNIT_ENDINGS if name.endswith(end)), "")
        bare = name.removesuffix(ending).replace("_", " ")
        words.append(lines.get(name, name) if name.isdigit() else bare)
    return " ".join(words) or "expected"


def _inputs(value: Value) -> str:
    return "; ".join(f"{each.name} {amount(each.number, each.unit)}" for each in value.inputs)


def _how(value: Value) -> str:
    """How it was computed and the source; of a figure that was not computed, where it is from."""
    told = first_sentence(value.formula) if value.formula else ""
    source = value.source or value.origin
    if value.origin not in ("computed", source) and value.origin not in source:
        source = f"{source} ({value.origin})"
    return f"{told} Source: {source}." if told else f"{source[:1].upper()}{source[1:]}."


@cache
def first_sentence(formula: str) -> str:
    """What the function of this name does, in its own words; of what is no function's name, the
    formula itself."""
    found = _function(formula)
    told = None if found is None else inspect.getdoc(found)
    words = (told or formula).partition("\n\n")[0]
    first = " ".join(words.split()).partition(". ")[0].partition(";")[0]
    return _MARKS.sub("", first).rstrip(".:") + "."


def _function(name: str) -> object | None:
    """The function of a dotted name below this package, None where there is none."""
    parts = name.split(".")
    for cut in range(len(parts) - 1, 0, -1):
        module = ".".join(("phasewright", *parts[:cut]))
        with contextlib.suppress(ModuleNotFoundError, AttributeError):
            return functools.reduce(getattr, parts[cut:], importlib.import_module(module))
    return None
