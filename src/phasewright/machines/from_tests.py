"""Circuit parameters from a no-load and a locked-rotor test (IEEE Std 112 method).

As worked in Fitzgerald, Kingsley, Umans, Electric Machinery, 6th ed., section 6.6: the
locked-rotor reactance is split between stator and rotor by the design's usual ratio (equal
for designs A and D, 0.4 to 0.6 for B, 0.3 to 0.7 for C; from memory).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from phasewright.quantities.errors import NotComputable


@dataclass(frozen=True, slots=True)
class Reading:
    """Line volts, line amps and total watts of one balanced test at `frequency_hz`."""

    line_voltage_v: float
    current_a: float
    power_w: float
    frequency_hz: float

    @property
    def resistance_ohm(self) -> float:
        """Series resistance per phase of the star equivalent."""
        return self.power_w / (3.0 * self.current_a**2)

    @property
    def reactance_ohm(self) -> float:
        """Series reactance per phase of the star equivalent at the test's frequency."""
        impedance = self.line_voltage_v / (math.sqrt(3.0) * self.current_a)
        square = impedance**2 - self.resistance_ohm**2
        if square <= 0.0:
            text = "more watts than volts times amps: one of the three readings is wrong"
            raise NotComputable(text)
        return math.sqrt(square)


@dataclass(frozen=True, slots=True)
class Parameters:
    """Single-cage parameters per phase of the star equivalent at the no-load test's frequency.

    `rotational_w` is the no-load loss less stator copper (friction, fan and iron together).
    """

    stator_resistance_ohm: float
    stator_leakage_ohm: float
    magnetising_ohm: float
    rotor_resistance_ohm: float
    rotor_leakage_ohm: float
    rotational_w: float


def parameters_from_tests(
    no_load: Reading,
    locked: Reading,
    stator_resistance_ohm: float,
    stator_share: float = 0.4,
) -> Parameters:
    """Parameters from the two tests; `stator_share` is X1 over X1 + X2 (below one half).

    Raises NotComputable where the readings contradict each other.
    """
    scale = no_load.frequency_hz / locked.frequency_hz
    blocked = locked.reactance_ohm * scale
    idle = no_load.reactance_ohm
    if not 0.0 < stator_share <= 0.5 or blocked >= idle:
        raise NotComputable("the locked-rotor reactance must be smaller than the no-load one")
    ratio = stator_share / (1.0 - stator_share)
    rotor_leakage = _rotor_leakage(idle, blocked, ratio)
    stator_leakage = ratio * rotor_leakage
    magnetising = idle - stator_leakage
    left = locked.resistance_ohm - stator_resistance_ohm
    if left <= 0.0:
        raise NotComputable("the locked-rotor watts are less than the stator alone takes")
    rotor = left * ((rotor_leakage + magnetising) / magnetising) ** 2
    rotational = no_load.power_w - 3.0 * no_load.current_a**2 * stator_resistance_ohm
    return Parameters(
        stator_resistance_ohm, stator_leakage, magnetising, rotor, rotor_leakage, rotational
    )


def _rotor_leakage(idle: float, blocked: float, ratio: float) -> float:
    """X2 from Xbl = X1 + X2 Xm/(X2 + Xm), Xnl = X1 + Xm and X1 = ratio X2.

    With Xm = Xnl - r X2 this is r^2 X2^2 + ((1-r) Xbl - (1+r) Xnl) X2 + Xbl Xnl = 0; the smaller
    root is the leakage.
    """
    a = ratio * ratio
    b = (1.0 - ratio) * blocked - (1.0 + ratio) * idle
    c = blocked * idle
    return (-b - math.sqrt(b * b - 4.0 * a * c)) / (2.0 * a)
