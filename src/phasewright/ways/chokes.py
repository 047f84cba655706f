"""The choke before or in a drive: chosen by computation among the sizes there are, and its price.

The smallest that brings what is to be had: a pass of the harmonic limits, a current that fits the
supply's room, a current lower by a tenth. Sizes are shares of the drive's own rated impedance.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from phasewright.electronics.rectifier import Bridge, BridgeState, settle_bridge
from phasewright.network.supply import Source
from phasewright.quantities.errors import NotComputable
from phasewright.quantities.finding import Reason
from phasewright.tables.drives import (
    choke_resistance_ohm,
    choke_share,
    choke_shares,
    link_choke_shares,
    undervoltage_trip_v,
)
from phasewright.tables.prices import choke_price_ratio
from phasewright.ways.purchase import QUOTED, Item, item
from phasewright.ways.site import Site

WORTH = 0.10
"""A choke that lowers the input current by this share spares the supply (our choice)."""


@dataclass(frozen=True, slots=True)
class Choke:
    """Its reactance over the drive's rated impedance (0: none), and whether it is in the link."""

    share: float = 0.0
    in_link: bool = False

    @property
    def fitted(self) -> bool:
        """Whether there is one."""
        return self.share > 0.0

    def inductance_h(self, source: Source, drive_rating_w: float) -> float:
        """Its inductance for a drive of this rating on this supply."""
        omega = 2.0 * math.pi * source.frequency_hz
        return self.share * source.voltage_v**2 / drive_rating_w / omega

    def before_h(self, source: Source, drive_rating_w: float) -> float:
        """Inductance in the drive's line."""
        return 0.0 if self.in_link else self.inductance_h(source, drive_rating_w)

    def within_h(self, source: Source, drive_rating_w: float) -> float:
        """Inductance in the drive's link."""
        return self.inductance_h(source, drive_rating_w) if self.in_link else 0.0


NONE = Choke()


def usual() -> Choke:
    """The usual input choke."""
    return Choke(choke_share())


def sizes(three_phase_type: bool) -> tuple[Choke, ...]:
    """Chokes to choose from, the smallest first.

    A drive made for three-phase input asks for a usual one at least on one phase, and has terminals
    for one in its link (common practice).
    """
    before = [Choke(share) for share in choke_shares()]
    if not three_phase_type:
        return tuple(before)
    within = [Choke(share, in_link=True) for share in link_choke_shares()]
    fit = [each for each in (*before, *within) if each.share >= choke_share() - 1e-9]
    return tuple(sorted(fit, key=lambda each: (each.share, each.in_link)))


@dataclass(frozen=True, slots=True)
class Wanted:
    """What a drive's input is to keep: the room the supply leaves, and limits where there are."""

    room_a: float
    meets: Callable[[BridgeState], bool] | None = None


def with_choke(
    source: Source, power_w: float, capacitance_f: float, rating_w: float, choke: Choke,
    doubler: bool = False,
) -> Bridge:  # fmt: skip
    """The drive's bridge with a choke."""
    before, within = choke.before_h(source, rating_w), choke.within_h(source, rating_w)
    return Bridge(
        source, capacitance_f, power_w, ac_choke_h=before, dc_choke_h=within,
        ac_choke_ohm=choke_resistance_ohm(before), dc_choke_ohm=choke_resistance_ohm(within),
        doubler=doubler,
    )  # fmt: skip


def chosen(bare: Bridge, rating_w: float, wanted: Wanted, three_phase_type: bool) -> Choke:
    """The smallest choke that brings all of what any choke brings; none where none brings more.

    A choke that lets the link fall to its undervoltage trip is left out. Where the supply cannot
    feed the drive without one, the smallest with which it can; raises NotComputable where none,
    and where a drive with three lines in, which has one always, is fed through none.
    """
    assert bare.link_power_w is not None
    source, farad, power_w = bare.source, bare.capacitance_f, bare.link_power_w
    known: list[tuple[Choke, BridgeState]] = []
    for choke in sizes(three_phase_type):
        try:
            known.append(
                (
                    choke,
                    settle_bridge(
                        with_choke(source, power_w, farad, rating_w, choke, bare.doubler)
                    ),
                )
            )
        except NotComputable:
            continue
    holds = [each for each in known if each[1].link_min_v > undervoltage_trip_v()]
    of = holds or known
    try:
        without = settle_bridge(bare)
    except NotComputable:
        if not of:
            raise
        return (
            _least(of, [lambda state: state.current_a <= wanted.room_a, _meets(wanted)]) or of[0][0]
        )
    goals = [lambda state: state.current_a < (1.0 - WORTH) * without.current_a]
    if without.current_a > wanted.room_a:
        goals.append(lambda state: state.current_a <= wanted.room_a)
    if wanted.meets is not None and not wanted.meets(without):
        goals.append(_meets(wanted))
    best = _least(of, goals)
    if three_phase_type and not of:
        raise NotComputable(
            "the supply does not feed this drive through any usual choke, and it needs one"
        )
    if three_phase_type:
        return best or of[0][0]
    return best or NONE


def _meets(wanted: Wanted) -> Callable[[BridgeState], bool]:
    return lambda state: wanted.meets is None or wanted.meets(state)


def _least(
    of: Sequence[tuple[Choke, BridgeState]], goals: Sequence[Callable[[BridgeState], bool]]
) -> Choke | None:
    """The smallest with which every goal is reached that any of them reaches."""
    within = [goal for goal in goals if any(goal(state) for _, state in of)]
    if not within:
        return None
    return next((choke for choke, state in of if all(goal(state) for goal in within)), of[-1][0])


def choke_item(choke: Choke, drive_rating_w: float, site: Site) -> Item:
    """A choke for a drive of this rating, told by its inductance: a quote prices any size, a curve
    the usual one."""
    kind = "dc_choke" if choke.in_link else "ac_choke"
    found = item(kind, drive_rating_w, "W", site.quotes, quote_kind="choke")
    found = replace(found, rating=choke.inductance_h(site.source, drive_rating_w), unit="H")
    if found.price.origin == QUOTED:
        return found
    ratio = choke_price_ratio(choke.share / choke_share())
    price = found.price
    return replace(
        found, price=replace(
            price, amount=price.amount * ratio, low=price.low * ratio, high=price.high * ratio
        )
    )  # fmt: skip


def choke_told(choke: Choke, source: Source, drive_rating_w: float) -> tuple[Reason, ...]:
    """Which choke it is, for whoever buys it."""
    if not choke.fitted:
        return ()
    where = "in its link (between the terminals its maker gives)" if choke.in_link else "before it"
    milli = 1000.0 * choke.inductance_h(source, drive_rating_w)
    return (
        Reason(
            "choke",
            f"With a choke of {milli:.2g} mH {where}, {choke.share:.0%} of the drive's impedance: "
            "the smallest of the sizes computed that lowers its current, or its harmonics, enough.",
        ),
    )
