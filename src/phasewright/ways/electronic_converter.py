"""A whole-shop electronic three-phase source: rectifier, link and inverter in one box."""

from __future__ import annotations

from dataclasses import replace

from phasewright.quantities.codes import WayName
from phasewright.quantities.errors import TableEnds
from phasewright.quantities.finding import Reason
from phasewright.quantities.value import Value, figure
from phasewright.tables.labour import hours
from phasewright.tables.shared_sources import (
    electronic_efficiency,
    electronic_short_time,
    electronic_standby_w,
)
from phasewright.tables.sizes import ELECTRONIC_CONVERTER_SIZES_W
from phasewright.ways.asked import Asked, condition, refusal, told
from phasewright.ways.balanced import Balanced, balanced, draw_at
from phasewright.ways.balanced_asks import asked_on_three_lines, on_lines
from phasewright.ways.electronic_source import ElectronicSource, plain_input_a
from phasewright.ways.figures import Figures, Range
from phasewright.ways.mains import over_room, over_surge, surge_not_known
from phasewright.ways.on_converter import deepest_dip
from phasewright.ways.purchase import buy, item, total
from phasewright.ways.shared_source import Had, Said, Served, Shared, Work
from phasewright.ways.site import Site
from phasewright.ways.way import Judgement, Offer, Service, Task, refused, verdict_of

NAME: WayName = "electronic_converter"
SOURCE = "electronic source"
SAID = Said(
    idle="The electronic source alone takes",
    gives=(
        Reason(
            "original_controls",
            "the original switches and pumps work as they are, on three equal lines.",
        ),
    ),
    gives_up=(
        Reason("one_box", "One box for the whole shop: if it fails, everything on it stands."),
    ),
    cautions=(
        Reason(
            "source_charge",
            "The electronic source's capacitors stay charged for minutes after switching off: "
            "wait as marked, then prove dead. Its three lines have no neutral unless its maker "
            "says so, and their earth fault current is small: ask which protection it needs.",
        ),
    ),
)


def sizes_w(site: Site) -> tuple[float, ...]:
    """Sizes on the market and those the owner has."""
    owned = {
        part.power.number
        for part in site.owned
        if part.kind == NAME and part.power is not None
    }  # fmt: skip
    return tuple(sorted({*ELECTRONIC_CONVERTER_SIZES_W, *owned}))


def judge(task: Task, site: Site) -> Judgement:
    """Verdict, figures and offer of the smallest source that serves this motor's machine."""
    last: tuple[Reason, ...] = ()
    first: tuple[ElectronicSource, Served] | None = None
    for of in _sources(site):
        served = serve(task, site, of)
        if not isinstance(served, Served):
            if first is None:
                last = served
            continue
        first = first or (of, served)
        if _whole_machine(task, site, of):
            first = (of, served)
            break
    if first is None:
        return refused(NAME, *(last or (_no_class(site),)))
    return _judged(task, site, *first)


def _whole_machine(task: Task, site: Site, of: ElectronicSource) -> bool:
    """Whether the machine's other motors that can hang there may do so, all together."""
    hertz = of.source.frequency_hz
    tasks = [task]
    for other in task.siblings:
        if isinstance(balanced(other, of.line_voltage_v, hertz), Balanced):
            tasks.append(Task(task.machine, other))
    turning = of(tuple(tasks))
    return turning is not None and turning.stands


def _sources(site: Site) -> list[ElectronicSource]:
    """Every size, where they are made for the supply's volts."""
    found = [ElectronicSource(site.source, size) for size in sizes_w(site)]
    try:
        return [of for of in found if of.output_a > 0.0]
    except TableEnds:
        return []


def _no_class(site: Site) -> Reason:
    return Reason(
        "no_source_at_these_volts",
        f"The tables know no electronic three-phase source for a supply of "
        f"{site.source.voltage_v:.0f} V.",
    )


