"""Faults behind sources of the shop's own, against hand sums of textbook formulas."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from some_jobs import amps, job, metres, tap

from phasewright.circuits.fault_source import of_electronics, of_generator, of_transformer
from phasewright.circuits.installation import ResidualCurrentDevice
from phasewright.plan.circuit_laid import laid
from phasewright.plan.circuit_sources import tap_behind, told_of_sources, transformer_tap
from phasewright.plan.circuit_supply import limit_of_supply
from phasewright.quantities.value import exact, spread
from phasewright.shop.supply import Supply, Surge

THREE = {"lines": "1-2-3", "voltage_v": 400.0, "role": "converter_to_machine"}


def share(number, low=None, high=None):
    return spread(number, low or number, high or number, "", "table", "test")


def generator(rated_a=20.0, sustained=None):
    return of_generator(
        "generator", 400.0, rated_a, 0.03, share(0.12, 0.08, 0.25), share(0.05),
        sustained or share(3.0, 1.0, 4.0),
    )  # fmt: skip


def electronics(rated_a=10.0, *, isolates=True):
    return of_electronics(
        "battery inverter", 400.0, rated_a, share(1.5, 1.1, 2.0), isolates=isolates
    )


def behind(source, three_lines=True, earthing="TT", rod=80.0, **more):
    of = tap_behind(tap(earthing, rod), source, three_lines=three_lines)
    return job(**(THREE | {"tap": of, "isolates": source.isolates, "design": amps(5.0)} | more))


def test_a_generator_s_shorts_are_those_of_sequence_impedances():
    """20 A, 400 V: base 11.547 ohm. Two lines: 400/(2 Z1); a line to earth: 3 E/(2 Z1 + Z0)."""
    source = generator(sustained=share(99.0))
    base = 400.0 / math.sqrt(3.0) / 20.0
    z1, z0 = base * complex(0.03, 0.12), base * complex(0.03, 0.05)
    by_hand = 400.0 / math.sqrt(3.0) * 3.0 / abs(2.0 * z1 + z0)
    of = tap_behind(tap(), source)
    found = of.line_to_earth_v / abs(of.usual * of.earth_share)
    assert found == pytest.approx(by_hand, rel=0.05)  # resistance shared out like reactance
    assert abs(of.usual) == pytest.approx(abs(2.0 * z1))


def test_a_generator_gives_its_first_cycles_and_then_what_it_sustains():
    told, _ = laid(behind(generator()))
    base = 400.0 / math.sqrt(3.0) / 20.0
    stiffest = 400.0 / (2.0 * base * abs(complex(0.03, 0.08)))
    assert told.fault_at_origin_a.number == pytest.approx(stiffest)
    assert told.earth_fault_a.low == pytest.approx(20.0)
    assert told.earth_fault_a.number == pytest.approx(60.0)
    assert told.earth_fault_a.high > 60.0


@pytest.mark.parametrize("rated", [5.0, 10.0, 40.0])
def test_electronics_give_no_more_than_their_limit_wherever_the_fault_is(rated):
    told, _ = laid(behind(electronics(rated)))
    assert told.fault_at_origin_a.number == pytest.approx(2.0 * rated)
    assert told.fault_at_end_a.number <= told.fault_at_origin_a.number
    assert told.earth_fault_a.low <= 1.1 * rated * (1 + 1e-9)


def test_behind_electronics_no_breaker_is_counted_on_and_a_device_of_its_own_opens():
    of = behind(electronics())
    told, _ = laid(of)
    assert told.upstream_blind
    assert not told.residual_current.upstream
    assert told.residual_current.trips_s is not None
    there = ResidualCurrentDevice(30.0, "A", upstream=True)
    found = {each.rule: each for each in told_of_sources([told], [of], there)}
    limits = found["circuit.source_limits_fault"]
    assert limits.found < limits.allowed
    assert found["circuit.upstream_blind"].severity == "info"
    assert "30 mA type A" in found["circuit.upstream_blind"].words


def test_a_type_that_smooth_current_blinds_is_told():
    of = behind(electronics(isolates=False), earthing="TN-S", rod=None, residual_type="A")
    told, _ = laid(of)
    found = {each.rule for each in told_of_sources([told], [of], None)}
    assert "circuit.device_may_be_blinded" in found
    assert "circuit.upstream_blind" not in found
    right = replace(of, residual_type="B")
    told, _ = laid(right)
    assert "circuit.device_may_be_blinded" not in {
        each.rule for each in told_of_sources([told], [right], None)
    }


def test_a_strong_source_limits_nothing():
    of = behind(generator(2000.0))
    told, _ = laid(of)
    assert not [
        each for each in told_of_sources([told], [of], None)
        if each.rule == "circuit.source_limits_fault"
    ]  # fmt: skip


def test_a_transformer_adds_its_ohms_to_those_of_the_supply_seen_from_its_output():
    """5 kVA, 3 % and 2.5 %: 1.0 and 0.8 ohm at 400 V; 0.3+j0.2 ohm times (400/230) squared."""
    of = transformer_tap(tap(), "transformer", 5000.0, 230.0, 400.0)
    by_hand = complex(0.3, 0.2) * (400.0 / 230.0) ** 2 + 400.0**2 / 5000.0 * complex(0.03, 0.025)
    assert of.usual == pytest.approx(by_hand)
    assert abs(of.stiff) < abs(of.usual) < abs(of.soft)
    assert of.line_to_earth_v == pytest.approx(200.0)


def test_a_larger_transformer_never_faults_less():
    last = 0.0
    for va in (1000.0, 2500.0, 5000.0, 10000.0, 25000.0):
        found = 400.0 / abs(transformer_tap(tap(), "t", va, 230.0, 400.0).stiff)
        assert found > last
        last = found


def supply(kind, **more):
    volts, hertz = exact(230.0, "V", "stated"), exact(50.0, "Hz", "stated")
    return Supply(kind=kind, voltage=volts, frequency=hertz, **more)


def test_a_supply_that_is_a_machine_limits_every_fault():
    rated = exact(20.0, "A", "stated")
    assert limit_of_supply(supply("single_phase", service_rating=rated)) is None
    of = limit_of_supply(supply("generator", service_rating=rated))
    assert of.least_a == pytest.approx(20.0)
    assert of.greatest_a == math.inf
    surge = Surge(rating=exact(9200.0, "VA", "stated"), seconds=5.0)
    of = limit_of_supply(supply("inverter", service_rating=rated, surge=surge))
    assert (of.least_a, of.greatest_a) == pytest.approx((40.0, 40.0))


def test_on_an_inverter_as_the_supply_a_residual_device_is_wanted():
    base = job(tap=replace(tap(), limit=limit_of_supply(
        supply("inverter", service_rating=exact(20.0, "A", "stated")))), run=metres(12.0))  # fmt: skip
    told, _ = laid(base)
    assert told.residual_current is not None
    assert laid(job())[0].residual_current is None


def test_half_of_a_transformer_stands_before_a_line_s_earth_fault():
    source = of_transformer("t", (1 + 0j, 1 + 0j, 1 + 0j), 2.0, 4 + 0j, share(1.0), 400.0)
    assert source.usual_ohm == pytest.approx((4.0 + 4.0) / 2.0)
    assert source.to_earth_v == pytest.approx(200.0)
