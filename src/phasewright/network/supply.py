"""The single-phase supply as the machines see it: a voltage behind an impedance."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Source:
    """A sinusoidal source between lines 1 and 2.

    `voltage_v` is rms at no load; resistance and reactance (at `frequency_hz`) are those of the
    whole loop from the source to the place where lines 1 and 2 are tapped.
    """

    voltage_v: float
    resistance_ohm: float
    reactance_ohm: float
    frequency_hz: float
