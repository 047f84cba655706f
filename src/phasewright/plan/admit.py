"""Whether a set of units may turn together under their options: the true network, asked once.

A set is refused when the supply's room is exceeded, when the idler or a motor on the converter
would overheat or stall, or when one thing that the owner has once is used twice. Every unit of
a set must be admitted alone too: a set of those that share a thing of the owner's holds motors
that never turn together, and capacitors at one motor lower what a drive beside it seems to draw.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from phasewright.plan.facts import Facts
from phasewright.plan.options import Option, State, offer_of
from phasewright.plan.problem import Running
from phasewright.running.converter import Converter, on_converter
from phasewright.running.network import Connected, Settled
from phasewright.running.usable import stays_cool
from phasewright.ways.conditions import demand_ratio, typical_ratio
from phasewright.ways.consumers import beside
from phasewright.ways.lasting import mean_ratio
from phasewright.ways.on_converter import draw_of, idler_refusals, together
from phasewright.ways.on_two_lines import Linked, linked
from phasewright.ways.way import Draw

HIGHEST, USUAL = 0, 1
Points = dict[tuple[int, tuple[int, ...], int], Settled | None]
"""What was settled: by converter, the units on it, and HIGHEST or USUAL load of the heaviest."""


@dataclass(slots=True)
class Admission:
    """Answers the search's question; keeps what it has settled."""

    facts: Facts
    options: tuple[Option, ...]
    states: tuple[State, ...]
    points: Points = field(default_factory=dict)
    cool: dict[tuple[int, tuple[int, ...]], bool] = field(default_factory=dict)

    def __call__(self, state: int, running: Running) -> bool:
        """May this set turn at the same time under this state?"""
        if self._uses_twice(running):
            return False
        if len(running) > 1 and not all(self(state, (one,)) for one in running):
            return False
        units = [unit for unit, _ in running]
        if not any(group.issuperset(units) for group in self.facts.groups):
            return True
        point = None
        shared = tuple(unit for unit, option in running if self.options[option].shared)
        if shared:
            point = self.point(state, shared)
            if point is None or not self._stands(state, point, shared):
                return False
        room = self.facts.site.room_a
        return self.draw(state, running).current_a(self.facts.site.source.voltage_v) <= room

    def draw(self, state: int, running: Running) -> Draw:
        """What the set takes: everything at its usual load, the greatest asker at its highest,
        and what else hangs on its machines (heaters, lamps) all at once."""
        usual, extra = self._beside(running), []
        for unit, option in running:
            if self.options[option].shared:
                continue
            offer = offer_of(self.facts, unit, self.options[option])
            if offer is None:
                continue
            usual = usual.with_other(offer.service.typical)
            extra.append((offer.service.typical, offer.service.demand))
        shared = tuple(unit for unit, option in running if self.options[option].shared)
        if shared:
            point = self.point(state, shared)
            if point is not None:
                usual = usual.with_other(draw_of(point))
        volts = self.facts.site.source.voltage_v
        candidates = [usual]
        for typical, demand in extra:
            candidates.append(usual.without(typical).with_other(demand))
        return max(candidates, key=lambda draw: draw.current_a(volts))

    def _beside(self, running: Running) -> Draw:
        machines = {
            self.facts.units[unit].machine: self.facts.units[unit].task.machine
            for unit, option in running
            if self.options[option].way is not None
        }
        whole = Draw()
        for name in sorted(machines):
            whole = whole.with_other(beside(machines[name], self.facts.shop.supply.voltage.number))
        return whole

    def point(self, state: int, shared: tuple[int, ...]) -> Settled | None:
        """The converter with these units, the largest at its highest load; None if one stalls."""
        design = self.states[state].design
        if design is None:
            return None
        return self._settled((design, shared, HIGHEST), self.connected)

    def _settled(
        self,
        key: tuple[int, tuple[int, ...], int],
        loaded: Callable[[tuple[int, ...]], tuple[Connected, ...]],
    ) -> Settled | None:
        if key not in self.points:
            converter = self.facts.designs[key[0]].design.converter
            self.points[key] = together(self.facts.site.source, converter, loaded(key[1]))
        return self.points[key]

    def _usual(self, shared: tuple[int, ...]) -> tuple[Connected, ...]:
        motors = [self._linked(unit) for unit in shared]
        return tuple(motor.connected(typical_ratio(motor.load)) for motor in motors)

    def connected(self, shared: tuple[int, ...]) -> tuple[Connected, ...]:
        """The motors with their loads: usual ones, the heaviest motor at its highest."""
        motors = [self._linked(unit) for unit in shared]
        heaviest = max(range(len(motors)), key=lambda k: motors[k].rated_w)
        return tuple(
            motor.connected(self._highest(motor) if k == heaviest else typical_ratio(motor.load))
            for k, motor in enumerate(motors)
        )

    def _highest(self, motor: Linked) -> float:
        """The highest load asked for, but no more than the motor may give for ever alone here."""
        return max(typical_ratio(motor.load), min(demand_ratio(motor.load), 1.0))

    def _linked(self, unit: int) -> Linked:
        motor = linked(self.facts.units[unit].motor)
        assert isinstance(motor, Linked)
        return motor

    def _stands(self, state: int, point: Settled, shared: tuple[int, ...]) -> bool:
        """Whether the idler stays cool at the highest load, and every motor over its duty."""
        design = self.states[state].design
        assert design is not None
        converter = self.facts.designs[design].design.converter
        if len(shared) == 1:
            return True  # judged alone when the converter was tried
        if idler_refusals(converter, point):
            return False
        usual = self._settled((design, shared, USUAL), self._usual)
        if usual is None:
            return False
        if (design, shared) not in self.cool:
            self.cool[design, shared] = self._cool(converter, shared)
        return self.cool[design, shared]

    def _cool(self, converter: Converter, shared: tuple[int, ...]) -> bool:
        """Whether every motor bears its mean over its duty, as alone, beside the others."""
        network = on_converter(self.facts.site.source, converter, self._usual(shared))
        motors = [self._linked(unit) for unit in shared]
        return all(
            stays_cool(network, one.motor.id, mean_ratio(one.load), windings=one.windings)
            for one in motors
        )

    def _uses_twice(self, running: Running) -> bool:
        used = set()
        for unit, option in running:
            offer = offer_of(self.facts, unit, self.options[option])
            item = None if offer is None else offer.owned_item
            if item is None:
                continue
            if item in used:
                return True
            used.add(item)
        return False


def owned_groups(facts: Facts, options: tuple[Option, ...]) -> tuple[frozenset[int], ...]:
    """For every owned thing that more than one unit may use: those units."""
    users: dict[int, set[int]] = {}
    for unit in range(len(facts.units)):
        for option in options:
            offer = offer_of(facts, unit, option)
            if offer is not None and offer.owned_item is not None:
                users.setdefault(offer.owned_item, set()).add(unit)
    return tuple(frozenset(units) for _, units in sorted(users.items()) if len(units) > 1)
