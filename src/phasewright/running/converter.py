"""A rotary converter in settled operation: an idler, its run capacitors, and what hangs on it."""

from __future__ import annotations

from dataclasses import dataclass

from phasewright.machines.circuit import Circuit
from phasewright.network.supply import Source
from phasewright.running.network import Between, Connected, LoadLaw, Network

IDLER = "idler"


@dataclass(frozen=True, slots=True)
class Converter:
    """Idler and capacitors. `start_f` with `start_resistance_ohm` in series is across 3-1."""

    idler_power_w: float
    idler: Circuit
    run_f: Between
    start_f: float = 0.0
    start_resistance_ohm: float = 0.0


def on_converter(source: Source, converter: Converter, motors: tuple[Connected, ...]) -> Network:
    """The network of a supply, a converter and the motors that hang on it (idler first)."""
    idler = Connected(IDLER, converter.idler, LoadLaw("none"))
    return Network(source, converter.run_f, (idler, *motors))


def alone(source: Source, run_f: Between, motor: Connected) -> Network:
    """One motor on two lines with capacitors to the third, no idler."""
    return Network(source, run_f, (motor,))
