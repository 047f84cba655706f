"""The lead between drive and motor against what the winding bears: the reflected wave, filters."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from itertools import product

from phasewright.electronics.reflected_wave import (
    critical_lead_m,
    longest_lead_ratio,
    peak_ratio,
    reflection,
)
from phasewright.machines.motor import Motor
from phasewright.quantities.errors import TableEnds
from phasewright.quantities.value import Value, figure, spread
from phasewright.shop.machine import Machine
from phasewright.tables.drives import (
    LeadWave,
    drive_made_peak_ratio,
    lead_wave,
    longest_lead_m,
    motor_surge_ohm,
    ordinary_peak_v,
    output_choke_rise_s,
    overvoltage,
    usual_lead_m,
    winding_asks_short_lead,
)
from phasewright.tables.stepping_up import old_winding
from phasewright.ways.motor_figures import Insulation
from phasewright.ways.purchase import Item, item, total
from phasewright.ways.site import Site

HIGH_CLASS_V = 300.0
"""Output above which a drive is of the 400 V class, whose edges are twice as high."""
REMEDIES = {
    "output_choke": "an output choke, which slows the edges",
    "sine_filter": "a sine filter, which takes them away",
}


@dataclass(frozen=True, slots=True)
class _Edge:
    """One choice of the unknowns: link volts, rise time, speed of the wave, impedances."""

    link_v: float
    rise_s: float
    metres_per_s: float
    share: float

    def peak_v(self, lead_m: float) -> float:
        """Peak at the motor's terminals."""
        whole_m = critical_lead_m(self.rise_s, self.metres_per_s)
        return self.link_v * peak_ratio(lead_m / whole_m, self.share)

    def longest_m(self, allowed_v: float) -> float:
        """The longest lead with this peak at most; without end where none is too long."""
        if allowed_v <= self.link_v:
            return 0.0
        ratio = longest_lead_ratio(allowed_v / self.link_v, self.share)
        return math.inf if ratio is None else ratio * critical_lead_m(
            self.rise_s, self.metres_per_s
        )  # fmt: skip


@lru_cache(maxsize=512)
def insulation_of(
    machine: Machine, motor: Motor, power_w: float, output_v: float, site: Site
) -> Insulation | None:
    """The wave at this motor's terminals on a drive that gives `output_v` (rms, line); None for
    a motor of a size of which no surge impedance is at hand."""
    wave = lead_wave()
    try:
        surge_ohm = motor_surge_ohm(power_w)
    except TableEnds:
        return None
    link = _link_v(output_v, site)
    usual = _Edge(
        link.number, wave.rise_s.number, wave.metres_per_s.number,
        reflection(surge_ohm, wave.lead_ohm.number),
    )  # fmt: skip
    edges = [usual, *_corners(link, wave, surge_ohm)]
    lead, allowed = lead_of(machine, motor), allowed_peak_v(motor)
    limit_m, by = _limit(motor, output_v)
    inputs = {
        "link": (link.number, "V"),
        "rise time": (usual.rise_s, "s"),
        "lead": (lead.number, "m"),
        "reflection": (usual.share, ""),
    }

    def out(name: str, unit: str, number: float, every: list[float]) -> Value:
        return figure(
            number, unit, f"electronics.reflected_wave.{name}", inputs, wave.rise_s.source,
            low=min(every), high=max(every),
        )  # fmt: skip

    peaks = [edge.peak_v(m) for edge in edges for m in (lead.low, lead.high)]
    steep = [edge.peak_v(m) / edge.rise_s for edge in edges[1:] for m in (lead.low, lead.high)]
    longest = min(usual.longest_m(allowed.number), limit_m)
    if usual.longest_m(allowed.number) < limit_m:
        by = "peak"
    reaches = [
        min(edge.longest_m(v), limit_m) for edge in edges for v in (allowed.low, allowed.high)
    ]
    remedy = _remedy(usual, allowed.number, lead.number, longest, by)
    return Insulation(
        lead_m=lead,
        link_peak_v=link,
        rise_s=wave.rise_s,
        peak_v=out("peak_ratio", "V", usual.peak_v(lead.number), peaks),
        steepness_v_per_s=out("peak_ratio", "V/s", usual.peak_v(lead.number) / usual.rise_s, steep),
        allowed_peak_v=allowed,
        longest_lead_m=out("longest_lead_ratio", "m", longest, reaches),
        longest_by=by,
        remedy=remedy,
        remedy_price=_price(_filters(remedy, power_w, site), remedy),
    )


