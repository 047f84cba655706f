"""What a code asks of a circuit, by published examples; and which residual device covers it."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from some_jobs import amps, job, metres, tap

from phasewright.network.supply import Source
from phasewright.plan.circuit_jobs import asked_of, code_amps
from phasewright.plan.circuit_laid import discharge_ohm, laid
from phasewright.plan.circuit_residual import residual_of, trips_s
from phasewright.plan.circuit_single import _through
from phasewright.plan.circuit_supply import Upstream
from phasewright.quantities.value import exact
from phasewright.running.line3_fault import line3_fault
from phasewright.running.network import Between, Connected, LoadLaw, Network
from phasewright.ways.figures import Part


def test_nec_motor_circuit_of_the_book():
    """5 hp, 230 V, three-phase: 15.2 A, conductors 19 A, inverse-time breaker 38 to 40 A; up to
    400 %, 60.8 to 60 A, where that does not hold the start."""
    assert code_amps(5.0 * 745.6999, 230.0, 3, "NEC") == 15.2
    asked = asked_of(job(region="NEC", code_a=15.2))
    assert asked.ampacity_a == pytest.approx(19.0)
    assert asked.device_to_a == 60.0
    assert not asked.follows


def test_nec_converter_supply_of_the_book():
    """60 A nameplate input, variable loads: conductors 75 A, breaker 75 to 80 A."""
    asked = asked_of(job(region="NEC", kind="converter", design=amps(60.0), code_a=60.0))
    assert asked.ampacity_a == pytest.approx(75.0)
    assert asked.device_to_a == 80.0


def test_nec_drive_supply_is_125_percent_of_its_input():
    asked = asked_of(job(region="NEC", kind="drive", design=amps(20.0), code_a=24.0))
    assert asked.ampacity_a == pytest.approx(30.0)


def test_no_rows_no_amps():
    assert code_amps(1234.0, 230.0, 3, "NEC") is None
    assert code_amps(3728.5, 230.0, 3, "IEC") is None


def test_a_rod_asks_for_a_residual_device_whose_touch_volts_it_keeps_low():
    assert residual_of(job()) is None
    assert residual_of(job(tap=tap("TT", 80.0))).rating_ma == 100.0
    assert residual_of(job(tap=tap("TT", 1200.0))).rating_ma == 30.0
    leaky = residual_of(job(tap=tap("TT", 80.0), leakage_ma=40.0))
    assert leaky.rating_ma == 300.0


def test_a_breaker_too_slow_for_a_long_cable_gets_a_residual_device():
    """Behind 12 m the C20 opens an earth fault at once, behind 60 m of the same it may take long."""
    from phasewright.plan.circuit_jobs import motor_start

    start = (motor_start(70.0, 0.2),)
    near, _ = laid(job(starts=start, run=metres(4.0)))
    far, _ = laid(job(starts=start, run=metres(70.0)))
    assert near.residual_current is None
    assert near.disconnects_s.high <= near.within_s
    assert far.residual_current is not None
    assert far.disconnects_s.high <= far.within_s


def test_the_shop_s_own_device_serves_where_it_sees_the_fault():
    there = tap("TT", 80.0, Upstream(300.0, "A"))
    used = residual_of(job(tap=there))
    assert used.upstream
    assert used.rating_ma == 300.0
    blind = residual_of(job(tap=there, isolates=True))
    assert not blind.upstream
    socket = residual_of(job(tap=there, socket=True))
    assert socket.rating_ma == 30.0


def test_a_residual_device_is_fast_at_five_times_its_rating_and_blind_below():
    device = residual_of(job(tap=tap("TT", 80.0)))
    assert trips_s(device, 2.0) == 0.04
    assert trips_s(device, 0.2) == 0.3
    assert trips_s(device, 0.05) is None
    assert trips_s(device, None) is None


def test_no_residual_device_is_chosen_for_north_america():
    assert residual_of(job(region="NEC", tap=tap("TN-C-S", region="NEC"), socket=True)) is None


def test_behind_a_transformer_its_own_device_and_fewer_amps():
    supply = job(role="supply_to_drive", kind="drive", to="drive", tap=tap("TT", 80.0))
    part = Part("transformer", 5000.0, "VA", 1, 0.0, "test")
    ahead, behind = _through(supply, part, "Saw/blade")
    assert ahead.to == behind.source
    assert behind.voltage_v > supply.voltage_v
    assert behind.design.number * behind.voltage_v == pytest.approx(15.2 * 230.0)
    told, findings = laid(behind)
    assert told.residual_current is not None
    assert not told.residual_current.upstream
    assert told.upstream_blind
    assert told.earth_fault_a.high < 5000.0 / 400.0 * 1.5 / 0.7 / 0.03  # half the volts and ohms
    assert told.disconnects_s.high <= told.within_s
    assert not findings
    first, _ = laid(ahead)
    assert first.device.curve in ("C", "D")  # its inrush


def test_line_3_is_told_by_its_idler_and_opened_by_the_device_at_the_input():
    from reference_machines import M4K0

    idler = Connected("idler", M4K0, LoadLaw("none"))
    network = Network(Source(230.0, 0.3, 0.2, 50.0), Between(0.0, 48e-6, 63e-6), (idler,))
    fault = line3_fault(network, 0.5 + 0j, "line_2")
    told, _ = laid(job(
        role="converter_to_machine", lines="1-2-3", line3=fault, covered_by="supply to converter",
    ))  # fmt: skip
    assert 40.0 < told.earth_fault_a.number < 52.0
    assert told.first_cycles_a.number > 1.5 * told.earth_fault_a.number
    assert told.residual_current.at == "supply to converter"
    assert told.disconnects_s.high == 0.04
    assert "residual-current device" in told.why_it_trips
    bare, _ = laid(job(role="converter_to_machine", lines="1-2-3", line3=fault, region="NEC",
                       code_a=15.2))  # fmt: skip
    assert bare.residual_current is None
    assert bare.disconnects_s.high > 1.0


def test_a_capacitor_is_empty_in_time_by_its_resistor():
    """100 uF at 230 V to 50 V within 60 s: 60/(100e-6 ln(325.3/50)) = 320 kohm."""
    ohm = discharge_ohm(exact(100e-6, "F", "stated", "test"), 230.0).number
    assert ohm == pytest.approx(60.0 / (100e-6 * math.log(325.27 / 50.0)), rel=1e-4)
    left = math.sqrt(2.0) * 230.0 * math.exp(-60.0 / (ohm * 100e-6))
    assert left == pytest.approx(50.0)


def test_what_is_not_sold_is_told():
    told, findings = laid(job(design=amps(400.0)))
    assert told.conductor is None
    assert [each.rule for each in findings] == ["circuit.not_sized"]


def test_a_breaker_that_may_let_go_is_told():
    from phasewright.plan.circuit_jobs import motor_start

    raised = job(region="NEC", code_a=15.2, starts=(motor_start(120.0, 8.0),))
    told, findings = laid(raised)
    assert (told.device.rating_a, findings) == (45.0, ())  # 40 A are not sure to hold it
    hard = replace(raised, starts=(motor_start(250.0, 8.0),))
    told, findings = laid(hard)
    assert told.device.rating_a == 60.0
    assert [each.rule for each in findings] == ["circuit.may_not_hold"]
    easy = replace(hard, starts=(motor_start(90.0, 0.3),))
    assert laid(easy)[1] == ()
