"""A drive's input current over a period, its harmonics, and what the motor bears at each speed."""

from __future__ import annotations

import numpy as np

from phasewright.job.curves.chart import Chart, Curve, Sheet, Spot, numbers
from phasewright.quantities.value import Input, Value
from phasewright.ways.figures import Figures
from phasewright.ways.motor_figures import TorqueSpeed

SAMPLES = 201
_ANGLES = np.linspace(0.0, 2.0 * np.pi, SAMPLES)
_SUM = "sum of the 40 harmonics with their angles"


def input_sheet(figures: Figures, motor: str) -> Sheet | None:
    """The wave and the harmonics of the supply's current at usual work; None without harmonics."""
    amps, degrees = figures.harmonics_a, figures.harmonics_deg
    if amps is None or degrees is None:
        return None
    inputs = _inputs(figures)
    source = "periodic state of the bridge rectifier with its link, computed"
    wave = Chart(
        "wave", f"Current into the drive of {motor} over one period",
        "The volts cross nought upwards at the left end.",
        "part of a period", "degrees", "amps", "A", tuple(np.degrees(_ANGLES).tolist()),
        (
            Curve("current", numbers(_wave(amps, degrees))),
            Curve("its fundamental", numbers(_wave(amps[:1], degrees[:1])), broken=True),
        ),
        _SUM, inputs, source,
    )  # fmt: skip
    bars = Chart(
        "harmonics", "Its harmonics", "", "order", "times the supply's hertz", "amps", "A rms",
        tuple(float(n) for n in range(1, len(amps) + 1)), (Curve("amps", numbers(amps)),),
        "electronics.drive.drive_input", inputs, source, bars=True,
    )  # fmt: skip
    thd = figures.input_current_thd
    words = () if thd is None else (f"Harmonics over the fundamental: {thd.number:.0%}.",)
    return Sheet(f"What the drive of {motor} takes", words, (wave, bars))


def speed_sheet(figures: Figures, motor: str, rated_rpm: float | None) -> Sheet | None:
    """What the motor gives at each speed and what its heat allows; None without figures."""
    rows = figures.torque_speed
    if not rows:
        return None
    speeds = tuple(row.speed_rpm for row in rows)
    inputs = (
        *(() if figures.base_frequency_hz is None
          else (_put("full volts at", figures.base_frequency_hz),)),
        *(() if figures.drive_rating_a is None
          else (_put("drive", figures.drive_rating_a),)),
    )  # fmt: skip
    spots = () if rated_rpm is None else (Spot(rated_rpm, "plate"),)

    def chart(key: str, title: str, up: tuple[str, str], curves: tuple[Curve, ...]) -> Chart:
        return Chart(
            key, title, "", "speed", "rpm", *up, speeds, curves, "ways.torque_speed.envelope",
            inputs, "docs/calculations/torque-on-a-drive.md", spots,
        )  # fmt: skip

    return Sheet(
        f"The speeds of {motor} on its drive",
        ("Points are computed; the lines between them are drawn.",),
        (
            chart("speed-torque", "Torque for a minute and for ever", ("torque", "% of rated"),
                  _torques(rows)),
            chart("speed-volts", "Volts it is given at its load", ("volts", "V"),
                  (Curve("line volts", tuple(row.line_voltage_v for row in rows)),)),
        ),
    )  # fmt: skip


def _torques(rows: tuple[TorqueSpeed, ...]) -> tuple[Curve, ...]:
    def share(value: float | None) -> float | None:
        return None if value is None else 100.0 * value

    return (
        Curve("falls out beyond", tuple(share(row.pull_out_ratio) for row in rows), broken=True),
        Curve("for a minute", tuple(share(row.short_time_ratio) for row in rows)),
        Curve("for ever, with a fan of its own drive",
              tuple(share(row.lasting_with_fan_ratio) for row in rows), broken=True),
        Curve("for ever, by its heat", tuple(share(row.lasting_ratio) for row in rows)),
        Curve("its load", tuple(share(row.need_ratio) for row in rows), broken=True),
    )  # fmt: skip


def _wave(amps: tuple[float, ...], degrees: tuple[float, ...]) -> np.ndarray:
    """Instantaneous amps: each harmonic a sine with its angle against the volts' sine."""
    orders = np.arange(1, len(amps) + 1)[:, None]
    phases = np.radians(np.array(degrees))[:, None]
    parts = np.sqrt(2.0) * np.array(amps)[:, None] * np.sin(orders * _ANGLES + phases)
    return np.asarray(parts.sum(axis=0))


def _inputs(figures: Figures) -> tuple[Input, ...]:
    link = figures.link
    if link is None:
        return ()
    told = (
        ("link capacitance", link.capacitance_f), ("choke before it", link.ac_choke_h),
        ("choke in the link", link.dc_choke_h), ("link power", link.power_w),
    )  # fmt: skip
    return tuple(_put(name, value) for name, value in told if isinstance(value, Value))


def _put(name: str, value: Value) -> Input:
    return Input(name, value.number, value.unit)
