"""What a motor's circuit is fitted to, and the shares of loss that are taken for it."""

from __future__ import annotations

import math
from dataclasses import dataclass

from phasewright.machines.circuit import Saturation
from phasewright.quantities.errors import NotComputable

MIDDLE_SATURATION = Saturation(0.45, 6.0)
SOFT_SATURATION = Saturation(0.20, 4.0)
HARD_SATURATION = Saturation(0.90, 8.0)
"""Default, soft and hard main-flux laws: fits to published no-load curves of small motors."""
STRAY_SHARE_OF_INPUT = 0.005
"""Assigned stray load loss, share of rated input (IEC 60034-2:1972, from memory)."""
IRON_SHARE_OF_LOSS = 0.20
"""Iron loss as a share of the rated loss (common practice, no source). The fit may move it, to
half of the loss at most, where the starting current asks for less copper loss."""
MOST_IRON_SHARE = 0.5
LEAST_STATOR_SHARE = 0.12
"""Least share of the rated loss that is left to the stator copper (common practice)."""


@dataclass(frozen=True, slots=True)
class Targets:
    """What a circuit is fitted to: the rated point at one link, and starting ratios.

    Ratios are to the rated line current and the rated shaft torque; a ratio that is None is
    left free. `stator_resistance_ohm` is per phase of the star equivalent (measured).
    `stamped` names the ratios read from the plate (as in `starting_asked`): they count for
    more than those that are a table's default.
    """

    power_w: float
    line_voltage_v: float
    frequency_hz: float
    poles: int
    speed_rpm: float
    current_a: float
    power_factor: float
    starting_current_ratio: float
    starting_torque_ratio: float | None
    breakdown_ratio: float | None
    no_load_current_ratio: float | None
    friction_w: float
    inertia_kg_m2: float
    stator_resistance_ohm: float | None = None
    saturation: Saturation | None = MIDDLE_SATURATION
    stamped: frozenset[str] = frozenset()

    @property
    def input_w(self) -> float:
        return math.sqrt(3.0) * self.line_voltage_v * self.current_a * self.power_factor

    @property
    def slip(self) -> float:
        return 1.0 - self.speed_rpm * self.poles / (120.0 * self.frequency_hz)

    @property
    def torque_nm(self) -> float:
        return self.power_w / (self.speed_rpm * math.pi / 30.0)

    @property
    def starting_asked(self) -> dict[str, float]:
        """Name and value of every starting ratio that is asked for."""
        asked = {
            "starting current": self.starting_current_ratio,
            "starting torque": self.starting_torque_ratio,
            "breakdown torque": self.breakdown_ratio,
            "no-load current": self.no_load_current_ratio,
        }
        return {name: ratio for name, ratio in asked.items() if ratio is not None}


@dataclass(frozen=True, slots=True)
class Miss:
    """A target the circuit does not meet: `asked` and `got` in the same unit."""

    what: str
    asked: float
    got: float

    @property
    def words(self) -> str:
        return (
            f"{self.what}: {self.asked:.3g} asked, the circuit gives {self.got:.3g} "
            f"({self.got / self.asked - 1.0:+.0%})"
        )


def least_input_w(power_w: float, slip: float, friction_w: float) -> float:
    """The smallest electrical input [W] a motor with this slip can have.

    Rotor copper takes s/(1-s) of all the shaft side asks for; iron, stray and stator copper
    take at least the shares named above.
    """
    shaft = power_w + friction_w
    rotor = shaft * slip / (1.0 - slip)
    others = 0.5 * IRON_SHARE_OF_LOSS + LEAST_STATOR_SHARE
    loss = (friction_w + rotor + STRAY_SHARE_OF_INPUT * power_w) / (1.0 - others)
    return power_w + loss


def refuse_the_impossible(t: Targets) -> None:
    """Raise NotComputable for a rated point no cage motor has."""
    if not 0.0 < t.slip < 0.35:
        raise NotComputable(
            f"{t.speed_rpm:.4g} rpm does not belong to a motor of {t.poles} poles on "
            f"{t.frequency_hz:g} Hz (synchronous {120.0 * t.frequency_hz / t.poles:.4g} rpm)"
        )
    if not 0.05 < t.power_factor < 1.0:
        raise NotComputable(f"a power factor of {t.power_factor:.3g} is none of a cage motor")
    rotor = (t.power_w + t.friction_w) * t.slip / (1.0 - t.slip)
    if t.power_w + t.friction_w + rotor >= t.input_w:
        raise NotComputable(
            f"{t.power_w:.4g} W at the shaft with a slip of {t.slip:.1%} needs more "
            f"than the {t.input_w:.4g} W that volts, amps and power factor give"
        )
