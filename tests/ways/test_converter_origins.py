"""Ready-made, second-hand, self-built, owned: each a way to have a converter of the same size."""

from __future__ import annotations

from dataclasses import replace

import pytest
from ways.test_owned_converter_parts import shop, site

from phasewright.plan.facts import facts_of
from phasewright.quantities.value import exact
from phasewright.shop.model import Quote
from phasewright.tables.capacitors import life_class_for, life_hours
from phasewright.tables.prices import price
from phasewright.ways.converter_design import design
from phasewright.ways.converter_origins import capacitor_words, self_built
from phasewright.ways.converter_parts import ways_to_have
from phasewright.ways.idlers import Idler

FOUND = Quote(kind="rotary_converter", power=exact(4000.0, "W", "stated", "test"), origin="used",
              price=450.0)  # fmt: skip


def hads(*parts, power=4000.0, quotes=(FOUND,)):
    here = replace(site(*parts), quotes=quotes)
    of = design(here.source, (Idler(power),), ())
    return {had.origin: had for had in ways_to_have(here, of)}


def cost(had):
    return sum(each.amount for each in had.items)


def test_each_origin_has_its_price_hours_and_what_it_gives_up():
    of = hads()
    assert set(of) == {"new", "used", "self_built"}
    assert cost(of["self_built"]) < cost(of["used"]) < cost(of["new"])
    hours = {origin: had.labour_h.number for origin, had in of.items()}
    assert hours["new"] < hours["used"] < hours["self_built"]
    codes = {origin: {each.code for each in had.gives_up} for origin, had in of.items()}
    assert codes == {
        "new": {"wearing_parts"},
        "used": {"second_hand_converter"},
        "self_built": {"self_built_unlisted"},
    }


def test_self_built_is_less_than_half_of_ready_made():
    """About 0.45 of it (trade's habit); invented curves, so only the order is checked."""
    of = hads()
    assert 0.3 < cost(of["self_built"]) / cost(of["new"]) < 0.55


def test_a_second_hand_one_gets_new_capacitors_and_has_half_its_life_left():
    used = hads()["used"]
    kinds = {each.kind for each in used.items}
    assert {"run_capacitor", "drop_out_relay"} <= kinds
    old = next(each for each in used.items if each.kind == "rotary_converter")
    new = price("rotary_converter", 4000.0)
    assert old.price.life_years == pytest.approx(0.5 * new.life_years)
    assert old.price.amount == 450.0


def test_a_second_hand_one_is_weighed_only_where_one_was_found():
    assert "used" not in hads(quotes=())
    assert "used" not in hads(power=5500.0)


def test_the_clause_on_plates_is_named_where_it_holds():
    assert "455.4" in self_built("NEC").words
    assert "455.4" not in self_built("IEC").words


def test_an_owned_converter_costs_no_converter_and_says_it_must_be_measured():
    of = hads("kind: rotary_converter, power: 4 kW, voltage: 230 V")
    owned = of["owned"]
    assert owned.items[0].amount == 0.0
    assert {each.code for each in owned.gives_up} == {"own_converter_retuned"}
    assert "you own" in owned.words
    assert "owned" not in hads("kind: rotary_converter, power: 4 kW, voltage: 400 V")
    assert "owned" not in hads("kind: rotary_converter, power: 5.5 kW, voltage: 230 V")


def test_an_owned_converter_is_tried_whatever_its_size():
    facts = facts_of(shop("kind: rotary_converter, power: 7.2 kW, voltage: 230 V"))
    (one,) = [of for of in facts.shared if of.rating == 7200.0 and of.variant == 0]
    assert [had.origin for had in one.hads] == ["owned"]


def test_life_classes_by_hours():
    """IEC 60252-1, from memory: A 30,000, B 10,000, C 3,000, D 1,000 hours."""
    assert [life_hours(name) for name in "ABCD"] == [30000.0, 10000.0, 3000.0, 1000.0]
    hours = (500.0, 1000.0, 1001.0, 3500.0, 12000.0)
    assert [life_class_for(each) for each in hours] == ["D", "D", "C", "B", "A"]
    assert life_class_for(30001.0) is None


def test_the_words_name_class_and_volts():
    words = capacitor_words(400.0, 252.0, 300.0, 10.0).words
    assert "400 V" in words
    assert "252 V" in words
    assert "class C" in words
    assert "class A" in capacitor_words(400.0, 252.0, 6000.0, 10.0).words


def test_every_motor_on_a_converter_is_told_the_class_of_its_capacitors():
    facts = facts_of(shop())
    for of in facts.shared:
        if of.way == "rotary_converter" and of.serves(0) is not None:
            assert "capacitor_class" in {each.code for each in of.serves(0).told}
