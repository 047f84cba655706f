"""What is set in a drive: every value from the motor, the load and the drive that are there."""

from __future__ import annotations

import dataclasses
import math
import re
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from reference_machines import L2A, M0K75
from stories.judged import judged, studied, tasks
from stories.moved import STORIES, shop_of, tree_of

from phasewright.machines.performance import at_slip, breakdown, locked, rated
from phasewright.quantities.codes import LOAD_KINDS
from phasewright.shop.machine import Load, Machine, Wants
from phasewright.shop.plate import Plate
from phasewright.tables.drive_settings import carriers, load_settings
from phasewright.tables.drives import overload_share
from phasewright.ways.drive_data import breakaway_of, current_limit_a, overload_class
from phasewright.ways.drive_ramps import down_to, up_to

DRIVES = ("drive_per_motor", "shared_drive", "step_up_drive")
POLES = {2: 3000.0, 4: 1500.0, 6: 1000.0}
OWED = {
    "base_voltage", "base_frequency", "rated_current", "rated_power", "rated_speed", "poles",
    "power_factor", "no_load_current", "stator_resistance", "torque_boost", "slip_compensation",
    "overload_current", "overload_class", "current_limit", "stall_time", "lowest_frequency",
    "highest_frequency", "ramp_up", "ramp_down", "carrier", "control_mode", "volts_over_hertz",
    "stop_mode", "restart_lock", "fault_reset", "flying_start", "reverse", "input_1",
}  # fmt: skip
UNITS = {"V", "Hz", "A", "kW", "rpm", "", "ohm", "%", "s", "kHz"}


def tree(kw: float = 2.2, poles: int = 4, slip: float = 0.05, kind: str = "spindle",
         machine: dict[str, Any] | None = None, **more: Any) -> dict[str, Any]:  # fmt: skip
    """A shop of one machine; its amps follow from its watts."""
    amps = kw * 1000.0 / (3**0.5 * 230.0 * 0.8 * 0.8)
    plate = {
        "power": f"{kw} kW", "voltage": "230/400 V", "current": f"{amps}/{amps / 3**0.5} A",
        "frequency": "50 Hz", "speed": f"{(1 - slip) * POLES[poles]} rpm", "leads": 6,
    }  # fmt: skip
    motor = {"name": "main", "plate": plate, "load": {"kind": kind}, **more}
    return {
        "phasewright": 1, "shop": "One", "region": "IEC",
        "supply": {"kind": "single_phase", "earthed": "line_2", "voltage": "230 V",
                   "frequency": "50 Hz", "service_rating": "200 A"},
        "machines": [{"name": "Machine", "motors": [motor], **(machine or {})}],
    }  # fmt: skip


def sheet(of: dict[str, Any]) -> dict[str, Any]:
    """Settings of the machine's drive by their code."""
    told = judged(shop_of(of), "Machine/main", "drive_per_motor")
    assert told.figures.settings, [reason.words for reason in told.reasons]
    return {each.code: each for each in told.figures.settings}


def figures(of: dict[str, Any]) -> Any:
    return judged(shop_of(of), "Machine/main", "drive_per_motor").figures


# the boost


@pytest.mark.parametrize("circuit", [L2A, M0K75])
@pytest.mark.parametrize("share", [0.05, 0.3, 1.0, 1.6])
def test_with_the_boost_the_motor_gives_just_that_torque_at_standstill(circuit, share):
    """The whole circuit at the volts and hertz of the boosted line, asked another way."""
    nm = share * rated(circuit).shaft_torque_nm
    found = breakaway_of(circuit, nm)
    volts = found.boost_v + found.slip * circuit.line_voltage_v
    held = locked(circuit, volts, found.slip * circuit.frequency_hz)
    assert held.airgap_torque_nm == pytest.approx(nm, rel=0.01)
    assert held.stator_current_a == pytest.approx(found.current_a, rel=0.01)


@pytest.mark.parametrize("circuit", [L2A, M0K75])
def test_harder_to_break_away_asks_for_no_less_amps_and_more_slip(circuit):
    nm = rated(circuit).shaft_torque_nm
    found = [breakaway_of(circuit, share * nm) for share in (0.4, 0.8, 1.2, 1.6)]
    assert sorted(found, key=lambda each: each.current_a) == found
    assert sorted(found, key=lambda each: each.slip) == found
    assert sorted(found[1:], key=lambda each: each.boost_v) == found[1:]


