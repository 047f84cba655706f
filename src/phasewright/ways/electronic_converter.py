"""A source of three equal lines for the whole shop that no idler makes, in three variants.

An electronic source (rectifier, link and inverter in one box); an inverter that lives on a battery
which the supply only fills; a generator, kept or hired by the day. A motor-generator set is a
machine to be found second-hand with its own figures, and none of it is computed.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

from phasewright.quantities.finding import Reason
from phasewright.ways.battery_here import (
    BATTERY_INVERTER,
    against_battery,
    inverters_of,
)
from phasewright.ways.battery_here import hads_of as battery_hads
from phasewright.ways.battery_here import shared as shared_batteries
from phasewright.ways.battery_serve import serve as serve_battery
from phasewright.ways.electronic_here import SOURCE, hads_of, sources_of
from phasewright.ways.electronic_here import shared as shared_sources
from phasewright.ways.electronic_serve import NAME, serve
from phasewright.ways.generator_here import (
    GENERATOR,
    against_generator,
    generators_of,
)
from phasewright.ways.generator_here import hads_of as generator_hads
from phasewright.ways.generator_here import shared as shared_generators
from phasewright.ways.generator_serve import serve as serve_generator
from phasewright.ways.own_lines import ThreeLines, first_for
from phasewright.ways.purchase import buy, total
from phasewright.ways.shared_source import Had, Served, Shared, Work
from phasewright.ways.site import Site
from phasewright.ways.way import Judgement, Offer, Task, refused, verdict_of

__all__ = ["NAME", "judge", "shared"]
T = TypeVar("T", bound=ThreeLines)


@dataclass(frozen=True, slots=True)
class Found:
    """One variant that can be: its size, its volts, what the motor gets, how it is had."""

    name: str
    rating_w: float
    line_voltage_v: float
    served: Served
    had: Had

    @property
    def reasons(self) -> tuple[Reason, ...]:
        """What is told of it."""
        words = (
            f"One of {self.rating_w / 1000.0:g} kW gives it three equal lines of "
            f"{self.line_voltage_v:.0f} V."
        )
        link = Reason("link", self.served.link.words)
        return (Reason("source_serves", words), link, *self.served.told)


@dataclass(frozen=True, slots=True)
class Against:
    """One variant that cannot be, and why."""

    name: str
    reasons: tuple[Reason, ...]


Variant = Found | Against


def judge(task: Task, site: Site) -> Judgement:
    """Verdict and figures of the first variant that can be, reasons and conditions of all."""
    variants = (_electronic(task, site), _battery(task, site), _generator(task, site))
    able = [each for each in variants if isinstance(each, Found)]
    reasons = _named([(each.name, each.reasons) for each in variants])
    if not able:
        return refused(NAME, *reasons)
    first = able[0]
    conditions = _named([(each.name, each.served.conditions) for each in able])
    price = total(first.had.items, first.name)
    return Judgement(
        NAME,
        verdict_of(conditions),
        link=first.served.link,
        reasons=reasons,
        conditions=conditions,
        figures=replace(first.served.figures, price=price),
        offers=tuple(_offer(task, each) for each in able),
    )


def shared(site: Site, work: Work) -> tuple[Shared, ...]:
    """Everything of the three variants that is worth weighing here."""
    return (
        *shared_sources(site, work),
        *shared_batteries(site, work),
        *shared_generators(site, work),
    )


def _electronic(task: Task, site: Site) -> Variant:
    found = first_for(task, site, sources_of(site), serve)
    return _variant(SOURCE, found or (_no_class(site),), lambda of: hads_of(site, of))


def _battery(task: Task, site: Site) -> Variant:
    against = against_battery(site)
    found = (against,) if against else first_for(task, site, inverters_of(site), serve_battery)
    return _variant(BATTERY_INVERTER, found, lambda of: battery_hads(site, of))


def _generator(task: Task, site: Site) -> Variant:
    against = against_generator(site)
    found = (against,) if against else first_for(task, site, generators_of(site), serve_generator)
    return _variant(GENERATOR, found, lambda of: generator_hads(site, of))


def _variant(
    name: str, found: tuple[T, Served] | tuple[Reason, ...],
    hads: Callable[[T], tuple[Had, ...]],
) -> Variant:  # fmt: skip
    of, *more = found
    if isinstance(of, Reason):
        return Against(name, tuple(each for each in found if isinstance(each, Reason)))
    (served,) = more
    assert isinstance(served, Served)
    return Found(name, of.rating_w, of.line_voltage_v, served, hads(of)[0])


def _named(variants: Sequence[tuple[str, tuple[Reason, ...]]]) -> tuple[Reason, ...]:
    """The reasons of several variants: what all say once, the rest with the variant's name."""
    common = set.intersection(*({*reasons} for _, reasons in variants))
    return tuple(
        dict.fromkeys(
            each
            if each in common
            else replace(each, words=f"{name[0].upper()}{name[1:]}: {each.words}")
            for name, reasons in variants
            for each in reasons
        )
    )


def _no_class(site: Site) -> Reason:
    return Reason(
        "no_source_at_these_volts",
        f"The tables know no electronic three-phase source for a supply of "
        f"{site.source.voltage_v:.0f} V.",
    )


def _offer(task: Task, of: Found) -> Offer:
    """What this motor alone would need; what the shop shares is weighed by the plan."""
    had = of.had
    return Offer(
        of.served.service,
        (buy(NAME, of.rating_w, "W", (task.motor.id,), had.items, origin=had.origin),),
        had.items,
        had.labour_h,
        had.upkeep_h_per_year,
        owned_item=had.owned_item,
        figures=of.served.figures,
        link=of.served.link,
        last_resort=of.name == GENERATOR,
    )
