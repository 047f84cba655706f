"""The choke chosen by computation: what it must bring, that it is the smallest, what it costs."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from phasewright.electronics.rectifier import Bridge, settle_bridge
from phasewright.network.supply import Source
from phasewright.quantities.errors import NotComputable
from phasewright.rules.harmonics import class_a
from phasewright.tables.prices import choke_price_ratio
from phasewright.ways.chokes import NONE, WORTH, Choke, Wanted, chosen, sizes, with_choke

TOWN = Source(230.0, 0.25, 0.15, 50.0)
FREE = Wanted(room_a=1e3)


def state_with(bare: Bridge, rating_w: float, choke: Choke):
    source, farad, power = bare.source, bare.capacitance_f, bare.link_power_w
    return settle_bridge(with_choke(source, power, farad, rating_w, choke))


def keeps_class_a(state) -> bool:
    return not class_a([abs(each) for each in state.harmonics_a], 3.0, False, "m").findings


def test_a_choke_is_its_share_of_the_drives_impedance() -> None:
    """4 % of 230 V squared over 2.2 kW is 0.962 ohm: 3.06 mH at 50 Hz."""
    choke = Choke(0.04)
    assert choke.before_h(TOWN, 2200.0) == pytest.approx(3.062e-3, rel=1e-3)
    assert choke.within_h(TOWN, 2200.0) == 0.0
    within = Choke(0.04, in_link=True)
    assert within.within_h(TOWN, 2200.0) == choke.before_h(TOWN, 2200.0)
    assert within.before_h(TOWN, 2200.0) == 0.0


@given(
    power_w=st.floats(150.0, 3000.0), r=st.floats(0.05, 0.9), x=st.floats(0.05, 0.6),
    room=st.floats(0.5, 1.2), three=st.booleans(),
)  # fmt: skip
@settings(deadline=None, max_examples=25)
def test_no_smaller_choke_would_bring_as_much(power_w, r, x, room, three) -> None:
    """Whatever the chosen one brings, every smaller one misses something that it brings."""
    bare = Bridge(replace(TOWN, resistance_ohm=r, reactance_ohm=x), 400e-9 * power_w, power_w)
    without = settle_bridge(bare)
    wanted = Wanted(room * without.current_a, keeps_class_a)
    choke = chosen(bare, power_w, wanted, three)

    def brings(state) -> tuple[bool, bool, bool]:
        return (
            state.current_a < (1.0 - WORTH) * without.current_a,
            state.current_a <= wanted.room_a,
            keeps_class_a(state),
        )

    best = brings(state_with(bare, power_w, choke) if choke.fitted else without)
    smaller = [each for each in sizes(three) if each.share < choke.share]
    if not three and choke.fitted:
        assert brings(without) != best
    for each in smaller:
        assert brings(state_with(bare, power_w, each)) != best
    if not choke.fitted:
        for each in sizes(three):
            got = brings(state_with(bare, power_w, each))
            assert not any(new and not old for new, old in zip(got, best, strict=True))


def test_a_pass_takes_a_larger_one_than_a_lower_current_does() -> None:
    bare = Bridge(TOWN, 148e-6, 560.0)
    spared = chosen(bare, 370.0, FREE, three_phase_type=False)
    passed = chosen(bare, 370.0, Wanted(1e3, keeps_class_a), three_phase_type=False)
    assert NONE.share < spared.share <= passed.share
    assert keeps_class_a(state_with(bare, 370.0, passed))
    assert not keeps_class_a(settle_bridge(bare))


def test_where_nothing_is_gained_none_is_bought() -> None:
    """Behind so many ohms of reactance a choke adds hardly anything."""
    soft = replace(TOWN, resistance_ohm=0.6, reactance_ohm=1.5)
    assert chosen(Bridge(soft, 600e-6, 1500.0), 1500.0, FREE, three_phase_type=False) == NONE


def test_a_drive_for_three_phases_has_a_usual_one_at_least() -> None:
    soft = replace(TOWN, resistance_ohm=0.6, reactance_ohm=1.5)
    choke = chosen(Bridge(soft, 600e-6, 1500.0), 1500.0, FREE, three_phase_type=True)
    assert choke.share >= 0.04
    assert any(each.in_link for each in sizes(three_phase_type=True))
    assert not any(each.in_link for each in sizes(three_phase_type=False))


def test_what_no_choke_can_feed_is_refused() -> None:
    weak = replace(TOWN, resistance_ohm=15.0)
    with pytest.raises(NotComputable):
        chosen(Bridge(weak, 880e-6, 2200.0), 2200.0, FREE, three_phase_type=False)


def test_a_larger_choke_costs_more_and_the_usual_one_its_price() -> None:
    assert choke_price_ratio(1.0) == pytest.approx(1.0)
    ratios = [choke_price_ratio(size) for size in (0.5, 0.75, 1.0, 1.25)]
    assert ratios == sorted(ratios)
    assert ratios[0] < 1.0 < ratios[-1]


def test_a_drive_with_three_lines_in_that_no_choke_feeds_is_not_computed() -> None:
    """A long thin line: without a choke the link just holds; a drive that has one always would
    fall to its trip through each."""
    far = Source(230.0, 1.1479, 0.9183, 50.0)
    bare = Bridge(far, 0.003, 8730.9)
    settle_bridge(bare)
    with pytest.raises(NotComputable, match="through any usual choke"):
        chosen(bare, 15000.0, Wanted(room_a=32.0), True)
    assert chosen(bare, 15000.0, Wanted(room_a=32.0), False) == NONE
