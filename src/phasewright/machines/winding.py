"""Links of a winding by stamped volts, leads and starter, one rule for every kind of plate."""

from __future__ import annotations

from dataclasses import replace

from phasewright.machines.link import Link, Linking, link_of, refused
from phasewright.machines.link_words import (
    FIXED,
    UNKNOWN_INSIDE,
    delta_words,
    high_words,
    low_words,
    star_words,
)
from phasewright.machines.stamped import plain_stamp
from phasewright.machines.voltages import ROOT3, Group
from phasewright.quantities.codes import Region, Starter
from phasewright.quantities.finding import Reason
from phasewright.shop.plate import Plate

STAR_DELTA_RATIOS = (1.62, 1.82)
DOUBLING_RATIOS = (1.90, 2.12)


def two_speeds(plate: Plate, groups: tuple[Group, ...]) -> Linking:
    """A winding whose ends are there for the speeds: fixed at its volts."""
    words = (
        "A two-speed winding: its ends change the number of poles, not the voltage; it cannot be "
        "relinked for a lower voltage."
    )
    if len(groups) > 1:
        words += (
            " Two voltages beside two speeds cannot be told apart from here: photograph the "
            "diagram in the lid and give the voltage the machine is linked for."
        )
        return Linking((), (Reason("two_speed", words),), plate.leads, False)
    fixed = replace(link_of("fixed", words, groups[0], None), winder="rewind")
    return Linking((fixed,), (Reason("two_speed", words),), plate.leads, False)


def one_voltage(plate: Plate, group: Group, region: Region, starter: Starter | None) -> Linking:
    """One stamped voltage or range."""
    stamp = plain_stamp(plate.connection)
    leads = plate.leads
    if plate.kind in ("hermetic", "submersible"):
        words = f"A {plate.kind} motor: its connection is closed in and cannot be changed."
        closed = replace(link_of("fixed", words, group, None), winder="nothing")
        return Linking((closed,), (Reason("closed_in", words),), leads, False)
    if starter == "star_delta" and stamp != "Y" and leads in (None, 6):
        return _proven_delta(group, region)
    if leads == 6 and stamp in ("Y", "D"):
        return _six_leads_one_voltage(group, stamp, region)
    if leads in (None, 3):
        taken = "" if leads == 3 else " Three leads were taken, since the plate names one voltage."
        delta = {"Y": False, "D": True}.get(stamp)
        inside = {"Y": " It is star inside.", "D": " It is delta inside."}.get(stamp, "")
        link = link_of("fixed", FIXED + inside, group, delta)
        reason = Reason("one_voltage", FIXED + inside + taken)
        return Linking((link,), (reason,), 3, leads is None)
    link = link_of("unknown", UNKNOWN_INSIDE, group, None)
    reason = Reason(
        "which_link",
        f"One voltage and {leads} leads: whether {group.volts:.0f} V belongs to the links as they "
        "stand must be read in the lid (links across or along) before any is moved.",
    )
    return Linking((link,), (reason,), leads, False)


def _delta_and_star(low: Group, high: Group, region: Region) -> tuple[Link, Link]:
    delta = link_of("delta", delta_words(region), low, True)
    return delta, link_of("star", star_words(region), high, False)


def _proven_delta(group: Group, region: Region) -> Linking:
    """A star-delta starter runs the motor in delta at the volts of the plate."""
    both = _six_leads_one_voltage(group, "D", region)
    reason = Reason(
        "star_delta_starter",
        f"The star-delta starter proves that six ends are out and that the motor runs in delta "
        f"at {group.volts:.0f} V: that is its lowest voltage, star is for "
        f"{group.volts * ROOT3:.0f} V.",
    )
    return Linking(both.links, (reason,), 6, False)


def _six_leads_one_voltage(group: Group, stamp: str, region: Region) -> Linking:
    """Both ends of every winding are out: the other connection serves root three times."""
    factor = 1.0 / ROOT3 if stamp == "Y" else ROOT3
    amps = tuple(a / factor for a in group.currents_a)
    other = Group(group.low_v * factor, group.high_v * factor, amps)
    low, high = (other, group) if stamp == "Y" else (group, other)
    both = _delta_and_star(low, high, region)
    reason = Reason(
        "six_leads",
        f"All six ends are out: delta for {low.volts:.0f} V, star for {high.volts:.0f} V.",
    )
    return Linking(both, (reason,), 6, False)


def two_voltages(
    plate: Plate, low: Group, high: Group, region: Region, starter: Starter | None
) -> Linking:
    """Two stamped voltages or ranges."""
    ratio = high.volts / low.volts
    if STAR_DELTA_RATIOS[0] <= ratio <= STAR_DELTA_RATIOS[1]:
        return _star_delta(plate, low, high, region, starter)
    if DOUBLING_RATIOS[0] <= ratio <= DOUBLING_RATIOS[1]:
        return _doubling(plate, low, high, starter)
    return refused(
        "odd_ratio",
        f"{low.volts:.0f} and {high.volts:.0f} V stand neither as 1 to 1.73 nor as 1 to 2: "
        "no connection is given. Measure the resistance of every pair of terminals and count the "
        "wires on each; three equal values to one terminal mark a star point.",
        plate.leads,
    )


def _leads_disagree(plate: Plate, low: Group, high: Group) -> Linking:
    return refused(
        "leads_disagree",
        f"{plate.leads} leads do not belong to {low.volts:.0f}/{high.volts:.0f} V: no connection "
        "is given. Follow the diagram in the lid; else count the wires on each terminal and "
        "measure every pair in ohms (three equal values to one terminal mark a star point).",
        plate.leads,
    )


def _star_delta(
    plate: Plate, low: Group, high: Group, region: Region, starter: Starter | None
) -> Linking:
    if plate.leads == 3:
        return _hidden(plate, low, high)
    if plate.leads not in (None, 6, 12):
        return _leads_disagree(plate, low, high)
    both = _delta_and_star(low, high, region)
    proven = starter == "star_delta"
    assumed = plate.leads is None and not proven
    reason = Reason(
        "star_delta",
        f"{low.volts:.0f}/{high.volts:.0f} V: delta for the low, star for the high voltage"
        + (
            " (six leads taken)."
            if assumed
            else "; the star-delta starter proves six leads."
            if proven
            else "."
        ),
    )
    return Linking(both, (reason,), plate.leads or 6, assumed)


def _doubling(plate: Plate, low: Group, high: Group, starter: Starter | None) -> Linking:
    if plate.leads == 3:
        return _hidden(plate, low, high)
    if plate.leads not in (None, 6, 9, 12):
        return _leads_disagree(plate, low, high)
    proven = starter == "star_delta" and plate.leads in (None, 12)
    leads = plate.leads or (12 if proven else 9)
    stamp = "D" if proven else plain_stamp(plate.connection)
    delta = True if stamp.startswith("D") else False if stamp.startswith("Y") else None
    both = (
        link_of("low_voltage", low_words(leads, delta), low, delta),
        link_of("high_voltage", high_words(leads, delta), high, delta),
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
        link = link_of("fixed", FIXED, group, stamp == "D")
        return Linking((link,), (Reason("three_leads", FIXED),), 3, False)
    reason = Reason(
        "three_leads_two_voltages",
        f"Two voltages are stamped but only three leads come out: open the lid and see whether "
        f"the winding is made for {low.volts:.0f} or {high.volts:.0f} V. Taken as "
        f"{high.volts:.0f} V until then.",
    )
    link = link_of("unknown", UNKNOWN_INSIDE, high, None)
    return Linking((link,), (reason,), 3, False)
