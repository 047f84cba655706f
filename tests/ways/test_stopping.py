"""How a motor on a drive is stopped: what noses, brakes, loads, wishes and users ask for."""

from __future__ import annotations

import math

import pytest
from stories.judged import codes, judged, studied, tasks, words
from stories.moved import shop_of, tree_of
from ways.stops import OWN, case, figures, lathe, shaft_j, story

from phasewright.quantities.finding import Reason
from phasewright.tables.prices import price
from phasewright.tables.stopping import resistor_size_w
from phasewright.ways.stopping import stop_of

# what is chosen


def test_a_resistor_that_a_wish_asks_for_is_bought_and_sets_the_ramp():
    """The price is that of the same drive with the part of the curve: 20 + 0.1 a watt."""
    plain = figures(story(machine=1, wants={}), "Slow stop/main")
    braked = figures("wide_bandsaw", "Slow stop/main")
    size = resistor_size_w(braked.brake_resistor.w.number)
    assert size >= braked.brake_resistor.w.number
    added = braked.price.number - plain.price.number
    assert added == pytest.approx(20.0 + 0.1 * size)
    assert added == pytest.approx(price("brake_resistor", size).amount)
    assert plain.brake_resistor is None
    assert plain.stopping.by == "ramp"
    assert braked.stopping.by == "ramp_with_resistor"
    assert braked.ramp_down_s.number < 25.0 < plain.ramp_down_s.number
    assert braked.stopping.time_s.number <= 25.0


def test_the_owners_quote_prices_it_and_one_on_the_shelf_is_told():
    tree = tree_of("wide_bandsaw")
    tree["quotes"] = [{"kind": "brake_resistor", "power": "300 W", "price": 5}]
    tree["owned_parts"] = [{"kind": "brake_resistor", "resistance": "60 ohm", "power": "500 W"}]
    of = judged(shop_of(tree), "Slow stop/main", OWN)
    plain = figures(story(machine=1, wants={}), "Slow stop/main")
    assert of.figures.price.number == pytest.approx(plain.price.number + 5)
    assert "own_resistor" in codes(of.reasons)
    tree["owned_parts"][0]["resistance"] = "10 ohm"
    assert "own_resistor" not in codes(judged(shop_of(tree), "Slow stop/main", OWN).reasons)


def test_a_wish_that_direct_current_reaches_costs_nothing():
    """A saw of 2.2 kW: its ramp takes longer than direct current."""
    load = {"kind": "saw", "inertia": "0.3 kg m2"}

    def of(seconds=None, often=4):
        wants = {} if seconds is None else {"stop_within": f"{seconds:.2f} s"}
        shop = story(machine=1, load=load, wants=wants, starts_per_hour=often)
        return judged(shop, "Slow stop/main", OWN)

    free = of().figures
    dc, ramp = free.dc_injection.time_s.number, free.ramp_down_s.number
    assert dc < ramp
    between = of(0.5 * (dc + ramp))
    assert between.figures.stopping.by == "dc_injection"
    assert between.figures.price.number == free.price.number
    assert "holds nothing" in words(between.reasons)
    often = of(0.5 * (dc + ramp), often=400)  # so often it would heat the motor
    assert often.figures.stopping.by == "ramp_with_resistor"
    assert of(2.0 * ramp).figures.stopping.by == "ramp"
    assert of(0.5 * dc).figures.stopping.by == "ramp_with_resistor"


def test_a_flywheel_gets_no_direct_current():
    """36 kJ into a rotor made for one warm start of design N: (0.04 x 2.2^0.9 x 2^2.5 + J) w2/2."""
    of = judged("wide_bandsaw", "Bandsaw/main", OWN)
    assert of.figures.dc_injection is None
    assert "injection_too_hot" in codes(of.reasons)
    on = case()[1]
    made_for = 0.5 * (0.04 * 2.2**0.9 * 2**2.5 + on.circuit.inertia_kg_m2) * 157.08**2
    assert f"{made_for / 1e3:.2g} kJ at a time" in words(of.reasons)
    assert shaft_j(on) > 5 * made_for


