"""Leakage paths that saturate at starting currents.

A plate's locked-rotor current is that at full volts, with the leakage paths saturated. At less
current they are less so, and current and torque fall faster than with volts and their square.
Describing function of a path that carries flux up to a current and no more (Lipo and Consoli,
from memory); shares and knee are engineering values with a wide band, not fitted truth.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from phasewright.machines.circuit import Cage, Circuit
from phasewright.machines.performance import Operation, locked
from phasewright.quantities.errors import NotComputable


@dataclass(frozen=True, slots=True)
class LeakageLaw:
    """`unsaturable` share of the leakage flux; the rest saturates above `knee` x rated current."""

    unsaturable: float
    knee: float

    def factor(self, current_ratio: float) -> float:
        """Leakage at this current (over rated current) over that at small currents."""
        over = current_ratio / self.knee
        if over <= 1.0:
            return 1.0
        part = math.asin(1.0 / over) + math.sqrt(1.0 - 1.0 / over**2) / over
        return self.unsaturable + (1.0 - self.unsaturable) * part * 2.0 / math.pi


WEAK = LeakageLaw(0.75, 2.0)
MIDDLE = LeakageLaw(0.55, 1.5)
STRONG = LeakageLaw(0.40, 1.5)


def with_leakage_at(circuit: Circuit, current_a: float, law: LeakageLaw = MIDDLE) -> Circuit:
    """The circuit with its leakages as they are at a stator current; plate values hold at the
    full-volts locked-rotor current.

    The leakage common to both cages is scaled, the inner cage keeps its own addition.
    """
    full = locked(circuit).current_a / circuit.rated_current_a
    q = law.factor(current_a / circuit.rated_current_a) / law.factor(full)
    common = min(cage.leakage_ohm for cage in circuit.cages)
    return replace(
        circuit,
        stator_leakage_ohm=circuit.stator_leakage_ohm * q,
        cages=tuple(
            Cage(cage.resistance_ohm, cage.leakage_ohm + common * (q - 1.0))
            for cage in circuit.cages
        ),
    )


def locked_with_leakage(
    circuit: Circuit,
    line_voltage_v: float,
    frequency_hz: float | None = None,
    law: LeakageLaw = MIDDLE,
) -> Operation:
    """Standstill at other volts, the leakages following the current. Raises NotComputable."""
    now = locked(circuit, line_voltage_v, frequency_hz)
    for _ in range(60):
        shaped = with_leakage_at(circuit, now.current_a, law)
        after = locked(shaped, line_voltage_v, frequency_hz)
        if abs(after.current_a / now.current_a - 1.0) < 1e-9:
            return after
        now = after
    raise NotComputable("the starting current of a motor with saturating leakage did not settle")
