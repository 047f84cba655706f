"""What a working consists of, and the figures of a thing as its lines."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from phasewright.papers.workings.places import figure_words, figures_of, placed, thing
from phasewright.plan.study import PlanSide, Study
from phasewright.quantities.plain import along, figures
from phasewright.shop.machine import motor_id
from phasewright.shop.model import Shop

_OF_A_PLAN = (
    "purchase", "labour", "hours_of_work", "energy_per_year", "idle_energy_per_year_kwh",
    "lifetime_cost", "noise_dba", "supply_current_a", "voltage_dip", "circuits_cost",
)  # fmt: skip
_OF_ITS_PARTS = ("equipment", "motors")


@dataclass(frozen=True, slots=True)
class Line:
    """A named number of a working; `at` is where it has a working of its own, else empty."""

    name: str
    figure: str
    at: str = ""


@dataclass(frozen=True, slots=True)
class Working:
    """A figure or a sentence with all it comes from; what there is nothing of is empty.

    `formula` is algebra in the names of what was put in, `worked` the same with its numbers;
    `beside` holds, by what they are of, the figures a sentence was told from.
    """

    title: str
    at: str
    figure: str = ""
    says: str = ""
    how: str = ""
    formula: str = ""
    worked: str = ""
    put_in: tuple[Line, ...] = ()
    source: str = ""
    origin: str = ""
    made_by: str = ""
    beside: tuple[tuple[str, tuple[Line, ...]], ...] = ()


def listed(
    study: Study, shop: Shop, pointer: str
) -> Iterator[tuple[str, tuple[Line, ...]]]:  # fmt: skip
    """The figures of a thing; of a plan its sums, and the figures of what it consists of."""
    found = along(study, pointer)
    last = found[-1]
    if isinstance(last, PlanSide):
        sums = [at for name in _OF_A_PLAN for at in below(study, f"{pointer}/{name}")]
        yield "The plan", tuple(line(study, shop, at) for at in sums)
        for name in _OF_ITS_PARTS:
            for place in range(len(getattr(last, name))):
                yield from listed(study, shop, f"{pointer}/{name}/{place}")
        return
    lines = tuple(
        Line(one.name, figure_words(one, study.currency), at)
        for at, one in figures_of(study, shop, pointer)
    )
    if lines:
        yield thing(found, shop), lines


def below(study: Study, pointer: str) -> list[str]:
    """The places of the figures at and below a place."""
    return [at for at, _ in figures(along(study, pointer)[-1], pointer)]


def line(study: Study, shop: Shop, pointer: str) -> Line:
    """A figure among others of the same thing."""
    one = placed(study, shop, pointer)
    return Line(one.name, figure_words(one, study.currency), pointer)


def named(study: Study, shop: Shop, pointer: str) -> Line:
    """A figure with what it is of."""
    one = placed(study, shop, pointer)
    return Line(one.title, figure_words(one, study.currency), pointer)


def of_motor(study: Study, shop: Shop, place: int) -> Iterator[tuple[str, tuple[Line, ...]]]:
    """What is known of a motor itself, and what was taken where nothing was said of it."""
    at = f"/motors/{place}"
    ways = (f"{at}/ways/", f"{at}/speeds/")
    own = tuple(line(study, shop, one) for one in below(study, at) if not one.startswith(ways))
    if own:
        yield f"{study.motors[place].id}, by its plate", own
    path = next(
        f"machines[{i}].motors[{j}]"
        for i, machine in enumerate(shop.machines)
        for j, motor in enumerate(machine.motors)
        if motor_id(machine, motor) == study.motors[place].id
    )
    taken = tuple(
        line(study, shop, f"/assumed/{seat}/value")
        for seat, fact in enumerate(study.assumed)
        if fact.path.startswith(path)
    )
    if taken:
        yield "What was taken where you did not say", taken
