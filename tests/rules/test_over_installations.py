"""Rules over a whole installation: one thing broken at a time, and found on its circuit."""

from __future__ import annotations

from dataclasses import replace

import pytest
from installations import given, iec_shop, large_shop, nec_shop

from phasewright.circuits.installation import (
    Device,
    Equipment,
    Installation,
    Isolator,
    MotorServed,
    Panel,
    ProtectiveConductor,
    ResidualCurrentDevice,
    Socket,
    VoltageDrop,
)
from phasewright.rules.over import allowed, findings, rulings
from phasewright.tables.sizes import awg_mm2


def broken(shop: Installation, id: str, **other) -> Installation:
    assert shop.circuit(id)
    return replace(
        shop,
        circuits=tuple(replace(each, **other) if each.id == id else each for each in shop.circuits),
    )


@pytest.mark.parametrize("shop", [iec_shop(), large_shop()])
def test_a_good_installation_has_nothing_against_it(shop: Installation) -> None:
    assert findings(shop) == ()
    assert allowed(shop)


def test_a_good_nec_installation_asks_to_read_the_terminals_only() -> None:
    assert {each.rule for each in findings(nec_shop())} <= {"nec.110.14_c"}
    assert allowed(nec_shop())


IEC = {
    "iec.60364_4_41.411_3_2": ("to drive", {"disconnects_s": given(0.5, "s")}),
    "iec.60364_4_41.411_3_3": ("outlet", {"residual_current": ResidualCurrentDevice(100.0, "A", trips_s=0.3)}),
    "iec.60364_4_41.411_5_3": ("to drive", {"electrode_ohm": 2000.0}),
    "iec.loop_impedance": ("to drive", {"residual_current": None, "loop_ohm": given(2.0, "ohm")}),
    "iec.60364_4_43.433_1_a": ("to drive", {"device": Device("breaker", 10.0, "C", 6.0)}),
    "iec.60364_4_43.433_1_b": ("to drive", {"ampacity_a": given(15.0)}),
    "iec.60364_4_43.434_5_1": ("to drive", {"fault_at_origin_a": given(7000.0)}),
    "iec.60898_1.instantaneous_bands": ("to converter", {"starting_current_a": given(90.0)}),
    "iec.60364_5_52.523_1": ("to drive", {"design_current_a": given(30.0)}),
    "iec.60364_5_52.524_1": ("to drive", {"conductor_m2": 1.0e-6}),
    "iec.60364_5_54.543_1": (
        "to drive", {"protective_conductor": ProtectiveConductor("1.5 mm2", 1.5e-6, 2.0e-6)}
    ),
    "iec.60364_5_53.537_2": ("drive to saw", {"isolator": Isolator(25.0, 2)}),
    "iec.60204_1.6_2_4": ("capacitors", {"discharge_ohm": None}),
    "isolator.rating": ("to drive", {"isolator": Isolator(10.0, 2)}),
    "socket.voltage": ("outlet", {"socket": Socket(16.0, "red 6 h", 4, 400.0)}),
    "socket.rating": ("outlet", {"device": Device("breaker", 20.0, "C", 6.0)}),
    "converter.input_drops_out": ("to converter", {"undervoltage_release": False}),
    "converter.sequence_proved": ("outlet", {"phase_relay": None}),
    "drive.nothing_opens_behind": ("drive to saw", {"switches": ("reversing_drum",)}),
    "line3.earth_fault": ("outlet", {"residual_current": ResidualCurrentDevice(30.0, "A")}),
    "supply.voltage_drop": ("to drive", {"voltage_drop": VoltageDrop(0.06, 0.1)}),
    "iec.60364_5_54.543_1_3": (
        "to drive", {"protective_conductor": ProtectiveConductor("2.5 mm2", 2.5e-6, 1e-6, separate=True)}
    ),
    "iec.60204_1.7_8": (
        "outlet", {"motor": MotorServed(2200.0, 3, 3, wrong_direction_harms=True), "phase_relay": None}
    ),
    "iec.60204_1.18_3": ("outlet", {"motor": MotorServed(2200.0, 3, 3, insulation_ohm=0.8e6)}),
}  # fmt: skip
FIVE_HP = MotorServed(3728.5, 3, 3)
NEC = {
    "nec.110.9": ("mill", {"device": Device("breaker", 40.0, None, 2.0)}),
    "nec.240.6": ("mill", {"device": Device("breaker", 38.0, None, 10.0)}),
    "nec.310.16": ("mill", {"design_current_a": given(36.0)}),
    "nec.110.14_c": ("mill", {"design_current_a": given(32.0)}),
    "nec.250.122": (
        "to converter", {"protective_conductor": ProtectiveConductor("12 AWG", 1e-6 * awg_mm2("12"))}
    ),
    "nec.210.8": ("capacitors", {"socket": Socket(30.0, "L6-30", 3, 240.0)}),
    "nec.455.21": ("mill", {"phase_relay": None}),
    "nec.455.22": ("mill", {"undervoltage_release": False}),
    "nec.430.22": ("mill", {"ampacity_a": given(18.0)}),
    "nec.430.52": ("mill", {"device": Device("breaker", 45.0, None, 10.0)}),
    "nec.430.24": ("mill", {"full_load_a": (28.0, 15.2)}),
    "nec.430.122_b": ("drive to saw", {"ampacity_a": given(18.0)}),
    "nec.430.110_a": ("mill", {"isolator": Isolator(16.0, 3)}),
    "nec.430.122": ("to drive", {"nameplate_input_a": 41.0}),
    "nec.430.128": ("to drive", {"isolator": Isolator(28.0, 2)}),
    "nec.455.6": ("to converter", {"nameplate_input_a": 53.0}),
    "nec.455.7": ("to converter", {"device": Device("breaker", 60.0, None, 10.0)}),
    "nec.455.8": ("to converter", {"isolator": Isolator(45.0, 2)}),
    "nec.460.6_a": ("capacitors", {"discharge_ohm": 1e6}),
    "nec.460.8_a": ("capacitors", {"ampacity_a": given(12.0)}),
    # 5 hp at 230 V: 15.2 A by the table, whatever the plate says
    "nec.430.6_a": ("mill", {"motor": FIVE_HP, "full_load_a": (13.2,)}),
    # 125 % of a plate of 13.2 A with a service factor: 16.5 A
    "nec.430.32_a_1": (
        "mill",
        {
            "motor": MotorServed(3728.5, 3, 3, plate_a=13.2, service_factor=1.15),
            "overload_setting_a": given(17.0),
        },
    ),
    "nec.430.37": (
        "mill", {"motor": MotorServed(3728.5, 3, 2), "overload_setting_a": given(15.0)}
    ),
    # no breaker of 40 A bears thirty times its rating for 8 s
    "nec.430.52_b": (
        "mill", {"motor": FIVE_HP, "starting_current_a": given(1200.0), "starting_s": 8.0}
    ),
    # 125 % of 15.2 A are 19 A
    "nec.409.20": ("mill", {"panel": Panel(10.0), "ampacity_a": given(18.9)}),
    "nec.409.21_c": ("mill", {"panel": Panel(10.0, 30.0)}),
    "nec.409.22_a": ("mill", {"panel": Panel(), "fault_at_end_a": given(900.0)}),
    "nec.455.23": ("capacitors", {"behind_overload": True}),
    "nec.460.8_c": ("capacitors", {"isolator": Isolator(12.0, 2)}),
}  # fmt: skip


