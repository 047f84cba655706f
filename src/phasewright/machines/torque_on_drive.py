"""What a cage motor gives on a drive at any speed: volts, flux, torque within given amps.

The drive sets volts and hertz; hertz are those of the shaft and the slip's on top, so standstill
is no special case. Stray loss grows with the hertz, so its torque does not grow as the shaft
slows (assumed). The circuit is that of `performance` (Fitzgerald, Kingsley, Umans, Electric
Machinery, ch. 6). Volts follow one of two laws: the rated flux is held, the drop in the stator
made up (what drives with the winding's resistance measured do), or a straight line of volts over
hertz with a fixed boost; both end at the volts the drive has, from where on the flux fades.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from phasewright.machines.circuit import Circuit
from phasewright.machines.flux import rotor_admittance
from phasewright.machines.performance import Curve, breakdown, curve_over, no_load, rated

Floats = NDArray[np.float64]
_SLIPS = 160
_LEAST, _MOST = 0.01, 2.5
"""Slip hertz looked at, over those of the rated and of the breakdown point."""


@dataclass(frozen=True, slots=True)
class Output:
    """What a drive gives: line volts (rms) at most, and how it follows them.

    `boost_v` None: the rated flux is held as long as the volts reach, whatever the load. Else
    volts are `boost_v` + rated volts times hertz over the plate's.
    """

    most_v: float
    boost_v: float | None = None


@dataclass(frozen=True, slots=True)
class Field:
    """The motor over slip at several fields; every array is (fields, slips).

    `slip_hz` are the rotor's hertz, `field_hz` the drive's; amps rms, torques at the shaft.
    """

    slip_hz: Floats
    field_hz: Floats
    line_voltage_v: Floats
    at: Curve


@dataclass(frozen=True, slots=True)
class Reached:
    """The point of the greatest torque within a limit, one of each for every field.

    `torque_nm` is 0 where no point keeps within it. `by_breakdown` says that no amps but the
    breakdown torque ends it.
    """

    torque_nm: Floats
    slip_hz: Floats
    line_voltage_v: Floats
    flux_ratio: Floats
    by_breakdown: NDArray[np.bool_]


def usual_boost_v(circuit: Circuit) -> float:
    """The boost [V] that gives the current of no load at standstill: there it makes the rated
    flux."""
    return math.sqrt(3.0) * circuit.stator_resistance_ohm * no_load(circuit).current_a


def over_speeds(circuit: Circuit, shaft_hz: Floats, output: Output) -> Field:
    """The motor with its shaft at `shaft_hz` (speed in rpm times poles over 120; 0 and above)."""
    slip_hz = _slip_hz(circuit)[None, :]
    return _field(circuit, slip_hz, np.asarray(shaft_hz)[:, None] + slip_hz, output)


def over_fields(circuit: Circuit, field_hz: Floats, output: Output) -> Field:
    """The motor with the drive at `field_hz`, from no slip to standstill."""
    whole = np.asarray(field_hz)[:, None]
    return _field(circuit, np.minimum(_slip_hz(circuit)[None, :], whole), whole, output)


def _slip_hz(circuit: Circuit) -> Floats:
    """Slip hertz from next to nothing to well beyond the breakdown torque."""
    at_rated = circuit.rated_slip * circuit.frequency_hz
    at_top = breakdown(circuit).slip * circuit.frequency_hz
    return np.geomspace(_LEAST * at_rated, _MOST * max(at_top, at_rated), _SLIPS)


def _field(circuit: Circuit, slip_hz: Floats, field_hz: Floats, output: Output) -> Field:
    slip_hz, field_hz = np.broadcast_arrays(slip_hz, field_hz)
    if output.boost_v is None:
        wanted_v = _volts_for_flux(circuit, slip_hz, field_hz)
    else:
        wanted_v = output.boost_v + circuit.line_voltage_v * field_hz / circuit.frequency_hz
    volts = np.minimum(wanted_v, output.most_v)
    stretch = field_hz / circuit.frequency_hz
    at = curve_over(circuit, slip_hz / field_hz, volts, field_hz, stray_ratio=stretch)
    return Field(slip_hz, field_hz, volts, at)


def _volts_for_flux(circuit: Circuit, slip_hz: Floats, field_hz: Floats) -> Floats:
    """Line volts (rms) that give the air-gap flux of the rated point at these hertz."""
    stretch = field_hz / circuit.frequency_hz
    held = rated(circuit).flux_ratio
    gap_v = held * circuit.rated_flux_vs * math.sqrt(2.0) * math.pi * field_hz
    chord_ohm = circuit.magnetising_ohm * stretch
    if circuit.saturation is not None:
        k, s = circuit.saturation.k, circuit.saturation.s
        chord_ohm = chord_ohm * (1.0 + k) / (1.0 + k * held**s)
    gap = rotor_admittance(circuit, slip_hz / field_hz, stretch) - 1j / chord_ohm
    series = circuit.stator_resistance_ohm + 1j * circuit.stator_leakage_ohm * stretch
    return np.asarray(math.sqrt(3.0) * gap_v * np.abs(1.0 + series * gap), dtype=np.float64)


def pull_out_nm(field: Field) -> Floats:
    """The greatest air-gap torque at every field, whatever amps it takes."""
    return np.asarray(field.at.airgap_torque_nm.max(axis=1), dtype=np.float64)


def within_amps(field: Field, most_a: float) -> Reached:
    """The greatest shaft torque at every field with at most `most_a` in the motor's line (rms)."""
    return _within(field, field.at.current_a, most_a)