def test_a_threaded_nose_is_ramped_slowly_and_never_by_direct_current_or_a_resistor():
    of = judged("threaded_nose", "Threaded/main", OWN)
    assert of.figures.dc_injection is None
    assert of.figures.brake_resistor is None
    assert of.figures.ramp_down_s.number == 5.0
    assert {"no_quick_stop", "threaded_nose"} <= codes(of.conditions)
    locking = figures("threaded_nose", "Locking/main")
    assert locking.ramp_down_s.number < 5.0
    assert locking.dc_injection is not None
    slow = judged(story("threaded_nose", wants={"stop_within": "8 s"}), "Threaded/main", OWN)
    assert "no_quick_stop" not in codes(slow.conditions)
    assert "stop_by_ramp" in codes(slow.reasons)


def test_a_heavy_chuck_on_a_thread_wants_more_than_the_floor():
    """J w / t below 0.3 of 40 N m: 1 kg m2 at 157 rad/s takes 13 s."""
    load = {"kind": "spindle", "inertia": "1 kg m2"}
    of = figures(story("threaded_nose", load=load, wants={}), "Threaded/main")
    assert of.ramp_down_s.number >= 157.08 / 12.0


@pytest.mark.parametrize(
    ("kind", "by"),
    [("fan", "coasting"), ("hydraulic_pump", "coasting"), ("spindle", "ramp"), ("pump", "ramp"),
     ("grinder", "coasting")],
)  # fmt: skip
def test_a_load_is_stopped_as_its_kind_is(kind, by):
    of = judged(lathe(load={"kind": kind}), "Lathe/main", OWN)
    assert of.figures.stopping.by == by
    assert f"stops_by_{by}" in codes(of.reasons)
    assert ("flying start" in words(of.reasons)) == (kind == "fan")
    if kind == "pump":  # water hammer
        assert of.figures.stopping.time_s.number >= 5.0
    if kind in ("fan", "hydraulic_pump", "grinder"):
        assert of.figures.dc_injection is None


def test_its_own_brake_comes_before_anything_that_is_bought():
    of = judged(story(machine=1, brake={"kind": "mechanical"}), "Slow stop/main", OWN)
    assert of.figures.stopping.by == "own_brake"
    assert of.figures.stopping.time_s is None
    assert of.figures.brake_resistor is None
    assert "stop_by_own_brake" in codes(of.reasons)
    assert "stop_by_resistor" not in codes(of.conditions)


@pytest.mark.parametrize(
    ("fed", "moved"), [("motor terminals", True), ("two lines", False), ("transformer", False)]
)
def test_a_brake_coil_on_the_motors_terminals_moves_to_the_supply(fed, moved):
    for kind in ("mechanical", "spring_electric"):
        brake = {"kind": kind, "coil": "180 V", "fed_from": fed}
        of = judged(lathe(brake=brake), "Lathe/main", OWN)
        said = codes(of.conditions) & {"stop.brake_coil", "motor_kind_brake_motor"}
        if moved or (kind == "mechanical"):
            assert bool(said) == moved


def test_a_load_that_pulls_is_held_by_a_brake_only():
    of = judged(lathe(load={"kind": "lift"}), "Lathe/main", OWN)
    assert "stop.holds_nothing" in codes(of.conditions)
    held = judged("hoist_and_brake", "Hoist/main", OWN)
    assert "stop.holds_nothing" not in codes(held.conditions)
    assert held.figures.stopping.by == "own_brake"


# the emergency stop


def test_what_coasts_longer_than_it_brakes_is_braked_first():
    quick = figures("wide_bandsaw", "Slow stop/main")
    assert quick.coasting_s.number > quick.stopping.time_s.number
    assert quick.emergency_stop.category == 1
    assert "then the torque goes off" in quick.emergency_stop.words
    unreached = figures("wide_bandsaw", "Bandsaw/main")  # its ramp alone takes longer still
    assert unreached.coasting_s.number < unreached.ramp_down_s.number
    assert unreached.emergency_stop.category == 0


def test_what_nobody_touches_and_what_a_spring_brake_holds_is_cut_off_at_once():
    fan = figures(lathe(load={"kind": "fan"}), "Lathe/main")
    assert fan.coasting_s.number > fan.ramp_down_s.number
    assert fan.emergency_stop.category == 0
    held = figures("hoist_and_brake", "Shear/main")
    assert held.emergency_stop.category == 0
    assert "spring brake" in held.emergency_stop.words


@pytest.mark.parametrize("users", [None, "owner", "guests", "employees"])
def test_guests_and_staff_make_conditions_of_advice(users):
    keys = {} if users is None else {"users": users}
    of = judged(lathe(**keys), "Lathe/main", OWN)
    others = users in ("guests", "employees")
    assert ("emergency_stop_button" in codes(of.conditions)) == others
    assert ("stop.torque_off" in codes(of.conditions)) == others
    assert ("stop.torque_off" in codes(of.reasons)) == (not others)
    assert "emergency_stop" in codes(of.reasons)
    if others:
        assert "does not isolate" in words(of.conditions)
        assert "latching" in words(of.conditions)


