"""What circuits cost: every piece once, at the owner's quote before the invented curve."""

from __future__ import annotations

from dataclasses import replace

import pytest
from some_jobs import amps, job, metres, tap

from phasewright.circuits.installation import ResidualCurrentDevice
from phasewright.plan.circuit_laid import laid
from phasewright.plan.circuit_prices import cost_of, parts_of, with_prices
from phasewright.quantities.value import exact, spread
from phasewright.shop.model import Quote
from phasewright.ways.figures import Buy, Part


def priced(*jobs, buys=(), quotes=()):
    return parts_of([laid(each)[0] for each in jobs], jobs, buys, quotes)


def kinds(parts):
    return sorted(each.kind for each in parts)


def of_kind(parts, kind):
    return next(each for each in parts if each.kind == kind)


def test_a_circuit_is_cable_breaker_and_isolator_by_the_invented_curves():
    """12 m of 2.5 mm2 at 1 + 0.45 a mm2; a breaker at 15 + 0.4 an amp; an isolator at 25."""
    of = job(design=amps(15.2))
    parts = priced(of)
    assert kinds(parts) == ["breaker_two_pole", "cable", "isolator"]
    cable, breaker = of_kind(parts, "cable"), of_kind(parts, "breaker_two_pole")
    assert cable.price.expected.number == pytest.approx(12.0 * (1.0 + 0.45 * cable.rating))
    assert breaker.price.expected.number == pytest.approx(15.0 + 0.4 * breaker.rating)
    assert cost_of(parts).expected.number == pytest.approx(
        25.0 + sum(each.price.expected.number for each in (cable, breaker))
    )


@pytest.mark.parametrize("metres_more", [13.0, 20.0, 40.0])
def test_a_longer_cable_is_never_cheaper(metres_more):
    short, long = priced(job()), priced(job(run=metres(metres_more)))
    assert cost_of(long).expected.number > cost_of(short).expected.number


def test_a_length_nobody_told_spreads_the_price():
    told = job(run=metres(12.0))
    length = spread(12.0, 3.0, 30.0, "m", "assumed", "test")
    guessed = replace(told, run=replace(told.run, length=length))
    narrow, wide = (of_kind(priced(each), "cable").price for each in (told, guessed))
    assert wide.low == pytest.approx(narrow.low * 3.0 / 12.0)
    assert wide.high == pytest.approx(narrow.high * 30.0 / 12.0)


def test_a_cable_that_lies_there_and_serves_costs_nothing():
    of = job(run=replace(metres(12.0), conductor_m2=4e-6))
    assert "cable" not in kinds(priced(of))
    thin = job(run=replace(metres(12.0), conductor_m2=1e-6))
    assert "cable" in kinds(priced(thin))


def test_one_residual_device_for_all_that_hangs_behind_it():
    ahead = job(role="supply_to_converter", to="converter", tap=tap("TT", 80.0))
    hung = [
        job(source="converter", to=name, tap=tap("TT", 80.0), covered_by=ahead.id)
        for name in ("Saw/blade", "Drill/spindle")
    ]
    found = [each for each in priced(ahead, *hung) if each.kind.startswith("residual")]
    assert [each.circuit for each in found] == [ahead.id]


def test_a_device_that_is_there_is_not_bought():
    of = job(tap=tap("TT", 80.0))
    circuit, _ = laid(of)
    assert any(each.kind.startswith("residual") for each in parts_of([circuit], [of], (), ()))
    there = replace(circuit, residual_current=ResidualCurrentDevice(100.0, "A", upstream=True))
    assert not any(each.kind.startswith("residual") for each in parts_of([there], [of], (), ()))


def test_what_the_plan_buys_anyway_is_not_counted_twice():
    of = job()
    part = Part("isolator", 1.0, "", 1, 25.0, "test")
    buy = Buy("direct", 0.0, "W", 1, 0, "new", ("Saw/blade",), 25.0, "test", (part,))
    assert "isolator" not in kinds(priced(of, buys=(buy,)))
    other = replace(buy, serves=("Circular Saw/blade",))
    assert "isolator" in kinds(priced(of, buys=(other,)))
    assert "isolator" in kinds(priced(of, buys=(replace(buy, year=3),)))


def test_a_quote_replaces_the_curve():
    quotes = (Quote(kind="breaker", price=9.0),)
    found = of_kind(priced(job(), quotes=quotes), "breaker_two_pole")
    assert found.price.low == found.price.expected.number == found.price.high == 9.0


def test_three_lines_cost_more_than_two():
    two = of_kind(priced(job()), "breaker_two_pole").price.expected.number
    three = job(lines="1-2-3", tap=replace(tap(), three_phase=True))
    assert of_kind(priced(three), "breaker_two_pole").price.expected.number > two


def test_a_piece_beyond_every_curve_leaves_no_sum():
    parts = priced(job())
    unpriced = replace(parts[0], price=None)
    assert cost_of([unpriced, *parts[1:]]) is None
    assert cost_of([]) is None


def test_sums_with_circuits_are_plain_sums():
    cost = cost_of(priced(job()))
    whole = with_prices(cost, exact(100.0, "", "computed", "test"))
    assert whole.number == pytest.approx(100.0 + cost.expected.number)
    assert (whole.low, whole.high) == pytest.approx((100.0 + cost.low, 100.0 + cost.high))
