"""Several idlers on one set of lines: they behave like one of the sum, and start more gently."""

from __future__ import annotations

from dataclasses import replace

import pytest
from reference_machines import M2K2, M4K0, TOWN, constant, rated_torque, uf

from phasewright.machines.performance import at_slip
from phasewright.machines.standard import standard_motor
from phasewright.network.supply import Source
from phasewright.running.converter import Converter, on_converter
from phasewright.running.network import Connected
from phasewright.running.settle import settle
from phasewright.ways.converter_design import design
from phasewright.ways.converter_start import start_of, start_through
from phasewright.ways.idlers import Idler

T22 = rated_torque(2200, 1445)
BANK = uf(0, 60, 100)
WEAK = Source(230.0, 0.5, 0.3, 50.0)


def half(circuit):
    """A machine of half the size with the same data per unit: every impedance doubled."""
    iron = circuit.saturation
    return replace(
        circuit,
        stator_resistance_ohm=2.0 * circuit.stator_resistance_ohm,
        stator_leakage_ohm=2.0 * circuit.stator_leakage_ohm,
        magnetising_ohm=2.0 * circuit.magnetising_ohm,
        core_loss_ohm=None if circuit.core_loss_ohm is None else 2.0 * circuit.core_loss_ohm,
        cages=tuple(
            replace(
                cage,
                resistance_ohm=2.0 * cage.resistance_ohm,
                leakage_ohm=2.0 * cage.leakage_ohm,
            )
            for cage in circuit.cages
        ),
        friction_w=0.5 * circuit.friction_w,
        stray_w=0.5 * circuit.stray_w,
        saturation=iron,
    )


@pytest.mark.parametrize("share", [0.0, 0.5, 1.0])
def test_two_of_half_the_size_are_one_of_the_sum(share):
    one = Converter(4000.0, M4K0, BANK)
    two = Converter(4000.0, half(M4K0), BANK, beside=(half(M4K0),))
    mill = Connected("mill", M2K2, constant(share * T22))
    big, pair = (settle(on_converter(TOWN, of, (mill,))) for of in (one, two))
    assert pair.line_voltages_v == pytest.approx(big.line_voltages_v, rel=1e-6)
    assert pair.supply_power_w == pytest.approx(big.supply_power_w, rel=1e-6)
    first, second = pair.machines[:2]
    assert (first.name, second.name) == ("idler", "idler 2")
    for each in (first, second):
        assert [2.0 * amps for amps in each.line_currents_a] == pytest.approx(
            big.machines[0].line_currents_a, rel=1e-6
        )


def usual(*powers):
    first, *beside = (standard_motor(power, 230.0, 50.0, year=2005) for power in powers)
    return Converter(sum(powers), first, BANK, beside=tuple(beside))


def test_two_usual_idlers_come_near_the_one_of_their_sum():
    """Each bank tuned for its idlers alone: what is left is their negative sequence admittance,
    per unit nearly that of the larger motor (within 1 % here, by the circuits alone)."""
    mill = Connected("mill", M2K2, constant(T22))
    vufs, amps = [], []
    for idlers in ((Idler(5500.0),), (Idler(3000.0), Idler(2500.0))):
        of = design(TOWN, idlers, ()).converter
        assert settle(on_converter(TOWN, of, ())).vuf < 0.002
        vufs.append(settle(on_converter(TOWN, of, (mill,))).vuf)
        amps.append(sum(at_slip(each.circuit, 2.0).current_a for each in of.idlers))
    assert amps[1] == pytest.approx(amps[0], rel=0.03)
    assert vufs[1] == pytest.approx(vufs[0], rel=0.03)


def test_started_one_after_the_other_they_are_easier_on_the_supply():
    one, two = usual(7500.0), usual(4000.0, 3500.0)
    f_one, f_two = uf(0, 90, 150), uf(0, 90, 150)
    one, two = replace(one, run_f=f_one), replace(two, run_f=f_two)
    all_at_once = start_through(WEAK, replace(one, start_f=400e-6), 0.0)
    in_turn = start_through(WEAK, replace(two, start_f=200e-6), 0.0)
    assert all_at_once.runs_up
    assert in_turn.runs_up
    assert in_turn.supply_a < all_at_once.supply_a
    assert in_turn.dip_ratio < all_at_once.dip_ratio


def test_the_start_that_is_told_is_the_hardest_of_them():
    """The start of both is never easier than that of the first alone."""
    two = usual(4000.0, 3500.0)
    start_f, told = start_of(WEAK, two)
    first = start_through(WEAK, replace(two.started_first, start_f=start_f), told.resistor_ohm)
    assert told.dip_ratio >= first.dip_ratio
    assert told.supply_a >= first.supply_a
    assert told.seconds > first.seconds


def test_a_resistor_is_taken_that_still_turns_the_idler():
    """On a soft supply a resistor, and the idler still runs up through it."""
    soft = Source(230.0, 0.8, 0.45, 50.0)
    _, told = start_of(soft, usual(3000.0, 2500.0))
    assert told.method == "series_resistor"
    assert told.resistor_ohm > 0.0
    assert told.runs_up
