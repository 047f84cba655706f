"""The network a course ends in: a long run settles where the settled solver says."""

from __future__ import annotations

from dataclasses import replace

import pytest
from reference_machines import I4A, L2A, TOWN, fan, uf
from starts.courses import MOTOR, cycles, idler_start, then_motor

from phasewright.quantities.errors import NotComputable
from phasewright.running.settle import settle
from phasewright.starts.at_end import network_at_end
from phasewright.starts.course import (
    FOREVER,
    WHEN_SETTLED,
    Course,
    Drop,
    LoadStep,
    StartBranch,
    StartResistor,
)
from phasewright.starts.waves import waves

HEAVY = 50.0
TWO = then_motor(
    idler_start(0, circuit=I4A, speed=156.9, run=uf(0, 25, 118)), fan(14.5, 1445), circuit=L2A,
    at=0.0, seconds=3.0,
)  # fmt: skip


def of_motor(**more) -> Course:
    return replace(TWO, starters=(TWO.starters[0], replace(TWO.starters[1], **more)))


CASES = {
    "plain": TWO,
    "load step": replace(TWO, load_steps=(LoadStep(MOTOR, 0.2, 2.0), LoadStep(MOTOR, 0.1, 0.1),
                                          LoadStep(MOTOR, 0.3, 0.5), LoadStep(MOTOR, 99.0, 9.0))),
    "travelling": replace(of_motor(travelling_f=uf(0, 8, 75)), capacitance_f=uf(0, 20, 40)),
    "travelling off": replace(of_motor(travelling_f=uf(0, 0, 75), opens_s=0.4), capacitance_f=uf(0, 20, 40)),
    "start capacitor left in": replace(TWO, start=StartBranch(60e-6, 8.0, drop=Drop("never"))),
    "start capacitor out in time": replace(TWO, start=StartBranch(60e-6, 8.0, drop=Drop("time", 0.4))),
    "start capacitor out by volts": replace(TWO, start=StartBranch(60e-6, 8.0, drop=Drop("volts", 150.0))),
    "resistor left in": replace(TWO, resistor=StartResistor(0.6, FOREVER)),
    "resistor bridged": replace(TWO, resistor=StartResistor(0.6, WHEN_SETTLED)),
    "heaters": replace(TWO, conductance_s=uf(0, 5000.0, 3000.0)),
    "supply back": replace(TWO, lost_s=0.4, returns_s=0.42),
}  # fmt: skip


def at_the_points_speed(course: Course) -> Course:
    """Heavy shafts that turn as the point says from the beginning: no ripple, no long approach."""
    speeds = {
        m.name: m.speed_rpm * 0.10471975511965978 for m in settle(network_at_end(course)).machines
    }
    return replace(
        course,
        starters=tuple(
            replace(s, inertia_kg_m2=HEAVY * s.inertia_kg_m2, speed_rad_s=speeds.get(s.machine.name, 0.0))
            for s in course.starters
        ),
    )  # fmt: skip


@pytest.mark.parametrize("case", CASES)
def test_a_long_run_ends_there(case: str) -> None:
    course = CASES[case]
    point = settle(network_at_end(course))
    found = waves(at_the_points_speed(course))
    assert cycles(found, found.volts_v)[-1] == pytest.approx(point.line_voltages_v, rel=5e-3)
    assert cycles(found, found.supply_a)[-1] == pytest.approx(point.supply_current_a, rel=0.01)


def test_the_cases_differ() -> None:
    seen = {
        round(settle(network_at_end(CASES[case])).line_voltages_v[2], 2)
        for case in CASES
        if "out" not in case and case not in ("resistor bridged", "supply back", "plain")
    }
    assert len(seen) == len(CASES) - 5


def test_without_supply_or_machine_nothing_settles() -> None:
    with pytest.raises(NotComputable, match="supply is lost"):
        network_at_end(replace(TWO, lost_s=1.0))
    off = tuple(replace(each, opens_s=1.0) for each in TWO.starters)
    with pytest.raises(NotComputable, match="no machine"):
        network_at_end(replace(TWO, starters=off))


def test_a_machine_that_has_not_closed_is_not_there() -> None:
    assert len(network_at_end(of_motor(closes_s=99.0)).machines) == 1
    assert len(network_at_end(of_motor(closes_s=WHEN_SETTLED)).machines) == 2
    assert network_at_end(TWO).source == TOWN
