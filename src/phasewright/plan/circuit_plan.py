"""What the circuits of one plan are made from: the plan as built, its line 3, its currents."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from phasewright.circuits.devices import Start
from phasewright.circuits.installation import Equipment, PhaseRelay, ResidualCurrentDevice
from phasewright.plan.arrays import Choice
from phasewright.plan.circuit_jobs import motor_start
from phasewright.plan.circuit_line3 import (
    OWN_LOOP_OHM,
    of_converter,
    of_motor,
    relay_of,
    return_ohm,
)
from phasewright.plan.circuit_supply import Tap, ground_of, tap_of
from phasewright.plan.currents import running_sets
from phasewright.plan.options import shared_of
from phasewright.plan.problem import Solution
from phasewright.plan.study import PlanEquipment, PlanMotor, PlanSide
from phasewright.plan.units import Unit
from phasewright.quantities.codes import Buyable, Region
from phasewright.quantities.value import Value
from phasewright.running.line3_fault import Line3Fault
from phasewright.tables.circuits import start_s
from phasewright.tables.stepping_up import boost_output_v, secondary_volts
from phasewright.ways.figures import Part
from phasewright.ways.shared_source import Shared

ALONE = ("static_converter", "capacitor_run")
"""Ways in which a motor makes its own third line."""


@dataclass(frozen=True, slots=True)
class PlanContext:
    """A plan, what it shares, and what was computed once for all of its circuits.

    `faults` are the faults of line 3 by the equipment that makes it, each with the loop it is
    told for [ohm].
    """

    choice: Choice
    plan: Solution
    side: PlanSide
    on: Shared | None
    relay: PhaseRelay | None
    faults: dict[str, tuple[Line3Fault, float]]
    taps: dict[str, Tap] = field(default_factory=dict)

    @property
    def region(self) -> Region:
        return self.choice.facts.shop.region

    def tap(self, place: str) -> Tap:
        """The tap of a place, worked out once."""
        if place not in self.taps:
            self.taps[place] = tap_of(self.choice.facts, place)
        return self.taps[place]

    def unit(self, motor: str) -> Unit:
        """The unit of a motor."""
        return next(unit for unit in self.choice.facts.units if unit.id == motor)

    def hung(self) -> tuple[PlanMotor, ...]:
        """The motors on what is shared."""
        name = None if self.on is None else self.on.name
        return tuple(each for each in self.side.motors if name and each.equipment == name)

    def fault(self, equipment: str | None) -> Line3Fault | None:
        """The earth fault of line 3 of this equipment."""
        found = self.faults.get(equipment or "")
        return None if found is None else found[0]

    def start_of(self, motor: str, current_a: float | None) -> tuple[Start, ...]:
        """A motor's start: as it was computed in time, else as long as starts usually are."""
        if current_a is None:
            return ()
        seconds = start_s()
        for each in self.side.starts:
            if each.motor == motor and each.runs_up and not each.planned:
                times = [v.number for v in (each.time_s, each.time_high_s) if v is not None]
                seconds = max(times, default=seconds)
        return (motor_start(current_a, seconds),)

    def through_shared_a(self) -> float | None:
        """The most that is drawn through what is shared, by any set that turns together [A]."""
        admission, state = self.choice.admission, self.plan.state
        if self.on is None:
            return None
        volts = self.tap(self.on.place).site.source.voltage_v
        hung = [admission.hung(group) for group in running_sets(self.choice, self.plan)]
        turning = [admission.turning(state, each) for each in hung if each]
        return max(
            (one.draw.current_a(volts) for one in turning if one is not None), default=None
        )  # fmt: skip

    def line_amps(self, motor: str) -> float:
        """The highest of a motor's line currents in any set that turns [A]; 0 where not known."""
        return max(
            (
                amps.number
                for case in self.side.cases
                for each in case.line_currents_a or ()
                if each.motor == motor
                for amps in each.amps
            ),
            default=0.0,
        )

    def upstream(self) -> ResidualCurrentDevice | None:
        """The residual-current device that the shop has before everything."""
        of = ground_of(self.choice.facts, "").upstream
        if of is None:
            return None
        return ResidualCurrentDevice(of.rating_ma, of.type or "AC", upstream=True)

    def transformer_of(self, motor: str) -> Part | None:
        """The transformer that stands before a motor's own drive, as it is bought or owned; what
        is bought later stands nowhere yet."""
        today = (buy for buy in self.side.buys if motor in buy.serves and buy.year == 0)
        parts = (part for buy in today for part in buy.parts)
        return next((part for part in parts if part.kind == "isolating_transformer"), None)

    def installed_equipment(self) -> tuple[Equipment, ...]:
        """The plan's equipment as the rules look at it, transformers before drives at the end."""
        on, told = self.on, self.choice.facts.shop.supply.converter_circuit
        stands = None if on is None or told is None else (on.name, told.line_3_marked, told.tied)
        found = [
            Equipment(
                each.id, each.way, each.rating, each.unit, each.place, each.serves,
                output_current_a=_number(each.figures.output_current_a),
                isolates=on is not None and each.id == on.name and on.neutral and on.phases is None,
                generates_line3=each.way in (*ALONE, "rotary_converter"),
                leakage_ma=_number(each.figures.leakage_ma),
                rectifier="two lines" if each.figures.drive_rating_a is not None else None,
                origin=self._origin(each),
                line_3_marked=stands[1] if stands and stands[0] == each.id else None,
                tied=stands[2] if stands and stands[0] == each.id else None,
                has_plate=told.plate if told is not None and on and on.name == each.id else None,
            )
            for each in self.side.equipment
        ]  # fmt: skip
        return (*found, *self._transformers())

    def _origin(self, of: PlanEquipment) -> Buyable | None:
        """How a thing is come by, as it is bought."""
        same = (
            buy.origin
            for buy in self.side.buys
            if (buy.kind, buy.rating, buy.unit) == (of.way, of.rating, of.unit)
        )
        return next(same, None)

    def _transformers(self) -> Iterator[Equipment]:
        """Transformers before motors' own drives: always of separate windings."""
        for motor in self.side.motors:
            part = self.transformer_of(motor.motor)
            if part is None or motor.equipment is None:
                continue
            place = self.unit(motor.motor).place
            volts = self.tap(place).site.source.voltage_v
            out = secondary_volts(self.region, boost_output_v())
            yield Equipment(
                transformer_name(motor.motor), "transformer", part.rating, part.unit, place or None,
                (motor.equipment,), nameplate_input_a=part.rating / volts,
                output_current_a=part.rating / out, output_voltage_v=out, isolates=True,
                input_voltage_v=volts,
            )  # fmt: skip


