"""What a motor's winding can be linked for: from stamped volts, leads and connection.

Six leads in star or delta as IEC 60034-8 numbers them, nine and twelve leads as NEMA MG 1
part 2 does (both from memory), three leads as they come out. Where the plate does not settle
the matter, nothing is guessed: the reason and the measurement that settles it are given.
"""

from __future__ import annotations

import math

from phasewright.machines.frequency import (
    FLUX_REFUSED,
    FLUX_WEAK_REFUSED,
    flux_reasons,
    other_frequency,
)
from phasewright.machines.link import Link, Linking, refused
from phasewright.machines.stamped import speeds_of, two_speed_stamp
from phasewright.machines.voltages import voltage_groups
from phasewright.machines.winding import one_voltage, two_speeds, two_voltages
from phasewright.quantities.codes import Region, Starter
from phasewright.quantities.finding import Reason
from phasewright.shop.plate import Plate

__all__ = ["Link", "Linking", "link_for", "linking", "links"]


def links(plate: Plate, region: Region, starter: Starter | None = None) -> tuple[Link, ...]:
    """Every link this plate allows; empty where there is none or it cannot be told."""
    return linking(plate, region, starter).links


def linking(plate: Plate, region: Region, starter: Starter | None = None) -> Linking:
    """Every link this plate allows, with the reasons in words.

    A star-delta starter proves six ends and a delta at the volts the machine ran on; a switch
    for two speeds proves that the ends are not there to be linked.
    """
    odd = _odd_kind(plate)
    if odd is not None:
        return odd
    groups = voltage_groups(plate)
    if not groups:
        return refused("no_voltage", "The plate gives no volts: read it, or measure the winding.")
    if (
        len(speeds_of(plate)) > 1
        or two_speed_stamp(plate.connection)
        or starter == "two_speed_switch"
    ):
        return two_speeds(plate, groups)
    if len(groups) == 1:
        return one_voltage(plate, groups[0], region, starter)
    if len(groups) == 2:
        return two_voltages(plate, groups[0], groups[1], region, starter)
    return refused(
        "many_voltages",
        "More than two voltages are stamped: follow the diagram in the lid and give the two "
        "that belong to this connection.",
    )


def _odd_kind(plate: Plate) -> Linking | None:
    """Motors that are no three-phase cage motors are recognised, not linked."""
    if plate.single_phase:
        return refused(
            "single_phase_motor",
            "A single-phase motor: it runs on the supply as it is and on nothing else here.",
        )
    if plate.kind in ("dc", "commutator"):
        return refused(
            "no_three_phase_winding",
            f"A {plate.kind} motor has no three-phase winding that could be linked.",
        )
    return None


def link_for(
    of: tuple[Link, ...],
    line_voltage_v: float,
    supply_frequency_hz: float,
    plate_frequency_hz: float,
) -> tuple[Link | None, tuple[Reason, ...]]:
    """The link that fits a three-phase line voltage, or none, and why.

    Judged by volts per hertz: within 0.85 to 1.15 of the plate it serves, outside 0.94 to 1.06
    it is told, outside 0.90 to 1.10 it is a condition.
    """
    if not of:
        return None, (Reason("no_link", "No connection of this motor is known."),)

    def distance(link: Link) -> float:
        flux = link.flux_ratio(line_voltage_v, supply_frequency_hz, plate_frequency_hz)
        return abs(math.log(flux))

    best = min(of, key=distance)
    flux = best.flux_ratio(line_voltage_v, supply_frequency_hz, plate_frequency_hz)
    at = f"{line_voltage_v:.0f} V {supply_frequency_hz:g} Hz"
    wants = f"{best.line_voltage_v:.0f} V {plate_frequency_hz:g} Hz"
    if not FLUX_WEAK_REFUSED <= flux <= FLUX_REFUSED:
        return None, (_no_fit(of, best, flux, at, wants),)
    reasons = flux_reasons(flux, at, wants)
    if abs(supply_frequency_hz / plate_frequency_hz - 1.0) > 0.02:
        reasons += (other_frequency(supply_frequency_hz, plate_frequency_hz),)
    return best, reasons


def _no_fit(of: tuple[Link, ...], best: Link, flux: float, at: str, wants: str) -> Reason:
    if flux < FLUX_WEAK_REFUSED:
        tail = "it would need a higher voltage"
        if len(of) == 1 and best.connection in ("star", "fixed", "unknown"):
            rewind = best.delta is True or best.winder == "rewind"
            if best.winder != "nothing":
                how = "rewind" if rewind else "bring the star point out or rewind"
                tail += f", or a winder to {how}"
        text = (
            f"This winding wants {wants}; on {at} it would give about "
            f"{flux * flux:.0%} of its torque: {tail}."
        )
        return Reason("volts_too_low", text)
    text = f"This winding wants {wants}; {at} would overheat it by saturation."
    return Reason("volts_too_high", text)
