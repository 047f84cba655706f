"""What a plan's converter holds on its lines when the supply is lost while it spins.

The idler alone, at its idling speed, with all of its run capacitors: motors on the same lines
ask for capacitance of their own and brake. Where motors bring capacitors, every set that turns
together is asked as well, unloaded: coils on lines 1 and 2 hold while those lines stay live. The
iron of a motor that is not measured is not known, so usual iron is told with the spread from
soft to hard, at one no-load current.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

from phasewright.machines.circuit import Saturation
from phasewright.machines.targets import HARD_SATURATION, SOFT_SATURATION
from phasewright.network.supply import Source
from phasewright.plan.arrays import Choice
from phasewright.plan.currents import running_sets
from phasewright.plan.options import shared_of
from phasewright.plan.problem import Solution
from phasewright.plan.study import HeldWithMachines, SupplyLost
from phasewright.quantities.errors import NotComputable
from phasewright.quantities.finding import Finding
from phasewright.quantities.value import Value, figure
from phasewright.rules.supply_lost import lines_stay_live
from phasewright.running.converter import Converter, on_converter
from phasewright.running.network import Connected, Settled
from phasewright.running.self_excitation import SelfExcitation, self_excitation
from phasewright.running.settle import settle
from phasewright.ways.converter_design import Design
from phasewright.ways.figures import Range
from phasewright.ways.on_two_lines import Linked, linked

Sets = tuple[tuple[Connected, ...], ...]
Irons = tuple[SelfExcitation, SelfExcitation, SelfExcitation]
FORMULA = "running.self_excitation.self_excitation"
WORDS = "self-excitation of the idling converter without supply; usual iron, soft to hard"


@dataclass(frozen=True, slots=True)
class Held:
    """Motors that are on when the supply is lost, and what is held with soft, usual, hard iron."""

    motors: tuple[str, ...]
    irons: Irons

    @property
    def volts(self) -> tuple[float, float, float]:
        """Volts of the highest line with soft, usual and hard iron; 0 where nothing is held."""
        soft, usual, hard = (_highest(iron) for iron in self.irons)
        return soft, usual, hard


def hung_sets(choice: Choice, plan: Solution) -> Sets:
    """The motors of every set that turns together on a plan's converter, unloaded; none where
    none of them brings capacitors."""
    on = shared_of(choice.facts, choice.states[plan.state])
    if on is None or on.design is None or not on.design.brings:
        return ()
    sets = []
    for running in running_sets(choice, plan):
        motors = [
            linked(choice.facts.units[unit].motor)
            for unit in choice.admission.hung(running)
        ]  # fmt: skip
        sets.append(tuple(one.connected(0.0) for one in motors if isinstance(one, Linked)))
    return tuple(dict.fromkeys(each for each in sets if each))


def supply_lost(source: Source, of: Design, sets: Sets = ()) -> SupplyLost | None:
    """What the converter holds alone, and with any of these sets on; None where that cannot be
    computed (`supply_lost_findings` says why)."""
    try:
        alone, *beside = _held(source, of, sets)
    except NotComputable:
        return None
    irons = alone.irons
    run = of.converter.run_f
    inputs = {
        "idler": (of.converter.idler_power_w, "W"),
        "shaft speed": (of.idle.machines[0].speed_rpm, "rpm"),
        "C12": (run.c12, "F"),
        "C23": (run.c23, "F"),
        "C31": (run.c31, "F"),
    }

    def out(number: float, unit: str, low: float | None = None, high: float | None = None) -> Value:
        return figure(number, unit, FORMULA, inputs, WORDS, low=low, high=high)

    def spread(numbers: list[float], unit: str) -> Range:
        low, high = min(numbers), max(numbers)
        return Range(low, out(numbers[1], unit, low, high), high)

    usual = irons[1]
    full = usual.full_volts_sum_f
    held = usual.volts is not None
    return SupplyLost(
        run_capacitance_sum_f=out(usual.sum_f, "F"),
        onset_sum_f=spread([iron.onset_sum_f for iron in irons], "F"),
        full_volts_sum_f=None if full is None else out(full, "F"),
        self_excites=spread([_highest(iron) for iron in irons], "V"),
        line_voltages_v=None if usual.volts is None else (
            out(usual.volts[0], "V"), out(usual.volts[1], "V"), out(usual.volts[2], "V")
        ),
        frequency_hz=None if usual.frequency_hz is None else out(usual.frequency_hz, "Hz"),
        braking_nm=out(usual.braking_nm, "N m") if held else None,
        law=usual.law if held else None,
        with_machines=_with_machines(beside, of),
    )  # fmt: skip


def _with_machines(beside: list[Held], of: Design) -> HeldWithMachines | None:
    if not beside:
        return None
    worst = max(beside, key=_most)
    bank = of.converter.run_with(worst.motors)
    inputs = {
        "C23": (bank.c23, "F"), "C31": (bank.c31, "F"), "idler": (of.converter.idler_power_w, "W"),
        **{motor: (1.0, "") for motor in worst.motors},
    }  # fmt: skip
    low, high, usual = min(worst.volts), max(worst.volts), worst.volts[1]
    return HeldWithMachines(
        worst.motors,
        figure(bank.c12 + bank.c23 + bank.c31, "F", FORMULA, inputs, WORDS),
        Range(low, figure(usual, "V", FORMULA, inputs, WORDS, low=low, high=high), high),
    )


def supply_lost_findings(source: Source, of: Design, sets: Sets = ()) -> tuple[Finding, ...]:
    """The caution that the lines stay live, with the volts."""
    subject = "converter"
    try:
        worst = max(_held(source, of, sets), key=_most)
    except NotComputable as refusal:
        return lines_stay_live(None, None, subject, str(refusal)).findings
    measured = all(iron.law == "measured" for iron in worst.irons)
    return lines_stay_live(
        worst.volts[1], max(worst.volts), subject, measured=measured, beside=worst.motors
    ).findings


def _most(held: Held) -> tuple[float, float]:
    return max(held.volts), held.volts[1]


def _held(source: Source, of: Design, sets: Sets) -> list[Held]:
    """The converter alone, then with each of these sets on."""
    found = [Held((), _irons(source, of.converter, (), speeds_of(of.idle)))]
    for motors in sets:
        point = settle(on_converter(source, of.converter, motors))
        names = tuple(motor.name for motor in motors)
        found.append(Held(names, _irons(source, of.converter, motors, speeds_of(point))))
    return found


def speeds_of(point: Settled) -> tuple[float, ...]:
    """The speed of every machine [rpm]."""
    return tuple(machine.speed_rpm for machine in point.machines)


@lru_cache(maxsize=512)
def _irons(
    source: Source, converter: Converter, motors: tuple[Connected, ...],
    speeds_rpm: tuple[float, ...],
) -> Irons:  # fmt: skip
    """The converter with these motors on, of soft, their own and hard iron, at these speeds."""
    network = on_converter(source, converter, motors)
    soft, usual, hard = (
        self_excitation(replace(network, machines=machines), speeds_rpm)
        for machines in (
            _of_iron(network.machines, SOFT_SATURATION),
            network.machines,
            _of_iron(network.machines, HARD_SATURATION),
        )
    )
    return soft, usual, hard


def _of_iron(machines: tuple[Connected, ...], iron: Saturation) -> tuple[Connected, ...]:
    return tuple(replace(each, circuit=replace(each.circuit, saturation=iron)) for each in machines)


def _highest(found: SelfExcitation) -> float:
    return 0.0 if found.volts is None else max(found.volts)