def transformer_name(motor: str) -> str:
    """The id of the transformer before a motor's drive."""
    return f"transformer {motor}"


def context_of(choice: Choice, plan: Solution, side: PlanSide) -> PlanContext:
    """The context of a plan."""
    facts = choice.facts
    on = shared_of(facts, choice.states[plan.state])
    faults: dict[str, tuple[Line3Fault, float]] = {}
    if on is not None:
        _keep(choice, faults, on.name, on.place, of_converter(facts, on))
    units = {unit.id: unit for unit in facts.units}
    for each in side.motors:
        if each.way in ALONE and each.equipment is not None:
            unit = units[each.motor]
            _keep(choice, faults, each.equipment, unit.place, of_motor(facts, unit, each.figures))
    relay = None
    if on is not None and on.generated_line and on.three_lines:
        relay = relay_of(side.cases, side.starts)
    return PlanContext(choice, plan, side, on, relay, faults)


def _keep(
    choice: Choice, faults: dict[str, tuple[Line3Fault, float]], name: str, place: str,
    fault: Line3Fault | None,
) -> None:  # fmt: skip
    """Keep a fault with the loop that its figure is told for: a usual circuit's."""
    if fault is None:
        return
    tap = tap_of(choice.facts, place)
    rod = tap.ground.electrode
    ohm = abs(return_ohm(choice.facts, tap) + OWN_LOOP_OHM) + (0.0 if rod is None else rod.number)
    faults[name] = (fault, ohm)


def _number(of: Value | None) -> float | None:
    return None if of is None else of.number