def lasting(field: Field, circuit: Circuit, most_a: float) -> Reached:
    """The greatest shaft torque for ever with the motor cooled as at its rated point.

    Within `most_a` in the line, and with neither more copper loss in the stator nor more loss in
    windings, cage and iron together than at the rated point. Friction does not count: most of it
    is the fan's, which leaves with the air.
    """
    at, whole = field.at, rated(circuit)
    copper = (at.stator_current_a / whole.stator_current_a) ** 2
    loss_w = (
        3.0 * circuit.stator_resistance_ohm * at.stator_current_a**2
        + at.rotor_loss_w
        + field.line_voltage_v**2 / circuit.core_loss_ohm
        + circuit.stray_w
        * (field.field_hz / circuit.frequency_hz)
        * (at.stator_current_a / circuit.rated_current_a) ** 2
    )
    heat = loss_w / (whole.loss_w - whole.friction_loss_w)
    asked = np.maximum(np.maximum(copper, heat), (at.current_a / most_a) ** 2)
    return _within(field, asked, 1.0)


def giving(field: Field, torque_nm: Floats) -> Reached:
    """Where each field first gives this shaft torque; not a number where it cannot."""
    of, rows = field.at.shaft_torque_nm, np.arange(len(field.slip_hz))
    wanted = np.broadcast_to(np.asarray(torque_nm, dtype=np.float64), rows.shape)
    reached = of >= wanted[:, None]
    first = reached.argmax(axis=1)
    left = np.maximum(first - 1, 0)
    low, high = of[rows, left], of[rows, first]
    share = np.where(high > low, (wanted - low) / np.where(high > low, high - low, 1.0), 1.0)
    can = reached.any(axis=1)

    def between(each: Floats) -> Floats:
        found = each[rows, left] + share * (each[rows, first] - each[rows, left])
        return np.where(can, found, np.nan)

    return Reached(
        between(of), between(field.slip_hz), between(field.line_voltage_v),
        between(field.at.flux_ratio), np.logical_not(can),
    )  # fmt: skip


def _within(field: Field, asked: Floats, most: float) -> Reached:
    """The greatest torque at every field, up to its highest, at which no more than `most` is asked.

    A motor that idles on too much flux may ask for more than at work: that does not count.
    """
    torque, rows = field.at.shaft_torque_nm, np.arange(len(field.slip_hz))
    top = np.argmax(torque, axis=1)
    slip = np.arange(torque.shape[1])[None, :]
    fits = (slip <= top[:, None]) & (asked <= most * (1.0 + 1e-9))
    never = ~fits.any(axis=1)
    last = np.where(never, 0, torque.shape[1] - 1 - fits[:, ::-1].argmax(axis=1))
    ends = last >= top
    after = np.where(ends | never, last, last + 1)
    low, high = asked[rows, last], asked[rows, after]
    share = np.where(high > low, (most - low) / np.where(high > low, high - low, 1.0), 0.0)

    def between(of: Floats) -> Floats:
        return np.asarray(of[rows, last] + share * (of[rows, after] - of[rows, last]))

    give = np.where(never, 0.0, np.maximum(between(torque), 0.0))
    return Reached(
        give, between(field.slip_hz), between(field.line_voltage_v), between(field.at.flux_ratio),
        np.asarray(ends & ~never),
    )  # fmt: skip