def test_more_ohms_in_the_stator_ask_for_more_boost():
    nm = rated(L2A).shaft_torque_nm
    more = replace(L2A, stator_resistance_ohm=1.5 * L2A.stator_resistance_ohm)
    assert breakaway_of(more, nm).boost_v > 1.2 * breakaway_of(L2A, nm).boost_v


# every sheet, of every story


@pytest.mark.parametrize("story", STORIES)
def test_every_sheet_keeps_to_what_the_drive_and_the_motor_bear(story):
    for name in tasks(story)[0]:
        for way in DRIVES:
            of = judged(story, name, way).figures
            if of.settings is None:
                continue
            told = {each.code: each for each in of.settings}
            data, resistance = of.motor_on_drive, of.motor_on_drive.stator_resistance_ohm.number
            assert len(told) == len(of.settings), (name, way)
            assert {each.unit for each in of.settings} <= UNITS
            boost_a = data.breakaway_boost_v.number / (math.sqrt(3.0) * resistance)
            assert boost_a <= of.current_limit_a.number * 1.001
            assert data.breakaway_a.number <= overload_share() * of.drive_rating_a.number * 1.001
            link = judged(story, name, way).link
            assert link is not None
            assert told["base_voltage"].value == link.line_voltage_v
            if of.ramp_up_s is not None:
                assert told["ramp_up"].value >= of.ramp_up_s.number
                assert 3.0 <= told["stall_time"].value <= 60.0
            if of.ramp_down_s is not None:
                assert told["ramp_down"].value >= of.ramp_down_s.number
            assert 0.0 < told["lowest_frequency"].value <= told["highest_frequency"].value
            if of.speed_max_ratio is not None:
                most = of.speed_max_ratio.number * data.frequency_hz.number
                assert told["highest_frequency"].value <= most + 1e-9
            assert [step.step for step in of.rewiring] == list(range(1, len(of.rewiring) + 1))


@pytest.mark.parametrize("kind", [kind for kind in LOAD_KINDS if kind not in {"coolant_pump"}])
def test_every_kind_of_load_has_its_whole_sheet(kind):
    told = judged(shop_of(tree(0.75, kind=kind)), "Machine/main", "drive_per_motor")
    if told.verdict == "refused":
        assert told.reasons
        return
    codes = {each.code for each in told.figures.settings}
    assert codes >= OWED
    assert all(each.words and each.why and each.from_ and each.source
               for each in told.figures.settings)  # fmt: skip


NUMBERED = re.compile(r"\b[A-Z]{1,2}\d{1,3}[-.]\d{1,3}\b|\b(?:P|F|C|d|n|Pr|Pn|par)[-.]?\s?\d{2,}\b")


@pytest.mark.parametrize("kind", ["spindle", "pump", "compressor", "fan"])
def test_no_sheet_has_a_makers_number(kind):
    of = figures(tree(kind=kind))
    for each in of.settings:
        assert not NUMBERED.search(each.words), each.words
        if isinstance(each.value, str):
            assert not NUMBERED.search(each.value), each.value


def test_a_makers_number_would_be_seen():
    for words in ("P01.02", "set F-04", "Pr 79", "par 9902", "C1-01"):
        assert NUMBERED.search(words), words


# where it comes from


def figure_named(dotted: str, *among: Any) -> bool:
    """Whether the tree of a result has this name in one of its places."""
    for part in among:
        for key in dotted.split("."):
            part = part.get(key) if isinstance(part, dict) else None
        if part is not None:
            return True
    return False


def key_named(dotted: str) -> bool:
    """Whether the shop file has this key, of a motor or of its machine."""
    first, _, then = dotted.partition(".")
    if not then:
        return first in {entry.name for entry in dataclasses.fields(Machine)}
    of: dict[str, Any] = {"load": Load, "wants": Wants, "plate": Plate}
    return first in of and then in {entry.name for entry in dataclasses.fields(of[first])}


@pytest.mark.whole
@pytest.mark.parametrize("story", ["threaded_nose", "mill_and_drum", "three_tools", "dough",
                                   "compressor"])  # fmt: skip
