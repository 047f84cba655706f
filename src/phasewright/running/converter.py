"""A rotary converter in settled operation: an idler, its run capacitors, and what hangs on it."""

from __future__ import annotations

from dataclasses import dataclass

from phasewright.machines.circuit import Circuit
from phasewright.network.supply import Source
from phasewright.running.network import Between, Connected, LoadLaw, Network

IDLER = "idler"


@dataclass(frozen=True, slots=True)
class Converter:
    """Idler and capacitors. `start_f` with `start_resistance_ohm` in series is across 3-1.

    `carried` are the run capacitors that travel with motors, by the motor's name: their
    contactors switch them.
    """

    idler_power_w: float
    idler: Circuit
    run_f: Between
    start_f: float = 0.0
    start_resistance_ohm: float = 0.0
    carried: tuple[tuple[str, Between], ...] = ()

    def run_with(self, names: tuple[str, ...]) -> Between:
        """The run capacitors in circuit while these motors are switched on."""
        brought = [bank for name, bank in self.carried if name in names]
        return in_parallel(self.run_f, *brought)


def on_converter(source: Source, converter: Converter, motors: tuple[Connected, ...]) -> Network:
    """The network of a supply, a converter and the motors that hang on it (idler first), with
    the capacitors these motors bring."""
    idler = Connected(IDLER, converter.idler, LoadLaw("none"))
    bank = converter.run_with(tuple(motor.name for motor in motors))
    return Network(source, bank, (idler, *motors))


def in_parallel(*banks: Between) -> Between:
    """Capacitors in parallel, pair of lines by pair of lines."""
    return Between(
        sum(bank.c12 for bank in banks),
        sum(bank.c23 for bank in banks),
        sum(bank.c31 for bank in banks),
    )


def alone(source: Source, run_f: Between, motor: Connected) -> Network:
    """One motor on two lines with capacitors to the third, no idler."""
    return Network(source, run_f, (motor,))