@pytest.mark.parametrize("id", IEC)
def test_what_is_broken_is_found_on_its_circuit(id: str) -> None:
    circuit, change = IEC[id]
    found = [each for each in findings(broken(iec_shop(), circuit, **change)) if each.rule == id]
    assert [each.circuit for each in found] == [circuit]


@pytest.mark.parametrize("id", NEC)
def test_what_is_broken_by_the_code_is_found_on_its_circuit(id: str) -> None:
    circuit, change = NEC[id]
    found = [each for each in findings(broken(nec_shop(), circuit, **change)) if each.rule == id]
    assert [each.circuit for each in found] == [circuit]


def with_transformer(shared: bool, ahead_a: float, behind_a: float, **of) -> Installation:
    """The drive behind a transformer of 7.2 kVA, 240 to 480 V: 30 A at its input, 15 A behind."""
    shop, amps = nec_shop(), 7200.0 / 240.0
    rest = [each for each in shop.circuits if each.id != "to drive"]
    supply = replace(
        shop.circuit("to drive"), role="supply_to_transformer", equipment="transformer",
        nameplate_input_a=amps, device=Device("breaker", ahead_a, None, 10.0),
    )  # fmt: skip
    behind = replace(
        supply, id="behind it", source="transformer", role="transformer_to_drive", voltage_v=480.0,
        equipment="drive", nameplate_input_a=15.0, device=Device("breaker", behind_a, None, 10.0),
        to_earth_v=277.0,
    )  # fmt: skip
    stepping = Equipment(
        "transformer", "transformer", 7200.0, "VA", serves=("drive",), nameplate_input_a=amps,
        output_current_a=7200.0 / 480.0, output_voltage_v=480.0, input_voltage_v=240.0,
        isolates=not shared, autotransformer=shared, **of,
    )  # fmt: skip
    circuits = (*rest, supply, behind)
    return replace(shop, circuits=circuits, equipment=(*shop.equipment, stepping))