def test_every_value_names_a_figure_or_a_key_that_is_there(story):
    told, seen = studied(story), 0
    alone = [
        (each, way, motor) for motor in told["motors"] for way in motor["ways"]
        for each in way["figures"].get("settings", ())
    ]  # fmt: skip
    built = [
        (each, hung, {}) for plan in told["plans"] for hung in plan["motors"]
        for each in hung["figures"].get("settings", ())
    ]  # fmt: skip
    assert alone
    assert built
    for each, on, motor in alone + built:
        seen += 1
        there = figure_named(each["from"], on["figures"], on, motor)
        assert there or (isinstance(each["value"], str) and key_named(each["from"])), each
    assert seen > 20


def test_a_name_of_nothing_is_not_found():
    assert not figure_named("motor_on_drive.colour", {"motor_on_drive": {"poles": 4}})
    assert not key_named("load.colour")
    assert not key_named("colour")


def test_a_number_is_its_figure_or_on_its_safe_side():
    of = figures(tree())
    told = {each.code: each for each in of.settings}
    same = {
        "base_voltage": 1.0, "base_frequency": 1.0, "rated_current": 1.0, "rated_power": 1e-3,
        "no_load_current": 1.0, "stator_resistance": 1.0, "slip_compensation": 1.0,
        "rated_speed": 1.0, "poles": 1.0, "power_factor": 1.0, "overload_current": 1.0,
    }  # fmt: skip
    for code, factor in same.items():
        data, name = of.motor_on_drive, told[code].from_.partition(".")[2]
        assert told[code].value == pytest.approx(factor * getattr(data, name).number)
    data = of.motor_on_drive
    assert told["torque_boost"].value == pytest.approx(
        100.0 * max(data.breakaway_boost_v.number, of.boost_v.number) / data.voltage_v.number
    )
    assert told["lowest_frequency"].value >= 50.0 * of.speed_min_ratio.number - 1e-9


# another motor


@given(
    st.sampled_from([0.37, 0.55, 0.75, 1.1, 1.5, 2.2]), st.sampled_from([1.3, 1.5, 2.0]),
    st.sampled_from(sorted(POLES)), st.floats(0.03, 0.07),
)  # fmt: skip
@settings(deadline=None, max_examples=12)
def test_another_motor_changes_eight_settings_and_more(kw, times, poles, slip):
    one, other = sheet(tree(kw, poles, slip)), sheet(tree(times * kw, poles, slip + 0.004))
    changed = [code for code in one.keys() & other.keys() if one[code].value != other[code].value]
    assert len(changed) >= 8, changed


def test_other_volts_and_hertz_are_those_of_the_plate():
    base, other = tree(), tree()
    other["machines"][0]["motors"][0]["plate"] |= {
        "frequency": "60 Hz",
        "voltage": "220/380 V",
        "speed": "1710 rpm",
    }
    one, two = sheet(base), sheet(other)
    assert (one["base_voltage"].value, one["base_frequency"].value) == (230.0, 50.0)
    assert (two["base_voltage"].value, two["base_frequency"].value) == (220.0, 60.0)
    assert two["slip_compensation"].value == pytest.approx(60.0 * 0.05)


# directions


def test_a_heavier_load_takes_longer_ramps_and_at_last_a_slower_class():
    def of(inertia: float) -> dict[str, Any]:
        one = tree(kind="flywheel")
        one["machines"][0]["motors"][0]["load"]["inertia"] = f"{inertia} kg m2"
        return sheet(one)

    light, heavy, huge = of(0.05), of(1.0), of(6.0)
    for code in ("ramp_up", "ramp_down"):
        assert light[code].value < heavy[code].value < huge[code].value
    assert light["overload_class"].value == 10.0
    assert light["stall_time"].value <= heavy["stall_time"].value <= huge["stall_time"].value


def test_a_longer_run_up_never_asks_for_a_quicker_class():
    nm = rated(L2A).shaft_torque_nm
    limit = current_limit_a(L2A, 10.5).number
    speed = L2A.rated_speed_rpm * math.pi / 30.0
    found = []
    for ramp_s in (1.0, 5.0, 15.0, 40.0, 120.0):
        inertia = 1.3 * nm * ramp_s / speed  # the same torque all the way
        found.append(overload_class(L2A, ramp_s, inertia, 0.0, limit)[0].number)
    assert found == sorted(found)
    assert found[0] == 10.0
    assert found[-1] > 10.0


def test_the_current_limit_is_the_lower_of_drive_and_breakdown():
    small, large = current_limit_a(L2A, 9.0), current_limit_a(L2A, 90.0)
    assert small.number == pytest.approx(overload_share() * 9.0)
    assert large.number == current_limit_a(L2A, 900.0).number
    assert large.number == pytest.approx(at_slip(L2A, breakdown(L2A).slip).current_a)


