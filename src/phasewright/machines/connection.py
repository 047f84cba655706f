"""What a motor's winding can be linked for: from stamped volts, leads and connection.

Six leads in star or delta as IEC 60034-8 numbers them, nine and twelve leads as NEMA MG 1
part 2 does (both from memory), three leads as they come out. Where the plate does not settle
the matter, nothing is guessed: the reason and the measurement that settles it are given.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from phasewright.machines.link_words import (
    DELTA_6,
    FIXED,
    STAR_6,
    UNKNOWN_INSIDE,
    high_words,
    low_words,
)
from phasewright.quantities.codes import Connection, Region
from phasewright.quantities.finding import Reason
from phasewright.shop.plate import Plate

ROOT3 = math.sqrt(3.0)
SAME_RANGE = 1.30
"""Stamped volts closer than this ratio are a range of one connection (220-240, 208-230)."""
STAR_DELTA_RATIOS = (1.62, 1.82)
DOUBLING_RATIOS = (1.88, 2.12)
FLUX_TOLD = 1.06
FLUX_CONDITION = 1.10
FLUX_REFUSED = 1.15
FLUX_WEAK = 0.94
FLUX_WEAK_CONDITION = 0.90
FLUX_WEAK_REFUSED = 0.85
"""Volts per hertz over the plate's: told, made a condition, refused (high mains: common
practice, no source; +-10 % is the usual range of a motor, NEMA MG 1 12.44, from memory)."""

Winding = Literal["cage", "two_speed", "single_phase", "not_cage"]


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


@dataclass(frozen=True, slots=True)
class _Group:
    low_v: float
    high_v: float
    currents_a: tuple[float, ...]

    @property
    def volts(self) -> float:
        return 0.5 * (self.low_v + self.high_v)

    @property
    def amps(self) -> float | None:
        """The largest stamped current of this group: the one a relay must let pass."""
        return max(self.currents_a) if self.currents_a else None


def links(plate: Plate, region: Region) -> tuple[Link, ...]:
    """Every link this plate allows; empty where there is none or it cannot be told."""
    return linking(plate, region).links


def linking(plate: Plate, region: Region) -> Linking:
    """Every link this plate allows, with the reasons in words."""
    odd = _odd_kind(plate)
    if odd is not None:
        return odd
    groups = _groups(plate)
    if not groups:
        return _refused("no_voltage", "The plate gives no volts: read it, or measure the winding.")
    if len(speeds_of(plate)) > 1 or _two_speed_stamp(plate.connection):
        return _two_speed(plate, groups)
    if len(groups) == 1:
        return _single_voltage(plate, groups[0])
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
    reasons = _fit_reasons(flux, at, wants)
    if abs(supply_frequency_hz / plate_frequency_hz - 1.0) > 0.02:
        reasons += (other_frequency(supply_frequency_hz, plate_frequency_hz),)
    return best, reasons


def _fit_reasons(flux: float, at: str, wants: str) -> tuple[Reason, ...]:
    percent = (flux - 1.0) * 100.0
    if flux > FLUX_CONDITION:
        text = (
            f"{at} is {percent:.0f} % more volts per hertz than the plate's {wants}: the iron "
            "saturates and the motor warms up even idling; measure the no-load current."
        )
        return (Reason("flux_high_condition", text),)
    if flux > FLUX_TOLD:
        text = f"{at} is {percent:.0f} % above the plate's {wants}: more no-load current."
        return (Reason("flux_high", text),)
    if flux < FLUX_WEAK_CONDITION:
        text = (
            f"{at} is {-percent:.0f} % below the plate's {wants}: starting and breakdown torque "
            f"fall to {flux * flux * 100.0:.0f} %."
        )
        return (Reason("flux_low_condition", text),)
    if flux < FLUX_WEAK:
        text = f"{at} is {-percent:.0f} % below the plate's {wants}: a little less torque."
        return (Reason("flux_low", text),)
    return (Reason("volts_fit", f"The plate's {wants} fits {at}."),)


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


def other_frequency(supply_hz: float, plate_hz: float) -> Reason:
    """What another mains frequency does to speed, pumps, fans and blades."""
    speed = supply_hz / plate_hz
    text = (
        f"On {supply_hz:g} Hz a {plate_hz:g} Hz motor turns {speed:.2f} times as fast: pumps and "
        f"fans take {speed**3:.2f} times the power, blades and wheels run {speed:.2f} times their "
        "speed; change the pulleys or set the frequency."
    )
    return Reason("other_frequency", text)


def speeds_of(plate: Plate) -> tuple[float, ...]:
    """Stamped speeds [rpm] that differ by more than the two frequencies of one motor would."""
    numbers = [value.number for value in plate.speed]
    if len(numbers) == 2 and max(numbers) / min(numbers) < 1.27:
        return (numbers[0],)
    return tuple(numbers)


def _groups(plate: Plate) -> tuple[_Group, ...]:
    """Stamped volts gathered into ranges, low first, each with its stamped current."""
    volts = [value.number for value in plate.voltage]
    amps = [value.number for value in plate.current]
    paired = len(amps) == len(volts)
    order = sorted(range(len(volts)), key=lambda i: volts[i])
    gathered: list[list[int]] = []
    for i in order:
        if gathered and volts[i] / volts[gathered[-1][0]] < SAME_RANGE:
            gathered[-1].append(i)
        else:
            gathered.append([i])
    falling = sorted(amps, reverse=True)
    out: list[_Group] = []
    for place, members in enumerate(gathered):
        low, high = volts[members[0]], volts[members[-1]]
        if len(gathered) == 1:
            own = tuple(amps)
        elif paired and len(gathered) == 2 and len(amps) == 2:
            own = (falling[place],)
        elif paired:
            own = tuple(amps[i] for i in members)
        else:
            own = ()
        out.append(_Group(low, high, own))
    if len(out) == 2 and len(amps) == 1:
        out = list(_share_one_current(plate, out[0], out[1], amps[0]))
    return tuple(out)


def _share_one_current(
    plate: Plate, low: _Group, high: _Group, amps: float
) -> tuple[_Group, _Group]:
    """One current and two voltages: it belongs where the power comes out credible."""
    if len(plate.power) != 1:
        return low, high
    product = plate.power[0].number / (ROOT3 * amps)
    at_low, at_high = product / low.volts, product / high.volts
    usual = usual_apparent_share(plate.power[0].number)
    belongs_low = abs(math.log(at_low / usual)) <= abs(math.log(at_high / usual))
    ratio = high.volts / low.volts
    first, second = (amps, amps / ratio) if belongs_low else (amps * ratio, amps)
    return _Group(low.low_v, low.high_v, (first,)), _Group(high.low_v, high.high_v, (second,))


def usual_apparent_share(power_w: float) -> float:
    """Power factor times efficiency of a usual four-pole motor (a rough judge, not a figure)."""
    return min(0.80, max(0.30, 0.60 + 0.14 * math.log10(power_w / 1000.0)))


def _refused(code: str, words: str, connection_leads: int | None = None) -> Linking:
    return Linking((), (Reason(code, words),), connection_leads, False)


def _link(connection: Connection, words: str, group: _Group, delta: bool | None) -> Link:
    return Link(connection, words, group.volts, group.amps, group.low_v, group.high_v, delta)


def _odd_kind(plate: Plate) -> Linking | None:
    """Motors that are no three-phase cage motors are recognised, not linked."""
    if plate.capacitor or plate.phases == 1:
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


def _two_speed_stamp(stamp: str | None) -> bool:
    return _clean(stamp) in {"D/YY", "YY/D"}


def _clean(stamp: str | None) -> str:
    text = (stamp or "").upper().replace(" ", "").replace("\N{GREEK CAPITAL LETTER DELTA}", "D")
    return text.replace("STAR", "Y").replace("DELTA", "D").replace("WYE", "Y")


def _two_speed(plate: Plate, groups: tuple[_Group, ...]) -> Linking:
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


def _single_voltage(plate: Plate, group: _Group) -> Linking:
    stamp = _clean(plate.connection)
    leads = plate.leads
    if plate.kind in ("hermetic", "submersible"):
        words = f"A {plate.kind} motor: its connection is closed in and cannot be changed."
        return Linking(
            (_link("fixed", words, group, None),), (Reason("closed_in", words),), leads, False
        )
    if leads == 6 and stamp in ("Y", "D"):
        return _six_leads_one_voltage(group, stamp)
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


def _six_leads_one_voltage(group: _Group, stamp: str) -> Linking:
    """Both ends of every winding are out: the other connection serves root three times."""
    factor = 1.0 / ROOT3 if stamp == "Y" else ROOT3
    amps = tuple(a / factor for a in group.currents_a)
    other = _Group(group.low_v * factor, group.high_v * factor, amps)
    low, high = (other, group) if stamp == "Y" else (group, other)
    both = (_link("delta", DELTA_6, low, True), _link("star", STAR_6, high, False))
    reason = Reason(
        "six_leads",
        f"All six ends are out: delta for {low.volts:.0f} V, star for {high.volts:.0f} V.",
    )
    return Linking(both, (reason,), 6, False)


def _two_voltages(plate: Plate, low: _Group, high: _Group, region: Region) -> Linking:
    ratio = high.volts / low.volts
    if STAR_DELTA_RATIOS[0] <= ratio <= STAR_DELTA_RATIOS[1]:
        return _star_delta(plate, low, high)
    if DOUBLING_RATIOS[0] <= ratio <= DOUBLING_RATIOS[1] and not (
        plate.leads in (None, 6) and region == "IEC" and _off_grid(low, high)
    ):
        return _doubling(plate, low, high)
    return _refused(
        "odd_ratio",
        f"{low.volts:.0f} and {high.volts:.0f} V stand neither as 1 to 1.73 nor as 1 to 2: "
        "no connection is given. Measure the resistance of every pair of terminals and count the "
        "wires on each; three equal values to one terminal mark a star point.",
        plate.leads,
    )


def _off_grid(low: _Group, high: _Group) -> bool:
    """A ratio near 1.89 on IEC volts (220-415) is a slip of the plate, not a doubling."""
    return high.volts / low.volts < 1.92


def _star_delta(plate: Plate, low: _Group, high: _Group) -> Linking:
    if plate.leads == 3:
        return _hidden(plate, low, high)
    if plate.leads not in (None, 6, 12):
        return _refused(
            "leads_disagree",
            f"{plate.leads} leads do not belong to {low.volts:.0f}/{high.volts:.0f} V star or "
            "delta: follow the diagram in the lid.",
            plate.leads,
        )
    both = (_link("delta", DELTA_6, low, True), _link("star", STAR_6, high, False))
    assumed = plate.leads is None
    reason = Reason(
        "star_delta",
        f"{low.volts:.0f}/{high.volts:.0f} V: delta for the low, star for the high voltage"
        + (" (six leads taken)." if assumed else "."),
    )
    return Linking(both, (reason,), plate.leads or 6, assumed)


def _doubling(plate: Plate, low: _Group, high: _Group) -> Linking:
    if plate.leads == 3:
        return _hidden(plate, low, high)
    leads = plate.leads or 9
    stamp = _clean(plate.connection)
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


def _hidden(plate: Plate, low: _Group, high: _Group) -> Linking:
    """Two voltages stamped but three leads out: which one is made inside is not known."""
    stamp = _clean(plate.connection)
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
