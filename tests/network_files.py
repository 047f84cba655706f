"""Network files written by hand from published parameters, and the files that come back.

Nothing of the program's own writer is used: the keys are typed here as docs/contract.md has them.
"""

from __future__ import annotations

import csv
import json
import math
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from phasewright.command.app import run
from phasewright.machines.circuit import Circuit

Floats = NDArray[np.float64]
STEPS = 400


def source(volts: float, ohm: float, reactance: float, hertz: float, **more: Any) -> dict[str, Any]:
    return {
        "voltage_v": volts, "resistance_ohm": ohm, "reactance_ohm": reactance,
        "frequency_hz": hertz, **more,
    }  # fmt: skip


def machine(name: str, circuit: Circuit, inertia: float, **more: Any) -> dict[str, Any]:
    law = circuit.saturation
    return {
        "id": name,
        "line_voltage_v": circuit.line_voltage_v,
        "poles": circuit.poles,
        "rated_current_a": circuit.rated_current_a,
        "rated_speed_rpm": circuit.rated_speed_rpm,
        "equivalent_circuit": {
            "frequency_hz": circuit.frequency_hz,
            "stator_resistance_ohm": circuit.stator_resistance_ohm,
            "stator_leakage_ohm": circuit.stator_leakage_ohm,
            "magnetising_ohm": circuit.magnetising_ohm,
            "saturation": None if law is None else {"k": law.k, "s": law.s},
            "core_loss_ohm": circuit.core_loss_ohm,
            "cages": [
                {"resistance_ohm": c.resistance_ohm, "leakage_ohm": c.leakage_ohm}
                for c in circuit.cages
            ],
            "friction_w": circuit.friction_w,
            "inertia_kg_m2": circuit.inertia_kg_m2,
        },
        "inertia_kg_m2": inertia,
        **more,
    }


def load(law: str, torque_nm: float, rad_s: float = 1.0) -> dict[str, Any]:
    return {"law": law, "torque_nm": torque_nm, "speed_rad_s": rad_s}


def network(
    of: dict[str, Any], uf: tuple[float, float, float], *machines: dict[str, Any],
    seconds: float = 1.0, **more: Any,
) -> dict[str, Any]:  # fmt: skip
    return {
        "source": of,
        "run_capacitance_f": dict(zip(("c12", "c23", "c31"), (1e-6 * c for c in uf), strict=True)),
        "machines": list(machines),
        "seconds": seconds,
        "steps_per_cycle": STEPS,
        **more,
    }


def start_branch(uf: float, ohm: float, of: str | None) -> dict[str, Any]:
    """Dropped at 85 % of the speed of a machine, or never."""
    out = {"rule": "never"} if of is None else {"rule": "speed", "speed_ratio": 0.85, "machine": of}
    return {"capacitance_f": 1e-6 * uf, "resistance_ohm": ohm, "drop_out": out}


@dataclass(frozen=True)
class Back:
    """What a command wrote: start.json, and the columns of start.csv by name."""

    json: dict[str, Any]
    wave: dict[str, Floats]
    hertz: float

    @property
    def time(self) -> Floats:
        return self.wave["time_s"]

    def rms(self, name: str) -> Floats:
        """Rms of the cycle that ends at each row; NaN before the first is full."""
        n = round(1.0 / self.hertz / (self.time[1] - self.time[0]))
        sums = np.concatenate([[0.0], np.cumsum(self.wave[name] ** 2)])
        out = np.full(self.time.size, np.nan)
        out[n - 1 :] = np.sqrt((sums[n:] - sums[:-n]) / n)
        return out

    def peak(self, name: str) -> float:
        return float(abs(self.wave[name]).max())

    def passes(self, name: str, share: float, poles: int = 4) -> float:
        """When a machine passes a share of synchronous speed [s]."""
        rpm, wanted = self.wave[f"{name}.speed_rpm"], share * 120.0 * self.hertz / poles
        over = int(np.argmax(rpm >= wanted))
        if not rpm[over] >= wanted:
            return math.inf
        part = (wanted - rpm[over - 1]) / (rpm[over] - rpm[over - 1])
        return float(self.time[over - 1] + part * (self.time[over] - self.time[over - 1]))

    def between_crossings(self, name: str, at_s: float) -> tuple[float, float]:
        """(rms, hertz) by complete cycles between up-crossings, interpolated to a time."""
        wave, time = self.wave[name], self.time
        ups = np.flatnonzero((wave[:-1] < 0) & (wave[1:] >= 0))
        when = time[ups] - wave[ups] * (time[ups + 1] - time[ups]) / (wave[ups + 1] - wave[ups])
        middles = 0.5 * (when[1:] + when[:-1])
        rms = [math.sqrt(np.mean(wave[a + 1 : b + 1] ** 2)) for a, b in pairwise(ups)]
        return (
            float(np.interp(at_s, middles, rms)),
            float(np.interp(at_s, middles, 1.0 / np.diff(when))),
        )


def start(tree: dict[str, Any], folder: Path, *more: str) -> Back:
    """The network run by the command, and what it wrote."""
    file, out = folder / "network.json", folder / "out"
    file.write_text(json.dumps(tree), encoding="utf-8")
    assert run(["start", "--network", str(file), "--out", str(out), *more]) == 0
    return back(out)


def back(out: Path) -> Back:
    told = json.loads((out / "start.json").read_text(encoding="utf-8"))
    wave: dict[str, Floats] = {}
    if (out / "start.csv").exists():
        with (out / "start.csv").open(encoding="utf-8", newline="") as file:
            rows = list(csv.reader(file))
        values = np.array(rows[1:], dtype=np.float64)
        wave = {name: values[:, at] for at, name in enumerate(rows[0])}
    return Back(told, wave, told["network"]["source"]["frequency_hz"])
