"""Whether a set of units may turn together under their options: the true network, asked once.

A set is refused when the room of the supply or of a place's own feeder is exceeded, when what is
shared or a motor on it would overheat or stall, or when one thing that the owner has once is used
twice. Every unit of a set must be admitted alone too: a set of those that share a thing of the
owner's holds motors that never turn together, and capacitors at one motor lower what a drive
beside it seems to draw. Where motors bring capacitors to what is shared, one of them may mend what
the others bear badly, and it may be the one that is off: then every smaller set must be admitted
too (of more than six units every pair).
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from itertools import combinations

from phasewright.plan.facts import Facts
from phasewright.plan.options import Option, State, hangs_on, offer_of, shared_of
from phasewright.plan.problem import Running
from phasewright.ways.consumers import beside
from phasewright.ways.phases import Phases
from phasewright.ways.rectified import draw_on_equal_lines, draw_on_two_lines, rectifier_of
from phasewright.ways.shared_source import Turning
from phasewright.ways.site import Limit, Site
from phasewright.ways.way import Draw, Service

MOST_LEFT_OUT = 6
"""Sets of up to so many units are asked with every smaller set: that is 64 networks at most."""
Points = dict[tuple[int, tuple[int, ...]], Turning | None]
"""What was settled: by shared thing and the units on it."""
Question = tuple[int | None, int | None, Running]
"""The shared thing, the owner's piece that it is (where it is one), and what turns."""


