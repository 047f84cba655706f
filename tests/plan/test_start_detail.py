"""What is told of the answer's starts: beside what, how hot, how often; by relations."""

from __future__ import annotations

import functools
from dataclasses import replace
from itertools import pairwise

import pytest
from reference_machines import FARM, M0K75, M1K5, M2K2, M4K0, TOWN, constant, uf

from phasewright.files.shop_file import read_text
from phasewright.job.study import study
from phasewright.machines.performance import rated
from phasewright.quantities.value import Value
from phasewright.running.converter import Converter
from phasewright.running.network import Connected
from phasewright.starts.brief import brief
from phasewright.starts.course import Starter
from phasewright.starts.heat import start_heat, too_hot_after_s
from phasewright.starts.on_converter import on_running
from phasewright.starts.starts_an_hour import starts_an_hour
from phasewright.starts.waves import waves
from phasewright.tables.winding_heat import heated_c, squares_to_a2s_mm4

SHOP = """
phasewright: 1
shop: An invented joinery
region: IEC
supply: {kind: single_phase, voltage: 230 V, frequency: 50 Hz, service_rating: 80 A,
         loop_impedance: 0.25 ohm}
machines:
  - name: Bandsaw
    hours_per_year: 300
    starts_per_hour: STARTS
    motors:
      - name: wheels
        plate: {power: 1.1 kW, voltage: 230/400 V, frequency: 50 Hz, speed: 1420 rpm}
        load: {kind: flywheel, inertia: INERTIA}
  - name: Saw
    hours_per_year: 100
    runs_with: [Bandsaw]
    motors:
      - name: blade
        plate: {power: 2.2 kW, voltage: 230/400 V, frequency: 50 Hz, speed: 1430 rpm}
        load: {kind: saw}
  - name: Lathe
    hours_per_year: 100
    motors:
      - name: spindle
        plate: {power: 1.5 kW, voltage: 230/400 V, frequency: 50 Hz, speed: 1430 rpm}
        load: {kind: spindle}
quotes: [{kind: drive_per_motor, power: 1.1 kW, price: 9000}]
owned_parts:
  - {kind: rotary_converter, power: 4 kW, voltage: 230 V}
"""


@functools.cache
def answered(starts: str = "4", inertia: str = "0.06 kg m2"):
    return study(read_text(SHOP.replace("STARTS", starts).replace("INERTIA", inertia)), quick=True)


def best(of):
    return next(plan for plan in of.plans if plan.id == of.answer.plan)


def start_of(of, motor):
    return next(each for each in best(of).starts if each.motor == motor)


def test_the_answer_is_a_converter() -> None:
    assert best(answered()).id.startswith("rotary_converter")


def test_it_is_told_of_the_answers_plan_only() -> None:
    of = answered()
    for plan in of.plans:
        told = [
            *(part for each in plan.starts for part in (each.beside, each.starts_per_hour,
                                                        each.winding_c, each.winding_verdict)),
            *(part for each in plan.equipment for part in (each.largest_starts,
                                                           each.wrong_direction)),
        ]  # fmt: skip
        assert plan.id == of.answer.plan or not any(part is not None for part in told)
    assert all(each.starts_per_hour and each.winding_c for each in best(of).starts)
    (on,) = (each for each in best(of).equipment if each.way == "rotary_converter")
    assert on.largest_starts
    assert on.wrong_direction is not None


def test_beside_stands_what_may_run_beside_and_nothing_else() -> None:
    of = answered()
    names = {
        motor: [each.motor for each in start_of(of, motor).beside]
        for motor in ("Bandsaw/wheels", "Saw/blade", "Lathe/spindle")
    }
    assert names == {
        "Bandsaw/wheels": ["Saw/blade"], "Saw/blade": ["Bandsaw/wheels"], "Lathe/spindle": [],
    }  # fmt: skip


def test_what_hinders_takes_longer_or_drags_line_3_down() -> None:
    for each in (one for start in best(answered()).starts for one in start.beside):
        longer = each.time_ratio is not None and each.time_ratio.number > 1.0
        lower = each.line3_change_v.number < 0.0
        if each.effect == "hinders":
            assert longer or lower or not each.runs_up
        if each.effect == "helps":
            assert not (longer and lower)


def test_every_motor_is_told_the_wrong_way_round() -> None:
    on = next(each for each in best(answered()).equipment if each.wrong_direction is not None)
    of = on.wrong_direction
    assert {each.motor for each in of.motors} == set(on.serves)
    assert of.stays_backwards
    assert of.idler_speed_rpm.number < 0.0
    harms = {each.motor: each.harms for each in of.motors}
    assert harms == {"Bandsaw/wheels": False, "Saw/blade": True, "Lathe/spindle": True}
    for each in of.motors:
        assert isinstance(each.speed_rpm, Value)
        assert each.speed_rpm.number < 0.0
        assert "backward" in each.words


