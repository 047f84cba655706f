"""The generators that could stand beside a shop: bought used, the owner's, hired by the day."""

from __future__ import annotations

from phasewright.machines.noise import power_of, pressure_at
from phasewright.quantities.errors import TableEnds
from phasewright.quantities.finding import Reason
from phasewright.quantities.value import Value, figure
from phasewright.tables.labour import hours
from phasewright.tables.own_sources import (
    generator_sound_at_7_m,
    generator_w,
    hours_per_hired_day,
    own_energy_price,
)
from phasewright.tables.sizes import GENERATOR_SIZES_W
from phasewright.ways.electronic_serve import NAME
from phasewright.ways.figures import Figures
from phasewright.ways.generator_serve import BACKFEED, serve
from phasewright.ways.generator_source import Generator
from phasewright.ways.own_lines import Verdicts, not_beaten
from phasewright.ways.purchase import Item, item
from phasewright.ways.shared_source import Had, Hire, Said, Shared, Work
from phasewright.ways.site import Site

GENERATOR = "generator"


def against_generator(site: Site) -> Reason | None:
    """Why no generator is weighed beside this supply; None where one is."""
    if site.supply_kind == "three_phase":
        return Reason("three_phases_there", "Three phases are there already.")
    return None


def generators_of(site: Site) -> list[Generator]:
    """Every size on the market and every one the owner has, growing."""
    if against_generator(site) is not None:
        return []
    sizes = {*GENERATOR_SIZES_W, *(watts for _, watts in _owned(site))}
    return [Generator(site.region, site.source.frequency_hz, size) for size in sorted(sizes)]


def _owned(site: Site) -> list[tuple[int, float]]:
    """(place among the owner's parts, W) of every generator that is not a single-phase one."""
    found = []
    for index, part in enumerate(site.owned):
        if part.kind != "generator" or part.phases == 1 or part.input_phases == 1:
            continue
        if part.power is not None:
            found.append((index, part.power.number))
        elif part.rating is not None:
            found.append((index, generator_w(part.rating.number)))
    return found


def hads_of(site: Site, of: Generator) -> tuple[Had, ...]:
    """Every way to keep a generator of this size: bought used, or the owner's own."""
    kw = f"{of.rating_w / 1000.0:.3g} kW"
    work, upkeep = hours("generator"), hours("upkeep_generator").number
    found = []
    if of.rating_w in GENERATOR_SIZES_W:
        things = (item("generator", of.rating_w, "W", site.quotes, origin="used"),)
        found.append(Had("used", things, work, upkeep, words=f"a used generator of {kw}"))
    for index, watts in _owned(site):
        if watts != of.rating_w:
            continue
        sure = "" if site.owned[index].phases == 3 else ", if it has three phases"
        words = f"your generator of {kw}{sure}"
        found.append(Had("owned", _own_thing(of), work, upkeep, index, words=words))
    return tuple(found)


def _own_thing(of: Generator) -> tuple[Item, ...]:
    """The owner's, with the life of a used one where the price curve reaches it."""
    try:
        return (item("generator_used", of.rating_w, "W", (), origin="owned"),)
    except TableEnds:
        return ()


def hire_of(site: Site, of: Generator) -> Hire:
    """What a day's hire of this size costs."""
    day = item(
        "generator_hire_day", of.rating_w, "W", site.quotes, origin="hired", quote_kind=GENERATOR
    )
    return Hire(day, hours_per_hired_day(), hours("generator_hire_day"))


def shared(site: Site, work: Work) -> tuple[Shared, ...]:
    """Of every size those that can do something no smaller one can, kept and hired; and what the
    owner has."""
    candidates: list[tuple[Generator, Verdicts]] = [
        (of, tuple(serve(task, site, of) for task in work.tasks)) for of in generators_of(site)
    ]
    owned = {watts for _, watts in _owned(site)}
    market = [each for each in candidates if each[0].rating_w in GENERATOR_SIZES_W]
    mine = [each for each in candidates if each[0].rating_w in owned]
    needed = not_beaten(work, market)
    kept = {of.rating_w: (of, served) for of, served in (*needed, *not_beaten(work, mine))}
    found = [_kept(site, of, served) for of, served in kept.values()]
    return (*found, *(_hired(site, of, served) for of, served in needed))


def _kept(site: Site, of: Generator, served: Verdicts) -> Shared:
    return _shared(site, of, served, hads_of(site, of), None)


def _hired(site: Site, of: Generator, served: Verdicts) -> Shared:
    words = f"a generator of {of.rating_w / 1000.0:.3g} kW hired by the day"
    had = Had("hired", (), hours("generator_inlet"), 0.0, words=words)
    return _shared(site, of, served, (had,), hire_of(site, of))


def _shared(
    site: Site, of: Generator, served: Verdicts, hads: tuple[Had, ...], hire: Hire | None
) -> Shared:
    price = own_energy_price(site.region, site.fuel_price)
    one = next(each.figures for each in served if not isinstance(each, tuple))
    return Shared(
        way=NAME,
        name=GENERATOR,
        rating=of.rating_w,
        unit="W",
        hads=hads,
        served=served,
        turning=of,
        said=said_of(hire),
        idle_power_w=of.empty_w,
        figures=Figures(idle_power_w=one.idle_power_w, own_energy_price=price),
        noise_dba=_at_1_m(),
        generated_line=False,
        neutral=True,
        energy_price=price,
        hire=hire,
        few_habits=True,
        fault_source=of.fault_source(GENERATOR),
    )


def _at_1_m() -> Value:
    """Sound pressure level 1 m from it, from what is printed for 7 m over open ground."""
    level = generator_sound_at_7_m()
    low, middle, high = (
        pressure_at(power_of(each, 7.0), 1.0) for each in (level.low, level.number, level.high)
    )
    return figure(
        middle, "dB(A)", "machines.noise.pressure_at",
        {"at 7 m": (level.number, "dB(A)"), "distance": (1.0, "m")}, level.source,
        low=low, high=high,
    )  # fmt: skip


def said_of(hire: Hire | None) -> Said:
    """What it gives, gives up and warns of (common practice, no source)."""
    level = generator_sound_at_7_m()
    gives_up = [
        Reason(
            "engine_runs",
            f"An engine runs whenever a machine does, {level.number:.0f} dB(A) at 7 m "
            f"({level.low:.0f} to {level.high:.0f}), and burns fuel while nothing turns; run for "
            "long at little load a diesel soots up.",
        )
    ]
    if hire is not None:
        gives_up.append(
            Reason(
                "only_on_hired_days",
                f"The machines run on days that were planned: {hire.hours_per_day.number:g} h of "
                f"turning ({hire.hours_per_day.low:g} to {hire.hours_per_day.high:g}) are counted "
                f"to a day, every motor's on days of its own, at {hire.day.price.amount:,.0f} a "
                "day.",
            )
        )
    return Said(
        idle="Running empty the generator burns fuel as for",
        gives=(
            Reason(
                "real_neutral",
                "the original switches and pumps work as they are, on three equal lines with a "
                "real neutral; the winding stays as it is.",
            ),
            Reason(
                "nothing_from_the_supply",
                "nothing is taken from the supply, and they run where there is none.",
            ),
        ),
        gives_up=tuple(gives_up),
        cautions=(
            BACKFEED,
            Reason(
                "exhaust_kills",
                "Exhaust gas kills without a smell: never in or against a building. Fuel away from "
                "heat, none filled in while it runs.",
            ),
        ),
    )
