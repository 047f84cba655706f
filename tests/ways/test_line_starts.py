"""Starts in time on what makes three lines by itself.

Against the motors' own circuits (another module, closed form), balances of power, a divider of
impedances, and relations that must hold; no figure is taken from the code under test.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from phasewright.files.shop_file import read_text
from phasewright.machines.performance import at_slip, locked
from phasewright.network.supply import Source
from phasewright.plan.arrays import choice_of
from phasewright.plan.facts import facts_of
from phasewright.plan.line_starts import start_on_lines
from phasewright.plan.one_start import one_start
from phasewright.plan.options import Option, shared_of
from phasewright.plan.search import solve
from phasewright.plan.starts import starts_of
from phasewright.plan.terms import terms_of
from phasewright.quantities.errors import UsageError
from phasewright.starts.brief import brief
from phasewright.starts.waves import waves
from phasewright.ways.balanced import balanced
from phasewright.ways.battery_serve import serve as serve_battery
from phasewright.ways.battery_source import BatteryInverter
from phasewright.ways.electronic_serve import serve as serve_electronic
from phasewright.ways.electronic_source import ElectronicSource
from phasewright.ways.generator_serve import serve as serve_generator
from phasewright.ways.generator_source import Generator
from phasewright.ways.line_start import (
    all_run_up,
    as_linked,
    held_a,
    line_starts,
    line_waves,
    pairs_of,
    start_amps,
)
from phasewright.ways.on_service import serve as serve_service
from phasewright.ways.shared_source import Served
from phasewright.ways.star_delta_start import star_delta_start
from phasewright.ways.way import Draw

SHOP = """
phasewright: 1
shop: An invented joinery
region: IEC
supply: {{kind: {kind}, voltage: {volts}, frequency: 50 Hz, service_rating: 80 A}}
machines:
  - name: Bandsaw
    hours_per_year: 200
    runs_with: [Fan]
    {starter}
    motors:
      - name: main
        plate: {{power: {kw} kW, voltage: {plate}, frequency: 50 Hz, speed: 1420 rpm{more}}}
        load: {{kind: saw{load}}}
  - name: Fan
    hours_per_year: 100
    motors:
      - name: main
        plate: {{power: 1.1 kW, voltage: 230/400 V, frequency: 50 Hz, speed: 2860 rpm}}
        load: {{kind: fan}}
