"""Circuits that few shops have pass the electrical check, and a fault put into one is found."""

from dataclasses import replace

import pytest
from papers.special_wirings import SPECIAL, on_drive, seconds, shop_of, stopping
from papers.test_wiring import DRIVEN, SHOP, changed, codes, rewired, without_wires
from papers.wired import on_converter, on_drives, wired

from phasewright.papers.wiring.check import faults
from phasewright.papers.wiring.model import Band, Column
from phasewright.ways.drive_sheet import Setting

IDLERS, BRAKES, DRIVE = (
    SPECIAL[name] for name in ("two idlers and pony", "brakes on lines", "whole drive")
)


@pytest.mark.parametrize("wiring", SPECIAL.values(), ids=SPECIAL)
def test_what_is_wired_passes(wiring):
    assert faults(wiring) == ()


@pytest.mark.parametrize("wiring", SPECIAL.values(), ids=SPECIAL)
def test_any_wire_taken_out_is_missed(wiring):
    for missing in wiring.conductors[::4]:
        assert faults(without_wires(wiring, lambda each, m=missing: each is not m))


@pytest.mark.parametrize("wiring", [SHOP, DRIVEN, *SPECIAL.values()])
def test_any_device_that_is_not_drawn_is_missed(wiring):
    for device in wiring.devices[::7]:
        bands = tuple(
            replace(unit, bands=tuple(_without(band, device.id) for band in unit.bands))
            for unit in wiring.units
        )
        assert "not_drawn" in codes(replace(wiring, units=bands))


def _without(band, device):
    columns = tuple(
        Column(c.rails, tuple(e for e in c.elements if e.device != device)) for c in band.columns
    )
    rails = tuple(r for r in band.rails if not r.terminal.startswith(f"{device}:"))
    return Band(band.title, rails, columns, band.control)


def test_a_device_that_is_in_no_list_is_missed():
    gone = tuple(each for each in SHOP.devices if each.id != "=M1-S2")
    assert "not_listed" in codes(replace(SHOP, devices=gone))


@pytest.mark.parametrize(
    ("wiring", "device"),
    [
        ("plugs", "=M1-F5"), ("plugs", "=M2-X5"), ("plugs", "=G1-K2"), ("plugs", "=M1-Q1"),
        ("plugs", "=M1-F9"), ("two idlers and pony", "=G1-M9"), ("whole drive", "=M1-R4"),
        ("whole drive", "=M1-R2"), ("whole drive", "=M1-R6"), ("behind transformer", "=M1-T2"),
        ("behind transformer", "=M1-F8"), ("behind transformer", "=M1-Q8"),
        ("with neutral", "=G1-G2"),
    ],
)  # fmt: skip
def test_what_the_plan_asks_for_and_the_wiring_lacks_is_missed(wiring, device):
    of = SPECIAL[wiring]
    assert "not_wired" not in codes(of)
    kind = of.device(device).kind
    less = changed(of, device, kind="choke" if kind != "choke" else "fuse", priced=False)
    assert "not_wired" in codes(less)


def test_a_coil_on_other_volts_than_its_own_is_found():
    assert codes(changed(SHOP, "=M1-Q2", rated_v=110.0)) == {"coil_volts"}
    assert "coil_volts" in codes(changed(BRAKES, "=M1-M7", rated_v=24.0))
    # the 110 V coil moved from behind its transformer to the 230 V before it
    moved = rewired(SHOP, "=M2-X3:2", "=M2-Q2:A2", from_="=M2-F3:2")
    assert "coil_volts" in codes(rewired(moved, "=M2-S2:14", "=M2-Q2:A1", from_="=M2-F3:4"))


def test_a_coil_within_its_range_passes():
    assert codes(changed(SHOP, "=M1-Q2", rated_v=220.0)) == set()
    assert codes(changed(SHOP, "=M1-Q2", rated_v=240.0)) == set()


@pytest.mark.parametrize("can", ["=G1-C31.1", "=G1-C23.1", "=M1-C31.1"])
def test_a_capacitor_of_too_low_a_class_is_found(can):
    assert codes(changed(SHOP, can, rated_v=220.0)) == {"capacitor_volts"}
    assert codes(changed(SHOP, can, rated_v=250.0)) == set()
    assert codes(changed(SHOP, can, rated_v=250.0, sees_v=262.0)) == {"capacitor_volts"}


