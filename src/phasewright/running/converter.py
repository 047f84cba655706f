"""A rotary converter in settled operation: an idler, its run capacitors, and what hangs on it."""

from __future__ import annotations

from dataclasses import dataclass, replace

from phasewright.machines.circuit import Circuit
from phasewright.network.supply import Source
from phasewright.quantities.identity import Hashed, hashed_once
from phasewright.running.network import Between, Connected, LoadLaw, Network

IDLER = "idler"


@hashed_once
@dataclass(frozen=True, slots=True)
class Converter(Hashed):
    """Idler and capacitors. `start_f` with `start_resistance_ohm` in series is across 3-1.

    `idler_power_w` is the shaft power of all idlers; those `beside` the first hang on the same
    three lines, in the order they are started.

    `carried` are the run capacitors that travel with motors, by the motor's name: their
    contactors switch them.
    """

    idler_power_w: float
    idler: Circuit
    run_f: Between
    start_f: float = 0.0
    start_resistance_ohm: float = 0.0
    carried: tuple[tuple[str, Between], ...] = ()
    beside: tuple[Circuit, ...] = ()

    @property
    def idlers(self) -> tuple[Connected, ...]:
        """Every idler, unloaded: `idler`, then `idler 2` and so on."""
        return tuple(
            Connected(IDLER if k == 0 else f"{IDLER} {k + 1}", circuit, LoadLaw("none"))
            for k, circuit in enumerate((self.idler, *self.beside))
        )

    @property
    def started_first(self) -> Converter:
        """The converter while only its first idler is on."""
        return replace(self, beside=())

    def run_with(self, names: tuple[str, ...]) -> Between:
        """The run capacitors in circuit while these motors are switched on."""
        brought = [bank for name, bank in self.carried if name in names]
        return in_parallel(self.run_f, *brought)


def on_converter(source: Source, converter: Converter, motors: tuple[Connected, ...]) -> Network:
    """The network of a supply, a converter and the motors that hang on it (idlers first), with
    the capacitors these motors bring."""
    bank = converter.run_with(tuple(motor.name for motor in motors))
    return Network(source, bank, (*converter.idlers, *motors))


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
