"""Harmonics of a set of a plan as figures: the supply's current, its volts, its neutral."""

from __future__ import annotations

from phasewright.electronics.common_supply import CommonState
from phasewright.electronics.neutral import (
    heat_ratio,
    neutral_harmonics,
    spread_over_phases,
)
from phasewright.plan.arrays import Choice
from phasewright.plan.on_one_supply import Running, drive_figures, on_one_supply, phasors_of
from phasewright.plan.options import shared_of
from phasewright.plan.problem import Solution
from phasewright.plan.study import CaseHarmonics
from phasewright.plan.to_earth import earthed_of
from phasewright.quantities.value import Value, figure
from phasewright.ways.consumers import rectifies
from phasewright.ways.converter_drive_inside import has_drive_inside

_CONDUCTOR_M2 = 16e-6
"""Skin is told for a conductor of this size: in a thinner one there is less of it."""


def case_harmonics(choice: Choice, plan: Solution, running: Running) -> CaseHarmonics | None:
    """None where the set has no drive or cannot all be at its highest at once, and where something
    in it has harmonics that are not known: then its current would be told too even."""
    state = on_one_supply(choice, plan, running) if _all_known(choice, plan, running) else None
    if state is None:
        return None
    source, here = choice.facts.site.source, state.spectrum
    inputs = {
        "supply": (source.voltage_v, "V"),
        "supply resistance": (source.resistance_ohm, "ohm"),
        "supply reactance": (source.reactance_ohm, "ohm"),
        "drives": (float(len(state.bridges)), ""),
    }

    def out(number: float, unit: str) -> Value:
        return figure(
            number, unit, "electronics.common_supply.settle_common", inputs,
            "drives at their highest loads and what is linear beside them, settled together",
        )  # fmt: skip

    return CaseHarmonics(
        current_a=out(here.current_a, "A"),
        current_thd=out(here.thd, ""),
        crest_factor=out(state.crest, ""),
        service_voltage_thd=out(here.voltage_thd, ""),
        harmonics_a=tuple(abs(each) for each in here.harmonics_a),
        conductor_heat_ratio=out(
            heat_ratio(here.harmonics_a, _CONDUCTOR_M2, source.frequency_hz), ""
        ),
        neutral_a=_neutral(choice, state),
    )


def on_three_phases(choice: Choice, plan: Solution) -> bool:
    """Whether a plan's drives hang between lines and neutral of a service of three phases."""
    on = shared_of(choice.facts, choice.states[plan.state])
    phases = None if on is None else on.phases
    return phases is not None and not phases.single_between_lines


def neutral_of_phases(
    choice: Choice, plan: Solution, running: Running
) -> tuple[tuple[complex, ...], tuple[tuple[complex, ...], ...]] | None:
    """Harmonics of the neutral and of the three lines that a set's drives are spread over; None
    where they hang on no neutral of three phases."""
    if not on_three_phases(choice, plan):
        return None
    drives = [drive_figures(choice, plan, unit) for unit, _ in running]
    lines = spread_over_phases([phasors_of(of) for of in drives if of is not None])
    return neutral_harmonics(lines), lines


def _all_known(choice: Choice, plan: Solution, running: Running) -> bool:
    """Whether all of a set is a drive, linear, or on an idler's lines without a rectifier."""
    on = shared_of(choice.facts, choice.states[plan.state])
    if choice.facts.site.supply_kind == "three_phase" or (on is not None and on.phases is not None):
        return False
    for unit, index in running:
        task, hung = choice.facts.units[unit].task, choice.options[index].shared
        if any(rectifies(each) for each in task.machine.others):
            return False
        on_idler = on is not None and on.design is not None and not has_drive_inside(task)
        if hung and not on_idler and drive_figures(choice, plan, unit) is None:
            return False
    return True


def _neutral(choice: Choice, state: CommonState) -> Value | None:
    """Amps of the neutral of one phase: those of the line; None between two lines."""
    supply = choice.facts.shop.supply
    if supply.kind != "single_phase" or earthed_of(supply) not in ("line_2", "unknown"):
        return None
    return figure(
        state.spectrum.current_a, "A", "electronics.neutral.neutral_harmonics",
        {"line": (state.spectrum.current_a, "A")}, "on one phase the neutral carries its line's",
    )  # fmt: skip
