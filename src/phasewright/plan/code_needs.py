"""What the electrical code asks of a plan's converter, told while no circuit is laid out yet."""

from __future__ import annotations

from phasewright.plan.arrays import Choice
from phasewright.plan.currents import running_sets
from phasewright.plan.options import shared_of
from phasewright.plan.problem import Solution
from phasewright.quantities.finding import Finding
from phasewright.rules.phase_converters import supply_conductors

CONVERTER = "converter"


def converter_conductors(choice: Choice, plan: Solution) -> tuple[Finding, ...]:
    """Both rules of NFPA 70, 455.6(A), for the supply conductors of a rotary converter.

    Until its plate can be read, the nameplate's input is the most that its machines draw through
    it. All loads that hang on it are "served", whether or not they turn together.
    """
    on = shared_of(choice.facts, choice.states[plan.state])
    if choice.facts.shop.region != "NEC" or on is None or on.design is None:
        return ()
    sets = [
        tuple(each for each in group if choice.options[each[1]].shared)
        for group in running_sets(choice, plan)
    ]
    through = [group for group in sets if group]
    if not through:
        return ()
    input_a = max(choice.admission.supply_a(plan.state, each) for each in through)
    served = sorted({unit for group in through for unit, _ in group})
    each = [of.full_load_current_a for k in served if (of := on.serves(k)) is not None]
    amps = tuple(known for known in each if known is not None)
    if len(amps) < len(each):
        return ()  # a drive inside a machine: what its plate takes is not known
    needs = supply_conductors(input_a, amps)
    return (
        Finding(
            f"nec.455.6:{CONVERTER}", "nec.455.6", "info", CONVERTER,
            f"its supply conductors carry at least {needs.variable_a:.3g} A: 125% of its "
            f"nameplate input, taken as the {input_a:.3g} A that are drawn through it until the "
            f"plate is read. For loads that are specific and fixed 250% of their "
            f"{sum(amps):.3g} A, {needs.fixed_a:.3g} A, serve instead only where that is less: "
            f"here {_governing(needs.fixed_is_less)}. Both size conductors; neither is a load "
            "of the panel",
            allowed=needs.variable_a, unit="A", source="NFPA 70-2023, 455.6(A)",
        ),
    )  # fmt: skip


def _governing(fixed_is_less: bool) -> str:
    if fixed_is_less:
        return "it is, so the first governs only while the loads vary"
    return "it is not, so the first governs"