def serve(task: Task, site: Site, of: ElectronicSource) -> Served | tuple[Reason, ...]:
    """This motor on this source: what it gets, or every reason why it must not be."""
    one = on_lines(task, NAME, of.line_voltage_v, of.source.frequency_hz)
    if isinstance(one, tuple):
        return one
    asked = asked_on_three_lines(task, one, NAME, has_neutral=False, behind_converter=True)
    asked += _of_size(one, of) + _of_supply(one, site, of)
    if asked.refusals:
        return asked.refusals
    start_a, dip = of.start_dip(draw_at(one.start))
    service = Service(
        unloaded=of.takes(draw_at(one.unloaded)),
        typical=of.takes(draw_at(one.typical)),
        demand=of.takes(draw_at(one.highest)),
        starting_current_a=start_a,
        dip_ratio=dip,
    )
    return Served(
        one.link, one.circuit.rated_current_a, service, asked.conditions,
        _figures(one, of, start_a, dip), asked.told,
    )  # fmt: skip


def _of_size(one: Balanced, of: ElectronicSource) -> Asked:
    """Its rated current against the motor's load, its short-time current against the start."""
    steady, starting = one.highest.current_a, one.start.current_a
    kw = of.rating_w / 1000.0
    if steady > of.output_a:
        return refusal(
            "source_too_small",
            f"It takes {steady:.1f} A; a source of {kw:g} kW gives {of.output_a:.1f} A.",
        )
    if starting > of.short_time_a:
        return refusal(
            "start_too_hard",
            f"Straight on it takes {starting:.0f} A at standstill; a source of {kw:g} kW gives "
            f"about {of.short_time_a:.0f} A for a few seconds: a larger one, or one motor alone "
            "behind it, started by its ramp.",
        )
    spread = electronic_short_time()
    if starting > spread.low * of.output_a:
        return condition(
            "short_time_current",
            f"Straight on it takes {starting:.0f} A at standstill. Sources of {kw:g} kW give "
            f"{spread.low * of.output_a:.0f} to {spread.high * of.output_a:.0f} A for a few "
            "seconds: ask for this one's figure, or start the motor by its ramp.",
        )
    return told("one_by_one", "Motors are started one after another, never two at once.")


def _of_supply(one: Balanced, site: Site, of: ElectronicSource) -> Asked:
    """What it takes from the supply, with a sinusoidal front end and with a plain one."""
    draw = of.takes(draw_at(one.highest))
    amps = draw.current_a(site.source.voltage_v)
    start_a, dip = of.start_dip(draw_at(one.start))
    found = over_room(site, amps, "With a sinusoidal front end it draws")
    found += over_surge(site, start_a, "The motor's start")
    if dip > deepest_dip():
        found.append(
            Reason(
                "dip_too_deep",
                f"The motor's start pulls the supply down by {dip:.0%}; a contactor needs "
                f"{1.0 - deepest_dip():.0%} of its volts to pull in.",
            )
        )
    plain = plain_input_a(of.source, of.rating_w, draw.power_w)
    whole = Asked(refusals=tuple(found)) + surge_not_known(site, start_a)
    if plain is None or plain > site.room_a:
        drawn = "more than the supply can give" if plain is None else f"{plain:.1f} A"
        return whole + condition(
            "sinusoidal_input",
            f"Only one whose input draws a sine ({amps:.1f} A): a plain rectifier would draw "
            f"{drawn}.",
        )
    return whole + told(
        "front_end",
        f"Taken with a front end that draws a sine ({amps:.1f} A); a plain rectifier would draw "
        f"{plain:.1f} A.",
    )


def _figures(one: Balanced, of: ElectronicSource, start_a: float, dip: float) -> Figures:
    source = of.source
    draw = of.takes(draw_at(one.highest))
    inputs = {
        "motor takes": (one.highest.input_power_w, "W"),
        "source": (of.rating_w, "W"),
        "efficiency at rated output": (electronic_efficiency().number, ""),
        "standby": (electronic_standby_w().number, "W"),
        "supply": (source.voltage_v, "V"),
    }

    def out(number: float, unit: str) -> Value:
        return figure(
            number, unit, "ways.electronic_source.ElectronicSource.takes", inputs,
            electronic_efficiency().source,
        )  # fmt: skip

    amps = draw.current_a(source.voltage_v)
    best = of.takes(draw_at(one.highest), electronic_efficiency().high)
    plain = plain_input_a(source, of.rating_w, draw.power_w)
    return Figures(
        input_current_a=Range(
            best.current_a(source.voltage_v), out(amps, "A"), amps if plain is None else plain
        ),
        input_power_w=out(draw.power_w, "W"),
        input_power_factor=out(draw.power_w / (source.voltage_v * amps), ""),
        usable_power_w=out(one.usable_w, "W"),
        starting_torque_ratio=out(one.starting_ratio, ""),
        starting_current_a=out(start_a, "A"),
        voltage_dip_ratio=out(dip, ""),
        idle_power_w=electronic_standby_w(),
        output_current_a=out(one.highest.current_a, "A"),
        efficiency=out(one.highest.input_power_w / draw.power_w, ""),
    )