"""
USUAL = {
    "kind": "single_phase", "volts": "230 V", "starter": "", "kw": 2.2, "plate": "230/400 V",
    "more": "", "load": "",
}  # fmt: skip
WEAK_MOTOR = {"more": ", starting_torque: 0.5", "load": ", start: loaded, torque: 0.9"}


def facts(**words):
    return facts_of(read_text(SHOP.format(**USUAL | words)))


def electronic(of, watts=15000.0):
    return ElectronicSource(of.site.source, watts)


def battery(of, watts=15000.0):
    return BatteryInverter(of.site.source, "IEC", watts, 20.0, 60.0)


def generator(watts=30000.0):
    return Generator("IEC", 50.0, watts)


def every(of, unit=0):
    """What a motor gets on large sources of all four kinds."""
    task = of.units[unit].task
    return {
        "electronic": serve_electronic(task, of.site, electronic(of)),
        "battery": serve_battery(task, of.site, battery(of)),
        "generator": serve_generator(task, of.site, generator()),
        "service": serve_service(task, of.site),
    }


def motor_on(of, lines, unit=0):
    return as_linked(balanced(of.units[unit].motor, lines.voltage_v, 50.0))


def test_every_source_of_three_lines_tells_the_start_of_a_motor_switched_straight_on():
    for name, served in every(facts()).items():
        assert isinstance(served, Served), name
        starts = served.figures.starts
        assert starts.runs_up, name
        assert 0.0 < starts.time_s.number <= starts.time_high_s.number, name


def test_the_run_ends_where_the_motors_own_circuit_runs_with_its_load():
    of = facts()
    lines = generator().lines
    motor = motor_on(of, lines)
    found, place = line_waves(lines, ((of.units[0].task, motor),), (of.units[0].task, motor))
    circuit = found.course.starters[place].machine.circuit
    speed, volts = float(found.speed_rad_s[-1, place]), float(found.volts_v[-1].mean())
    point = at_slip(circuit, 1.0 - speed / (math.pi * 50.0), volts, 50.0)
    assert found.source_w[-1] == pytest.approx(point.input_power_w, rel=2e-3)
    assert found.source_lines_a[-1] == pytest.approx([point.current_a] * 3, rel=2e-3)


def test_a_stiff_source_starts_it_the_same_whatever_its_size():
    of = facts()
    times = {
        serve_electronic(of.units[0].task, of.site, electronic(of, w)).figures.starts.time_s.number
        for w in (7500.0, 11000.0, 15000.0, 22000.0)
    }
    assert len(times) == 1


def test_the_supply_gives_an_electronic_source_the_watts_of_the_start_and_its_losses():
    of = facts()
    source = electronic(of)
    motor = motor_on(of, source.lines)
    starts = line_starts(source.lines, motor)
    standstill = locked(motor.circuit, 230.0, 50.0)
    # on the way up it takes no less than standing still, and no more than its amps could carry
    assert starts.usual.greatest_w > 0.9 * standstill.input_power_w
    assert starts.usual.greatest_w < math.sqrt(3.0) * 230.0 * 1.3 * standstill.current_a
    seen = source.seen(starts.usual)
    taken = 230.0 * seen.peak_a / math.sqrt(2.0)
    assert taken == pytest.approx(source.takes(Draw(starts.usual.greatest_w)).power_w)
    # thinner wires to the supply: the same watts, a deeper fall
    thin = ElectronicSource(Source(230.0, 0.8, 0.3, 50.0), 15000.0)
    assert thin.seen(starts.usual).dip_ratio > seen.dip_ratio
    assert thin.seen(starts.usual).peak_a == pytest.approx(seen.peak_a)


def test_a_battery_hides_the_start_from_the_supply_and_a_generator_takes_nothing_from_it():
    told = every(facts())
    charger = battery(facts()).charger.current_a(230.0)
    at = told["battery"].figures.starts
    assert at.dip.number == 0.0
    assert at.supply_peak_a.number == pytest.approx(math.sqrt(2.0) * charger)
    at = told["generator"].figures.starts
    assert (at.dip.number, at.supply_peak_a.number) == (0.0, 0.0)


def test_a_smaller_generator_never_starts_it_quicker_and_falls_further():
    of = facts()
    starts = [
        line_starts(generator(w).lines, motor_on(of, generator(w).lines)).usual.brief
        for w in (60e3, 30e3, 20e3, 12e3, 8e3)
    ]
    times, dips = [each.seconds for each in starts], [each.dip_ratio for each in starts]
    assert times == sorted(times)
    assert times[0] < times[-1]
    assert dips == sorted(dips)


def test_a_generators_fall_in_time_is_the_divider_of_impedances():
    """Which knows standstill alone; the run passes it in its first cycles."""
    of = facts()
    for watts in (12e3, 30e3):
        one = generator(watts)
        motor = balanced(of.units[0].motor, 400.0, 50.0)
        (dip,) = one.start_dips([motor])
        told = line_starts(one.lines, as_linked(motor)).usual.brief
        assert told.dip_ratio == pytest.approx(dip, abs=0.02)


def test_amps_at_standstill_behind_the_lines_are_ohms_law():
    of = facts()
    stiff, soft = Source(400.0, 0.0, 0.0, 50.0), Source(400.0, 1.0, 3.0, 50.0)
    motor = motor_on(of, stiff)
    assert held_a(stiff, motor) == pytest.approx(locked(motor.circuit, 400.0, 50.0).current_a)
    left = held_a(soft, motor)
    held = locked(motor.circuit, 400.0 * left / held_a(stiff, motor), 50.0)
    phi = math.acos(held.power_factor)
    phase = held.line_voltage_v / math.sqrt(3.0) + left * complex(0.5, 1.5) * complex(
        math.cos(phi), -math.sin(phi)
    )
    assert abs(phase) * math.sqrt(3.0) == pytest.approx(400.0, rel=0.01)


def test_a_motor_too_weak_for_its_load_is_refused_with_what_the_run_shows():
    told = every(facts(**WEAK_MOTOR))
    by_ramp = told.pop("electronic")  # at low hertz the same amps give more torque
    (asked,) = (each for each in by_ramp.conditions if each.code == "start_by_ramp")
    assert "computed in time" in asked.words
    assert by_ramp.figures.starts is None
    for name, served in told.items():
        assert not isinstance(served, Served), name
        assert {each.code for each in served} & {"does_not_run_up", "runs_up_too_slowly"}, name


def test_on_three_phases_that_are_there_a_weak_motor_is_told_to_start_empty():
    of = facts(kind="three_phase", volts="400 V", **WEAK_MOTOR)
    judged = next(each for each in of.judgements[0] if each.way == "direct")
    assert judged.verdict == "with_conditions"
    assert "hard_start" in {each.code for each in judged.conditions}
    assert not judged.figures.starts.runs_up
    assert judged.figures.starts.time_s is None
    good = facts(kind="three_phase", volts="400 V")
    judged = next(each for each in good.judgements[0] if each.way == "direct")
    assert judged.figures.starts.runs_up
    assert not {"hard_start", "hard_to_break_away"} & {each.code for each in judged.conditions}


@pytest.mark.parametrize("starter", ["soft_starter", "drive_inside"])
def test_what_shapes_its_start_itself_is_not_followed(starter):
    of = facts(starter=f"starter: {starter}")
    for name, served in every(of).items():
        if isinstance(served, Served):
            assert served.figures.starts is None, name


def test_a_start_by_the_sources_ramp_is_not_followed():
    of = facts()
    small = serve_electronic(of.units[0].task, of.site, electronic(of, 4000.0))
    assert "start_by_ramp" in {each.code for each in small.conditions}
    assert small.figures.starts is None


def test_a_start_longer_than_a_few_seconds_is_borne_by_what_gives_its_amps_for_ever():
    of = facts(load=", inertia: 4 kg m2")
    task = of.units[0].task
    motor = balanced(of.units[0].motor, 230.0, 50.0)
    seconds = line_starts(electronic(of).lines, as_linked(motor)).usual.brief.seconds
    assert 5.0 < seconds < 30.0
    seen = set()
    for watts in (7.5e3, 11e3, 15e3, 22e3, 45e3):
        source = electronic(of, watts)
        served = serve_electronic(task, of.site, source)
        for_ever = motor.start.current_a <= source.output_a
        ramp = not isinstance(served, Served) or "start_by_ramp" in {
            each.code for each in served.conditions
        }
        assert ramp != for_ever, watts
        seen.add(ramp)
    assert seen == {True, False}
    short = serve_battery(task, of.site, battery(of, 15.75e3))
    assert "inverter_start_too_long" in {each.code for each in short}


def test_a_softer_service_never_starts_it_quicker():
    of = facts()
    task = of.units[0].task
    times = []
    for ohm in (0.1, 0.4, 0.9, 1.6):
        lines = Source(400.0, ohm, 0.5 * ohm, 50.0)
        times.append(line_starts(lines, motor_on(of, lines)).usual.brief.seconds)
    assert times == sorted(times)
    weak = Source(400.0, 15.0, 60.0, 50.0)
    motor = motor_on(of, weak)
    assert all_run_up(Source(400.0, 0.1, 0.1, 50.0), ((task, motor),))
    assert not all_run_up(weak, ((task, motor),))


def test_a_generator_on_which_one_of_a_set_does_not_run_up_does_not_stand():
    """Between sizes that stand and those that do not lies one, and beside others none starts
    quicker than alone."""
    of = facts(kw=4)
    both = tuple(unit.task for unit in of.units)
    seen = []
    for watts in (8e3, 12e3, 16e3, 20e3, 30e3):
        one = generator(watts)
        motors = [balanced(unit.motor, 400.0, 50.0) for unit in of.units]
        pairs = pairs_of(both, motors)
        turning = one(both)
        seen.append(turning.stands)
        assert not turning.stands or all_run_up(one.lines, pairs)
        beside = brief(*line_waves(one.lines, pairs, pairs[0]))
        alone = brief(*line_waves(one.lines, pairs[:1], pairs[0]))
        if beside.runs_up and alone.runs_up:
            assert beside.seconds >= alone.seconds - 0.01
    assert seen == sorted(seen)
    assert True in seen


def test_what_one_event_switches_on_asks_for_the_amps_of_both_starts():
    apart, once = facts(), facts(starter="starts_with: [Fan]")
    for of, both_start in ((apart, False), (once, True)):
        tasks = tuple(unit.task for unit in of.units)
        motors = [balanced(unit.motor, 230.0, 50.0) for unit in of.units]
        held = [one.start if both_start else one.typical for one in motors[1:]]
        points = [motors[0].start, *held]
        watts = sum(each.input_power_w for each in points)
        var = sum(each.reactive_power_var for each in points)
        amps = math.hypot(watts, var) / (math.sqrt(3.0) * 230.0)
        assert start_amps(tasks, motors)[0] == pytest.approx(amps)
    tasks = tuple(unit.task for unit in once.units)
    stands = [
        electronic(once, watts)(tasks).stands for watts in (5.5e3, 7.5e3, 11e3, 15e3, 22e3, 30e3)
    ]
    before = [
        electronic(apart, watts)(tuple(unit.task for unit in apart.units)).stands
        for watts in (5.5e3, 7.5e3, 11e3, 15e3, 22e3, 30e3)
    ]
    assert all(not now or then for now, then in zip(stands, before, strict=True))
    assert stands == sorted(stands)


def test_star_delta_takes_longer_and_about_a_third_of_the_amps():
    of = facts(kind="three_phase", volts="400 V", starter="starter: star_delta", plate="400/690 V")
    lines = of.site.source
    motor = motor_on(of, lines)
    direct = line_starts(lines, motor).usual
    by_star = star_delta_start(lines, motor, worst=False)
    assert by_star.brief.runs_up
    assert by_star.brief.seconds > direct.brief.seconds
    assert by_star.brief.dip_ratio < direct.brief.dip_ratio
    assert by_star.greatest_w < direct.greatest_w
    judged = next(each for each in of.judgements[0] if each.way == "direct")
    assert judged.figures.starts.time_s.number == pytest.approx(by_star.brief.seconds)


# in a plan


ON_LINES = {"electronic source": "electronic_converter", "battery inverter": "electronic_converter",
            "generator": "electronic_converter", "three-phase service": "utility_service"}  # fmt: skip


def plan_on(of, name):
    """The best plan with everything on what is called so."""
    way = Option(ON_LINES[name])
    allowed = [[each == way or each.way is None for each in of.options] for _ in of.facts.units]
    states = [
        state.had is not None and shared_of(of.facts, state).name == name for state in of.states
    ]
    return solve(of.problem, allowed=np.array(allowed), states=np.array(states))


@pytest.fixture(scope="module")
def choice():
    shop = read_text(SHOP.format(**USUAL))
    return choice_of(facts_of(shop), terms_of(shop))


@pytest.mark.parametrize("name", ON_LINES)
def test_every_motor_of_a_plan_on_three_lines_is_started_in_its_hardest_case(choice, name):
    plan = plan_on(choice, name)
    if name != "three-phase service":
        assert plan.serves_all
    found = starts_of(choice, plan)
    for start in found:
        others = {unit.id for unit in choice.facts.units} - {start.motor}
        assert set(start.with_) == others
        assert start.method == "direct"
        assert start.runs_up
        assert "runs up" in start.words
        # what feeds the source, or the service's own fuses, were not judged, and it says so
        untold = {each.device for each in start.trips if each.verdict == "not_judged"}
        assert untold == (
            {"main fuse or breaker"}
            if name in ("electronic source", "three-phase service")
            else set()
        )
    assert len(found) == 2 or name == "electronic source"
    for unit in range(2):
        alone = shared_of(choice.facts, choice.states[plan.state]).serves(unit).figures.starts
        for start in start_on_lines(choice, plan, unit):
            if start.with_ and alone is not None:
                assert start.time_s.number >= alone.time_s.number - 0.011
                assert start.supply_peak_a.number >= alone.supply_peak_a.number - 0.5


@pytest.mark.whole
def test_one_start_of_a_plan_is_followed_from_rest_and_ends_as_the_study_says():
    shop = read_text(SHOP.format(**USUAL))
    one = one_start(shop, "Bandsaw/main", "utility_service")
    found = waves(one.course)
    names = [starter.machine.name for starter in one.course.starters]
    assert names == ["Fan/main", "Bandsaw/main"]
    assert one.course.three_lines
    told = brief(found, 1)
    assert told.runs_up
    choice = choice_of(facts_of(shop), terms_of(shop))
    (start,) = start_on_lines(choice, plan_on(choice, "three-phase service"), 0)
    assert told.seconds == pytest.approx(start.time_s.number, abs=0.021)


def test_one_start_straight_on_three_phases_and_what_it_refuses():
    three = read_text(SHOP.format(**USUAL | {"kind": "three_phase", "volts": "400 V"}))
    one = one_start(three, "Bandsaw/main", "direct")
    assert one.course.three_lines
    assert brief(waves(one.course), 0).runs_up
    with pytest.raises(UsageError, match="two lines"):
        one_start(read_text(SHOP.format(**USUAL)), "Bandsaw/main", "direct")
    with pytest.raises(UsageError, match="starts alone"):
        one_start(three, "Bandsaw/main", "direct", "a-plan")
