"""A rectifier on a converter's lines: both sides agree, and more of it never helps line 3."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from reference_machines import (
    FARM,
    I4A,
    M1K5,
    M2K2,
    M4K0,
    NO_LOAD,
    TOWN,
    constant,
    network,
    rated_torque,
    uf,
)  # fmt: skip

from phasewright.network.unbalance import vuf
from phasewright.quantities.errors import NoOperatingPoint, NotComputable
from phasewright.running.converter import in_parallel
from phasewright.running.network import Between
from phasewright.running.rectifier import (
    Rectifier,
    line3_fast_ohm,
    line3_thevenin,
    phasors_of,
    standstill_ohm,
    with_rectifier,
)
from phasewright.running.settle import settle

T22 = rated_torque(2200, 1445)


USUAL = uf(0, 60, 60)


def idling(source=TOWN, machine=M4K0, bank=USUAL):
    return network(source, bank, ("idler", machine, NO_LOAD))


def rectifier(power_w: float) -> Rectifier:
    return Rectifier(power_w, 400e-9 * power_w)


converters = st.builds(
    lambda source, machine, c23, c31, power: (idling(source, machine, uf(0, c23, c31)), power),
    st.sampled_from([TOWN, FARM]),
    st.sampled_from([M4K0, I4A, M2K2]),
    st.floats(0.0, 80.0),
    st.floats(0.0, 120.0),
    st.floats(100.0, 5000.0),
)


@given(converters)
@settings(deadline=None, max_examples=40)
def test_the_network_gives_what_the_rectifier_takes(case) -> None:
    shop, power_w = case
    try:
        found = with_rectifier(shop, rectifier(power_w))
    except (NoOperatingPoint, NotComputable):
        assume(False)
        raise
    settled, bridge = found.settled, found.bridge
    # the same volts on both sides, to the misfit allowed
    for one, other in zip(settled.line_voltages_v, bridge.pair_volts_v, strict=True):
        assert one == pytest.approx(abs(other), rel=1e-5)
    assert settled.vuf == pytest.approx(vuf(bridge.pair_volts_v), abs=1e-5)
    # watts of the fundamentals, pair by pair; harmonics carry what is left
    first_w = sum(
        (v * i.conjugate()).real
        for v, i in zip(bridge.pair_volts_v, bridge.pair_currents_a, strict=True)
    )
    assert settled.resistive_loads_w == pytest.approx(first_w, rel=1e-5)
    taken_w = sum(machine.input_power_w for machine in settled.machines) + first_w
    assert settled.supply_power_w == pytest.approx(taken_w, rel=1e-6)


TUNED = [idling(), idling(FARM), idling(TOWN, I4A), idling(TOWN, M1K5, uf(0, 20, 25))]


@pytest.mark.parametrize("shop", TUNED)
def test_a_rectifier_of_any_power_lowers_a_tuned_line_3(shop) -> None:
    """By the sum of v23 and v31: with far too much capacitance the one rises as the other falls.

    It does not fall ever further with the power: as the link sags under its ripple the stiff pair
    takes over, which relieves line 3.
    """
    bare = settle(shop).line_voltages_v
    shares = []
    for power_w in (50, 200, 500, 1000, 2000, 4000, 7000):
        found = with_rectifier(shop, rectifier(power_w))
        assert sum(found.settled.line_voltages_v[1:]) < sum(bare[1:])
        assert found.settled.line_voltages_v[0] < bare[0]
        shares.append(found.bridge.pair_shares[0])
    # from some half of the idler's size on the stiff pair gives most, and ever more
    assert all(more > less for less, more in pairwise(shares[2:]))
    assert shares[-1] > 0.8


def test_a_motor_beside_it_sees_less_even_lines() -> None:
    shop = network(TOWN, uf(0, 25, 118), ("idler", M4K0, NO_LOAD), ("motor", M2K2, constant(T22)))
    alone, beside = settle(shop), with_rectifier(shop, rectifier(2000.0)).settled
    assert beside.nema > alone.nema
    assert beside.machines[1].loss_w > alone.machines[1].loss_w


def test_a_larger_idler_holds_line_3_stiffer() -> None:
    small, large = idling(TOWN, M1K5, uf(0, 22, 22)), idling(TOWN, M4K0)
    assert abs(line3_fast_ohm(large)) < abs(line3_fast_ohm(small))
    assert abs(line3_thevenin(large)[1]) < abs(line3_thevenin(small)[1])
    shares = [with_rectifier(each, rectifier(1500.0)).bridge.pair_shares[0]
              for each in (large, small)]  # fmt: skip
    assert shares[0] < shares[1]


def test_the_thevenin_equivalent_foretells_a_further_load() -> None:
    """A load ten times the one it was found with, iron saturating: within a tenth of the fall."""
    shop = idling(TOWN, I4A)
    open_v, ohm = line3_thevenin(shop)
    siemens = 1e-2 / abs(line3_fast_ohm(shop))
    half = Between(0.0, 0.5 * siemens, 0.5 * siemens)
    loaded = settle(replace(shop, conductance_s=in_parallel(shop.conductance_s, half)))
    v1, _, v3 = phasors_of(loaded.line_voltages_v)
    behind = open_v - 0.5 * phasors_of(settle(shop).line_voltages_v)[0]
    foretold = behind / (1.0 + siemens * ohm)
    assert abs(v3 - 0.5 * v1 - foretold) < 0.1 * abs(behind - foretold)


def test_a_fast_change_meets_less_than_a_settled_one() -> None:
    """Settled, half of the change is a positive sequence that the turning rotor hardly holds."""
    assert abs(line3_fast_ohm(idling())) < abs(line3_thevenin(idling())[1])


def test_standstill_is_stator_and_both_cages_beside_the_iron_by_hand() -> None:
    rotor = 1 / (1 / (1j * M4K0.magnetising_ohm) + sum(
        1 / complex(cage.resistance_ohm, cage.leakage_ohm) for cage in M4K0.cages
    ))  # fmt: skip
    hand = complex(M4K0.stator_resistance_ohm, M4K0.stator_leakage_ohm) + rotor
    assert abs(standstill_ohm(M4K0, 50.0) - hand) < 1e-12
    assert line3_fast_ohm(idling()) == pytest.approx(1.5 * hand)


def test_volts_of_three_readings_close_their_triangle() -> None:
    v1, v2, v3 = phasors_of((230.0, 221.0, 214.0))
    assert v2 == 0
    assert [abs(v1 - v2), abs(v2 - v3), abs(v3 - v1)] == pytest.approx([230.0, 221.0, 214.0])
    even = phasors_of((230.0, 230.0, 230.0))
    assert vuf((even[0] - even[1], even[1] - even[2], even[2] - even[0])) < 1e-12
    assert even[2].imag == pytest.approx(230.0 * math.sqrt(0.75))


def test_what_the_supply_cannot_give_is_refused() -> None:
    with pytest.raises(NotComputable):
        with_rectifier(idling(FARM), rectifier(40_000.0))