def test_a_machine_is_used_by_those_of_its_place_unless_told_otherwise():
    place = {"name": "barn", "users": "employees"}
    tree = tree_of("bench_lathe")
    tree["places"], tree["machines"][0]["place"] = [place], "barn"
    staffed = judged(shop_of(tree), "Lathe/main", OWN)
    assert "emergency_stop_button" in codes(staffed.conditions)
    tree["machines"][0]["users"] = "owner"
    alone = judged(shop_of(tree), "Lathe/main", OWN)
    assert "emergency_stop_button" not in codes(alone.conditions)


def test_who_uses_a_machine_with_a_tool_is_asked_for():
    def asked(shop):
        return [each["path"] for each in studied(shop)["missing"] if each["field"] == "who uses it"]

    assert asked(lathe()) == ["machines[0].users"]
    assert asked(lathe(users="guests")) == []
    assert asked(lathe(load={"kind": "hydraulic_pump"})) == []


def test_staff_at_a_saw_are_given_the_stop_that_is_expected():
    """10 s, without a wish: nothing where the ramp reaches it, a resistor where it does not; direct
    current is not enough for them."""

    def of(inertia, users):
        load = {"kind": "saw", "inertia": f"{inertia} kg m2"}
        shop = story(machine=1, load=load, wants={}, users=users)
        return figures(shop, "Slow stop/main")

    light, owner, staff = of(0.05, "employees"), of(0.4, "owner"), of(0.4, "employees")
    assert light.stopping.time_s.number <= 10.0
    assert light.brake_resistor is None
    assert owner.brake_resistor is None
    assert owner.ramp_down_s.number > 10.0
    assert staff.stopping.by == "ramp_with_resistor"
    assert staff.stopping.time_s.number <= 10.0
    assert staff.price.number > owner.price.number


def test_a_saw_that_nothing_stops_in_time_is_told_to_staff():
    load = {"kind": "saw", "inertia": "3 kg m2"}
    of = judged(lathe(load=load, users="employees"), "Lathe/main", OWN)
    assert {"stop_out_of_reach", "stop.run_down"} <= codes(of.conditions)


# on every kind of drive


def test_shared_and_step_up_drives_have_ramps_and_stops():
    shared = figures("three_tools", "Bandsaw/main", "shared_drive")
    raised = figures("hoist_and_brake", "Hoist/main", "step_up_drive")
    found = [shared] + ([raised] if raised.ramp_up_s else [])
    for each in found:
        assert each.ramp_up_s.number > 0.0
        assert each.ramp_down_s.number > 0.0
        assert each.stopping is not None
        assert each.emergency_stop is not None


def test_as_built_a_motor_on_a_shared_drive_has_the_ramps_of_that_drive():
    hung = [
        motor
        for plan in studied("three_tools")["plans"]
        for motor in plan["motors"]
        if motor.get("way") == "shared_drive"
    ]
    assert hung
    for motor in hung:
        assert {"ramp_up_s", "ramp_down_s", "stopping", "coasting_s", "emergency_stop"} <= set(
            motor["figures"]
        )


def test_a_step_up_drive_stops_its_motor_on_a_link_of_its_own_volts():
    """Of the 400 V class: its brake resistor works at 770 V."""
    raised = [
        (shop, motor)
        for shop in ("star_delta", "pole_changing", "dough", "universal_grinder", "high_mains")
        for motor in tasks(shop)[0]
        if judged(shop, motor, "step_up_drive").verdict != "refused"
    ]
    assert raised
    for shop, motor in raised:
        of = figures(shop, motor, "step_up_drive")
        assert of.ramp_up_s is not None
        assert of.emergency_stop is not None
        if of.brake_resistor is not None:
            volts = math.sqrt(of.brake_resistor.ohm.number * of.brake_resistor.peak_w.number)
            assert volts == pytest.approx(770.0)


def test_the_stop_of_a_task_is_the_same_whoever_asks():
    task, on, site = case()
    stop = stop_of(task.machine, task.motor, on, site)
    told = figures("wide_bandsaw", "Slow stop/main")
    assert stop.told_in(told) == told
    assert isinstance(stop.asked.conditions[0], Reason)
