"""Relations that hold in every settled three-line network."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from reference_machines import I4A, I4C, L2A, M0K75, M1K5, M2K2, M4K0, scaled

from phasewright.machines.circuit import Circuit
from phasewright.machines.performance import at_torque
from phasewright.network.balance import balancing_capacitances
from phasewright.network.supply import Source
from phasewright.quantities.errors import NoOperatingPoint
from phasewright.running.network import Between, Connected, LoadLaw, Network, Settled
from phasewright.running.settle import at_slips, locked, settle

LINEAR, SATURATING = (M4K0, M2K2, M1K5, M0K75), (I4A, I4C, L2A)
QUICK = settings(deadline=None, max_examples=60)


@st.composite
def networks(draw: st.DrawFn, circuits: tuple[Circuit, ...] = LINEAR + SATURATING) -> Network:
    """An idler, up to three motors with stray loss, capacitors, resistors and a supply."""
    farads = st.floats(0.0, 120e-6)
    siemens = st.floats(0.0, 2e-3)
    source = Source(
        draw(st.floats(200.0, 260.0)), draw(st.floats(0.0, 0.8)), draw(st.floats(0.0, 0.6)),
        draw(st.sampled_from([50.0, 60.0])),
    )  # fmt: skip
    idler = scaled(draw(st.sampled_from((M4K0, I4A, I4C))), draw(st.floats(0.6, 2.0)))
    if circuits is LINEAR:
        idler = replace(idler, saturation=None)
    machines = [Connected("idler", idler, LoadLaw("none"))]
    for at in range(draw(st.integers(0, 3))):
        circuit = replace(draw(st.sampled_from(circuits)), stray_w=draw(st.floats(0.0, 20.0)))
        kind = draw(st.sampled_from(("none", "constant", "fan", "viscous")))
        torque = draw(st.floats(0.0, 4.0))
        machines.append(Connected(f"m{at}", circuit, LoadLaw(kind, torque, 150.0)))
    return Network(
        source, Between(draw(farads), draw(farads), draw(farads)), tuple(machines),
        Between(draw(siemens), draw(siemens), draw(siemens)),
    )  # fmt: skip


def settled(shop: Network) -> Settled:
    try:
        return settle(shop)
    except NoOperatingPoint:
        assume(False)
        raise


def numbers(point: Settled) -> list[float]:
    found = [
        *point.line_voltages_v, *point.capacitor_currents_a, point.vuf, point.nema,
        point.supply_current_a, point.supply_power_w, point.supply_reactive_var,
    ]  # fmt: skip
    for m in point.machines:
        found += [m.slip, m.shaft_torque_nm, m.input_power_w, m.loss_w, m.flux_ratio]
        found += [*m.line_currents_a, *m.winding_currents_a]
    return found


@QUICK
@given(shop=networks())
def test_power_in_is_power_out_and_losses(shop: Network) -> None:
    point = settled(shop)
    drawn = sum(machine.input_power_w for machine in point.machines)
    assert point.supply_power_w == pytest.approx(drawn + point.resistive_loads_w, rel=1e-9)
    for machine in point.machines:
        assert machine.input_power_w == pytest.approx(
            machine.shaft_power_w + machine.loss_w, rel=1e-9, abs=1e-7
        )
        assert min(
            machine.stator_loss_w, machine.rotor_loss_w, machine.core_loss_w,
            machine.friction_loss_w, machine.stray_loss_w,
        ) >= 0.0  # fmt: skip
    sent = shop.source.voltage_v * point.supply_current_a
    assert point.supply_power_w + point.supply_line_loss_w <= sent * (1 + 1e-9)
    assert all(math.isfinite(number) for number in numbers(point))


@QUICK
@given(shop=networks())
def test_line_currents_of_every_machine_can_sum_to_zero(shop: Network) -> None:
    point = settled(shop)
    for machine in point.machines:
        largest = max(machine.line_currents_a)
        assert largest <= (sum(machine.line_currents_a) - largest) * (1 + 1e-9) + 1e-12
        # three lines and three delta windings: squares of sequences add the same way
        lines = sum(amps**2 for amps in machine.line_currents_a)
        windings = sum(amps**2 for amps in machine.winding_currents_a)
        assert lines == pytest.approx(3.0 * windings, rel=1e-9)


@QUICK
@given(shop=networks())
def test_torque_meets_the_load_at_the_settled_speed(shop: Network) -> None:
    point = settled(shop)
    for connected, machine in zip(shop.machines, point.machines, strict=True):
        ratio = machine.speed_rpm * math.pi / 30.0 / connected.load.speed_rad_s
        asked = {
            "none": 0.0, "constant": 1.0, "fan": ratio * abs(ratio), "viscous": ratio,
        }[connected.load.kind] * connected.load.torque_nm  # fmt: skip
        assert machine.shaft_torque_nm == pytest.approx(asked, abs=1e-6)


@QUICK
@given(shop=networks(LINEAR), k=st.floats(0.3, 4.0))
def test_linear_network_volts_times_k_impedance_times_k_squared(shop: Network, k: float) -> None:
    def times(z: Between, factor: float) -> Between:
        return Between(z.c12 * factor, z.c23 * factor, z.c31 * factor)

    source = shop.source
    taller = Network(
        Source(k * source.voltage_v, k * k * source.resistance_ohm, k * k * source.reactance_ohm,
               source.frequency_hz),
        times(shop.capacitance_f, 1 / k**2),
        tuple(
            replace(machine, circuit=machine.circuit.relinked(k * machine.circuit.line_voltage_v))
            for machine in shop.machines
        ),
        times(shop.conductance_s, 1 / k**2),
    )  # fmt: skip
    one, other = settled(shop), settled(taller)
    assert other.vuf == pytest.approx(one.vuf, rel=1e-6, abs=1e-9)
    assert other.supply_power_w == pytest.approx(one.supply_power_w, rel=1e-7)
    assert other.line_voltages_v == pytest.approx([k * v for v in one.line_voltages_v], rel=1e-7)
    for machine, same in zip(one.machines, other.machines, strict=True):
        assert same.slip == pytest.approx(machine.slip, rel=1e-6, abs=1e-9)


@QUICK
@given(shop=networks())
def test_exchanging_lines_one_and_two(shop: Network) -> None:
    def exchanged(z: Between) -> Between:
        return Between(z.c12, z.c31, z.c23)

    mirror = Network(
        shop.source, exchanged(shop.capacitance_f),
        tuple(replace(machine, reversed=True) for machine in shop.machines),
        exchanged(shop.conductance_s),
    )  # fmt: skip
    one, other = settled(shop), settled(mirror)
    v12, v23, v31 = one.line_voltages_v
    assert other.line_voltages_v == pytest.approx((v12, v31, v23), rel=1e-8)
    assert other.supply_current_a == pytest.approx(one.supply_current_a, rel=1e-8)
    for machine, same in zip(one.machines, other.machines, strict=True):
        i1, i2, i3 = machine.line_currents_a
        assert same.line_currents_a == pytest.approx((i2, i1, i3), rel=1e-7, abs=1e-9)
        assert same.slip == pytest.approx(machine.slip, rel=1e-7, abs=1e-10)


@QUICK
@given(shop=networks(), stiffer=st.floats(0.0, 0.95))
def test_a_stiffer_supply_never_lowers_the_volts_of_a_start(shop: Network, stiffer: float) -> None:
    source = shop.source
    better = replace(
        source, resistance_ohm=stiffer * source.resistance_ohm,
        reactance_ohm=stiffer * source.reactance_ohm,
    )  # fmt: skip
    name = shop.machines[-1].name
    no_capacitor = replace(shop, capacitance_f=Between(0.0, 1e-6, 1e-6))
    try:
        weak = locked(no_capacitor, name)
        stiff = locked(replace(no_capacitor, source=better), name)
    except NoOperatingPoint:
        assume(False)
        raise
    assert stiff.line_voltages_v[0] >= weak.line_voltages_v[0] * (1 - 1e-9)


@QUICK
@given(shop=networks())
def test_order_of_machines_changes_nothing(shop: Network) -> None:
    one, other = settled(shop), settled(replace(shop, machines=shop.machines[::-1]))
    assert other.line_voltages_v == pytest.approx(one.line_voltages_v, rel=1e-8)
    for machine, same in zip(one.machines, other.machines[::-1], strict=True):
        assert same.name == machine.name
        assert same.slip == pytest.approx(machine.slip, rel=1e-6, abs=1e-10)


@QUICK
@given(shop=networks(SATURATING), k=st.floats(0.5, 2.0))
def test_saturation_scales_with_volts_and_torque(shop: Network, k: float) -> None:
    # volts and knee fluxes times k, torques and losses times k squared: currents times k
    source = replace(shop.source, voltage_v=k * shop.source.voltage_v)
    machines = tuple(
        replace(
            machine,
            circuit=replace(
                machine.circuit, line_voltage_v=k * machine.circuit.line_voltage_v,
                friction_w=k * k * machine.circuit.friction_w,
                stray_w=k * k * machine.circuit.stray_w,
                rated_current_a=k * machine.circuit.rated_current_a,
            ),
            load=replace(machine.load, torque_nm=k * k * machine.load.torque_nm),
        )
        for machine in shop.machines
    )  # fmt: skip
    one, other = settled(shop), settled(replace(shop, source=source, machines=machines))
    assert other.line_voltages_v == pytest.approx([k * v for v in one.line_voltages_v], rel=1e-7)
    assert other.supply_current_a == pytest.approx(k * one.supply_current_a, rel=1e-6, abs=1e-7)
    for machine, same in zip(one.machines, other.machines, strict=True):
        assert same.slip == pytest.approx(machine.slip, rel=1e-6, abs=1e-9)


@QUICK
@given(
    circuit=st.sampled_from(LINEAR + SATURATING), share=st.floats(0.0, 0.6),
    stray=st.floats(0.0, 30.0),
)  # fmt: skip
def test_balanced_by_capacitors_it_runs_as_on_three_phases(
    circuit: Circuit, share: float, stray: float
) -> None:
    circuit = replace(circuit, stray_w=stray)
    torque = share * 0.06 * circuit.rated_current_a * 25.0
    alone = at_torque(circuit, torque)
    need = balancing_capacitances(alone.input_power_w, alone.reactive_power_var, 230.0, 50.0)
    shop = Network(
        Source(230.0, 0.0, 0.0, 50.0), Between(0.0, need.c23_f, need.c31_f),
        (Connected("motor", circuit, LoadLaw("constant", torque)),),
    )  # fmt: skip
    point = at_slips(shop, (alone.slip,))
    machine = point.machines[0]
    assert point.vuf < 1e-7
    assert machine.line_currents_a == pytest.approx((alone.current_a,) * 3, rel=1e-6)
    assert machine.winding_currents_a == pytest.approx(
        (alone.current_a / math.sqrt(3.0),) * 3, rel=1e-6
    )
    assert machine.input_power_w == pytest.approx(alone.input_power_w, rel=1e-6)
    assert machine.shaft_torque_nm == pytest.approx(torque, rel=1e-6, abs=1e-7)
    assert machine.flux_ratio == pytest.approx(alone.flux_ratio, rel=1e-6)