@pytest.mark.parametrize(
    ("shop", "told"),
    [
        # isolating: 250 % of 30 A ahead where 125 % of 15 A stand behind, 18.75, so 20 A
        (with_transformer(False, 70.0, 20.0), {}),
        (with_transformer(False, 80.0, 20.0), {"nec.450.3_b": "to drive"}),
        (with_transformer(False, 70.0, 25.0), {"nec.450.3_b_2": "behind it"}),
        # one winding: 125 % of 30 A, 37.5, so 40 A; and 240 to 480 V is not 208 to 240 V
        (with_transformer(True, 40.0, 20.0, grounded_through=True), {}),
        (with_transformer(True, 45.0, 20.0, grounded_through=True), {"nec.450.4_a": "to drive"}),
        (with_transformer(True, 40.0, 20.0, grounded_through=False), {"nec.210.9": "to drive"}),
    ],
)
def test_devices_at_transformers(shop: Installation, told: dict[str, str]) -> None:
    asked = ("nec.450", "nec.210.9", "nec.215")
    found = {each.rule: each.circuit for each in findings(shop) if each.rule.startswith(asked)}
    assert found == told


def test_several_circuits_on_an_autotransformer_are_a_feeder() -> None:
    shop = with_transformer(True, 40.0, 20.0, grounded_through=False)
    second = replace(shop.circuit("behind it"), id="beside it")
    both = replace(shop, circuits=(*shop.circuits, second))
    assert "nec.215.11" in {each.rule for each in findings(both)}


def test_a_converter_built_at_home_has_no_plate() -> None:
    shop = nec_shop()
    converter, drive = shop.equipment
    for origin, told in (("self_built", True), ("new", False), ("used", False)):
        made = replace(shop, equipment=(replace(converter, origin=origin), drive))
        assert ("nec.455.4" in {each.rule for each in findings(made)}) is told


def test_electrode_and_bonding_are_judged_where_they_are_told() -> None:
    """Lines of 2 AWG ask for 8 AWG to the electrode, of 1/0 for 6; bonding for 6 mm2."""
    shop = replace(nec_shop(), service_conductor_m2=1e-6 * awg_mm2("1/0"))
    for size, rules in (("6", set()), ("8", {"nec.250.66"})):
        told = replace(shop, electrode_conductor_m2=1e-6 * awg_mm2(size))
        assert {each.rule for each in findings(told)} & {"nec.250.66"} == rules
    for mm2, rules in ((6.0, set()), (4.0, {"iec.60364_5_54.544_1"})):
        told = replace(iec_shop(), bonding_conductor_m2=1e-6 * mm2)
        assert {each.rule for each in findings(told)} == rules


@pytest.mark.parametrize("id", ["drive.nothing_opens_behind", "line3.earth_fault",
                                "converter.input_drops_out", "socket.voltage"])  # fmt: skip
def test_an_unsafe_installation_is_not_offered(id: str) -> None:
    circuit, change = IEC[id]
    shop = broken(iec_shop(), circuit, **change)
    assert not allowed(shop)
    assert findings(shop)[0].severity == "stop"


def test_a_device_ahead_of_an_isolating_transformer_is_told_blind() -> None:
    ahead = ResidualCurrentDevice(30.0, "A", at="to converter", trips_s=0.04)
    shop = broken(iec_shop(), "outlet", residual_current=ahead)
    converter, drive = shop.equipment
    isolated = replace(shop, equipment=(replace(converter, isolates=True), drive))
    assert "residual.sees" in {each.rule for each in findings(isolated)}
    upstream = replace(ahead, at=None, upstream=True)
    assert not allowed(broken(isolated, "outlet", residual_current=upstream))
    behind = replace(ahead, at=None)
    assert allowed(broken(isolated, "outlet", residual_current=behind))
    assert "residual.sees" not in {each.rule for each in findings(shop)}


def test_two_devices_in_series_of_one_size_are_told() -> None:
    shop = replace(iec_shop(), upstream_residual=ResidualCurrentDevice(30.0, "A", upstream=True))
    told = {each.rule for each in findings(shop)}
    assert told == {"iec.60364_5_53.536_4"}


def test_a_farm_and_a_dusty_place_ask_for_more_where_they_are_told() -> None:
    bare = broken(iec_shop(), "to drive", residual_current=None, place="barn")
    assert findings(bare) == ()
    assert {each.rule for each in findings(replace(bare, farm=True))} == {
        "iec.60364_7_705.705_411_1"
    }
    assert {each.rule for each in findings(replace(bare, dusty=("barn",)))} == {
        "iec.60364_4_42.422_3_9"
    }


def test_the_families_keep_to_their_regions() -> None:
    assert not any(each.rule.startswith("nec.") for each in rulings(iec_shop()))
    assert not any(each.rule.startswith("iec.") for each in rulings(nec_shop()))


def test_a_figure_nobody_computed_is_no_finding() -> None:
    shop = iec_shop()
    bare = replace(
        shop,
        circuits=tuple(
            replace(each, design_current_a=None, ampacity_a=None, device=None, loop_ohm=None)
            for each in shop.circuits
        ),
    )
    assert all(each.severity != "stop" for each in findings(bare))
