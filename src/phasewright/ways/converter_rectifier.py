"""A machine's rectifier on a rotary converter's lines: what it takes of them and does to them."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from phasewright.electronics.three_line_rectifier import ThreeLineState
from phasewright.network.supply import Source
from phasewright.quantities.errors import NoOperatingPoint
from phasewright.quantities.finding import Reason
from phasewright.quantities.value import Value, figure
from phasewright.rules.drives import link_undervoltage
from phasewright.rules.generated_line import rectifier_on_generated_line
from phasewright.rules.register import Ruling
from phasewright.running.converter import Converter, on_converter
from phasewright.running.network import Connected
from phasewright.running.rectifier import Rectifier, WithRectifier, with_rectifier
from phasewright.running.usable import usable
from phasewright.shop.machine import Machine
from phasewright.tables.published import table
from phasewright.ways.asked import Asked, by_rules, condition, told
from phasewright.ways.consumers import FITS, rectifies
from phasewright.ways.figures import RectifierFigures
from phasewright.ways.on_converter import MOST_ASKED, Hung
from phasewright.ways.on_two_lines import Linked
from phasewright.ways.rectified import on_equal_lines

LOW_CLASS_V = 300.0
"""Supplies below this are of the class whose drives trip at the table's undervoltage."""


@dataclass(frozen=True, slots=True)
class Rectified:
    """A rectifier at work on a converter, and the same on three equal lines."""

    rectifier: Rectifier
    found: WithRectifier
    equal: ThreeLineState

    @property
    def distortion_a(self) -> float:
        """Harmonics in the supply's lines, as if all of the fuller one's came from there."""
        return self.found.bridge.distortion_a

    @property
    def supply_a(self) -> float:
        """Rms amps from the supply, the rectifier's harmonics with them."""
        return math.hypot(self.found.settled.supply_current_a, self.distortion_a)


def rectified(
    source: Source, converter: Converter, motors: tuple[Connected, ...], rectifier: Rectifier
) -> Rectified:
    """A rectifier on a converter with these motors. Raises NoOperatingPoint, NotComputable."""
    found = with_rectifier(on_converter(source, converter, motors), rectifier)
    return Rectified(rectifier, found, on_equal_lines(source, source.voltage_v, rectifier))


def beside_motor(
    source: Source, converter: Converter, motor: Linked, hung: Hung, ratios: tuple[float, float],
    rectifier: Rectifier,
) -> tuple[Hung, Rectified]:  # fmt: skip
    """The same motor on the same converter while its machine's rectifier works.

    `ratios` are the usual and the highest torque over the rated one. Its start stays as it is:
    motors are started before the rectifier is loaded. Raises NoOperatingPoint where it does not
    hold its usual load beside the rectifier, NotComputable where the lines do not give that.
    """

    def at(ratio: float) -> Rectified:
        return rectified(source, converter, (motor.connected(ratio),), rectifier)

    unloaded, usual = at(0.0), at(ratios[0])
    highest = None
    if hung.demand is not None:
        try:
            highest = at(ratios[1])
        except NoOperatingPoint:
            highest = None
    changed = replace(
        hung,
        unloaded=unloaded.found.settled,
        typical=usual.found.settled,
        demand=None if highest is None else highest.found.settled,
        use=usable(
            usual.found.network, motor.motor.id, windings=motor.windings,
            asked=max(MOST_ASKED, motor.load.kind.peak or 0.0), heat_share=motor.motor.heat_share,
        ),
    )  # fmt: skip
    return changed, usual if highest is None else highest


def unbalances(of: Rectified, bare_nema: float) -> list[Reason]:
    """A refusal where the rectifier, and not the motor alone, pulls the lines too far apart."""
    limit = table("limits", "unbalance").number("continuous")
    point = of.found.settled
    if point.nema <= limit or bare_nema > limit:
        return []
    v12, v23, v31 = point.line_voltages_v
    return [
        Reason(
            "rectifier_unbalances",
            f"While its rectifier takes {of.rectifier.link_power_w:.0f} W the lines stand at "
            f"{v12:.0f}, {v23:.0f} and {v31:.0f} V, {point.nema:.1%} apart (NEMA; {bare_nema:.1%} "
            f"without it); above {limit:.0%} no motor should run for long. Feed the rectifier from "
            "lines 1 and 2 where its maker allows it, or take a larger idler.",
        )
    ]


def rulings(of: Rectified, subject: str, supply_v: float) -> tuple[Ruling, ...]:
    """What the rules say of it: amps of its fullest line, valleys of its link."""
    bridge = of.found.bridge
    return (
        rectifier_on_generated_line(
            max(bridge.line_currents_a), max(of.equal.line_currents_a), subject
        ),
        link_undervoltage(bridge.link_min_v if supply_v < LOW_CLASS_V else None, subject),
    )


def asked_of(of: Rectified, subject: str, supply_v: float) -> Asked:
    """The rules on it, and what it takes, told."""
    bridge, equal = of.found.bridge, of.equal
    one, two, three = bridge.pair_shares
    return by_rules(*rulings(of, subject, supply_v)) + told(
        "rectifier_shares",
        f"Of {of.rectifier.link_power_w:.0f} W its rectifier takes {one:.0%} from lines 1 and 2, "
        f"{two:.0%} from 2 and 3, {three:.0%} from 3 and 1; its link stands at "
        f"{bridge.link_mean_v:.0f} V and falls to {bridge.link_min_v:.0f} V (on three equal lines "
        f"{equal.link_mean_v:.0f} and {equal.link_min_v:.0f} V). Start motors before it is loaded.",
    )


def of_volts(machine: Machine, supply_v: float) -> Asked:
    """A rectifier made for other volts needs a transformer before it."""
    whole = Asked()
    for each in machine.others:
        if not rectifies(each) or each.voltage is None:
            continue
        own_v = each.voltage.number
        if abs(own_v / supply_v - 1.0) > FITS:
            whole += condition(
                "rectifier_volts",
                f"Its {each.kind.replace('_', ' ')} is made for three lines of {own_v:.0f} V and "
                f"would get {supply_v:.0f} V: a three-phase transformer before it, or other taps "
                "of its own. The figures are those with it.",
            )
    return whole


def figures_of(of: Rectified) -> RectifierFigures:
    """The rectifier's own figures."""
    bridge, settled = of.found.bridge, of.found.settled
    v12, v23, v31 = settled.line_voltages_v
    inputs = {
        "power": (of.rectifier.link_power_w, "W"),
        "link capacitance": (of.rectifier.capacitance_f, "F"),
        "v12": (v12, "V"), "v23": (v23, "V"), "v31": (v31, "V"),
    }  # fmt: skip

    def out(number: float, unit: str) -> Value:
        return figure(
            number, unit, "running.rectifier.with_rectifier", inputs,
            "periodic state of the bridge in balance with the three-line network",
        )  # fmt: skip

    return RectifierFigures(
        power_w=out(bridge.input_power_w, "W"),
        line_currents_a=bridge.line_currents_a,
        pair_shares=bridge.pair_shares,
        link_mean_v=out(bridge.link_mean_v, "V"),
        link_min_v=out(bridge.link_min_v, "V"),
    )
