"""Direct current in the winding: torque against speed, and how long it takes to stop a shaft."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from reference_machines import L2A, M2K2

from phasewright.machines.circuit import Cage, Circuit
from phasewright.machines.injection import injection_stop_s, injection_torque_nm

AMPS = 8.027
J = 5 * 0.0075


def linear(circuit: Circuit) -> Circuit:
    return replace(circuit, saturation=None)


@pytest.mark.parametrize("rad_s", [1.0, 10.0, 50.0, 157.0])
def test_without_saturation_it_is_the_closed_form(rad_s):
    """T = 3/2 p (sqrt(2) I)^2 Re Zp0 / wr: the same circuit written as one impedance."""
    of = linear(M2K2)
    w0, p = 2.0 * math.pi * of.frequency_hz, of.poles / 2
    wr = p * rad_s
    admittance = 1.0 / (1j * wr * of.magnetising_ohm / w0)
    admittance += sum(
        1.0 / (cage.resistance_ohm + 1j * wr * cage.leakage_ohm / w0) for cage in of.cages
    )
    expected = 1.5 * p * 2.0 * AMPS**2 * (1.0 / admittance).real / wr
    assert injection_torque_nm(of, AMPS, rad_s) == pytest.approx(expected, rel=1e-9)


def test_an_iron_that_saturates_gives_less_where_the_flux_is_high_and_as_much_where_it_is_low():
    slow, fast = 3.0, 157.0
    assert injection_torque_nm(L2A, AMPS, slow) < injection_torque_nm(linear(L2A), AMPS, slow)
    unsaturated = replace(
        linear(L2A), magnetising_ohm=L2A.magnetising_ohm * (1.0 + L2A.saturation.k)
    )
    assert injection_torque_nm(L2A, AMPS, fast) == pytest.approx(
        injection_torque_nm(unsaturated, AMPS, fast), rel=1e-3
    )


def test_it_holds_nothing_at_rest_and_is_strongest_just_before():
    speeds = np.geomspace(0.01, 157.0, 200)
    torques = np.array([injection_torque_nm(L2A, AMPS, float(w)) for w in speeds])
    assert injection_torque_nm(L2A, AMPS, 0.0) == 0.0
    assert torques[0] < 0.02 * torques.max()
    assert speeds[torques.argmax()] < 0.15 * 157.0
    rising = np.diff(torques) > 0
    assert rising[: torques.argmax()].all()
    assert not rising[torques.argmax() :].any()


@pytest.mark.parametrize("rad_s", [2.0, 30.0, 157.0])
def test_more_amps_brake_harder_and_never_by_more_than_their_square(rad_s):
    one, two = (injection_torque_nm(L2A, k * AMPS, rad_s) for k in (1.0, 2.0))
    assert one < two
    unsaturated = [injection_torque_nm(linear(L2A), k * AMPS, rad_s) for k in (1.0, 2.0)]
    assert unsaturated[1] == pytest.approx(4.0 * unsaturated[0])


@pytest.mark.parametrize(
    ("share", "whole_s", "peak"),
    [(0.5, 9.114, 0.28), (1.0, 2.673, 1.11), (1.5, 1.231, 2.50), (2.0, 0.701, 4.44)],
)
def test_the_time_of_a_stop_is_that_of_another_model_of_ours(share, whole_s, peak):
    """2.2 kW, five times the rotor's inertia, from 1,500 rpm to 5 rad/s: a table computed with a
    model of its own, linear."""
    of = linear(M2K2)
    found = injection_stop_s(of, share * AMPS, J, 157.08, 5.0)
    assert found == pytest.approx(whole_s, rel=0.02)
    speeds = np.geomspace(5.0, 157.0, 300)  # as far as the table goes
    strongest = max(injection_torque_nm(of, share * AMPS, float(w)) for w in speeds)
    assert strongest / 14.54 == pytest.approx(peak, rel=0.02)


def test_dubey_example_6_6_at_its_greatest_torque():
    """Dubey, Fundamentals of Electrical Drives, 2nd ed., example 6.6 (p. 171): 12 A of direct
    current through two leads of a star are 9.798 A rms, Xr 3.01, Rr 4.575 ohm, four poles, 50 Hz;
    there the magnetising branch is 246 V at 4.9 A: 37.5 N m at 225 rpm."""
    of = replace(
        linear(M2K2), poles=4, frequency_hz=50.0, cages=(Cage(4.575, 3.01),),
        magnetising_ohm=246.0 / 4.9,
    )  # fmt: skip
    amps = 12.0 * math.sqrt(2.0 / 3.0)
    assert amps == pytest.approx(9.798, abs=5e-4)
    assert injection_torque_nm(of, amps, 225.0 * math.pi / 30.0) == pytest.approx(37.5, rel=0.01)


def test_a_heavier_shaft_takes_in_proportion_longer():
    one, two = (injection_stop_s(L2A, AMPS, k * J, 157.0, 5.0) for k in (1.0, 3.0))
    assert two == pytest.approx(3.0 * one)
    assert injection_stop_s(L2A, 1.2 * AMPS, J, 157.0, 5.0) < one
