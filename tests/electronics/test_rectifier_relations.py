"""What must hold for any bridge: energy, symmetry, scaling, and refusals in words."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from phasewright.electronics.common_supply import BridgeThere, Common, settle_common
from phasewright.electronics.rectifier import Bridge, settle_bridge
from phasewright.network.supply import Source
from phasewright.quantities.errors import NotComputable, UsageError

TOWN = Source(230.0, 0.25, 0.15, 50.0)

bridges = st.builds(
    lambda volts, hertz, r, x, power, per_kw, ac, dc: Bridge(
        Source(volts, r, x, hertz), per_kw * 1e-9 * power, power, ac_choke_h=ac, dc_choke_h=dc
    ),
    st.sampled_from([208.0, 230.0, 240.0]),
    st.sampled_from([50.0, 60.0]),
    st.floats(0.02, 0.8),
    st.floats(0.01, 0.8),
    st.floats(100.0, 4000.0),
    st.floats(200.0, 1000.0),
    st.sampled_from([0.0, 0.0, 1e-3, 4e-3]),
    st.sampled_from([0.0, 0.0, 2e-3, 8e-3]),
)


def settled(bridge: Bridge):
    try:
        return settle_bridge(bridge)
    except NotComputable:
        assume(False)
        raise


@given(bridges)
@settings(deadline=None, max_examples=60)
def test_power_in_is_power_out_and_losses_that_are_losses(bridge: Bridge) -> None:
    state = settled(bridge)
    assert state.link_power_w == pytest.approx(bridge.link_power_w, rel=1e-5)
    lost = state.input_power_w - state.link_power_w
    # diodes alone: two drops at the mean current and two resistances at the rms current
    rectified = state.link_power_w / state.link_mean_v
    diodes = 2 * 0.9 * rectified + 2 * 0.010 * state.current_a**2
    assert lost == pytest.approx(diodes, rel=0.02, abs=0.002 * bridge.link_power_w)
    assert state.power_factor <= 1.0
    assert state.current_a * state.service_voltage_v >= state.input_power_w


@given(bridges)
@settings(deadline=None, max_examples=60)
def test_harmonics_never_sum_to_more_than_the_rms(bridge: Bridge) -> None:
    state = settled(bridge)
    squares = sum(abs(entry) ** 2 for entry in state.harmonics_a)
    assert math.sqrt(squares) <= state.current_a * (1.0 + 1e-6)
    first = abs(state.harmonics_a[0])
    assert state.thd == pytest.approx(math.sqrt(state.current_a**2 - first**2) / first, rel=1e-9)
    assert state.link_min_v <= state.link_mean_v <= state.link_max_v
    assert state.crest >= 1.0


@given(bridges, st.floats(1.2, 3.0))
@settings(deadline=None, max_examples=40)
def test_volts_times_k_with_impedance_times_k_squared_changes_no_ratio(
    bridge: Bridge, k: float
) -> None:
    ideal = replace(bridge, diode_drop_v=0.0)
    square = k * k
    scaled = replace(
        ideal,
        source=Source(
            bridge.source.voltage_v * k,
            bridge.source.resistance_ohm * square,
            bridge.source.reactance_ohm * square,
            bridge.source.frequency_hz,
        ),
        capacitance_f=bridge.capacitance_f / square,
        ac_choke_h=bridge.ac_choke_h * square,
        dc_choke_h=bridge.dc_choke_h * square,
        diode_resistance_ohm=bridge.diode_resistance_ohm * square,
    )
    one, other = settled(ideal), settled(scaled)
    assert other.current_a * k == pytest.approx(one.current_a, rel=1e-4)
    assert other.thd == pytest.approx(one.thd, rel=1e-3)
    assert other.link_mean_v == pytest.approx(one.link_mean_v * k, rel=1e-4)


@pytest.mark.parametrize("power_w", [750.0, 2200.0, 4000.0])
def test_crest_falls_with_added_choke(power_w: float) -> None:
    crests = [
        settle_bridge(Bridge(TOWN, 400e-9 * power_w, power_w, ac_choke_h=mh * 1e-3)).crest
        for mh in (0.0, 1.0, 2.0, 4.0, 8.0)
    ]
    assert crests == sorted(crests, reverse=True)
    assert crests[-1] < 0.8 * crests[0]


@pytest.mark.parametrize("power_w", [750.0, 2200.0, 4000.0])
def test_with_growing_link_the_figures_converge(power_w: float) -> None:
    amps = [
        settle_bridge(Bridge(TOWN, per * 1e-9 * power_w, power_w)).current_a
        for per in (1000.0, 2000.0, 4000.0, 8000.0)
    ]
    steps = [abs(b - a) for a, b in pairwise(amps)]
    assert steps[0] > steps[1] > steps[2]
    assert steps[2] < 0.01 * amps[-1]


def test_a_resistance_takes_what_its_link_voltage_gives() -> None:
    state = settle_bridge(Bridge(TOWN, 1e-3, load_resistance_ohm=40.0))
    assert state.link_power_w >= state.link_mean_v**2 / 40.0
    assert state.link_power_w == pytest.approx(state.link_mean_v**2 / 40.0, rel=0.02)


def test_without_inductance_the_resistances_bound_it() -> None:
    """By the stepped network, which needs no inductance; a very small one hardly changes it."""
    for ohm in (0.1, 0.25, 0.8):
        source = Source(230.0, ohm, 0.0, 50.0)
        found = settle_bridge(Bridge(source, 880e-6, 2000.0))
        stepped = settle_common(Common(source, (BridgeThere(880e-6, 2000.0),)))
        assert found.current_a == pytest.approx(stepped.spectrum.current_a, rel=3e-3)
        assert found.peak_a == pytest.approx(stepped.peak_a, rel=3e-3)
        assert found.link_mean_v == pytest.approx(stepped.bridges[0].link_mean_v, rel=1e-3)
        near = settle_bridge(Bridge(replace(source, reactance_ohm=5e-4), 880e-6, 2000.0))
        assert found.current_a == pytest.approx(near.current_a, rel=0.01)
    # without any impedance the diodes' own resistance is left: more is drawn, and still bounded
    bare = settle_bridge(Bridge(Source(230.0, 0.0, 0.0, 50.0), 880e-6, 2000.0))
    assert bare.current_a > found.current_a
    assert bare.peak_a < 2.0**0.5 * 230.0 / 0.02
    assert bare.service_voltage_thd == pytest.approx(0.0, abs=1e-12)


def test_where_nothing_bounds_the_peak_it_says_so() -> None:
    with pytest.raises(NotComputable, match="nothing bounds"):
        settle_bridge(Bridge(Source(230.0, 0.0, 0.0, 50.0), 1e-3, 1000.0, diode_resistance_ohm=0.0))


def test_a_power_the_supply_cannot_give_is_refused() -> None:
    with pytest.raises(NotComputable, match="cannot give"):
        settle_bridge(Bridge(TOWN, 2e-3, 60_000.0))


@pytest.mark.parametrize(
    "wrong",
    [
        Bridge(TOWN, 0.0, 100.0),
        Bridge(TOWN, 1e-3),
        Bridge(TOWN, 1e-3, 100.0, 20.0),
        Bridge(TOWN, 1e-3, -5.0),
        Bridge(TOWN, 1e-3, math.nan),
        Bridge(TOWN, math.inf, 100.0),
        Bridge(TOWN, 1e-3, 100.0, ac_choke_h=-1e-3),
    ],
)
def test_what_is_no_bridge_is_wrong_use(wrong: Bridge) -> None:
    with pytest.raises(UsageError):
        settle_bridge(wrong)


@pytest.mark.parametrize("power_w", [750.0, 2200.0, 4000.0])
@pytest.mark.parametrize("where", ["ac_choke_h", "dc_choke_h"])
def test_more_choke_lowers_crest_and_distortion(power_w: float, where: str) -> None:
    """Up to where the current of a choke in the link no longer ceases (a choke of 10 % or so)."""
    states = [
        settle_bridge(
            replace(Bridge(TOWN, 400e-9 * power_w, power_w), **{where: share * 160.0 / power_w})
        )
        for share in (0.0, 0.01, 0.02, 0.04, 0.08)
    ]
    for figures in ([s.crest for s in states], [s.thd for s in states]):
        assert figures == sorted(figures, reverse=True)


@given(bridges)
@settings(deadline=None, max_examples=40)
def test_the_harmonics_told_are_nearly_the_whole_current(bridge: Bridge) -> None:
    state = settled(bridge)
    assume(state.crest < 4.0)  # shorter pulses hold more than forty
    whole = math.sqrt(sum(abs(entry) ** 2 for entry in state.harmonics_a))
    assert whole == pytest.approx(state.current_a, rel=0.03)


def test_the_shares_of_the_harmonics_move_with_the_supply() -> None:
    """A softer supply takes more off the higher ones."""
    states = [
        settle_bridge(Bridge(Source(230.0, r, 0.6 * r, 50.0), 880e-6, 2200.0))
        for r in (0.1, 0.25, 0.5, 1.0)
    ]
    for n in (3, 5, 7, 9):
        shares = [abs(s.harmonics_a[n - 1]) / abs(s.harmonics_a[0]) for s in states]
        assert shares == sorted(shares, reverse=True)


def test_a_choke_in_the_link_does_what_one_in_the_line_does_while_the_current_ceases() -> None:
    line = settle_bridge(Bridge(TOWN, 880e-6, 2200.0, ac_choke_h=3e-3, ac_choke_ohm=0.06))
    link = settle_bridge(Bridge(TOWN, 880e-6, 2200.0, dc_choke_h=3e-3, dc_choke_ohm=0.06))
    assert link.current_a == pytest.approx(line.current_a, rel=1e-6)
    assert link.link_mean_v == pytest.approx(line.link_mean_v, rel=1e-6)
    # once it flows all the time the line's must turn over twice a cycle and takes volts for it
    line = settle_bridge(Bridge(TOWN, 880e-6, 2200.0, ac_choke_h=30e-3))
    link = settle_bridge(Bridge(TOWN, 880e-6, 2200.0, dc_choke_h=30e-3))
    assert link.link_mean_v > 1.05 * line.link_mean_v