@pytest.mark.parametrize(
    ("wiring", "device", "volts"),
    [
        ("plugs", "=M1-X5", 400.0), ("behind transformer", "=M1-T1", 230.0),
        ("behind transformer", "=M1-T2", 120.0), ("two idlers and pony", "=G1-K2", 400.0),
        ("two idlers and pony", "=G1-M9", 120.0), ("whole drive", "=M1-P1", 24.0),
    ],
)  # fmt: skip
def test_a_device_for_other_volts_is_found(wiring, device, volts):
    found = codes(changed(SPECIAL[wiring], device, rated_v=volts))
    assert found & {"device_volts", "coil_volts"}


@pytest.mark.parametrize("motor", ["=M1-M1", "=G1-M1"])
def test_a_motor_linked_for_other_volts_than_the_lines_is_found(motor):
    """Its delta links taken out and its ends joined to a star: every winding sees too little."""
    ends = [f"{motor}:{end}" for end in ("W2", "U2", "V2")]
    links = [each for each in SHOP.conductors if each.kind == "link" and motor in each.from_]
    assert len(links) == 3
    star = [
        replace(link, from_=one, to=other)
        for link, one, other in zip(links, ends, ends[1:], strict=False)
    ]
    rest = [each for each in SHOP.conductors if each not in links]
    assert "link_volts" in codes(replace(SHOP, conductors=(*rest, *star)))
    assert "link_volts" in codes(changed(SHOP, motor, winding_v=400.0))


def test_a_wrong_link_is_found_by_the_volts_of_its_windings():
    """One end of a star joined to a line instead of the star point: two windings see the lines."""
    of = SPECIAL["with neutral"]
    link = next(each for each in of.conductors if each.kind == "link" and each.unit == "=M1")
    wrong = replace(link, from_="=M1-M1:U1", to=link.to)
    made = replace(of, conductors=tuple(wrong if each is link else each for each in of.conductors))
    assert "link_volts" in codes(made)


def test_a_brakes_coil_on_line_3_is_found():
    assert "coil_on_line_3" in codes(rewired(BRAKES, "=M2-Q1:4", "=M2-F7:3", from_="=M2-Q1:6"))


def test_a_pony_motor_without_its_relay_is_found():
    assert "motor_unprotected" in codes(changed(IDLERS, "=G1-F19", kind="isolator"))


def test_earth_goes_through_a_plug_and_is_missed_where_it_does_not():
    of = SPECIAL["plugs"]
    loose = without_wires(of, lambda each: each.to != "=M1-X5:E1")
    assert "not_earthed" in codes(loose)


def test_each_start_can_is_discharged_by_a_resistor_of_its_own_share():
    ohms = [IDLERS.device(f"=G1-Rs.{k}").rating for k in (1, 2)]
    assert ohms == [pytest.approx(300e3)] * 2
    assert 1.0 / sum(1.0 / each for each in ohms) == pytest.approx(150e3)
    one = changed(IDLERS, "=G1-Rs.2", kind="choke")
    assert "not_discharged" in codes(changed(one, "=G1-Rs.1", kind="choke"))


def test_one_head_stops_every_motor_of_a_machine():
    of = SPECIAL["one stop for two"]
    heads = [each for each in of.devices if each.kind == "emergency_stop" and each.unit != "=G1"]
    assert [each.id for each in heads] == ["=M1-S9"]
    ends = {end for c in of.conductors for end in (c.from_, c.to) if end.startswith("=M1-S9:")}
    assert ends == {f"=M1-S9:{k}{side}" for k in (1, 2, 3) for side in (1, 2)}
    units = {c.unit for c in of.conductors if "=M1-S9:" in c.from_ + c.to}
    assert units == {"=M1", "=M2"}