def lead_of(machine: Machine, motor: Motor) -> Value:
    """The owner's length of the lead, or a usual one."""
    found = next((each.lead_length for each in machine.motors if each.name == motor.name), None)
    return usual_lead_m() if found is None else found


def allowed_peak_v(motor: Motor) -> Value:
    """Peak between two lines that its winding bears: that of an ordinary motor; of one made for
    drives more, by the highest volts its winding is linked for."""
    ordinary, _, of = ordinary_peak_v()
    rated_v = max((link.line_voltage_v for link in motor.links), default=0.0)
    made = drive_made_peak_ratio() * rated_v
    source = f"wave limits: {of.words}; highest: a motor stamped for drives"
    return spread(ordinary, ordinary, max(ordinary, made), "V", of.origin, source)


def _link_v(output_v: float, site: Site) -> Value:
    """Peak of the link while the motor works: the crest of the highest mains, or of the raised
    output; highest where a ramp down is held."""
    high = site.voltage_v.high if output_v < HIGH_CLASS_V else output_v
    number = math.sqrt(2.0) * max(output_v, high)
    return figure(
        number, "V", "ways.motor_lead.insulation_of", {"line volts": (max(output_v, high), "V")},
        "crest of the volts that charge the link; highest while it brakes",
        low=math.sqrt(2.0) * output_v, high=max(number, overvoltage(output_v).holds_v),
    )  # fmt: skip


def _corners(link: Value, wave: LeadWave, surge_ohm: float) -> list[_Edge]:
    """Both ends of everything that is not known."""
    shares = [reflection(surge_ohm, ohm) for ohm in (wave.lead_ohm.low, wave.lead_ohm.high)]
    ends = [(of.low, of.high) for of in (link, wave.rise_s, wave.metres_per_s)]
    return [_Edge(*each) for each in product(*ends, shares)]


def _limit(motor: Motor, output_v: float) -> tuple[float, str]:
    """What else ends the lead: a winding from before drives, and what the drive feeds [m]."""
    plate = motor.plate
    old_m = winding_asks_short_lead(plate.year, plate.insulation_class)
    if old_m is not None:
        return (old_m if output_v < HIGH_CLASS_V else old_winding()[1]), "old_winding"
    return longest_lead_m(), "drive"


def _remedy(usual: _Edge, allowed_v: float, lead_m: float, longest_m: float, by: str) -> str:
    """The least that makes this lead right."""
    if lead_m <= longest_m:
        return "none"
    slowed = _Edge(usual.link_v, output_choke_rise_s(), usual.metres_per_s, usual.share)
    if by != "drive" and lead_m <= min(slowed.longest_m(allowed_v), longest_lead_m()):
        return "output_choke"
    return "sine_filter"


def lead_items(
    machine: Machine, motor: Motor, power_w: float, output_v: float, site: Site
) -> list[Item]:
    """The filter the owner's lead asks for; none where no length was told or none is priced."""
    if all(each.lead_length is None for each in machine.motors if each.name == motor.name):
        return []
    found = insulation_of(machine, motor, power_w, output_v, site)
    return [] if found is None else _filters(found.remedy, power_w, site)


def _filters(remedy: str, power_w: float, site: Site) -> list[Item]:
    """The remedy as a purchase; empty where there is none to buy or the price curves end below."""
    if remedy == "none":
        return []
    try:
        return [item(remedy, power_w, "W", site.quotes, quote_kind="output_filter")]
    except TableEnds:
        return []


def _price(items: list[Item], remedy: str) -> Value | None:
    return total(items, remedy) if items else None
