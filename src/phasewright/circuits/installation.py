"""What an installation consists of, as data: circuits, equipment, and the whole.

Knows no clause and no way of powering. A field that nothing has computed is None. SI units, ratios
as fractions; ratings of residual-current devices in mA as the trade prints them.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from phasewright.quantities.codes import Region
from phasewright.quantities.value import Value

Lines = Literal["1-2", "1-2-3", "drive output", "control"]
"""Which lines a circuit carries: the supply pair, all three, a drive's output, a control supply."""


@dataclass(frozen=True, slots=True)
class Device:
    """An overcurrent device: breaker or fuse."""

    kind: Literal["breaker", "fuse", "time_delay_fuse"]
    rating_a: float
    curve: str | None = None
    breaking_ka: float | None = None


@dataclass(frozen=True, slots=True)
class ResidualCurrentDevice:
    """A residual-current device and the standing leakage it has to bear."""

    rating_ma: float
    type: Literal["AC", "A", "F", "B"]
    leakage_ma: float | None = None


@dataclass(frozen=True, slots=True)
class VoltageDrop:
    """Voltage drop of a circuit as a share of its voltage, running and at the hardest start."""

    running: float | None = None
    starting: float | None = None


@dataclass(frozen=True, slots=True)
class Circuit:
    """One circuit from its protective device to what it feeds."""

    id: str
    feeds: tuple[str, ...]
    source: str
    lines: Lines = "1-2-3"
    design_current_a: Value | None = None
    conductor: str | None = None
    length_m: float | None = None
    ampacity_a: Value | None = None
    voltage_drop: VoltageDrop | None = None
    device: Device | None = None
    residual_current: ResidualCurrentDevice | None = None
    loop_ohm: Value | None = None
    earth_fault_a: Value | None = None
    disconnects_s: Value | None = None
    overload_setting_a: Value | None = None
    switches: tuple[str, ...] = ()
    """What can open this circuit under power, in the shop's own words (drum, contactor...)."""


@dataclass(frozen=True, slots=True)
class Equipment:
    """A thing that stands in the circuits: converter, drive, transformer, capacitor bank."""

    id: str
    kind: str
    rating: float | None = None
    unit: str | None = None
    place: str | None = None
    serves: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Installation:
    """All circuits and equipment of one plan behind one supply."""

    region: Region
    line_voltage_v: float
    frequency_hz: float
    circuits: tuple[Circuit, ...] = ()
    equipment: tuple[Equipment, ...] = ()

    def circuit(self, id: str) -> Circuit:
        """The circuit of this id; raises KeyError without one."""
        for entry in self.circuits:
            if entry.id == id:
                return entry
        raise KeyError(f"no circuit {id!r}")

    def of_lines(self, lines: Lines) -> tuple[Circuit, ...]:
        """All circuits that carry these lines."""
        return tuple(entry for entry in self.circuits if entry.lines == lines)