def test_what_is_wished_of_the_speed_bounds_the_hertz():
    wide = sheet(tree(wants={"speed": [0.6, 1.1]}))
    assert wide["lowest_frequency"].value >= 30.0
    assert 50.0 < wide["highest_frequency"].value <= 55.0 + 1e-9
    assert sheet(tree())["highest_frequency"].value == 50.0


def test_a_tool_that_must_not_race_locks_the_top():
    of = sheet(tree(kind="grinder", wants={"speed": [0.5, 1.5]}))
    assert of["highest_frequency"].value == 50.0
    assert "lock it there" in of["highest_frequency"].why


def test_a_wished_stop_shortens_the_ramp_only_as_far_as_drive_and_machine_bear():
    usual, wished = sheet(tree()), sheet(tree(wants={"stop_within": "2.4 s"}))
    assert usual["ramp_down"].value > 2.4
    least = figures(tree()).ramp_down_s.number
    assert least <= wished["ramp_down"].value <= 2.4
    pump = judged(shop_of(tree(kind="pump", wants={"stop_within": "2 s"})), "Machine/main",
                  "drive_per_motor")  # fmt: skip
    assert "no_quick_stop" in {each.code for each in pump.conditions}
    assert {each.code: each.value for each in pump.figures.settings}["ramp_down"] >= 5.0


def test_a_stop_into_a_resistor_lets_the_link_rise_and_keeps_the_wished_time():
    of = tree(kind="flywheel", wants={"stop_within": "6 s"})
    of["machines"][0]["motors"][0]["load"]["inertia"] = "0.4 kg m2"
    told = judged(shop_of(of), "Machine/main", "drive_per_motor").figures
    assert told.stopping.by == "ramp_with_resistor"
    by_code = {each.code: each for each in told.settings}
    assert by_code["ramp_holding"].value == "off"
    assert told.ramp_down_s.number <= by_code["ramp_down"].value <= 6.0 + 0.1
    assert "resistor" in by_code["stop_mode"].value


def test_where_direct_current_stops_it_its_amps_and_seconds_are_set():
    of = tree(kind="saw", machine={"starts_per_hour": 1})
    load = of["machines"][0]["motors"][0]["load"]
    load["inertia"] = "0.1 kg m2"
    free = figures(of)
    direct, ramp = free.dc_injection.time_s.number, free.ramp_down_s.number
    of["machines"][0]["motors"][0]["wants"] = {"stop_within": f"{0.5 * (direct + ramp):.2f} s"}
    told = figures(of)
    assert told.stopping.by == "dc_injection"
    by_code = {each.code: each for each in told.settings}
    assert by_code["dc_current"].value == told.dc_injection.current_a.number
    assert by_code["dc_time"].value == told.dc_injection.time_s.number
    assert by_code["dc_current"].value <= told.current_limit_a.number


def test_quiet_raises_the_carrier_as_far_as_the_amps_go_and_an_old_winding_lowers_it():
    assert sheet(tree())["carrier"].value == 4.0
    quiet = tree(1.1)
    quiet["wishes"] = {"quiet": {"level": "45 dB", "distance": "10 m"}}
    of = figures(quiet)
    share = {each.hertz: each.amps_share for each in carriers()}[of.carrier_hz.number]
    assert of.carrier_hz.number > 4000.0
    assert share * of.drive_rating_a.number >= of.motor_on_drive.current_a.number
    old = tree(1.1)
    old["machines"][0]["motors"][0]["plate"]["year"] = 1955
    assert sheet(old)["carrier"].value == 2.0


# choices


def test_a_fan_is_caught_turning_and_fed_by_the_square():
    of = sheet(tree(kind="fan"))
    assert of["flying_start"].value == "on"
    assert of["volts_over_hertz"].value == "square"
    assert of["stop_mode"].value.startswith("coast")
    assert sheet(tree(kind="saw"))["flying_start"].value == "off"


def test_nothing_ever_starts_by_itself():
    for kind in LOAD_KINDS:
        told = judged(shop_of(tree(0.75, kind=kind)), "Machine/main", "drive_per_motor")
        for each in told.figures.settings or ():
            if each.code == "restart_lock":
                assert each.value.startswith("locked")


