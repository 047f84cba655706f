"""What a source of the shop's own gives into a fault, as data: impedance, and the most it gives.

A generator stands behind its subtransient reactance for some cycles, and then goes on giving a few
times its rated current or less (IEC 60909-0, ISO 8528-3; from memory). Electronics hold their volts
up to a limit of current and then switch themselves off. A transformer adds its own impedance to
that of the supply, seen from its output.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from phasewright.quantities.value import Value


@dataclass(frozen=True, slots=True)
class Limit:
    """Amps that a source gives into a fault, however low the fault's impedance.

    `least_a` is what a breaker may count on, `greatest_a` what it may have to break.
    """

    least_a: float
    usual_a: float
    greatest_a: float

    def scaled(self, factor: float) -> Limit:
        """The same on the other side of a transformer, `factor` times the amps."""
        return Limit(factor * self.least_a, factor * self.usual_a, factor * self.greatest_a)


@dataclass(frozen=True, slots=True)
class FaultSource:
    """A source of the shop's own as a fault sees it.

    The three impedances are of one line [ohm]; `earth_share` is the loop of a line to the earthed
    point of its output over that between two lines. `to_earth_v` are the volts of a line to that
    point. `smooth`: a fault may draw smooth current, which blinds a device of type A.
    """

    name: str
    usual_ohm: complex
    soft_ohm: complex
    stiff_ohm: complex
    earth_share: float
    to_earth_v: float
    isolates: bool
    limit: Limit | None = None
    smooth: bool = False


def of_generator(
    name: str, line_voltage_v: float, rated_a: float, resistance: float, subtransient: Value,
    zero: Value, sustained: Value,
) -> FaultSource:  # fmt: skip
    """A generator with its star point earthed; `resistance` and reactances over V2/S.

    A line to earth: three times the phase's volts over Z1 + Z2 + Z0, Z1 and Z2 subtransient
    (IEC 60909-0, from memory).
    """
    base = line_voltage_v / (math.sqrt(3.0) * rated_a)
    ends = [base * complex(resistance, x) for x in (
        subtransient.number, subtransient.high, subtransient.low)]  # fmt: skip
    share = (2.0 + zero.number / subtransient.number) / 6.0
    return FaultSource(
        name, ends[0], ends[1], ends[2], share, line_voltage_v / math.sqrt(3.0), isolates=True,
        limit=Limit(sustained.low * rated_a, sustained.number * rated_a, math.inf),
    )  # fmt: skip


def of_electronics(
    name: str, line_voltage_v: float, rated_a: float, short_time: Value, *, isolates: bool
) -> FaultSource:
    """Electronics that hold their volts up to their short-time current and then give no more.

    Its lines are taken to stand alike from earth; where its output is not isolated that is its
    maker's doing.
    """
    return FaultSource(
        name, 0j, 0j, 0j, 0.5, line_voltage_v / math.sqrt(3.0), isolates=isolates,
        limit=Limit(
            short_time.low * rated_a, short_time.number * rated_a, short_time.high * rated_a
        ),
        smooth=True,
    )  # fmt: skip


def of_transformer(
    name: str, ahead_ohm: tuple[complex, complex, complex], ratio: float, own_ohm: complex,
    apart: Value, output_v: float,
) -> FaultSource:  # fmt: skip
    """An isolating transformer with the centre of its output earthed.

    `ahead_ohm` is the loop of the supply (usual, highest, lowest) on the input's side, `ratio`
    output over input volts, `own_ohm` the transformer's series impedance on its output's side.
    Half of that stands between a line and the centre, and a quarter of what stands ahead.
    """
    usual, soft, stiff = (
        (ratio * ratio * ahead + share * own_ohm) / 2.0
        for ahead, share in zip(ahead_ohm, (apart.number, apart.high, apart.low), strict=True)
    )
    return FaultSource(name, usual, soft, stiff, 0.5, output_v / 2.0, isolates=True)
