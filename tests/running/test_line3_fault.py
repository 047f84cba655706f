"""The earth fault of line 3: against the settled network, by hand, and the relations it must keep."""

from __future__ import annotations

import cmath
import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from reference_machines import M2K2, M4K0, NO_LOAD, saturating_by

from phasewright.network.supply import Source
from phasewright.quantities.errors import NotComputable
from phasewright.running.line3_fault import line3_fault
from phasewright.running.network import Between, Connected, LoadLaw, Network
from phasewright.running.settle import settle

STIFF = Source(230.0, 1e-5, 1e-5, 50.0)
TOWN = Source(230.0, 0.2, 0.1, 50.0)
A = cmath.exp(2j * math.pi / 3.0)


def converter(circuit, c23, c31, source=STIFF):
    return Network(source, Between(0.0, c23, c31), (Connected("idler", circuit, NO_LOAD),))


@pytest.mark.parametrize("ohm", [0.15, 0.5, 5.0, 80.0])
@pytest.mark.parametrize("circuit", [M2K2, M4K0, saturating_by(M4K0, 0.45, 6.0)])
def test_on_a_stiff_supply_it_is_a_resistor_across_2_3_of_the_settled_network(circuit, ohm):
    """Line 2 on earth behind nothing: the fault is a resistor between lines 2 and 3, which the
    network of settled operation solves another way (all unknowns at once)."""
    network = converter(circuit, 40e-6, 60e-6)
    ours = line3_fault(network, complex(ohm), "line_2")
    theirs = settle(replace(network, conductance_s=Between(0.0, 1.0 / ohm, 0.0)))
    assert ours.settled_a == pytest.approx(theirs.line_voltages_v[1] / ohm, rel=1e-4)


def test_by_hand_with_line_3_dead_on_earth():
    """A dead fault on a stiff supply leaves V, 0, 0 on the lines: both sequences are V/3, and line 3
    takes V/3 (a y_p + a^2 y_n) of the machine and w C31 V of the capacitor."""
    network = converter(M4K0, 0.0, 60e-6)
    ours = line3_fault(network, 1e-4 + 0j, "line_2")
    slip = settle(replace(network, conductance_s=Between(0.0, 1e4, 0.0))).machines[0].slip

    def admittance(s):
        rotor = sum(s / complex(c.resistance_ohm, s * c.leakage_ohm) for c in M4K0.cages)
        gap = 1.0 / (rotor + 1.0 / complex(0.0, M4K0.magnetising_ohm))
        stator = complex(M4K0.stator_resistance_ohm, M4K0.stator_leakage_ohm)
        return 1.0 / (stator + gap) + 1.0 / M4K0.core_loss_ohm

    machine = 230.0 / 3.0 * (A * admittance(slip) + A * A * admittance(2.0 - slip))
    capacitor = 1j * 2.0 * math.pi * 50.0 * 60e-6 * -230.0
    assert ours.settled_a == pytest.approx(abs(machine + capacitor), rel=2e-3)


@pytest.mark.parametrize(
    ("circuit", "bank", "amps"),
    [
        (M2K2, (26e-6, 35e-6), {0.15: 28.0, 0.5: 27.0}),
        (M4K0, (48e-6, 63e-6), {0.15: 51.0, 0.5: 48.0}),
    ],
)
def test_the_trade_s_computed_figures(circuit, bank, amps):
    """Computed beforehand by another program for these idlers, 230 V line to neutral."""
    for ohm, expected in amps.items():
        ours = line3_fault(converter(circuit, *bank, source=TOWN), complex(ohm), "line_2")
        assert ours.settled_a == pytest.approx(expected, rel=0.03)
        assert 3.2 < ours.settled_a / circuit.rated_current_a < 3.8


def test_through_earth_rods_it_is_ten_amps_or_so():
    for circuit in (M2K2, M4K0):
        ours = line3_fault(converter(circuit, 40e-6, 50e-6, TOWN), 20.0 + 0j, "line_2")
        assert 8.0 < ours.settled_a < 11.5


@settings(max_examples=25, deadline=None)
@given(
    ohm=st.floats(0.05, 60.0), more=st.floats(1.05, 3.0), r=st.floats(0.01, 1.0),
    c=st.floats(5e-6, 90e-6), point=st.sampled_from(["line_2", "centre"]),
)  # fmt: skip
def test_a_longer_loop_never_draws_more(ohm, more, r, c, point):
    network = converter(M4K0, 0.7 * c, c, Source(230.0, r, 0.6 * r, 50.0))
    short, long = (line3_fault(network, complex(z), point) for z in (ohm, ohm * more))
    assert long.settled_a < short.settled_a * (1.0 + 1e-6)
    assert long.first_cycles_a < short.first_cycles_a * (1.0 + 1e-6)
    assert short.first_cycles_a > short.settled_a


def test_the_thevenin_pair_is_exact_at_its_own_loop_and_near_beside_it():
    network = converter(M4K0, 48e-6, 63e-6, TOWN)
    one, other = line3_fault(network, 0.3 + 0j, "line_2"), line3_fault(network, 0.6 + 0j, "line_2")
    assert one.through(0.3 + 0j) == pytest.approx(one.settled_a, rel=1e-9)
    assert one.through(0.6 + 0j) == pytest.approx(other.settled_a, rel=0.01)


def test_a_motor_beside_the_idler_feeds_the_fault_too():
    alone = converter(M4K0, 48e-6, 63e-6, TOWN)
    motor = Connected("mill", M2K2, LoadLaw("constant", 8.0, 150.0))
    both = replace(alone, machines=(*alone.machines, motor))
    assert (
        line3_fault(both, 0.5 + 0j, "line_2").settled_a
        > line3_fault(alone, 0.5 + 0j, "line_2").settled_a
    )


def test_a_motor_that_a_fault_pulls_down_is_told_as_standing():
    network = Network(TOWN, Between(0.0, 0.0, 60e-6),
                      (Connected("mill", M2K2, LoadLaw("constant", 14.0, 150.0)),))  # fmt: skip
    found = line3_fault(network, 0.3 + 0j, "line_2")
    assert found.stalls
    assert found.settled_a > 0.0


def test_a_loop_without_resistance_is_refused():
    with pytest.raises(NotComputable):
        line3_fault(converter(M4K0, 48e-6, 63e-6), 0j, "line_2")
