"""How a figure came about, in words or in algebra with its numbers put in.

Algebra is written in the names of a figure's inputs. What has no closed formula is told by the
first sentence of the function that computed it, which is the one place where that is written down.
"""

from __future__ import annotations

import contextlib
import functools
import importlib
import inspect
import re
from collections.abc import Callable, Sequence
from functools import cache

from phasewright.quantities.value import Input, Value

SUM = "Σ"
"""In a formula: the sum of all inputs that it does not name."""
FORMULAS: dict[str, tuple[str, ...]] = {
    "network.impedance.of_heater_test": ("({unloaded} − {loaded}) ÷ {current}",),
    "network.impedance.fault_current": ("{voltage} ÷ √({resistance}² + {reactance}²)",),
    "plan.currents.cases_of": (
        "{limit} − {others} − {this}", "larger({plate}; {highest line of any set})",
    ),
    "plan.circuit_single.drive_leads": ("larger({output}; {plate})",),
    "circuits.cables.drop_ratio": (
        "{ways of the current} × {current} × ({resistance} × {power factor} + {reactance} × "
        "√(1 − {power factor}²)) ÷ {volts}",
    ),
    "plan.circuit_branches.branches": (
        "2 × π × {frequency} × {capacitance} × {volts}",
        "2 × π × {frequency} × {capacitance} × {volts} × √({on in an hour} ÷ 3600)",
    ),
    "plan.circuit_fittings.discharge_ohm": (
        "{within} ÷ ({capacitance} × ln(√(2) × {volts} ÷ {safe}))",
    ),
    "tables.circuits.control_va": ("{volt-amperes} ÷ {volts}",),
    "plan.payments.Ledger.idle_kwh": ("{idling takes} × {hours a year} ÷ 1000",),
    "plan.sums.purchase": (SUM,),
    "plan.sums.hours_of_work": (SUM,),
    "plan.sums.labour": (
        "{work} × {price of an hour} × {share of the owner's hours that is paid}",
    ),
    "plan.sums.energy_per_year": (f"{SUM} × {{price of energy}}",),
    "plan.flows.lifetime_cost": (SUM,),
}  # fmt: skip
"""By the function that computes a figure: what it computes, where that is one line of algebra. The
formula whose names are those of the inputs holds."""
VECTORS: dict[tuple[str, str], str] = {
    ("plan.circuit_supply.earth_values", "loop_ohm"):
        "{supply loop} × {its share to earth} + {this circuit} + {electrode}",
    ("plan.circuit_supply.earth_values", "earth_fault_a"):
        "{to earth} ÷ ({supply loop} × {its share to earth} + {this circuit} + {electrode})",
    ("running.line3_fault.line3_fault", "line3_earth_fault_a"):
        "{source of line 3} ÷ ({behind} + {loop})",
    ("running.line3_fault.line3_fault", "earth_fault_a"):
        "{source of line 3} ÷ ({behind} + {way back})",
}  # fmt: skip
"""The same where impedances are added with their angles, by function and name of the figure."""
BY_ANGLES = "impedances added with their angles"
_FAULT_VOLTS = "to earth"
"""Stands beside the ohms of a loop, and is no part of them."""
_NAME = re.compile(r"\{([^}]*)\}")
_MARKS = re.compile(r"`| \[[^]]*\]")
Shown = Callable[[float, str], str]


def formula_of(value: Value, field: str) -> str:
    """The algebra of a figure [in the names of its inputs]; empty where it has no closed one."""
    inputs = {each.name for each in value.inputs}
    vector = VECTORS.get((value.formula, field), "")
    if vector and inputs - set(_NAME.findall(vector)) <= {_FAULT_VOLTS}:
        return vector
    for formula in FORMULAS.get(value.formula, ()):
        named = set(_NAME.findall(formula))
        if named == inputs or (SUM in formula and named < inputs and _alike(value, named)):
            return formula
    return ""


def _alike(value: Value, named: set[str]) -> bool:
    """True where what is summed is of one unit."""
    return len({each.unit for each in value.inputs if each.name not in named}) == 1


def put_in(formula: str, inputs: Sequence[Input], shown: Shown) -> str:
    """A formula with its numbers in the place of their names; what is summed keeps its names."""
    by_name = {each.name: shown(each.number, each.unit) for each in inputs}
    summed = [each for each in inputs if each.name not in _NAME.findall(formula)]
    total = " + ".join(f"{by_name[each.name]} ({each.name.replace('_', ' ')})" for each in summed)
    told = formula.replace(SUM, total if formula == SUM else f"({total})")
    return _NAME.sub(lambda found: by_name[found[1]], told).replace("larger(", "the larger of (")


def in_words(formula: str) -> str:
    """A formula in the names of its inputs."""
    told = _NAME.sub(lambda found: found[1], formula.replace(SUM, "the sum"))
    return told.replace("larger(", "the larger of (")


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
