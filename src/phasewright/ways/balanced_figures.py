"""Figures of a motor on three equal lines that are the motor's own, whatever source feeds them."""

from __future__ import annotations

from phasewright.quantities.value import Value, figure
from phasewright.ways.balanced import Balanced

_SOURCE = "equivalent circuit of the motor on three equal lines"


def usable_power(one: Balanced) -> Value:
    """Shaft power it may give for ever [W]."""
    return figure(
        one.usable_w, "W", "ways.balanced.Balanced.usable_w",
        {"share of rated torque at which it stays as cool as at its plate": (one.usable_ratio, ""),
         "rated torque": (one.rated_nm, "N m"),
         "rated speed": (one.circuit.rated_speed_rpm, "rpm")}, _SOURCE,
    )  # fmt: skip


def starting_torque(one: Balanced) -> Value:
    """Torque at standstill, straight on, over the rated one."""
    return figure(
        one.starting_ratio, "", "ways.balanced.Balanced.starting_ratio",
        {"torque at standstill": (one.start.shaft_torque_nm, "N m"),
         "rated torque": (one.rated_nm, "N m")}, _SOURCE,
    )  # fmt: skip


def line_current(one: Balanced) -> Value:
    """Amps of one line at its highest load."""
    return figure(
        one.highest.current_a, "A", "machines.performance.at_torque",
        {"torque": (one.highest.shaft_torque_nm, "N m"),
         "between lines": (one.line_voltage_v, "V")},
        _SOURCE,
    )  # fmt: skip
