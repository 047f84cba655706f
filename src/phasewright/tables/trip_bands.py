"""Between which times protective devices act (`data/trip_bands.toml`).

A standard gives single points, not curves: so many amps are carried for so long, so many are
cleared within so long. The points of the first kind are the early edge of a band, those of the
second its late edge; between two points both are straight in log amps and log seconds. Below its
first point an edge never acts. From its last point on the early edge may act at once, the late edge
within the last printed time, for more amps never act later.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any, Literal, get_args

from phasewright.quantities.errors import TableEnds
from phasewright.tables.published import Status, Table, table, within

Curve = Literal["B", "C", "D"]
OverloadClass = Literal["10A", "10", "20", "30"]
Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Edge:
    """One edge of a band: points (amps, seconds), amps growing; seconds from the last one on."""

    points: tuple[Point, ...]
    beyond_s: float

    def seconds(self, amps: float) -> float:
        """When the edge acts at a lasting current [s]; infinity below its first point."""
        if not amps >= self.points[0][0]:
            return math.inf
        for (low, late), (high, soon) in zip(self.points, self.points[1:], strict=False):
            if amps < high:
                share = math.log(amps / low) / math.log(high / low)
                return float(late * (soon / late) ** share)
        return self.beyond_s

    def amps(self, seconds: float) -> float:
        """Below how many lasting amps it acts later than this [A]; its first point's at the most.

        The inverse of `seconds`: from the last point on it may act at once.
        """
        for (low, late), (high, soon) in zip(self.points, self.points[1:], strict=False):
            if seconds >= late:
                return low
            if seconds >= soon:
                share = math.log(seconds / late) / math.log(soon / late)
                return float(low * (high / low) ** share)
        return self.points[-1][0]


@dataclass(frozen=True, slots=True)
class Band:
    """A device's band: it does not act before `early` and has acted by `late`.

    `magnetic_a` is the least rms current whose crest may trip a magnetic release; None where the
    edges say all there is to say.
    """

    words: str
    rating_a: float
    early: Edge
    late: Edge
    magnetic_a: float | None
    source: str
    status: Status


@dataclass(frozen=True, slots=True)
class Relay:
    """An overload relay of a class as two thermal images, the earliest and the latest one.

    An image follows d theta/dt = (m^2 - theta)/tau, m the amps over the setting, and trips at
    theta = pick_up^2. `at` is the multiple up to which the standard prints anything.
    """

    class_: OverloadClass
    early_tau_s: float
    early_pick_up: float
    late_tau_s: float
    late_pick_up: float
    at: float
    source: str
    status: Status


def breaker_band(curve: Curve, rating_a: float) -> Band:
    """A breaker of curve B, C or D (IEC 60898-1); TableEnds above 125 A.

    Between the multiples of its magnetic release (`protection`) it may act at once or be left to
    its bimetal: there the late edge goes on with the square of the amps.
    """
    thermal, magnetic = (
        table("trip_bands", "breaker_thermal"),
        table("trip_bands", "breaker_magnetic"),
    )
    within("breaker", rating_a, 1e-9, thermal.number("greatest_a"), "A")
    hour = _upto(thermal, "conventional_s", rating_a)
    least = table("protection", "iec_instantaneous_least").number(curve)
    most = table("protection", "iec_instantaneous").number(curve)
    quick, at = magnetic.number("quick_s"), thermal.number("at")
    early = ((thermal.number("least"), hour), (at, thermal.number("at_least_s")), (least, quick))
    slow = _upto(magnetic, curve, rating_a)
    late = (
        (thermal.number("most"), hour),
        (at, _upto(thermal, "at_most_s", rating_a)),
        (least, slow),
        (most, slow * (least / most) ** 2),
    )
    return Band(
        words=f"{curve}{rating_a:g} breaker",
        rating_a=rating_a,
        early=Edge(_times(early, rating_a), 0.0),
        late=Edge(_times(late, rating_a), quick),
        magnetic_a=least * rating_a,
        source=thermal.words,
        status=thermal.status,
    )


def fuse_band(rating_a: float) -> Band:
    """A gG fuse (IEC 60269-1); TableEnds for a rating that is no row from 16 to 160 A."""
    of, gates = table("trip_bands", "fuse_conventional"), table("trip_bands", "fuse_gates")
    row = next((row for row in gates.rows["rows"] if float(row[0]) == rating_a), None)
    if row is None:
        raise TableEnds(f"no gates of a gG fuse of {rating_a:g} A are at hand")
    hour = _upto(of, "conventional_s", rating_a)
    _, ten, five, early_tenth, late_tenth = (float(entry) for entry in row)
    return Band(
        words=f"{rating_a:g} A gG fuse",
        rating_a=rating_a,
        early=Edge(((of.number("least") * rating_a, hour), (ten, 10.0), (early_tenth, 0.1)), 0.0),
        late=Edge(((of.number("most") * rating_a, hour), (five, 5.0), (late_tenth, 0.1)), 0.1),
        magnetic_a=None,
        source=gates.words,
        status=gates.status,
    )


def fuse_sizes_a() -> tuple[float, ...]:
    """The gG fuses whose gates are at hand, smallest first [A]."""
    return tuple(float(row[0]) for row in table("trip_bands", "fuse_gates").rows["rows"])


def inverse_time_band(rating_a: float) -> Band:
    """A North American inverse-time breaker (UL 489); TableEnds above 150 A.

    No standard prints a least time: the early edge is what such breakers usually carry.
    """
    small, large = table("trip_bands", "inverse_time"), table("trip_bands", "inverse_time_larger")
    usual = table("trip_bands", "inverse_time_usual")
    hour, short = _upto(large, "most_s", rating_a), _upto(large, "at_most_s", rating_a)
    printed = hour <= small.number("most_s") and short <= small.number("at_most_s")
    early = (
        (small.number("carries"), hour),
        (usual.number("holds"), usual.number("holds_s")),
    )
    late = ((small.number("most"), hour), (small.number("at"), short))
    return Band(
        words=f"{rating_a:g} A inverse-time breaker",
        rating_a=rating_a,
        early=Edge(_times(early, rating_a), 0.0),
        late=Edge(_times(late, rating_a), short),
        magnetic_a=None,
        source=f"{(small if printed else large).words}; {usual.words}",
        status=usual.status,
    )


def overload_relay(class_: OverloadClass) -> Relay:
    """A relay of a trip class (IEC 60947-4-1) as its earliest and its latest thermal image.

    Earliest: 1.05 times the setting is just borne for ever, 7.2 times the least seconds. Latest:
    1.2 times trips in just the conventional time (from settled at 1.05), 7.2 times in the most
    seconds, and 1.5 times from warm in its own.
    """
    times, limits = table("trip_bands", "overload_class"), table("trip_bands", "overload_limits")
    if class_ not in get_args(OverloadClass):
        raise TableEnds(f"no trip times of an overload relay of class {class_!r}")
    least_s, most_s = times.column(class_)
    at2, least2 = times.number("at") ** 2, limits.number("least") ** 2
    most2, warm2 = limits.number("most") ** 2, limits.number("warm_at") ** 2
    from_cold = most_s / math.log(at2 / (at2 - most2))
    from_warm = limits.number(f"warm_{class_}") / math.log((warm2 - 1.0) / (warm2 - most2))
    late_tau = min(from_cold, from_warm)
    faded = math.exp(-limits.number("conventional_s") / late_tau)
    return Relay(
        class_=class_,
        early_tau_s=least_s / math.log(at2 / (at2 - least2)),
        early_pick_up=math.sqrt(least2),
        late_tau_s=late_tau,
        late_pick_up=math.sqrt(most2 - (most2 - least2) * faded),
        at=times.number("at"),
        source=f"{times.words}; {limits.status} outside 7.2 times the setting",
        status=limits.status,
    )


def sensitive_factor(least_over_largest: float) -> float:
    """By what the amps of a relay that senses a lost phase count at most, by how its lines differ.

    Least line over the largest. With a line lost such relays act on a quarter fewer amps; between
    that and the difference they must bear, in a straight line (assumed).
    """
    equal = table("trip_bands", "overload_equal").number("least")
    missing = max(0.0, 1.0 - least_over_largest / equal)
    return 1.0 / (1.0 - table("trip_bands", "overload_unequal").number("fewer") * missing)


def _times(points: tuple[Point, ...], rating_a: float) -> tuple[Point, ...]:
    return tuple((multiple * rating_a, seconds) for multiple, seconds in points)


def _upto(of: Table, key: str, rating_a: float) -> float:
    """The entry of the first row that reaches this rating."""
    rows: list[Any] = of.rows[key]
    for greatest_a, seconds in rows:
        if 0.0 < rating_a <= float(greatest_a):
            return float(seconds)
    raise TableEnds(f"{of.name.replace('_', ' ')}: nothing is printed for {rating_a:g} A")