def test_a_threaded_nose_locks_reverse_and_direct_current_and_slows_the_stop():
    of = sheet(tree(machine={"spindle_nose": "threaded", "starter": "reversing_drum"}))
    assert of["reverse"].value == "locked"
    assert of["dc_injection"].value == "off"
    assert of["ramp_down"].value >= 5.0
    other = sheet(tree(machine={"spindle_nose": "locking", "starter": "reversing_drum"}))
    assert other["reverse"].value.startswith("allowed")


def test_a_presss_slip_is_left_to_it():
    assert sheet(tree(kind="press"))["slip_compensation"].value == "off"
    assert not load_settings("press").slip_compensation
    assert isinstance(sheet(tree(kind="spindle"))["slip_compensation"].value, float)


def test_a_three_phase_drive_on_one_phase_does_not_watch_its_input():
    of = judged("gear_lathes", "Marked for both/main", "drive_per_motor").figures
    assert "input_phase_loss" in {each.code for each in of.settings}
    small = judged("bench_lathe", "Lathe/main", "drive_per_motor").figures
    assert "input_phase_loss" not in {each.code for each in small.settings}


# the wiring


def steps(**more: Any) -> dict[str, Any]:
    return {each.code: each for each in figures(tree(1.1, **more)).rewiring}


@pytest.mark.parametrize(
    ("kind", "starter", "code", "words"),
    [
        ("spindle", "reversing_drum", "move_drum_switch", "forward"),
        ("spindle", "direct", "remove_contactor", "start button"),
        ("spindle", "star_delta", "remove_star_delta", "link the motor once"),
        ("spindle", "drive_inside", "replace_drive_inside", "inside"),
        ("compressor", "direct", "move_pressure_switch", "pressure switch"),
        ("press", "direct", "move_foot_switch", "foot switch"),
        ("conveyor", "direct", "move_limit_switches", "limit"),
        ("feed", "reversing_drum", "move_limit_switches", "limit"),
    ],
)
def test_every_switch_moves_to_an_input(kind, starter, code, words):
    of = steps(kind=kind, machine={"starter": starter})
    assert words in of[code].words
    assert {"isolate", "wire_motor", "control_wires", "emergency_stop", "prove"} <= of.keys()


def test_a_speed_switch_chooses_between_preset_hertz_no_faster_than_is_safe():
    told = tree_of("pole_changing")
    told["machines"][0]["starter"] = "two_speed_switch"
    of = judged(shop_of(told), "Mill/main", "step_up_drive").figures
    assert "move_speed_switch" in {each.code for each in of.rewiring}
    by_code = {each.code: each for each in of.settings}
    low, high = by_code["preset_1"].value, by_code["preset_2"].value
    data = of.motor_on_drive
    assert low < high <= of.speed_max_ratio.number * data.frequency_hz.number + 1e-9
    assert low == pytest.approx(data.frequency_hz.number * 1420.0 / data.speed_rpm.number)
    assert "preset speed 2" in " ".join(str(each.value) for each in of.settings)


def test_burnt_contacts_are_warned_of_and_a_charged_link_too():
    of = steps(machine={"starter": "reversing_drum"})
    assert "24 V" in of["move_drum_switch"].caution
    assert "milliamps" in of["move_drum_switch"].caution
    assert "charge" in of["isolate"].caution
    assert "no emergency stop" in of["emergency_stop"].caution


def test_what_else_hangs_on_the_machine_is_not_left_behind_the_drive():
    spring = steps(machine={"brake": {"kind": "spring_electric", "coil": "180 V"}})
    assert "supply lines" in spring["brake_coil"].words
    lamp = steps(machine={"others": [{"kind": "lamp", "power": "20 W"}]})
    assert "ahead of the drive" in lamp["controls_on_supply"].words
    assert "find_switches" in steps()


def test_a_shared_drive_has_its_selector_in_the_steps():
    of = judged("three_tools", "Bandsaw/main", "shared_drive").figures
    assert "wire_selector" in {each.code for each in of.rewiring}
    assert {each.code: each for each in of.settings}["slip_compensation"].value == "off"


def test_a_ramp_is_rounded_to_its_safe_side():
    for seconds in (0.01, 0.34, 9.99, 10.2, 99.5, 123.0):
        assert seconds <= up_to(seconds) <= 1.1 * seconds + 0.1
        assert down_to(seconds) <= seconds
