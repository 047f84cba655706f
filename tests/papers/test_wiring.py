"""The wiring of a plan and its electrical check: each fault is found, and none in what is wired."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from papers.wired import (
    buy,
    drive_parts,
    equipment,
    on_converter,
    on_drives,
    part,
    plan_of,
    shop_of,
    wired,
    wirings,
)

from phasewright.papers.wiring.check import faults, nets
from phasewright.papers.wiring.model import LETTERS
from phasewright.ways.figures import Figures

LATHE = ("Lathe", "six", "direct", None)
PRESS = ("Press", "two_speed", "two_speed_switch", 110)
SAW = ("Saw", "star_delta", "star_delta", 24)
DRUM = ("Mill", "six", "reversing_drum", None)
SHOP = wired(*on_converter([LATHE, PRESS, SAW, DRUM], travels=(20e-6,)))
DRIVEN = wired(*on_drives([LATHE, DRUM]))


def codes(wiring):
    return {each.code for each in faults(wiring)}


def without_wires(wiring, keep):
    return replace(wiring, conductors=tuple(each for each in wiring.conductors if keep(each)))


def changed(wiring, device, **facts):
    """The wiring with one device changed."""
    return replace(
        wiring,
        devices=tuple(replace(d, **facts) if d.id == device else d for d in wiring.devices),
    )


def rewired(wiring, from_, to, /, **facts):
    """The wiring with the conductor between two terminals changed."""
    found = [each for each in wiring.conductors if (each.from_, each.to) == (from_, to)]
    assert len(found) == 1
    return replace(
        wiring,
        conductors=tuple(replace(c, **facts) if c is found[0] else c for c in wiring.conductors),
    )


@pytest.mark.parametrize("wiring", [SHOP, DRIVEN], ids=["converter", "drives"])
def test_what_is_wired_passes(wiring):
    assert faults(wiring) == ()


@given(wirings())
@settings(max_examples=30, deadline=None)
def test_whatever_is_wired_passes(drawn):
    assert faults(drawn.wiring) == ()


@pytest.mark.parametrize("wiring", [SHOP, DRIVEN], ids=["converter", "drives"])
def test_any_wire_taken_out_is_missed(wiring):
    for missing in wiring.conductors[::5]:
        assert faults(without_wires(wiring, lambda each, m=missing: each is not m))


def test_two_lines_on_one_terminal_are_found():
    bridge = replace(SHOP.conductors[0], from_="=G0-X1:L1", to="=G0-X1:L2")
    assert "two_sources" in codes(replace(SHOP, conductors=(*SHOP.conductors, bridge)))


def test_a_second_source_behind_a_switch_is_found():
    assert "two_sources" in codes(changed(SHOP, "=M1-X3", sources=("1",)))


@pytest.mark.parametrize("position", [0, 1])
def test_a_switch_that_shorts_two_lines_in_one_position_is_found(position):
    drum = SHOP.device("=M4-S3")
    positions = list(drum.positions)
    positions[position] = (*positions[position], ("U", "V"))
    assert "two_sources" in codes(changed(SHOP, drum.id, positions=tuple(positions)))


def test_a_motor_without_its_overload_relay_is_found():
    assert "motor_unprotected" in codes(changed(SHOP, "=M1-F2", kind="isolator"))
    assert "motor_unprotected" in codes(changed(SHOP, "=G1-F11", kind="isolator"))


def test_a_drive_protects_its_own_motor():
    assert "motor_unprotected" in codes(changed(DRIVEN, "=M1-T1", kind="converter"))


@pytest.mark.parametrize("resistor", ["=G1-R31", "=G1-R23", "=G1-Rs.1", "=M1-R31"])
def test_a_bank_without_its_resistor_is_found(resistor):
    assert "not_discharged" in codes(changed(SHOP, resistor, kind="choke"))


def test_a_resistor_behind_a_contact_discharges_nothing():
    cut = rewired(SHOP, "=G1-Cs.1:1", "=G1-Rs.1:1", from_="=G1-K1:1")
    assert "not_discharged" in codes(cut)


def test_a_coil_on_the_generated_line_is_found():
    on_line_3 = rewired(SHOP, "=M1-X3:2", "=M1-Q2:A2", from_="=M1-F1:6")
    assert "coil_on_line_3" in codes(on_line_3)


def test_a_control_transformer_on_the_generated_line_is_found():
    assert SHOP.device("=M3-T3").coil
    assert "coil_on_line_3" in codes(rewired(SHOP, "=M3-F3:4", "=M3-T3:P2", from_="=M3-F1:6"))


def test_an_unmarked_piece_of_line_3_is_found():
    third = next(each for each in SHOP.conductors if each.potential == "L3" and each.unit == "=M4")
    assert third.mark == "L3 generated"
    assert "line_3_unmarked" in codes(rewired(SHOP, third.from_, third.to, mark="L2"))


def test_a_motor_without_earth_is_found():
    loose = without_wires(SHOP, lambda each: each.to != "=M1-M1:PE")
    assert {"open_terminal", "not_earthed"} <= codes(loose)


def test_one_designation_for_two_devices_is_found():
    assert "designation_twice" in codes(changed(SHOP, "=M1-S1", id="=M1-S2"))


def test_a_wire_to_nowhere_is_found():
    assert "no_such_terminal" in codes(rewired(SHOP, "=M1-X3:2", "=M1-Q2:A2", to="=M1-Q2:A9"))


def test_designations_bear_the_letter_of_their_class():
    for device in (*SHOP.devices, *DRIVEN.devices):
        unit, _, rest = device.id.partition("-")
        assert device.unit == unit
        assert rest.startswith(LETTERS[device.kind])


def test_every_line_of_a_motor_on_line_3_is_marked_at_both_ends():
    closed = nets(SHOP, 0)
    third = {closed.of("=G1-M1:W1")}
    assert sum(closed.of(each.from_) in third for each in SHOP.conductors) > 20


def test_a_machine_with_coils_of_its_own_volts_has_a_transformer_on_lines_1_and_2():
    kinds = {device.id: device for device in SHOP.devices}
    assert "=M1-T3" not in kinds
    assert (kinds["=M2-T3"].rating, kinds["=M3-T3"].rating) == (110.0, 24.0)


def test_the_cans_of_the_list_are_the_cans_of_the_bank():
    cans = [d.rating for d in SHOP.devices if d.kind == "run_capacitor" and d.unit == "=G1"]
    assert cans == [30e-6, 60e-6, 20e-6]
    assert [d.rating for d in SHOP.devices if d.id == "=M1-C31.1"] == [20e-6]


def test_where_the_list_does_not_add_up_a_bank_stands_as_one_without_a_price():
    shop, plan = on_converter([LATHE])
    plan = replace(plan, buys=tuple(
        replace(b, parts=(*b.parts, part("run_capacitor", 7e-6, "F"))) for b in plan.buys[:1]
    ))  # fmt: skip
    made = wired(shop, plan)
    bank = [d for d in made.devices if d.kind == "run_capacitor"]
    assert [round(d.rating * 1e6, 3) for d in bank] == [90.0, 20.0]
    assert not any(d.priced for d in bank)


def test_a_motor_that_a_plan_leaves_out_is_named_and_not_wired():
    shop, plan = on_drives([LATHE, DRUM])
    gone = replace(plan.motors[0], way=None, equipment=None)
    made = wired(shop, replace(plan, motors=(gone, plan.motors[1])))
    assert made.unwired == ("Lathe/main",)
    assert not list(made.of_unit("=M1"))


def test_a_device_keeps_its_designation_when_another_goes():
    shop, plan = on_drives([LATHE, DRUM])
    bare = replace(plan.buys[0], parts=tuple(p for p in plan.buys[0].parts if p.kind != "ac_choke"))
    other = wired(shop, replace(plan, buys=(bare, plan.buys[1])))
    gone = {d.id for d in DRIVEN.devices} - {d.id for d in other.devices}
    assert gone == {"=M1-R1"}
    assert {d.id for d in other.devices} < {d.id for d in DRIVEN.devices}


def test_old_switches_go_to_the_drive_and_never_between_drive_and_motor():
    drive, motor = DRIVEN.device("=M2-T1"), DRIVEN.device("=M2-M1")
    wires = nets(DRIVEN)
    for one, other in DRIVEN.device("=M2-Q6").positions[0]:
        wires.join(f"=M2-Q6:{one}", f"=M2-Q6:{other}")  # only a lockable isolator stands between
    for end, lead in zip(("U", "V", "W"), ("U1", "V1", "W1"), strict=True):
        assert wires.of(drive.at(end)) == wires.of(motor.at(lead))
    assert {"forward", "reverse"} <= set(drive.terminals)
    enable = wires.of(drive.at("enable"))
    assert enable == wires.of("=M2-Q6:13") == wires.of("=M2-Q6:14")
    assert "reverse" not in DRIVEN.device("=M1-T1").terminals


def test_on_a_service_with_a_neutral_whatever_is_single_phase_hangs_on_it():
    shop = shop_of([LATHE, DRUM])
    ids = ["Lathe/main", "Mill/main"]
    ways = [("utility_service", "three-phase service", Figures()),
            ("drive_per_motor", "drive_per_motor Mill/main", Figures())]  # fmt: skip
    thing = equipment("three-phase service", "utility_service", ids[:1], rating=63.0)
    plan = plan_of(shop, ["six", "six"], ways, (thing,),
                   (buy("drive_per_motor", ids[1:], *drive_parts()),))  # fmt: skip
    made = wired(shop, plan)
    assert faults(made) == ()
    assert made.device("=G0-F0").rating == 63.0
    into = {(each.to, each.from_) for each in made.conductors if each.from_.startswith("=G0-X1")}
    assert ("=M1-F3:3", "=G0-X1:N") in into  # coils of the shop's own volts
    assert ("=M2-F1:3", "=G0-X1:N") in into  # a drive for one line and the neutral
    assert ("=M1-F1:3", "=G0-X1:L2") in into
    assert {c.colour for c in made.conductors if c.potential == "N"} == {"blue"}


def test_coils_take_the_shops_own_volts_whatever_makes_three_lines():
    control = [c for c in SHOP.conductors if c.to.startswith("=M1-F3:")]
    assert {each.from_ for each in control} == {"=G0-X1:L1", "=G0-X1:L2"}


def test_a_shop_of_three_phases_feeds_its_machines_without_a_converter():
    shop = shop_of([LATHE], supply="three_phase")
    made = wired(shop, plan_of(shop, ["six"], [("direct", None, Figures())]))
    assert faults(made) == ()
    assert not any(device.generated for device in made.devices)
    assert {each.mark for each in made.conductors if each.potential == "L3"} == {"L3"}