@dataclass(slots=True)
class Admission:
    """Answers the search's question; keeps what it has settled."""

    facts: Facts
    options: tuple[Option, ...]
    states: tuple[State, ...]
    points: Points = field(default_factory=dict)
    answers: dict[Question, bool] = field(default_factory=dict)

    def of(self, facts: Facts, options: tuple[Option, ...], states: tuple[State, ...]) -> Admission:
        """The same for facts of the same physics: what was settled is kept, and every answer where
        the supply, the places, the ways and the units are the same."""
        mine = self.facts
        same = (
            facts.site is mine.site
            and facts.places is mine.places
            and facts.judgements is mine.judgements
            and facts.shared is mine.shared
            and facts.shop.supply is mine.shop.supply
            and facts.groups == mine.groups
            and options == self.options
            and [unit.id for unit in facts.units] == [unit.id for unit in mine.units]
        )
        return Admission(facts, options, states, self.points, self.answers if same else {})

    def __call__(self, state: int, running: Running) -> bool:
        """May this set turn at the same time under this state?"""
        this = self.states[state]
        key = (this.shared, None if this.had is None else this.had.owned_item, running)
        if key not in self.answers:
            self.answers[key] = self._answer(state, running)
        return self.answers[key]

    def _answer(self, state: int, running: Running) -> bool:
        if self._uses_twice(state, running):
            return False
        if len(running) > 1 and not all(
            self(state, smaller) for smaller in self._smaller(state, running)
        ):
            return False
        if None in self._rectified_alone(state, running):
            return False
        units = [unit for unit, _ in running]
        if not any(group.issuperset(units) for group in self.facts.groups):
            return True
        shared = self.hung(running)
        on = shared_of(self.facts, self.states[state])
        hung = ((u, self.options[a]) for u, a in running if self.options[a].shared)
        if not all(hangs_on(unit, option, on) for unit, option in hung):
            return False
        if shared:
            turning = self.turning(state, shared)
            if turning is None or not turning.stands:
                return False
        return self.supply_a(state, running) <= self.room_a(state) and all(
            self._feeder_bears(state, running, site) for site in self.facts.places
        )

    def _feeder_bears(self, state: int, running: Running, site: Site) -> bool:
        limit = self.feeder_limit(state, running, site)
        if limit is None:
            return True
        return self.feeder_a(state, running, site.place) <= limit.current_a.number

    def _smaller(self, state: int, running: Running) -> list[Running]:
        """Sets within a set that must be admitted as well: each unit alone, or the set without
        any one of its units (every pair, where so many turn together that those are too many)."""
        on = shared_of(self.facts, self.states[state])
        if on is None or on.design is None or not on.design.brings:
            return [(one,) for one in running]
        if len(running) > MOST_LEFT_OUT:
            return list(combinations(running, 2))
        return [running[:k] + running[k + 1 :] for k in range(len(running))]

    def hung(self, running: Running) -> tuple[int, ...]:
        """The units of a set that hang on what is shared."""
        return tuple(unit for unit, option in running if self.options[option].shared)

    def room_a(self, state: int) -> float:
        """Amps the supply has for a set under a state: beside other loads, or a phase's all."""
        phases = self._phases(state)
        return self.facts.site.room_a if phases is None else phases.limit_a

    def supply_a(self, state: int, running: Running) -> float:
        """Amps a set takes: on the two supply lines, or the heaviest phase with all others."""
        phases = self._phases(state)
        if phases is None:
            return self.draw(state, running).current_a(self.facts.site.source.voltage_v)
        volts, services = phases.single_voltage_v, self._services(running)
        shared = self._on_shared(state, running)
        balanced_a = 0.0 if shared is None else shared.current_a(phases.line_voltage_v)
        usual = [each.current_a(volts) for each in self._beside(state, running)]
        usual += [service.typical.current_a(volts) for service in services]
        highest = phases.heaviest_a(usual, balanced_a)
        for k, service in enumerate(services, len(usual) - len(services)):
            greatest = [*usual[:k], service.demand.current_a(volts), *usual[k + 1 :]]
            highest = max(highest, phases.heaviest_a(greatest, balanced_a))
        return highest

    def feeder_limit(self, state: int, running: Running, site: Site) -> Limit | None:
        """What a place's feeder lets through: as two lines, or three where it must carry them."""
        there = self._there(running, site.place)
        return site.feeder_three if self._three_lines(state, there, site.place) else site.feeder

    def feeder_a(self, state: int, running: Running, place: str) -> float:
        """Amps a set takes over the feeder of a place, in its fullest conductor.

        What a thing at the intake gives to motors in the place runs over the feeder as their own
        line currents; these and what else is taken there are added as if in phase, which is
        never too little.
        """
        there = self._there(running, place)
        if not self._three_lines(state, there, place):
            return self.draw(state, there).current_a(self._volts(state))
        alone = tuple((u, option) for u, option in there if not self.options[option].shared)
        apart = self._greatest(alone, self._beside(state, there)).current_a(self._volts(state))
        turning = self.turning(state, self.hung(running))
        if turning is None:
            return apart
        names = {self.facts.units[unit].id: unit for unit in self.hung(there)}
        lines = [m.line_currents_a for m in turning.lines.machines if m.name in names]
        own = {m.name for m in turning.lines.machines}
        behind_drives = [unit for name, unit in names.items() if name not in own]
        apart += self._rectified_a(state, there, behind_drives)
        return apart + max(sum(each[k] for each in lines) for k in range(3))

    def _rectified_a(self, state: int, there: Running, behind_drives: list[int]) -> float:
        """Amps over a feeder of rectifiers that hang on three lines from elsewhere, as if fed from
        two, which is never too little; infinite where two could not give them."""
        on, volts, whole = shared_of(self.facts, self.states[state]), self._volts(state), 0.0
        for unit in behind_drives:
            served = None if on is None else on.serves(unit)
            if served is not None:
                whole += served.service.demand.current_a(volts)
        machines = {self.facts.units[unit].machine: unit for unit in self.hung(there)}
        for unit in machines.values():
            draw = self._on_two_lines(unit)
            if draw is None:
                return math.inf
            whole += draw.current_a(volts)
        return whole

    def _there(self, running: Running, place: str) -> Running:
        return tuple(pair for pair in running if self.facts.units[pair[0]].place == place)

    def _three_lines(self, state: int, there: Running, place: str) -> bool:
        """Whether motors of a place hang on what stands elsewhere."""
        on = shared_of(self.facts, self.states[state])
        return on is not None and on.place != place and bool(self.hung(there))

    def _volts(self, state: int) -> float:
        """Volts between the conductors that what is not shared hangs on."""
        phases = self._phases(state)
        return self.facts.site.source.voltage_v if phases is None else phases.single_voltage_v

    def _phases(self, state: int) -> Phases | None:
        on = shared_of(self.facts, self.states[state])
        return None if on is None else on.phases

    def draw(self, state: int, running: Running) -> Draw:
        """What the set takes: everything at its usual load, the greatest asker at its highest,
        and what else hangs on its machines (heaters, lamps) all at once."""
        shared = self._on_shared(state, running)
        beside = self._beside(state, running)
        return self._greatest(running, beside if shared is None else [*beside, shared])

    def _greatest(self, running: Running, others: list[Draw]) -> Draw:
        """Others, and what has its own equipment at its usual load, one of it at its highest."""
        usual, services = Draw(), self._services(running)
        for each in others:
            usual = usual.with_other(each)
        for service in services:
            usual = usual.with_other(service.typical)
        volts = self.facts.site.source.voltage_v
        candidates = [usual]
        for service in services:
            candidates.append(usual.without(service.typical).with_other(service.demand))
        return max(candidates, key=lambda draw: draw.current_a(volts))

    def _beside(self, state: int, running: Running) -> list[Draw]:
        """What else hangs on the machines of a set, machine by machine."""
        machines = {
            self.facts.units[unit].machine: self.facts.units[unit].task.machine
            for unit, option in running
            if self.options[option].way is not None
        }
        volts = self.facts.shop.supply.voltage.number
        found = [beside(machines[name], volts) for name in sorted(machines)]
        rectified = self._rectified_alone(state, running)
        return found + [draw for draw in rectified if draw is not None and draw.power_w > 0.0]

    def _rectified_alone(self, state: int, running: Running) -> list[Draw | None]:
        """Rectifiers of machines that hang with no motor on what is shared, fed from lines 1 and
        2, or from a supply's three; None where these cannot give the power."""
        on = shared_of(self.facts, self.states[state])
        hung = self.hung(running) if on is not None and on.three_lines else ()
        on_three = {self.facts.units[unit].machine for unit in hung}
        alone = {
            self.facts.units[unit].machine: unit
            for unit, option in running
            if self.options[option].way is not None
            and self.facts.units[unit].machine not in on_three
        }
        return [self._on_two_lines(alone[name]) for name in sorted(alone)]

    def _on_two_lines(self, unit: int) -> Draw | None:
        """What the rectifiers of a unit's machine take of lines 1 and 2 where it stands, or of a
        supply's three; None where these cannot give it."""
        this = self.facts.units[unit]
        source = self.facts.site_at(this.place).source
        rectifier = rectifier_of(this.task.machine, source.voltage_v)
        if rectifier is None:
            return Draw()
        if self.facts.site.supply_kind == "three_phase":
            return draw_on_equal_lines(source, source.voltage_v, rectifier)
        return draw_on_two_lines(source, rectifier)

    def _services(self, running: Running) -> list[Service]:
        """What every unit of a set with its own equipment gets and takes."""
        offers = (
            offer_of(self.facts, unit, self.options[option])
            for unit, option in running
            if not self.options[option].shared
        )
        return [offer.service for offer in offers if offer is not None]

    def _on_shared(self, state: int, running: Running) -> Draw | None:
        shared = self.hung(running)
        turning = self.turning(state, shared) if shared else None
        return None if turning is None else turning.draw

    def turning(self, state: int, shared: tuple[int, ...]) -> Turning | None:
        """What is shared with these units on it, the largest at its highest load; None where
        nothing is shared or one of them stalls."""
        on, index = shared_of(self.facts, self.states[state]), self.states[state].shared
        if on is None or index is None:
            return None
        key = (index, shared)
        if key not in self.points:
            self.points[key] = on.turning(tuple(self.facts.units[unit].task for unit in shared))
        return self.points[key]

    def _uses_twice(self, state: int, running: Running) -> bool:
        had = self.states[state].had
        used = set() if had is None or had.owned_item is None else {had.owned_item}
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
