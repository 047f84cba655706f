"""The starts a plan lists: every motor on its lines, in its hardest case, and what that decides."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from phasewright.files.shop_file import read
from phasewright.job.study import study
from phasewright.network.supply import Source
from phasewright.plan.facts import facts_of
from phasewright.plan.one_start import one_start
from phasewright.starts.outcome import outcome
from phasewright.starts.waves import waves
from phasewright.ways.hardest_start import hardest_start
from phasewright.ways.on_two_lines import linked
from phasewright.ways.starting_order import in_order, running_before, starting_with

EXAMPLES = Path(__file__).parents[2] / "examples"
BARN = EXAMPLES / "cider-barn.shop.yaml"


@cache
def told(name: str) -> dict:
    return study(read(EXAMPLES / f"{name}.shop.yaml"), quick=True).to_dict()


@cache
def barn():
    facts = facts_of(read(BARN))
    on = next(each for each in facts.shared if each.way == "rotary_converter" and each.design)
    largest = max(
        (each for each in facts.shared if each.design is not None), key=lambda each: each.rating
    )
    return facts, on, largest


def pairs(names: tuple[str, ...]):
    facts, *_ = barn()
    found = []
    for name in names:
        task = next(unit.task for unit in facts.units if unit.id == name)
        found.append((task, linked(task.motor)))
    return tuple(found)


@pytest.mark.parametrize("name", ["cider-barn", "furniture-shop", "farm-sawmill", "bakery"])
def test_every_motor_on_a_converter_is_started_and_in_a_plan_that_can_be_it_runs_up(name) -> None:
    for plan in told(name)["plans"]:
        hung = {m["motor"] for m in plan["motors"] if m.get("way") == "rotary_converter"}
        starts = {start["motor"]: start for start in plan["starts"]}
        behind_drives = {m for m in hung if "starting_torque_ratio" not in next(
            each["figures"] for each in plan["motors"] if each["motor"] == m)}  # fmt: skip
        assert hung - behind_drives <= starts.keys()
        if plan["feasible"]:
            assert all(start["runs_up"] for start in starts.values())
        for start in starts.values():
            beside = set(start["with"])
            assert start["motor"] not in beside
            assert (
                not beside
                or start["planned"]
                or any(beside | {start["motor"]} <= set(case["running"]) for case in plan["cases"])
            )


def test_a_machine_to_come_is_started_where_it_will_hang() -> None:
    """In every plan that will have it on a converter's lines, as it is once all have come."""
    facts, *_ = barn()
    planned = {unit.id for unit in facts.units if unit.task.machine.have == "planned"}
    assert planned
    found = 0
    for plan in told("cider-barn")["plans"]:
        bought_later = [
            buy for buy in plan["buys"]
            if buy["kind"] == "rotary_converter" and set(buy["serves"]) & planned
        ]  # fmt: skip
        later = {start["motor"] for start in plan["starts"] if start["planned"]}
        assert later <= planned
        assert not later & {m["motor"] for m in plan["motors"]}
        if bought_later:
            assert later == planned
            found += 1
    assert found


def test_the_start_that_is_listed_is_the_start_that_can_be_looked_at() -> None:
    """The listed one begins beside machines that turn already, the other from rest."""
    shop, answer = read(BARN), told("cider-barn")
    plan = next(p for p in answer["plans"] if p["id"] == answer["answer"]["plan"])
    for start in plan["starts"]:
        if start["method"] != "direct" or start["planned"]:
            continue
        asked = one_start(shop, start["motor"], "rotary_converter", plan["id"])
        found = waves(asked.course)
        names = [each.machine.name for each in asked.course.starters]
        seen = outcome(found, names.index(start["motor"]))
        assert seen.runs_up
        assert seen.time_s == pytest.approx(start["time_s"], rel=0.03, abs=0.005)
        assert set(start["with"]) <= set(names)


def test_the_largest_motor_of_a_machine_is_started_first_unless_the_owner_says_otherwise() -> None:
    mill, elevator = pairs(("Scratter/mill", "Scratter/elevator"))
    assert in_order((elevator, mill)) == (mill, elevator)
    assert running_before((mill, elevator), mill) == ()
    assert running_before((mill, elevator), elevator) == (mill,)
    told_so = tuple(
        (replace(task, machine=replace(task.machine, starts_before=("elevator before mill",))), of)
        for task, of in (mill, elevator)
    )
    assert in_order(told_so) == (told_so[1], told_so[0])
    assert running_before(told_so, told_so[0]) == (told_so[1],)


def test_another_machine_runs_already_but_what_starts_with_it_does_not() -> None:
    mill, pump = pairs(("Scratter/mill", "Press/oil pump"))
    assert running_before((mill, pump), pump) == (mill,)
    assert running_before((mill, pump), mill) == (pump,)
    at_once = (
        (replace(mill[0], machine=replace(mill[0].machine, starts_with=("Press",))), mill[1]),
        pump,
    )
    assert running_before(at_once, at_once[0]) == ()
    assert starting_with(at_once, at_once[0]) == (pump,)


def test_two_at_once_take_more_than_one_after_the_other() -> None:
    _, _, largest = barn()
    source: Source = barn()[0].site.source
    mill, pump = pairs(("Scratter/mill", "Press/oil pump"))
    converter = largest.design.converter
    apart = hardest_start(source, converter, (mill, pump), mill)
    with_it = (
        (replace(mill[0], machine=replace(mill[0].machine, starts_with=("Press",))), mill[1]),
        pump,
    )
    together = hardest_start(source, converter, with_it, with_it[0])
    assert together.supply_a > apart.supply_a
    assert together.dip_ratio > apart.dip_ratio
    assert together.seconds > apart.seconds


def test_a_heavier_machine_takes_longer_and_at_last_too_long() -> None:
    """The same torque of the load, ever more inertia: the time grows with it, then 30 s are over."""
    facts, _, largest = barn()
    (mill,) = pairs(("Scratter/mill",))
    times = []
    for factor in (1.0, 3.0, 9.0, 500.0):
        inertia = mill[1].load.inertia_kg_m2
        heavier = replace(
            mill[1],
            load=replace(
                mill[1].load,
                inertia_kg_m2=replace(
                    inertia, number=factor * inertia.number, low=factor * inertia.low,
                    high=factor * inertia.high,
                ),
            ),
        )  # fmt: skip
        one = (mill[0], heavier)
        times.append(
            hardest_start(facts.site.source, largest.design.converter, (one,), one).seconds
        )
    assert times[0] < times[1] < times[2]
    assert times[2] / times[1] == pytest.approx(3.0, rel=0.25)
    assert times[3] == float("inf")
