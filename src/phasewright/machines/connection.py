"""What a motor's winding can be linked for: from stamped volts, leads and connection.

Six leads in star or delta as IEC 60034-8 numbers them, nine and twelve leads as NEMA MG 1
part 2 does (both from memory), three leads as they come out. Where the plate does not settle
the matter, nothing is guessed: the reason and the measurement that settles it are given.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from phasewright.machines.frequency import (
    FLUX_REFUSED,
    FLUX_WEAK_REFUSED,
    flux_reasons,
    other_frequency,
)
from phasewright.machines.link_words import (
    FIXED,
    UNKNOWN_INSIDE,
    delta_words,
    high_words,
    low_words,
    star_words,
)
from phasewright.machines.stamped import (
    ROOT3,
    Group,
    plain_stamp,
    speeds_of,
    two_speed_stamp,
    voltage_groups,
)
from phasewright.quantities.codes import Connection, Region
from phasewright.quantities.finding import Reason
from phasewright.shop.plate import Plate

STAR_DELTA_RATIOS = (1.62, 1.82)
DOUBLING_RATIOS = (1.90, 2.12)


@dataclass(frozen=True, slots=True)
class Link:
    """One way to link a winding: rated line volts and line amps of that link.

    `voltage_low_v` to `voltage_high_v` is the stamped range (both equal `line_voltage_v`
    where one value is stamped). `full_load_current_a` is None where no current is stamped.
    """

    connection: Connection
    words: str
    line_voltage_v: float
    full_load_current_a: float | None
    voltage_low_v: float
    voltage_high_v: float
    delta: bool | None = None

    def flux_ratio(self, voltage_v: float, frequency_hz: float, plate_frequency_hz: float) -> float:
        """Volts per hertz over the stamped ones: 1 anywhere within the stamped range."""
        volts = voltage_v * plate_frequency_hz / frequency_hz
        nearest = min(max(volts, self.voltage_low_v), self.voltage_high_v)
        return volts / nearest


@dataclass(frozen=True, slots=True)
class Linking:
    """Every link a plate allows, why, and the number of leads that was taken."""

    links: tuple[Link, ...]
    reasons: tuple[Reason, ...]
    leads: int | None
    leads_assumed: bool


def links(plate: Plate, region: Region) -> tuple[Link, ...]:
    """Every link this plate allows; empty where there is none or it cannot be told."""
    return linking(plate, region).links


def linking(plate: Plate, region: Region) -> Linking:
    """Every link this plate allows, with the reasons in words."""
    odd = _odd_kind(plate)
    if odd is not None:
        return odd
    groups = voltage_groups(plate)
    if not groups:
        return _refused("no_voltage", "The plate gives no volts: read it, or measure the winding.")
    if len(speeds_of(plate)) > 1 or two_speed_stamp(plate.connection):
        return _two_speed(plate, groups)
    if len(groups) == 1:
        return _single_voltage(plate, groups[0], region)
    if len(groups) == 2:
        return _two_voltages(plate, groups[0], groups[1], region)
    return _refused(
        "many_voltages",
        "More than two voltages are stamped: follow the diagram in the lid and give the two "
        "that belong to this connection.",
    )


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
        if len(of) == 1 and best.connection in ("star", "fixed", "unknown"):
            how = "bring the star point out or rewind" if best.delta is not True else "rewind"
            tail = f"it would need a higher voltage, or a winder to {how}"
        else:
            tail = "it would need a higher voltage"
        text = (
            f"This winding wants {wants}; on {at} it would give about "
            f"{flux * flux * 100.0:.0f} % of its torque: {tail}."
        )
        return Reason("volts_too_low", text)
    text = f"This winding wants {wants}; {at} would overheat it by saturation."
    return Reason("volts_too_high", text)


def _refused(code: str, words: str, connection_leads: int | None = None) -> Linking:
    return Linking((), (Reason(code, words),), connection_leads, False)


def _link(connection: Connection, words: str, group: Group, delta: bool | None) -> Link:
    return Link(connection, words, group.volts, group.amps, group.low_v, group.high_v, delta)


def _delta_and_star(low: Group, high: Group, region: Region) -> tuple[Link, Link]:
    delta = _link("delta", delta_words(region), low, True)
    return delta, _link("star", star_words(region), high, False)


def _odd_kind(plate: Plate) -> Linking | None:
    """Motors that are no three-phase cage motors are recognised, not linked."""
    if plate.single_phase:
        return _refused(
            "single_phase_motor",
            "A single-phase motor: it runs on the supply as it is and on nothing else here.",
        )
    if plate.kind in ("dc", "commutator"):
        return _refused(
            "no_three_phase_winding",
            f"A {plate.kind} motor has no three-phase winding that could be linked.",
        )
    return None


def _two_speed(plate: Plate, groups: tuple[Group, ...]) -> Linking:
    words = (
        "A two-speed winding: its two connections change the number of poles, not the voltage; "
        "it cannot be relinked for a lower voltage."
    )
    reason = Reason("two_speed", words)
    if len(groups) > 1:
        return Linking((), (reason,), plate.leads, False)
    only = groups[0]
    fixed = _link("fixed", words, only, None)
    return Linking((fixed,), (reason,), plate.leads, False)


def _single_voltage(plate: Plate, group: Group, region: Region) -> Linking:
    stamp = plain_stamp(plate.connection)
    leads = plate.leads
    if plate.kind in ("hermetic", "submersible"):
        words = f"A {plate.kind} motor: its connection is closed in and cannot be changed."
        return Linking(
            (_link("fixed", words, group, None),), (Reason("closed_in", words),), leads, False
        )
    if leads == 6 and stamp in ("Y", "D"):
        return _six_leads_one_voltage(group, stamp, region)
    if leads in (None, 3):
        taken = "" if leads == 3 else " Three leads were taken, since the plate names one voltage."
        delta = {"Y": False, "D": True}.get(stamp)
        inside = {"Y": " It is star inside.", "D": " It is delta inside."}.get(stamp, "")
        link = _link("fixed", FIXED + inside, group, delta)
        reason = Reason("one_voltage", FIXED + inside + taken)
        return Linking((link,), (reason,), 3, leads is None)
    link = _link("unknown", UNKNOWN_INSIDE, group, None)
    reason = Reason(
        "which_link",
        f"One voltage and {leads} leads: whether {group.volts:.0f} V belongs to the links as they "
        "stand must be read in the lid (links across or along) before any is moved.",
    )
    return Linking((link,), (reason,), leads, False)


def _six_leads_one_voltage(group: Group, stamp: str, region: Region) -> Linking:
    """Both ends of every winding are out: the other connection serves root three times."""
    factor = 1.0 / ROOT3 if stamp == "Y" else ROOT3
    amps = tuple(a / factor for a in group.currents_a)
    other = Group(group.low_v * factor, group.high_v * factor, amps)
    low, high = (other, group) if stamp == "Y" else (group, other)
    both = (
        _link("delta", delta_words(region), low, True),
        _link("star", star_words(region), high, False),
    )
    reason = Reason(
        "six_leads",
        f"All six ends are out: delta for {low.volts:.0f} V, star for {high.volts:.0f} V.",
    )
    return Linking(both, (reason,), 6, False)


def _two_voltages(plate: Plate, low: Group, high: Group, region: Region) -> Linking:
    ratio = high.volts / low.volts
    if STAR_DELTA_RATIOS[0] <= ratio <= STAR_DELTA_RATIOS[1]:
        return _star_delta(plate, low, high, region)
    if DOUBLING_RATIOS[0] <= ratio <= DOUBLING_RATIOS[1]:
        return _doubling(plate, low, high)
    return _refused(
        "odd_ratio",
        f"{low.volts:.0f} and {high.volts:.0f} V stand neither as 1 to 1.73 nor as 1 to 2: "
        "no connection is given. Measure the resistance of every pair of terminals and count the "
        "wires on each; three equal values to one terminal mark a star point.",
        plate.leads,
    )


def _leads_disagree(plate: Plate, low: Group, high: Group) -> Linking:
    return _refused(
        "leads_disagree",
        f"{plate.leads} leads do not belong to {low.volts:.0f}/{high.volts:.0f} V: no connection "
        "is given. Follow the diagram in the lid; else count the wires on each terminal and "
        "measure every pair in ohms (three equal values to one terminal mark a star point).",
        plate.leads,
    )


def _star_delta(plate: Plate, low: Group, high: Group, region: Region) -> Linking:
    if plate.leads == 3:
        return _hidden(plate, low, high)
    if plate.leads not in (None, 6, 12):
        return _leads_disagree(plate, low, high)
    both = (
        _link("delta", delta_words(region), low, True),
        _link("star", star_words(region), high, False),
    )
    assumed = plate.leads is None
    reason = Reason(
        "star_delta",
        f"{low.volts:.0f}/{high.volts:.0f} V: delta for the low, star for the high voltage"
        + (" (six leads taken)." if assumed else "."),
    )
    return Linking(both, (reason,), plate.leads or 6, assumed)


def _doubling(plate: Plate, low: Group, high: Group) -> Linking:
    if plate.leads == 3:
        return _hidden(plate, low, high)
    if plate.leads not in (None, 6, 9, 12):
        return _leads_disagree(plate, low, high)
    leads = plate.leads or 9
    stamp = plain_stamp(plate.connection)
    delta = True if stamp.startswith("D") else False if stamp.startswith("Y") else None
    both = (
        _link("low_voltage", low_words(leads, delta), low, delta),
        _link("high_voltage", high_words(leads, delta), high, delta),
    )
    reason = Reason(
        "two_to_one",
        f"{low.volts:.0f}/{high.volts:.0f} V: half windings side by side for the low, in series "
        "for the high voltage" + ("." if plate.leads else f" ({leads} leads taken)."),
    )
    return Linking(both, (reason,), leads, plate.leads is None)


def _hidden(plate: Plate, low: Group, high: Group) -> Linking:
    """Two voltages stamped but three leads out: which one is made inside is not known."""
    stamp = plain_stamp(plate.connection)
    if stamp in ("Y", "D"):
        group = high if stamp == "Y" else low
        link = _link("fixed", FIXED, group, stamp == "D")
        return Linking((link,), (Reason("three_leads", FIXED),), 3, False)
    reason = Reason(
        "three_leads_two_voltages",
        f"Two voltages are stamped but only three leads come out: open the lid and see whether "
        f"the winding is made for {low.volts:.0f} or {high.volts:.0f} V. Taken as "
        f"{high.volts:.0f} V until then.",
    )
    link = _link("unknown", UNKNOWN_INSIDE, high, None)
    return Linking((link,), (reason,), 3, False)