def test_heavier_wheels_may_be_started_less_often_and_gets_hotter() -> None:
    light, heavy = (
        start_of(answered(inertia=of), "Bandsaw/wheels") for of in ("0.06 kg m2", "0.6 kg m2")
    )
    assert heavy.starts_per_hour.windings.low.number < light.starts_per_hour.windings.low.number
    assert heavy.winding_c.expected.number > light.winding_c.expected.number
    assert heavy.starts_per_hour.ruled_by == "windings"
    assert heavy.starts_per_hour.start_capacitor is None


def test_more_starts_than_it_bears_are_found_and_named() -> None:
    often, seldom = answered("300", "0.6 kg m2"), answered("4", "0.06 kg m2")
    found = {
        of: [each for each in of.findings
             if each.rule == "start.starts_per_hour" and each.subject == "Bandsaw/wheels"]
        for of in (often, seldom)
    }  # fmt: skip
    assert found[seldom] == []
    (finding,) = found[often]
    assert finding.severity == "condition"
    assert "its windings" in finding.words
    assert finding.plan == often.answer.plan
    assert finding.id in best(often).findings
    assert finding.found > finding.allowed


def started(source, motor, beside):
    course = on_running(source, Converter(4000.0, M4K0, uf(0, 47.5, 63)), motor, beside)
    return brief(waves(course), len(course.starters) - 1)


def starter(name, circuit, ratio, inertia):
    load = constant(ratio * rated(circuit).shaft_torque_nm)
    nm = 0.2 * rated(circuit).shaft_torque_nm
    return Starter(Connected(name, circuit, load), inertia * circuit.inertia_kg_m2, breakaway_nm=nm)


@pytest.mark.parametrize("source", [TOWN, FARM])
@pytest.mark.parametrize(("circuit", "other"), [(M2K2, M1K5), (M1K5, M2K2), (M0K75, M2K2)])
def test_one_that_idles_beside_helps_and_the_more_it_works_the_less(source, circuit, other) -> None:
    """A motor that turns is one more idler; what it works drags line 3 down."""
    motor = starter("motor", circuit, 0.2, 3.0)
    alone = started(source, motor, ())
    beside = [
        started(source, motor, (starter("other", other, ratio, 2.0),))
        for ratio in (0.0, 0.3, 0.6, 1.0)
    ]
    assert beside[0].lowest_ratio > alone.lowest_ratio
    for less, more in pairwise(beside):
        assert more.lowest_ratio < less.lowest_ratio
        assert more.seconds >= less.seconds


def a_run(torque_ratio=0.2):
    motor = starter("motor", M2K2, torque_ratio, 10.0)
    course = on_running(TOWN, Converter(4000.0, M4K0, uf(0, 47.5, 63)), motor)
    found = waves(course)
    return found, brief(found, 1).outcome


def test_more_loss_at_work_leaves_fewer_starts() -> None:
    found, told = a_run()
    heat = start_heat(found, 1, told)
    allowed = [
        starts_an_hour(found, 1, heat, duty=0.5, working_w=watts).allowed
        for watts in (0.0, 100.0, 300.0, 2000.0)
    ]
    assert allowed == sorted(allowed, reverse=True)
    assert allowed[-1] == 0.0


@pytest.mark.parametrize("after", [121.0, 160.0, 225.0, 300.0])
def test_what_heats_copper_so_far_heats_it_so_far(after) -> None:
    assert heated_c(120.0, squares_to_a2s_mm4(120.0, after)) == pytest.approx(after)
    assert squares_to_a2s_mm4(after, 120.0) == 0.0


def test_a_stalled_motor_is_too_hot_when_a_run_so_long_says_so() -> None:
    """A run cut at the instant that was told from a shorter one comes to the limit of class B."""
    motor = starter("motor", M2K2, 0.2, 10.0)
    stuck = replace(motor, breakaway_nm=10.0 * rated(M2K2).shaft_torque_nm)
    course = on_running(TOWN, Converter(4000.0, M4K0, uf(0, 47.5, 63)), stuck)
    found = waves(course)
    low_s, *_ = too_hot_after_s(found, 1)
    longer = waves(replace(course, seconds=found.closed_s[1] + low_s, stops_when_settled=False))
    heat = start_heat(longer, 1, brief(longer, 1).outcome)
    assert heat.winding_high_c == pytest.approx(225.0, abs=2.0)