def hads_of(site: Site, of: ElectronicSource) -> tuple[Had, ...]:
    """Every way to have a source of this size: bought new, or the owner's own."""
    words = f"electronic three-phase source of {of.rating_w / 1000.0:.3g} kW"
    work, upkeep = hours("converter_ready_made"), hours("upkeep_electronic").number
    found = []
    if of.rating_w in ELECTRONIC_CONVERTER_SIZES_W:
        things = (item(NAME, of.rating_w, "W", site.quotes),)
        found.append(Had("new", things, work, upkeep, words=f"an {words}"))
    for index, part in enumerate(site.owned):
        if part.kind == NAME and part.power is not None and part.power.number == of.rating_w:
            try:
                things = (item(NAME, of.rating_w, "W", (), origin="owned"),)
            except TableEnds:
                continue
            found.append(Had("owned", things, work, upkeep, index, f"your {words}"))
    return tuple(found)


def shared(site: Site, work: Work) -> tuple[Shared, ...]:
    """Sources from the first that serves anything to the first that gives all that any can, and
    the owner's larger ones."""
    sources = _sources(site)
    if not sources:
        return ()
    most = _reach(site, work, sources[-1])
    found, enough = [], False
    for of in sources:
        hads, served = hads_of(site, of), _served(site, work, of)
        if enough:
            hads = tuple(had for had in hads if had.origin == "owned")
        if not hads or not any(isinstance(one, Served) for one in served):
            continue
        found.append(
            Shared(
                way=NAME,
                name=SOURCE,
                rating=of.rating_w,
                unit="W",
                hads=hads,
                served=served,
                turning=of,
                said=SAID,
                idle_power_w=electronic_standby_w().number,
                figures=Figures(
                    idle_power_w=electronic_standby_w(), efficiency=electronic_efficiency()
                ),
                generated_line=False,
            )
        )
        enough = enough or _reach(site, work, of) == most
    return tuple(found)


def _served(
    site: Site, work: Work, of: ElectronicSource
) -> tuple[Served | tuple[Reason, ...], ...]:
    return tuple(serve(task, site, of) for task in work.tasks)


def _reach(site: Site, work: Work, of: ElectronicSource) -> tuple[frozenset[int], ...]:
    """Who may hang on it, and of every set that turns together who may if all of them may."""
    able = frozenset(
        k for k, one in enumerate(_served(site, work, of)) if isinstance(one, Served)
    )  # fmt: skip
    sets = []
    for group in work.groups:
        tasks = tuple(work.tasks[k] for k in sorted(group & able))
        turning = of(tasks) if tasks else None
        sets.append(group & able if turning is not None and turning.stands else frozenset())
    return (able, *sets)


def _judged(task: Task, site: Site, of: ElectronicSource, served: Served) -> Judgement:
    had = hads_of(site, of)[0]
    return Judgement(
        NAME,
        verdict_of(served.conditions),
        link=served.link,
        reasons=(
            Reason(
                "source_serves",
                f"A source of {of.rating_w / 1000.0:g} kW gives it three equal lines of "
                f"{of.line_voltage_v:.0f} V.",
            ),
            Reason("link", served.link.words),
            *served.told,
            Reason(
                "other_sources",
                "A three-phase inverter with a battery, or a three-phase generator hired for one "
                "big job, gives three lines as well; neither is weighed here.",
            ),
        ),
        conditions=served.conditions,
        figures=replace(served.figures, price=total(had.items, "electronic source")),
        offers=(
            Offer(
                served.service,
                (buy(NAME, of.rating_w, "W", (task.motor.id,), had.items, origin=had.origin),),
                had.items,
                had.labour_h,
                had.upkeep_h_per_year,
                owned_item=had.owned_item,
            ),
        ),
    )
