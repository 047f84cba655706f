"""Money worth today, against sums done by hand."""

from __future__ import annotations

from math import inf

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from phasewright.plan.money import (
    Payment,
    Thing,
    discount,
    giving_up,
    keeping,
    keeping_value,
    present_value,
    yearly,
    yearly_value,
)
from phasewright.quantities.errors import UsageError

rates = st.floats(0, 0.2)
spans = st.floats(0, 30)


def test_discount_by_hand():
    """110 in a year at 10 % is 100 today, 121 in two years likewise."""
    assert pytest.approx(110 * discount(0.1, 1)) == 100
    assert pytest.approx(121 * discount(0.1, 2)) == 100


@given(year=spans)
def test_nothing_is_lost_at_rate_zero(year):
    """At rate 0 an amount is worth itself whenever it is due."""
    assert discount(0.0, year) == 1.0


def test_a_rate_that_cannot_be():
    """All is lost in a year at -1; the sentence says what is allowed."""
    with pytest.raises(UsageError, match=r"a discount rate of -1\.0 cannot be reckoned with"):
        discount(-1.0, 1)


def test_yearly_amount_by_hand():
    """100 a year for three years at 10 %: 90.909 + 82.645 + 75.131 = 248.685."""
    assert yearly_value(100, 0.1, 0, 3) == pytest.approx(248.685, abs=0.001)


def test_a_part_of_a_year_pays_its_share():
    """Two and a half years: two whole payments and half a one at the end."""
    assert yearly(100, 0, 2.5) == (Payment(1, 100), Payment(2, 100), Payment(2.5, 50))


@given(rate=rates, start=st.integers(0, 10), years=st.integers(1, 20))
def test_yearly_value_against_the_closed_sum(rate, start, years):
    """(1 - q^n) / i at the start of the span, the handbook's closed sum; n at rate 0."""
    closed = years if rate < 1e-6 else (1 - (1 + rate) ** -years) / rate
    wanted = closed * (1 + rate) ** -start
    assert yearly_value(1, rate, start, start + years) == pytest.approx(wanted, rel=1e-5)


@given(rate=rates, cut=st.integers(0, 12), end=st.floats(12, 20))
def test_spans_add_up(rate, cut, end):
    """A span cut at a whole year costs what both parts cost."""
    parts = yearly_value(7, rate, 0, cut) + yearly_value(7, rate, cut, end)
    assert parts == pytest.approx(yearly_value(7, rate, 0, end))


def test_no_span_costs_nothing():
    """An end at or before the start."""
    assert yearly(5, 3, 3) == () == yearly(5, 4, 3)
    assert keeping(Thing(100), 3, 3) == ()


def test_replaced_when_worn_out():
    """Life 4 in a plan of 10 years: bought in years 0, 4 and 8; the last is 2 years old."""
    thing = Thing(200, life_years=4, resale_share=0.4, halving_years=2)
    assert keeping(thing, 0, 10) == (
        Payment(0, 200),
        Payment(4, 200),
        Payment(8, 200),
        Payment(10, -40),  # 200 * 0.4 * 0.5
    )


def test_worn_out_just_at_the_end():
    """It is not replaced, and it sells for nothing."""
    assert keeping(Thing(200, 5, 0.4), 0, 5) == (Payment(0, 200),)


def test_resale_halves_with_age():
    """0.5 of 1000 new, half of that at 7 years, a quarter at 14."""
    thing = Thing(1000, life_years=25, resale_share=0.5, halving_years=7)
    assert tuple(pytest.approx(thing.resale(t)) for t in (0, 7, 14)) == (500, 250, 125)
    assert thing.resale(25) == 0
    assert Thing(1000, 20, 0.2).resale(19) == 200  # no halving: the share for life


def test_an_owned_part_costs_nothing_until_it_wears_out():
    """Three years old with a life of ten: replaced in year 7, the new one sold in year 9."""
    mine = Thing(100, 10, 0.5, 2, owned=True, age_years=3)
    assert keeping(mine, 0, 7) == ()
    assert keeping(mine, 0, 9) == (Payment(7, 100), Payment(9, -25))


def test_an_owned_part_past_its_life_is_replaced_at_once():
    """It is worn out already."""
    assert keeping(Thing(100, 5, owned=True, age_years=8), 0, 3) == (Payment(0, 100),)


def test_value_at_a_rate_by_hand():
    """200 now less 100 resale in two years at 25 %: 200 - 100 / 1.5625 = 136."""
    assert keeping_value(Thing(200, inf, 0.5), 0.25, 0, 2) == pytest.approx(136)


@given(
    price=st.floats(1, 1e4),
    life=st.floats(1, 30),
    share=st.floats(0, 1),
    halving=st.floats(0.5, 20),
    rate=rates,
    end=st.floats(1, 25),
    cheaper=st.floats(0, 1),
)
@settings(deadline=None)
def test_a_cheaper_thing_never_costs_more(price, life, share, halving, rate, end, cheaper):
    """Whatever its life and resale."""
    dear = keeping_value(Thing(price, life, share, halving), rate, 0, end)
    cheap = keeping_value(Thing(price * cheaper, life, share, halving), rate, 0, end)
    assert 0 <= cheap + 1e-9 <= dear + 2e-9


@given(year=st.floats(0, 10), rate=rates, life=st.floats(2, 20))
@settings(deadline=None)
def test_giving_up_is_the_difference(year, rate, life):
    """Kept to the end plus given up in a year equals kept to that year."""
    thing = Thing(300, life, 0.4, 4)
    whole = keeping_value(thing, rate, 0, 10)
    change = present_value(giving_up(thing, year, 10), rate)
    assert whole + change == pytest.approx(keeping_value(thing, rate, 0, year), abs=1e-9)


@pytest.mark.parametrize(
    "wrong", [{"life_years": 0}, {"halving_years": 0}, {"resale_share": 1.1}, {"age_years": -1}]
)
def test_things_that_cannot_be(wrong):
    """A life of nothing, a share above the price, an age below 0."""
    with pytest.raises(UsageError):
        Thing(100, **wrong)
