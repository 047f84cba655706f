"""What only the finished installation shows is asked for, by what the installation holds."""

from __future__ import annotations

from dataclasses import replace

from installations import iec_shop, nec_circuit, nec_shop

from phasewright.circuits.installation import MotorServed, ResidualCurrentDevice
from phasewright.rules.on_site import to_confirm
from phasewright.rules.register import all_rules


def rules_of(shop) -> dict[str, set[str]]:
    found: dict[str, set[str]] = {}
    for each in to_confirm(shop):
        found.setdefault(each.rule, set()).add(each.subject)
    return found


def test_a_converter_asks_for_its_line_to_be_marked_and_bonded_to_nothing() -> None:
    asked = rules_of(iec_shop())
    assert asked["line3.marked"] == asked["line3.bonded"] == {"converter"}
    assert asked["capacitor.shaft_at_rest"] == {"converter"}
    assert "nec.455.6_b" not in asked
    nec = rules_of(nec_shop())
    assert nec["nec.455.6_b"] == nec["nec.455.8_a"] == nec["nec.455.22"] == {"converter"}
    assert "line3.marked" not in nec


def test_without_a_converter_nothing_of_a_generated_line_is_asked() -> None:
    shop = iec_shop()
    plain = replace(shop, equipment=shop.equipment[1:], circuits=shop.circuits[3:])
    assert not [rule for rule in rules_of(plain) if "line3" in rule or "capacitor" in rule]


def test_every_machine_is_asked_for_its_earth_before_power() -> None:
    assert rules_of(iec_shop())["iec.60204_1.18_2"] == {"saw"}
    nec = rules_of(nec_shop())
    assert nec["iec.60204_1.18_2"] == nec["nec.430.102_b"] == {"mill", "press", "saw"}


def test_of_electrode_and_bonding_what_nobody_told_is_asked_for() -> None:
    assert rules_of(iec_shop())["iec.60364_5_54.544_1"] == {"supply"}
    assert "iec.60364_5_54.544_1" not in rules_of(replace(iec_shop(), bonding_conductor_m2=6e-6))
    told = replace(nec_shop(), electrode_conductor_m2=8e-6)
    assert rules_of(told)["nec.250.66"] == {"supply"}  # by which lines it goes is not known
    assert "nec.250.66" not in rules_of(replace(told, service_conductor_m2=33e-6))


def test_a_line_that_stands_higher_is_asked_to_be_orange() -> None:
    assert "nec.110.15" not in rules_of(nec_shop())
    assert rules_of(replace(nec_shop(), high_leg=True))["nec.110.15"] == {"supply"}


def test_banks_without_fuses_and_what_a_static_converter_serves_are_asked_for() -> None:
    shop = nec_shop()
    bank = shop.circuit("capacitors")
    bare = tuple(replace(c, device=None) if c is bank else c for c in shop.circuits)
    assert "nec.460.8_b" not in rules_of(shop)
    assert rules_of(replace(shop, circuits=bare))["nec.460.8_b"] == {"converter"}
    static = replace(shop.equipment[0], id="box", kind="static_converter", serves=("mill",))
    asked = rules_of(replace(shop, equipment=(*shop.equipment, static)))
    assert asked["nec.455.20"] == {"box"}


def test_insulation_is_asked_for_where_it_was_not_measured() -> None:
    shop = iec_shop()
    lead = shop.circuit("drive to saw")

    def with_motor(ohm: float | None):
        motor = MotorServed(2200.0, 3, None, insulation_ohm=ohm)
        return replace(shop, circuits=(replace(lead, motor=motor),))

    assert rules_of(with_motor(None))["iec.60204_1.18_3"] == {"saw"}
    assert "iec.60204_1.18_3" not in rules_of(with_motor(5e6))


def test_a_device_that_is_there_is_to_be_kept() -> None:
    assert "residual.not_defeated" not in rules_of(iec_shop())
    there = replace(iec_shop(), upstream_residual=ResidualCurrentDevice(100.0, "A", upstream=True))
    assert rules_of(there)["residual.not_defeated"] == {"supply"}


def test_a_lead_on_an_outlet_is_asked_for_its_earth_core() -> None:
    shop = nec_shop()
    lead = nec_circuit("lead", role="outlet_to_machine", feeds=("plane",))
    asked = rules_of(replace(shop, circuits=(*shop.circuits, lead)))
    assert asked["socket.earth_core"] == {"plane"}


def test_each_is_told_in_the_words_of_its_rule_once_a_subject() -> None:
    words = {rule.id: " ".join(rule.words.split("\n\n")[0].split()) for rule in all_rules()}
    for shop in (iec_shop(), nec_shop()):
        asked = to_confirm(shop)
        assert len({(each.rule, each.subject) for each in asked}) == len(asked)
        for each in asked:
            assert each.words == words[each.rule]
            assert each.source
