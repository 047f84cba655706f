"""The circuits of every plan of the examples: there, whole, and never thinner than they may be."""

from __future__ import annotations

from dataclasses import fields
from functools import cache
from pathlib import Path

import pytest

import phasewright
from phasewright.circuits.cables import sizes
from phasewright.plan.circuit_study import PlanCircuit

pytestmark = pytest.mark.whole
EXAMPLES = sorted((Path(__file__).resolve().parents[2] / "examples").glob("*.shop.yaml"))
OWED = {"id", "role", "from_", "to", "voltage_v", "design_current_a", "conductor", "conductor_m2",
        "length_m", "ampacity_a", "voltage_drop", "protective_conductor", "sources"}  # fmt: skip


@cache
def studied(path):
    return phasewright.study(phasewright.read(path), quick=True)


@pytest.fixture(params=EXAMPLES, ids=lambda path: path.stem)
def study(request):
    return studied(request.param)


def each(study):
    return [(plan, circuit) for plan in study.plans for circuit in plan.circuits or ()]


def test_every_motor_of_a_feasible_plan_has_a_circuit_and_so_has_what_it_hangs_on(study):
    for plan in study.plans:
        ends = {circuit.to for circuit in plan.circuits or ()}
        for motor in plan.motors:
            if plan.feasible and motor.way is not None and motor.figures.input_current_a:
                assert motor.motor in ends, (plan.title, motor.motor)
                assert motor.figures.circuit_rating_a is not None, (plan.title, motor.motor)


def test_every_circuit_is_whole(study):
    known = {entry.name for entry in fields(PlanCircuit)}
    assert known >= OWED
    for plan, circuit in each(study):
        bare = [name for name in OWED if getattr(circuit, name) is None]
        assert not bare, (plan.title, circuit.id, bare)
        ids = [other.id for other in plan.circuits]
        assert ids.count(circuit.id) == 1, circuit.id


def test_circuits_join_up(study):
    """Every circuit begins at the supply, at a source of its own, or where another ends."""
    for plan, circuit in each(study):
        begins = {other.to for other in plan.circuits} | {m.motor for m in plan.motors}
        assert (
            circuit.from_.startswith("supply")
            or circuit.from_ in begins
            or circuit.from_ in {on.id for on in plan.equipment}
        ), circuit.id


def test_conductors_carry_what_flows_and_thinner_ones_are_sold_only_down_to_the_smallest(study):
    for _, circuit in each(study):
        assert circuit.ampacity_a.number >= circuit.design_current_a.number * (1 - 1e-9)
        assert circuit.conductor in {size.name for size in sizes(study.region)}
        if circuit.device is not None:
            assert circuit.device.rating_a >= circuit.design_current_a.number * (1 - 1e-9)
            if study.region == "IEC" and circuit.overload_setting_a is None:
                assert circuit.ampacity_a.number >= circuit.device.rating_a * (1 - 1e-9)


def test_a_fault_further_away_draws_less(study):
    for plan, circuit in each(study):
        if circuit.fault_at_end_a is not None:
            most = circuit.fault_at_origin_a.number
            limited = any(on.way == "electronic_converter" for on in plan.equipment)
            assert circuit.fault_at_end_a.number <= most
            assert limited or circuit.fault_at_end_a.number < most
            assert circuit.fault_at_origin_a.number <= 1000.0 * (
                circuit.device.breaking_ka if circuit.device else 1e9
            )


def test_in_an_iec_shop_something_opens_every_earth_fault_in_time(study):
    """Least fault, latest edge: of every circuit whose fault current is known."""
    if study.region != "IEC":
        return
    for plan, circuit in each(study):
        if circuit.earth_fault_a is None or circuit.role == "outlet_to_machine":
            continue
        assert circuit.disconnects_s is not None, (plan.title, circuit.id)
        assert circuit.disconnects_s.high <= circuit.within_s, (plan.title, circuit.id)


def test_line_3_of_every_rotary_converter_is_told(study):
    for plan in study.plans:
        for on in plan.equipment:
            if on.way == "rotary_converter":
                assert on.figures.line3_earth_fault_a.number > 0.0
                ends = [c for c in plan.circuits if c.from_ == on.id and c.lines == "1-2-3"]
                assert ends
                assert all(c.first_cycles_a.number >= c.earth_fault_a.number for c in ends)
                assert all(c.phase_relay is not None for c in ends)


def test_sockets_keep_plugs_of_other_volts_out(study):
    seen = {}
    for _, circuit in each(study):
        if circuit.socket is not None:
            of = circuit.socket
            kind = of.voltage_v < 300.0
            assert seen.setdefault((of.pattern, of.rating_a), kind) == kind
            assert study.region == "NEC" or circuit.residual_current.rating_ma <= 30.0


def test_a_motor_s_relay_is_set_to_its_new_line_current(study):
    for plan in study.plans:
        settings = {m.motor: m.overload_setting_a for m in plan.motors if m.overload_setting_a}
        told = {c.to: c.overload_setting_a for c in plan.circuits or () if c.overload_setting_a}
        for motor, amps in told.items():
            assert amps.number == settings[motor].number
