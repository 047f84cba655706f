"""Every start on what makes three lines of its own: an electronic source, a battery's inverter, a
generator, a three-phase service.

The hardest case of a motor is taken from every set that may turn together, as on a converter. What
the source starts by a ramp of its own, and what shapes its start itself, is not followed.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from phasewright.network.supply import Source
from phasewright.plan.arrays import Choice
from phasewright.plan.currents import running_sets
from phasewright.plan.options import shared_of
from phasewright.plan.problem import Solution
from phasewright.plan.start_told import start_told
from phasewright.plan.study import PlanStart, StartTrip
from phasewright.quantities.errors import NoOperatingPoint
from phasewright.starts.brief import Brief, brief
from phasewright.starts.overload import Overload, overload_trip
from phasewright.ways.balanced import Balanced, balanced
from phasewright.ways.battery_source import BatteryInverter
from phasewright.ways.electronic_source import ElectronicSource
from phasewright.ways.generator_source import Generator
from phasewright.ways.line_start import LineStart, as_linked, greatest_w, line_start, line_waves
from phasewright.ways.shared_source import softest
from phasewright.ways.starting_order import Pair, running_before, starting_with
from phasewright.ways.utility_service import OnService

ThreeLines = ElectronicSource | BatteryInverter | Generator | OnService
HOW = "three lines in time"
NOT_JUDGED = StartTrip(
    "main fuse or breaker", "any_curve", "not_judged", True,
    "Whether the main fuse or breaker trips was not judged in this start.",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class HardestOnLines:
    """The hardest case of a motor on three lines: what makes them, the set it starts in, itself."""

    on: ThreeLines
    motors: tuple[Pair, ...]
    one: Pair

    @property
    def lines(self) -> Source:
        """The three lines."""
        return self.on.lines

    @property
    def beside(self) -> tuple[Pair, ...]:
        """What runs already."""
        return running_before(self.motors, self.one)

    @property
    def at_once(self) -> tuple[Pair, ...]:
        """What the same event switches on."""
        return starting_with(self.motors, self.one)


def three_lines(choice: Choice, plan: Solution) -> ThreeLines | None:
    """What makes the plan's three lines by itself; None where nothing does."""
    on = shared_of(choice.facts, choice.states[plan.state])
    turning = None if on is None else on.turning
    return turning if isinstance(turning, ThreeLines) else None


def pairs_on_lines(choice: Choice, on: ThreeLines, units: tuple[int, ...]) -> tuple[Pair, ...]:
    """Units as tasks and motors linked for these lines."""
    found = []
    for unit in units:
        task = choice.facts.units[unit].task
        one = balanced(task.motor, on.line_voltage_v, on.frequency_hz)
        if isinstance(one, Balanced):
            found.append((task, as_linked(one)))
    return tuple(found)


def hardest_on_lines(choice: Choice, plan: Solution, unit: int) -> HardestOnLines | None:
    """The hardest case of a unit on the plan's three lines; None where it is not followed."""
    on = three_lines(choice, plan)
    task = choice.facts.units[unit].task
    if on is None:
        return None
    own = balanced(task.motor, on.line_voltage_v, on.frequency_hz)
    if not isinstance(own, Balanced) or not on.starts_straight_on(task, own):
        return None
    tried: list[tuple[Brief, HardestOnLines]] = []
    for running in running_sets(choice, plan):
        hung = choice.admission.hung(running)
        if unit not in hung:
            continue
        motors = pairs_on_lines(choice, _behind_feeders(on, choice, hung), hung)
        one = next(pair for pair in motors if pair[1].motor.id == task.motor.id)
        case = HardestOnLines(_behind_feeders(on, choice, hung), motors, one)
        try:
            tried.append((line_start(case.lines, motors, one).brief, case))
        except NoOperatingPoint:
            continue
    if not tried:
        return None
    return max(tried, key=lambda each: (not each[0].runs_up, each[0].seconds, each[0].peak_a))[1]


def _behind_feeders(on: ThreeLines, choice: Choice, units: tuple[int, ...]) -> ThreeLines:
    """What makes the lines, its supply tapped where the softest of these motors stands."""
    if not isinstance(on, ElectronicSource):
        return on
    tasks = tuple(choice.facts.units[unit].task for unit in units)
    return replace(on, source=softest(on.source, on.feeders, tasks), feeders=())


def start_on_lines(choice: Choice, plan: Solution, unit: int) -> list[PlanStart]:
    """The hardest start of a motor on the plan's three lines; empty where it is not followed."""
    of = hardest_on_lines(choice, plan, unit)
    if of is None:
        return []
    found, place = line_waves(of.lines, of.motors, of.one)
    told = brief(found, place)
    worst = brief(*line_waves(of.lines, of.motors, of.one, worst=True))
    whole = LineStart(told, greatest_w(found, place))
    seen = of.on.seen(whole)
    inputs = {
        "between lines": (of.lines.voltage_v, "V"),
        "resistance of two lines": (of.lines.resistance_ohm, "ohm"),
        "reactance of two lines": (of.lines.reactance_ohm, "ohm"),
        "inertia": (found.course.starters[place].inertia_kg_m2, "kg m2"),
        "greatest watts of the three lines": (whole.greatest_w, "W"),
    }

    whole_start = start_told(
        of.one, (*of.beside, *of.at_once), told, worst, dip_ratio=seen.dip_ratio,
        peak_a=seen.peak_a, lines_v=of.lines.voltage_v, inputs=inputs, how=HOW,
        trips=[overload_trip(found, place, Overload(of.one[1].circuit.rated_current_a))],
    )  # fmt: skip
    if not isinstance(of.on, ElectronicSource | OnService):
        return [whole_start]
    return [replace(whole_start, trips=(*whole_start.trips, NOT_JUDGED))]
