"""Relations that hold for every cage-motor circuit."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from phasewright.machines.circuit import Cage, Circuit, Saturation
from phasewright.machines.performance import at_slip, at_torque, breakdown, locked, no_load, rated

ratio = st.floats(0.3, 3.0)


@st.composite
def circuits(draw: st.DrawFn) -> Circuit:
    """Circuits round a usual motor, each parameter up to threefold off."""
    volts = draw(st.sampled_from([190.0, 230.0, 400.0, 575.0]))
    watts = draw(st.floats(120.0, 22000.0))
    base = volts**2 / watts
    leak = 0.08 * draw(ratio) * base
    inner = 0.045 * draw(ratio) * base
    cages = [Cage(inner, leak * (1.0 + draw(st.floats(0.2, 4.0))))]
    if draw(st.booleans()):
        cages.append(Cage(inner * (1.0 + draw(st.floats(0.05, 3.0))), leak))
    law = draw(st.sampled_from([None, Saturation(0.2, 4.0), Saturation(0.45, 6.0)]))
    hertz = draw(st.sampled_from([50.0, 60.0]))
    poles = draw(st.sampled_from([2, 4, 6, 8]))
    return Circuit(
        line_voltage_v=volts, frequency_hz=hertz, poles=poles,
        stator_resistance_ohm=0.05 * draw(ratio) * base, stator_leakage_ohm=leak,
        magnetising_ohm=1.8 * draw(ratio) * base, saturation=law,
        core_loss_ohm=30.0 * draw(ratio) * base, cages=tuple(cages),
        friction_w=0.012 * draw(ratio) * watts, stray_w=0.005 * watts, inertia_kg_m2=0.01,
        rated_current_a=watts / (math.sqrt(3.0) * volts * 0.65),
        rated_speed_rpm=120.0 * hertz / poles * 0.96,
    )  # fmt: skip


@given(circuits(), st.floats(-0.5, 1.5), st.floats(0.5, 1.3))
@settings(deadline=None, max_examples=150)
def test_input_is_output_and_losses(circuit: Circuit, slip: float, volts: float) -> None:
    now = at_slip(circuit, slip, circuit.line_voltage_v * volts)
    size = abs(now.input_power_w) + now.loss_w
    assert now.input_power_w - now.shaft_power_w - now.loss_w == pytest.approx(0, abs=1e-9 * size)


@given(circuits(), st.floats(0.2, 4.0))
@settings(deadline=None, max_examples=60)
def test_relinking_changes_no_torque_no_power_and_no_ratio(circuit: Circuit, k: float) -> None:
    other = circuit.relinked(circuit.line_voltage_v * k)
    for mine, its in ((rated(circuit), rated(other)), (locked(circuit), locked(other))):
        assert its.current_a * k == pytest.approx(mine.current_a, rel=1e-9)
        assert its.airgap_torque_nm == pytest.approx(mine.airgap_torque_nm, rel=1e-9)
        assert its.power_factor == pytest.approx(mine.power_factor, rel=1e-9)
        assert its.flux_ratio == pytest.approx(mine.flux_ratio, rel=1e-9)
    assert breakdown(other).airgap_torque_nm == pytest.approx(
        breakdown(circuit).airgap_torque_nm, rel=1e-9
    )


@given(circuits(), st.floats(0.3, 0.95))
@settings(deadline=None, max_examples=60)
def test_less_volts_less_torque_and_a_lower_speed(circuit: Circuit, k: float) -> None:
    lower = circuit.line_voltage_v * k
    assert locked(circuit, lower).airgap_torque_nm < locked(circuit).airgap_torque_nm
    top = breakdown(circuit, lower).airgap_torque_nm
    assert top < breakdown(circuit).airgap_torque_nm
    torque = 0.4 * top
    friction = circuit.friction_w / (circuit.rated_speed_rpm * math.pi / 30.0)
    assume(torque + 2.0 * friction < 0.9 * top)
    assert at_torque(circuit, torque, lower).slip > at_torque(circuit, torque).slip


@given(circuits(), st.floats(1.02, 1.4))
@settings(deadline=None, max_examples=60)
def test_saturation_makes_the_idle_current_rise_faster_than_the_volts(
    circuit: Circuit, k: float
) -> None:
    more = no_load(circuit, circuit.line_voltage_v * k).reactive_power_var / k
    grown = more / no_load(circuit).reactive_power_var
    if circuit.saturation is None:
        assert grown < k * 1.05
    else:
        linear = replace(circuit, saturation=None)
        plain = no_load(linear, circuit.line_voltage_v * k).reactive_power_var / k
        assert grown > plain / no_load(linear).reactive_power_var


@given(circuits(), st.floats(0.05, 0.9), st.floats(0.05, 0.9))
@settings(deadline=None, max_examples=60)
def test_more_load_means_more_slip_and_more_input(circuit: Circuit, a: float, b: float) -> None:
    top = at_torque(circuit, 0.0).shaft_torque_nm
    limit = 0.9 * breakdown(circuit).airgap_torque_nm
    low, high = sorted((a * limit, b * limit))
    if high - low < 1e-6 * limit or high >= limit or low < top:
        return
    light, heavy = at_torque(circuit, 0.9 * low), at_torque(circuit, 0.9 * high)
    assert light.slip < heavy.slip
    assert light.input_power_w < heavy.input_power_w
