"""A bridge on three lines: energy, exchange of lines, and the cases that are known otherwise."""

from __future__ import annotations

import cmath
import math
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from phasewright.electronics.rectifier import Bridge, settle_bridge
from phasewright.electronics.three_line_kernel import settle
from phasewright.electronics.three_line_rectifier import (
    Feed,
    ThreeLineBridge,
    pair_currents,
    settle_on_three_lines,
)
from phasewright.network.supply import Source
from phasewright.quantities.errors import NotComputable, UsageError


def equal_lines(volts: float, ohm: complex, hertz: float = 50.0) -> Feed:
    one, two, three = (cmath.rect(volts / math.sqrt(3.0), -2.0 * math.pi * k / 3.0)
                       for k in range(3))  # fmt: skip
    return Feed((one, two, three), (ohm, ohm, ohm), hertz)


def soft_third(ohm: complex, volts: float = 230.0, share: float = 1.0) -> Feed:
    """Lines 1 and 2 behind a town's supply, line 3 at `share` of its balanced volts."""
    third = -1j * share * volts * math.sqrt(0.75)
    half = complex(0.125, 0.075)
    return Feed((complex(volts / 2), complex(-volts / 2), third), (half, half, ohm), 50.0)


soft = st.builds(
    lambda r, x, share, power, per_kw: ThreeLineBridge(
        soft_third(complex(r, x), share=share), per_kw * 1e-9 * power, power
    ),
    st.floats(0.05, 4.0),
    st.floats(0.05, 8.0),
    st.floats(0.7, 1.2),
    st.floats(200.0, 5000.0),
    st.floats(200.0, 1000.0),
)


def settled(bridge: ThreeLineBridge):
    try:
        return settle_on_three_lines(bridge)
    except NotComputable:
        assume(False)
        raise


@given(soft)
@settings(deadline=None, max_examples=60)
def test_power_of_the_pairs_is_that_of_the_source_less_lines_and_of_the_link_and_diodes(
    bridge: ThreeLineBridge,
) -> None:
    state = settled(bridge)
    squares = [amps * amps for amps in state.line_currents_a]
    # from the sines: only fundamentals carry power there
    given_w = sum(
        (e * i.conjugate()).real
        for e, i in zip(bridge.feed.volts_v, state.fundamentals_a, strict=True)
    )
    lines_w = sum(
        z.real * square for z, square in zip(bridge.feed.impedance_ohm, squares, strict=True)
    )
    near = 1e-3 * bridge.link_power_w
    assert state.input_power_w == pytest.approx(given_w - lines_w, abs=near)
    assert sum(state.pair_shares) == pytest.approx(1.0)
    assert min(state.pair_power_w) >= 0.0
    # two drops at the mean link current, a resistance in every line
    diodes_w = 2 * 0.9 * state.link_power_w / state.link_mean_v + 0.010 * sum(squares)
    assert state.input_power_w - state.link_power_w == pytest.approx(diodes_w, abs=near)
    assert state.link_power_w == pytest.approx(bridge.link_power_w, rel=1e-6)


@given(soft)
@settings(deadline=None, max_examples=40)
def test_lines_renamed_rename_the_answer(bridge: ThreeLineBridge) -> None:
    """1, 2, 3 called 2, 3, 1: the same currents by other names, pairs as well."""
    state = settled(bridge)
    (one, two, three), (z1, z2, z3) = bridge.feed.volts_v, bridge.feed.impedance_ohm
    turned = settled(
        replace(bridge, feed=replace(bridge.feed, volts_v=(three, one, two),
                                     impedance_ohm=(z3, z1, z2)))
    )  # fmt: skip
    assert np.roll(turned.line_currents_a, -1) == pytest.approx(state.line_currents_a, rel=1e-3)
    assert np.roll(turned.pair_shares, -1) == pytest.approx(state.pair_shares, abs=1e-3)
    assert turned.link_mean_v == pytest.approx(state.link_mean_v, rel=1e-5)