@pytest.mark.parametrize("name", ["whole drive", "drum by ramp", "one stop for two"])
def test_category_1_lets_the_ramp_work_before_the_power_goes(name):
    of = SPECIAL[name]
    relay = next(each for each in of.devices if each.kind == "safety_relay")
    drive = next(each for each in of.devices if each.kind == "drive")
    late = {relay.at(end) for end in ("57", "58", "67", "68")}
    at_once = {relay.at(end) for end in relay.terminals} - late
    wires = [{each.from_, each.to} for each in of.conductors]
    head = next(e.id for e in of.devices if e.kind == "emergency_stop" and e.unit != "=G1")
    reached = _behind(wires, {each for each in late})
    assert f"{drive.unit}-S1:11" in reached or f"{drive.unit}-Q2:A1" in reached
    assert not any(end.startswith(f"{head}:") for end in reached)  # the head acts on the relay
    stops = _behind(wires, {each for each in at_once if each.rpartition(":")[2] in ("14", "24")})
    assert stops & {f"{drive.unit}-S3:11", f"{drive.unit}-S5:13", f"{drive.unit}-S5:23"}


def test_the_late_contacts_wait_for_the_ramp_that_is_set_and_not_for_the_shortest():
    shortest, is_set = seconds(0.01), Setting("ramp_down", "ramp", 0.5, "s", "", "ramp_down_s", "")
    figures = replace(stopping(1), ramp_down_s=shortest, settings=(is_set,))
    of = on_drive(shop_of(("Saw", [])), figures)
    relay = next(each for each in of.devices if each.kind == "safety_relay")
    assert "the ramp of 500 ms" in relay.words


def _behind(wires, ends):
    """What wires join to these ends, directly."""
    return {end for wire in wires if wire & ends for end in wire - ends}


def test_category_0_has_no_relay_and_cuts_enable_and_coil_with_two_contacts():
    assert not [each for each in DRIVEN.devices if each.kind == "safety_relay"]
    head = DRIVEN.device("=M1-S9")
    assert head.positions == ((("11", "12"), ("21", "22")),)


def test_what_a_brake_of_known_volts_needs_stands_before_its_coil():
    assert BRAKES.device("=M1-T7").rating == 180.0
    assert not [each for each in BRAKES.devices if each.id == "=M2-T7"]
    assert BRAKES.device("=M3-T8").kind == "brake_unit"
    assert DRIVE.device("=M1-T1").positions == ((("R1", "R2"),),)


def test_a_neutral_is_led_to_the_machine_that_needs_it_and_to_no_other():
    of = SPECIAL["with neutral"]
    assert {each.to for each in of.conductors if each.potential == "N" and each.unit == "=M1"} == {
        "=M1-F1:7", "=M1-F5:7", "=M1-Q1:7", "=M1-X6:N"
    }  # fmt: skip
    assert not [each for each in SPECIAL["two buildings"].conductors if each.potential == "N"]


def test_another_building_hangs_on_its_own_feeder():
    of = SPECIAL["two buildings"]
    feeder = [each for each in of.conductors if each.unit == "=G2" and each.length_m]
    assert {each.from_ for each in feeder} == {"=G0-X1:L1", "=G0-X1:L2", "=G0-X1:PE"}
    assert {(each.size, each.length_m) for each in feeder} == {("10 mm2", 40.0)}
    assert {c.from_ for c in of.conductors if c.to.startswith(("=G1-F1:", "=M1-F3:"))} == {
        "=G2-X1:L1", "=G2-X1:L2"
    }  # fmt: skip
    assert of.device("=G2-F5").specification == "300 mA type A"
    assert (of.device("=G2-F0").specification, of.device("=G2-F0").rating) == ("C32 A", 32.0)


def test_a_socket_and_its_cord_have_each_their_own_size():
    of = SPECIAL["plugs"]
    sizes = {(c.to.partition(":")[0], c.size) for c in of.conductors if c.unit == "=M2" and c.size}
    assert ("=M2-X5", "2.5 mm2") in sizes
    assert ("=M2-Q2", "1.5 mm2") in sizes
    cord = [c for c in of.conductors if c.unit == "=M2" and c.length_m == 4.0]
    assert {c.from_.partition(":")[0] for c in cord} == {"=M2-X5"}


@pytest.mark.parametrize("way", [on_converter, on_drives])
def test_a_two_speed_motor_on_other_volts_than_its_plate_is_found(way):
    of = wired(*way([("Press", "two_speed", "two_speed_switch", 110)]))
    assert codes(of) == set()
    assert codes(changed(of, "=M1-M1", rated_v=400.0)) == {"link_volts"}
