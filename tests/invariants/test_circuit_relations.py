"""Whole studies of a small shop: what must hold of its circuits whatever the numbers are."""

from __future__ import annotations

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from rules_by_study.edits import edited, entry_of, found, studied

from phasewright.circuits.cables import sizes

pytestmark = pytest.mark.whole
CABLE, CIRCUIT = "machines[0].cable", "machines[0].circuit"
PLACE = {"name": "shed", "feeder": {"length": "20 m", "conductor": "10 mm2"}}
SMALL = settings(max_examples=6, deadline=None)
SOLD = [size.name for size in sizes("IEC")]
DRAWN_CABLES = st.sampled_from(["1.5 mm2", "2.5 mm2", "4 mm2"])


def areas(text):
    """The conductor of every circuit of every plan, by plan and circuit."""
    return {
        (plan.title, each.id): each.conductor_m2
        for plan in studied(text).plans
        for each in plan.circuits or ()
        if each.conductor_m2 is not None
    }


def never_thinner(before, after):
    """Of the circuits that both have."""
    assert before.keys() & after.keys()
    for key in before.keys() & after.keys():
        assert after[key] >= before[key], key


@SMALL
@given(st.integers(4, 60), st.integers(1, 60))
def test_a_longer_cable_is_never_thinner(metres, more):
    short, long = (
        areas(edited({CABLE: {"length": f"{each} m"}})) for each in (metres, metres + more)
    )
    never_thinner(short, long)


@SMALL
@given(st.integers(5, 35), st.integers(1, 15))
def test_a_hotter_room_never_has_a_thinner_cable(degrees, more):
    cool, hot = (
        areas(edited({"places": [PLACE | {"ambient": f"{each} °C"}], "machines[0].place": "shed"}))
        for each in (degrees, degrees + more)
    )
    never_thinner(cool, hot)


@SMALL
@given(st.integers(1, 60), st.integers(1, 120))
def test_more_starts_never_flicker_less(starts, more):
    few, many = (
        {plan.title: plan.network_effects for plan in studied(
            edited({"machines[0].starts_per_hour": each})).plans}
        for each in (starts, starts + more)
    )  # fmt: skip
    both = [name for name in few if few[name] is not None and many.get(name) is not None]
    assert both
    for name in both:
        low, high = few[name].flicker_at_intake, many[name].flicker_at_intake
        assert high.expected.number >= low.expected.number * (1.0 - 1e-9)


@SMALL
@given(DRAWN_CABLES, st.integers(5, 60), st.integers(1, 6))
def test_the_remedy_of_a_thin_cable_is_the_thinnest_that_serves(lies, metres, bunch):
    told = {CABLE: {"conductor": lies, "length": f"{metres} m", "grouped": bunch}}
    rules = ("iec.60364_5_52.523_1", "circuit.cable_too_thin")
    for rule in rules:
        for at, each in found(edited(told), rule)[:1]:
            size = each.remedy.value
            enough = found(edited(told, {each.remedy.path: size}), rule)
            assert at not in [place for place, _ in enough]
            thinner = SOLD[SOLD.index(size) - 1]
            if SOLD.index(thinner) > SOLD.index(lies):
                still = found(edited(told, {each.remedy.path: thinner}), rule)
                assert at in [place for place, _ in still]


@SMALL
@given(st.sampled_from(["B32", "C40", "B50", "D63"]), DRAWN_CABLES)
def test_no_breaker_that_serves_is_nearer_than_that_of_the_remedy(there, lies):
    told = {CIRCUIT: {"breaker": there}, CABLE: {"conductor": lies}}
    broken = [(at, each) for at, each in found(edited(told), "iec.60364_4_43.433_1_b")]
    assume(broken)
    at, each = broken[0]
    assume(each.remedy.path.endswith("breaker"))
    rated = float(each.remedy.value[1:])
    nearer = [a for a in (20, 25, 32, 40, 50) if rated < a < float(there[1:])]
    for amps in nearer[:1]:
        still = studied(edited(told, {each.remedy.path: f"{there[0]}{amps}"})).findings
        assert [e for e in still if (e.plan, e.circuit) == at and e.words.startswith("as it")]
    mended = found(edited(told, {each.remedy.path: entry_of(each.remedy)}), each.rule)
    assert at not in [place for place, _ in mended]


def test_an_outlet_of_13_a_forbids_what_a_service_of_63_a_bears():
    plate = "machines[0].motors[0].plate"
    large = {f"{plate}.power": "7.5 kW", f"{plate}.current": "26/15 A"}
    service, outlet = edited(large), edited(large, {"supply.outlet_rating": "13 A"})
    assert sum(p.feasible for p in studied(service).plans) > sum(
        p.feasible for p in studied(outlet).plans
    )


def test_a_larger_service_never_makes_the_answer_dearer():
    def cost(amps):
        study = studied(edited({"supply.service_rating": f"{amps} A"}))
        return next(p for p in study.plans if p.id == study.answer.plan).lifetime_cost

    costs = [cost(amps).expected.number for amps in (25, 40, 63, 100)]
    assert costs == sorted(costs, reverse=True)
