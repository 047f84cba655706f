"""A three-phase service from the network operator: every motor straight on three real lines.

It is paid for as a lump and a standing charge a year, the owner's quote first. The same
contract gives a phase a third of its power, so what hangs on one phase is looked at phase by
phase. Where the supply has three phases already nothing is bought: motors run direct.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from phasewright.network.supply import Source
from phasewright.quantities.finding import Reason
from phasewright.tables.labour import hours, waiting_weeks
from phasewright.tables.prices import standing_per_year
from phasewright.ways.balanced import (
    Balanced,
    greatest_draw,
    lines_of,
    motors_on,
)
from phasewright.ways.figures import Buy
from phasewright.ways.line_start import LineStart, Seen, all_run_up, followed, pairs_of
from phasewright.ways.motor_kind import kept_out
from phasewright.ways.on_service import (
    NAME,
    is_quoted,
    lump_of,
    phases_of,
    serve,
    service_lines,
)
from phasewright.ways.phases import Phases
from phasewright.ways.purchase import buy, total
from phasewright.ways.rectified import draw_on_equal_lines, rectifiers_of
from phasewright.ways.shared_source import Had, Said, Served, Shared, Turning, Work
from phasewright.ways.site import Site
from phasewright.ways.three_phase_supply import judged_on_three_lines
from phasewright.ways.way import Judgement, Offer, Task, refused, verdict_of

__all__ = ["NAME", "judge", "shared"]

SERVICE = "three-phase service"
LICENSED = Reason(
    "service_licensed",
    "A new service, its meter board and everything ahead of your own switch is the operator's and "
    "a licensed installer's work, and so are protection and earthing for three phases.",
)
GIVES = (
    Reason(
        "three_real_lines",
        "three equal lines and a neutral, no converter to idle; any later three-phase machine "
        "runs as well.",
    ),
)


@dataclass(frozen=True, slots=True)
class OnService:
    """Several motors, and their machines' rectifiers, on the three lines of a service.

    `source` is today's supply, half of whose loop is taken for one line's impedance.
    """

    line_voltage_v: float
    source: Source

    @property
    def lines(self) -> Source:
        """Its three lines."""
        return service_lines(self.line_voltage_v, self.source)

    @property
    def frequency_hz(self) -> float:
        """Frequency of its lines."""
        return self.source.frequency_hz

    def starts_straight_on(self, task: Task, one: Balanced) -> bool:
        """Whether a motor's start can be followed in time."""
        return followed(task)

    def seen(self, start: LineStart) -> Seen:
        """What the supply sees of a start: it is these lines."""
        return Seen(start.brief.peak_a, start.brief.dip_ratio)

    def __call__(self, tasks: tuple[Task, ...]) -> Turning | None:
        """What they take together; None where one does not run there."""
        motors = motors_on(tasks, self.line_voltage_v, self.source.frequency_hz)
        if motors is None:
            return None
        draw, rectifier = greatest_draw(motors), rectifiers_of(tasks, self.line_voltage_v)
        if rectifier is not None:
            taken = draw_on_equal_lines(self.source, self.line_voltage_v, rectifier)
            if taken is None:
                return None
            draw = draw.with_other(taken)
        stands = all_run_up(self.lines, pairs_of(tasks, motors))
        return Turning(draw, lines_of(motors), stands)


def judge(task: Task, site: Site) -> Judgement:
    """Verdict, figures and offer of a three-phase service for this motor."""
    if site.supply_kind == "three_phase":
        return _there_already(task, site)
    served = serve(task, site)
    if not isinstance(served, Served):
        return refused(NAME, *served)
    had, phases = had_of(site), phases_of(site)
    return Judgement(
        NAME,
        verdict_of(served.conditions),
        link=served.link,
        reasons=(
            Reason(
                "three_real_lines",
                f"Three real lines of {phases.line_voltage_v:.0f} V without a converter; taken "
                f"with {phases.limit_words} a phase.",
            ),
            Reason("link", served.link.words),
            *served.told,
        ),
        conditions=served.conditions,
        figures=replace(served.figures, price=total(had.items, SERVICE)),
        offers=(
            Offer(
                served.service,
                _buys(task, had, phases),
                had.items,
                had.labour_h,
                had.upkeep_h_per_year,
                yearly_cost=had.yearly_cost,
                last_resort=not is_quoted(site),
            ),
        ),
    )


def _buys(task: Task, had: Had, phases: Phases) -> tuple[Buy, ...]:
    return (buy(NAME, phases.limit_a, "A", (task.motor.id,), had.items, origin=had.origin),)


def _there_already(task: Task, site: Site) -> Judgement:
    """The supply has three phases: nothing is asked of the operator, the motor runs direct."""
    if not task.motor.three_phase:
        return refused(
            NAME, Reason("single_phase_motor", "A single-phase motor needs no third line.")
        )
    against = kept_out(task.motor, task.machine, NAME)
    if against:
        return refused(NAME, *against)
    judged = judged_on_three_lines(NAME, task, site)
    if judged.verdict == "refused":
        return judged
    words = "Three phases are there already: nothing is to be bought, it runs straight on them."
    return replace(judged, reasons=(Reason("three_phases_there", words), *judged.reasons))


def had_of(site: Site) -> Had:
    """How the service is had: the operator's lump and standing charge."""
    quoted = next((each for each in site.quotes if each.kind == NAME), None)
    yearly = None if quoted is None else quoted.standing_per_year
    return Had(
        "new", (lump_of(site),), hours(NAME), 0.0, words="a three-phase service",
        yearly_cost=standing_per_year(NAME).number if yearly is None else yearly,
    )  # fmt: skip


def shared(site: Site, work: Work) -> tuple[Shared, ...]:
    """The service, where any motor may hang on it."""
    if site.phases is None:
        return ()
    served = tuple(serve(task, there) for task, there in work.reached(site))
    if not any(isinstance(one, Served) for one in served):
        return ()
    return (
        Shared(
            way=NAME,
            name=SERVICE,
            rating=site.phases.limit_a,
            unit="A",
            hads=(had_of(site),),
            served=served,
            turning=OnService(site.phases.line_voltage_v, site.source),
            said=Said(
                idle="",
                gives=GIVES,
                gives_up=_gives_up(site.phases),
                cautions=(LICENSED,),
            ),
            phases=site.phases,
            generated_line=False,
            neutral=True,
        ),
    )


def _gives_up(phases: Phases) -> tuple[Reason, ...]:
    weeks = waiting_weeks(NAME)
    between = (
        f" Between two lines stand {phases.line_voltage_v:.0f} V: ask whether what hangs there "
        "today bears it."
        if phases.single_between_lines
        else ""
    )
    return (
        Reason(
            "amps_a_phase",
            f"One strong phase: each of three gives {phases.limit_a:.0f} A ({phases.limit_words}), "
            f"which every single-phase load must fit.{between}",
        ),
        Reason(
            "waiting",
            f"{weeks.low:.0f} to {weeks.high:.0f} weeks of waiting, a standing charge every year, "
            "and the lump stays behind when you move.",
        ),
    )