@given(soft)
@settings(deadline=None, max_examples=40)
def test_the_fundamentals_of_lines_are_made_of_those_of_pairs(bridge: ThreeLineBridge) -> None:
    state = settled(bridge)
    from12, from23, from31 = state.pair_currents_a
    near = 1e-9 * max(state.line_currents_a)
    for line, pairs in zip(
        state.fundamentals_a, (from12 - from31, from23 - from12, from31 - from23), strict=True
    ):
        assert abs(line - pairs) < near
    assert abs(sum(state.fundamentals_a)) < near
    assert abs(sum(state.pair_volts_v)) < 1e-9 * abs(state.pair_volts_v[0])


def test_a_large_choke_on_three_stiff_lines_gives_the_textbook_s_six_pulse_currents() -> None:
    """I1 = sqrt(6)/pi Id, I = sqrt(2/3) Id, Vd = 1.35 V - 3/pi w L Id - 2 R Id.

    N. Mohan, T. M. Undeland, W. P. Robbins, Power Electronics, chapter 5 (from memory); the
    overlap of L makes the current a little rounder, so that I falls below sqrt(2/3) Id.
    """
    feed = equal_lines(400.0, complex(0.02, 0.05))
    state = settle_on_three_lines(
        ThreeLineBridge(feed, 2e-3, 8000.0, dc_choke_h=0.03, diode_drop_v=0.0,
                        diode_resistance_ohm=0.0)
    )  # fmt: skip
    link_a = state.link_power_w / state.link_mean_v
    for first, rms in zip(state.fundamentals_a, state.line_currents_a, strict=True):
        assert abs(first) == pytest.approx(math.sqrt(6.0) / math.pi * link_a, rel=2e-3)
        assert 0.985 * math.sqrt(2.0 / 3.0) * link_a < rms < math.sqrt(2.0 / 3.0) * link_a
    volts = 3.0 * math.sqrt(2.0) / math.pi * 400.0
    volts -= (3.0 / math.pi * 0.05 + 2.0 * 0.02) * link_a
    assert state.link_mean_v == pytest.approx(volts, rel=5e-4)


@pytest.mark.parametrize("power_w", [300.0, 2200.0, 5000.0])
def test_an_endless_third_line_leaves_the_single_phase_bridge(power_w: float) -> None:
    alone = settle_bridge(Bridge(Source(230.0, 0.25, 0.15, 50.0), 400e-9 * power_w, power_w))
    state = settle_on_three_lines(
        ThreeLineBridge(soft_third(complex(0.1, 3e6)), 400e-9 * power_w, power_w)
    )
    assert state.line_currents_a[0] == pytest.approx(alone.current_a, rel=1e-4)
    assert state.line_currents_a[2] < 1e-4 * alone.current_a
    assert abs(state.fundamentals_a[0]) == pytest.approx(abs(alone.harmonics_a[0]), rel=1e-4)
    assert state.link_mean_v == pytest.approx(alone.link_mean_v, rel=1e-5)
    assert state.link_ripple_v == pytest.approx(alone.link_ripple_v, rel=2e-3)
    assert state.pair_shares[0] == pytest.approx(1.0, abs=1e-4)


def test_hardly_loaded_its_link_stands_at_the_peak_of_the_lines() -> None:
    state = settle_on_three_lines(
        ThreeLineBridge(equal_lines(230.0, complex(0.1, 0.1)), 1e-3, 1.0, diode_drop_v=0.0)
    )
    assert state.link_mean_v == pytest.approx(math.sqrt(2.0) * 230.0, rel=1e-3)


def test_three_equal_lines_share_alike() -> None:
    state = settle_on_three_lines(ThreeLineBridge(equal_lines(400.0, 0.05 + 0.3j), 1e-3, 8000.0))
    assert state.pair_shares == pytest.approx((1 / 3, 1 / 3, 1 / 3), abs=1e-6)
    assert max(state.line_currents_a) == pytest.approx(min(state.line_currents_a), rel=1e-6)


def test_the_softer_line_3_the_less_it_gives() -> None:
    """Beyond the first ohm, where the line's share is that of a stiff one."""
    given_a = [
        settle_on_three_lines(ThreeLineBridge(soft_third(complex(0.2, x)), 6e-4, 2200.0))
        for x in (1.0, 2.0, 4.0, 8.0, 16.0, 32.0)
    ]
    thirds = [state.line_currents_a[2] for state in given_a]
    firsts = [state.pair_shares[0] for state in given_a]
    assert all(more > less for more, less in pairwise(thirds))
    assert all(more < less for more, less in pairwise(firsts))
    assert firsts[-1] > 0.9


@pytest.mark.parametrize("samples", [240, 3000])
def test_grid_and_start_do_not_matter(samples: int) -> None:
    p = np.array([
        100 * np.pi, 162.6, 0.0, -162.6, 0.0, 0.0, -260.0, 0.135, 0.135, 1.4, 2.4e-4, 2.4e-4, 6e-3,
        0.0, 0.0, 6e-4, 0.9, 7.0,
    ])  # fmt: skip

    def run(n: int, start_v: float) -> tuple[float, ...]:
        x, pole = np.array([0.0, 0.0, 0.0, start_v]), np.zeros(3, dtype=np.int64)
        currents, link, rails = np.empty((n, 3)), np.empty(n), np.empty(n)
        assert settle(p.copy(), 2200.0, x, pole, 3000, 1e-9, currents, link, rails) > 0
        rms = np.sqrt(np.mean(currents**2, axis=0))
        assert x[3] == pytest.approx(float(link[0]), abs=1e-6 * float(np.ptp(link)))
        assert x[:3] == pytest.approx(currents[0], abs=1e-6 * float(np.max(np.abs(currents))))
        return (*rms.tolist(), float(np.mean(link)))

    reference = run(1200, 320.0)
    for start_v in (250.0, 380.0):
        assert run(samples, start_v) == pytest.approx(reference, rel=2e-3)


def test_pairs_carry_what_the_lines_do() -> None:
    rows = np.array([[3.0, -3.0, 0.0], [3.0, -2.0, -1.0], [-1.0, -2.0, 3.0], [0.0, 0.0, 0.0]])
    expected = [[3.0, 0.0, 0.0], [2.0, 0.0, -1.0], [0.0, -2.0, 1.0], [0.0, 0.0, 0.0]]
    found = pair_currents(rows)
    assert found == pytest.approx(np.array(expected))
    assert np.stack([found[:, 0] - found[:, 2], found[:, 1] - found[:, 0]], axis=1) == (
        pytest.approx(rows[:, :2])
    )


def test_what_the_lines_cannot_give_is_refused() -> None:
    with pytest.raises(NotComputable, match="cannot give"):
        settle_on_three_lines(ThreeLineBridge(soft_third(complex(0.1, 2.0)), 2e-3, 60_000.0))


def test_a_line_without_inductance_is_refused() -> None:
    with pytest.raises(NotComputable, match="without any inductance"):
        settle_on_three_lines(ThreeLineBridge(equal_lines(400.0, 0.1 + 0j), 1e-3, 1000.0))


def test_a_choke_that_turns_over_is_refused_and_not_reckoned_wrongly() -> None:
    with pytest.raises(NotComputable, match="turns over"):
        settle_on_three_lines(
            ThreeLineBridge(soft_third(complex(0.1, 1e4)), 1e-3, 4000.0, dc_choke_h=0.02)
        )


FAIR = ThreeLineBridge(equal_lines(400.0, 0.1 + 0.1j), 1e-3, 1000.0)


@pytest.mark.parametrize(
    "wrong",
    [
        replace(FAIR, capacitance_f=0.0),
        replace(FAIR, link_power_w=0.0),
        replace(FAIR, link_power_w=math.nan),
        replace(FAIR, dc_choke_h=-1e-3),
        replace(FAIR, feed=equal_lines(0.0, 0.1 + 0.1j)),
        replace(FAIR, feed=equal_lines(400.0, -0.1 + 0.1j)),
    ],
)
def test_what_is_no_bridge_is_wrong_use(wrong: ThreeLineBridge) -> None:
    with pytest.raises(UsageError):
        settle_on_three_lines(wrong)
