"""Run capacitors that a motor brings to a converter, switched with it: which, and what they ask.

The converter's fixed bank then balances the idler alone. What a motor brings is chosen once, on
the smallest idler of the market that is not smaller than the motor, for the motor's own loads:
it must not depend on the converter it meets. On larger idlers that is nearly as good as a choice
for each (measured over 24 cases of motor and load on idlers of one to four and a half times the
motor: worst unbalance 2.55 % in the mean against 2.52 %; a closed form of the motor's own power
at its usual load gives 2.94 %).
"""

from __future__ import annotations

import math
from dataclasses import replace
from functools import lru_cache

from phasewright.network.supply import Source
from phasewright.quantities.errors import NoOperatingPoint
from phasewright.quantities.finding import Reason
from phasewright.running.capacitors import OVER_EXCITED, Case, judged
from phasewright.running.converter import Converter, on_converter
from phasewright.running.network import Between
from phasewright.running.travelling import carried_beside
from phasewright.shop.machine import Machine
from phasewright.tables.labour import hours
from phasewright.tables.published import table
from phasewright.tables.sizes import CONTACTORS_A, RUN_CAPACITORS_F, idler_sizes_w, next_size
from phasewright.ways.asked import Asked, condition, told
from phasewright.ways.conditions import demand_ratio, typical_ratio
from phasewright.ways.converter_design import (
    MOST_CANS,
    Brings,
    Design,
    carrying,
    design,
    runs,
)
from phasewright.ways.converter_parts import capacitor_class_v, run_can_kind
from phasewright.ways.idlers import Idler, Idlers, idler_voltage_v
from phasewright.ways.on_two_lines import Linked
from phasewright.ways.purchase import Item, buy, item
from phasewright.ways.site import Site
from phasewright.ways.way import Offer, Service
from phasewright.ways.wishes import wants_of

WORTH_BRINGING = 0.02
"""Unbalance up to which a motor brings nothing: what a machine's supply may have (negative over
positive sequence, IEC 60204-1, 4.3.2, from memory)."""
SAME_SIZE = 0.99
"""A size that falls short of another by less is the same but for rounding."""
CONTACTOR_RATIO = 1.35
"""Rated amps of what switches a capacitor over the capacitor's own (NFPA 70-2023, 460.8)."""
DISCHARGED_S = 60.0
"""Seconds within which a capacitor of at most 1000 V is discharged (NFPA 70-2023, 460.6)."""


def travelling_design(
    site: Site, idlers: Idlers, motors: tuple[tuple[Linked, Site], ...]
) -> Design | None:
    """The converter of these idlers tuned for the idlers alone, with what these motors bring.

    What a motor brings is chosen on the supply as it reaches the motor, so that it is the same
    wherever the converter stands. None where no motor gains by bringing any.

    Raises as `design` does.
    """
    found = (brings(there, motor) for motor, there in motors)
    brought = tuple(each for each in found if each is not None)
    if not brought:
        return None
    of = design(site.source, idlers, ())
    return replace(of, converter=carrying(of.converter, brought), brings=brought)


def too_small_for_brought(of: Design, motor: Linked) -> list[Reason]:
    """Why a motor must not hang with its own capacitors on idlers smaller than itself: they were
    chosen on one that is not, and the motor would rather feed the idler than be fed. A kind of load
    that starts hard keeps the idler that the trade takes for it: its capacitors even the lines, but
    whether it runs up is judged by settled torque alone."""
    power_w, rated_w = of.converter.idler_power_w, motor.rated_w
    if of.brought_by(motor.motor.id) is None:
        return []
    if power_w < SAME_SIZE * rated_w:
        return [
            Reason(
                "idler_smaller_than_motor",
                f"With capacitors of its own it wants an idler not smaller than itself; "
                f"{power_w / 1000.0:.3g} kW are less than its {rated_w / 1000.0:.3g} kW (common "
                "practice, no source).",
            )
        ]
    limits = motor.load.kind.limits("rotary_converter", rated_w)
    habit = max((limit.idler_ratio for limit in limits if limit.idler_ratio), default=0.0)
    if power_w < SAME_SIZE * habit * rated_w:
        kind = motor.load.name.replace("_", " ")
        return [
            Reason(
                "idler_below_habit",
                f"The trade takes an idler of {habit:g} times a {kind}'s motor; capacitors of its "
                "own even the lines, and are no reason to start it on a smaller one (common "
                "practice, no source).",
            )
        ]
    return []


def brings(site: Site, motor: Linked) -> Brings | None:
    """What this motor brings to whatever converter of this shop it hangs on; None for nothing."""
    sizes = idler_sizes_w(site.region)
    least = next((size for size in sizes if size >= SAME_SIZE * motor.rated_w), sizes[-1])
    return _brings(site.source, least, motor)


@lru_cache(maxsize=512)
def _brings(source: Source, idler_w: float, motor: Linked) -> Brings | None:
    try:
        alone = design(source, (Idler(idler_w),), ()).converter
    except NoOperatingPoint:
        return None
    cases = _cases(source, alone, motor)
    if not cases or judged(cases, alone.run_f).worst_vuf < WORTH_BRINGING:
        return None
    own = carried_beside(
        alone.run_f, cases, RUN_CAPACITORS_F, most_cans=MOST_CANS,
        rated_voltage_v=alone.idler.line_voltage_v, within_f=0.5 * RUN_CAPACITORS_F[0],
    )  # fmt: skip
    if not (own.cans_23_f or own.cans_31_f):
        return None
    return Brings(motor.motor.id, own.cans_23_f, own.cans_31_f)


def _cases(source: Source, converter: Converter, motor: Linked) -> tuple[Case, ...]:
    """The motor unloaded, at its usual load and at the highest it may ask for; those that run
    with the converter's own bank and with a fair one."""
    ratios = sorted({0.0, typical_ratio(motor.load), demand_ratio(motor.load)})
    found = (
        Case(f"{ratio:.3g}", on_converter(source, converter, (motor.connected(ratio),)))
        for ratio in ratios
    )
    return tuple(case for case in found if runs(case))


def offer_of_brought(site: Site, brought: Brings, service: Service) -> Offer:
    """What the motor must have of its own: its cans, a discharge resistor a leg, a contactor."""
    items = items_of(site, brought)
    rating = brought.capacitance_f.c23 + brought.capacitance_f.c31
    return Offer(
        service,
        (buy("rotary_converter", rating, "F", (brought.motor,), items),),
        items,
        hours("travelling_capacitors"),
        0.0,
    )


def items_of(site: Site, brought: Brings) -> tuple[Item, ...]:
    """The parts that travel with a motor, by the highest volts a line may reach anywhere."""
    volts = idler_voltage_v(site.source)
    kind = run_can_kind(capacitor_class_v(OVER_EXCITED * volts))
    legs = [cans for cans in (brought.cans_23_f, brought.cans_31_f) if cans]
    omega = 2.0 * math.pi * site.source.frequency_hz
    amps = omega * max(sum(cans) for cans in legs) * volts
    contactor = next_size(CONTACTOR_RATIO * amps, CONTACTORS_A, "contactor of the capacitors")
    return (
        *(item(kind, can, "F", site.quotes) for cans in legs for can in cans),
        item("bleeder", 1.0, "", site.quotes, quantity=len(legs)),
        item("contactor", contactor, "A", site.quotes),
    )


def asked_by_brought(
    site: Site, brought: Brings, machine: Machine, motor: Linked, highest_v: float
) -> Asked:
    """What capacitors that are switched with a motor ask of its machine's wiring.

    `highest_v` is the highest of the line volts they meet.
    """
    whole = condition(
        "capacitors_ahead_of_overload",
        f"Its own {in_words(brought.capacitance_f)} are switched on with it by a contactor of "
        "their own, coil on lines 1 and 2 beside the machine's: on the line side of its overload "
        "relay (NFPA 70-2023, 455.23, from memory), so the relay carries the motor's current "
        "only. Switched off they leave motor and lines at once.",
    )
    whole += condition(
        "no_other_capacitor",
        "No power-factor capacitor at this motor or elsewhere on the three lines: with these it "
        "would over-excite idler and motor (common practice, no source).",
    )
    if machine.starter == "reversing_drum" or wants_of(machine, motor.motor).reverse:
        whole += condition(
            "capacitors_ahead_of_reversing",
            "They stand ahead of the reversing switch, always across the same lines, and drop out "
            "before it reverses (common practice, no source).",
        )
    if machine.starter in ("reversing_drum", "two_speed_switch"):
        whole += condition(
            "switch_needs_a_contact",
            "Its hand switch needs a contact of its own for the coil of their contactor.",
        )
    legs = brought.capacitance_f
    ohm = discharge_ohm(max(legs.c23, legs.c31), highest_v)
    return whole + told(
        "capacitors_stay_charged",
        f"Switched off they stay charged: a discharge resistor of at most {ohm / 1000.0:.0f} kohm "
        f"across each leg brings them below {_discharged_v():.0f} V within a minute "
        "(NFPA 70-2023, 460.6). Wait for that before reaching in, and prove them dead; a "
        "contactor made for capacitors (AC-6b) bears being switched on again sooner.",
    )


def in_words(bank: Between) -> str:
    """Microfarads and lines: 70 µF across 3-1."""
    legs = ((bank.c23, "2-3"), (bank.c31, "3-1"))
    found = (f"{value * 1e6:.3g} µF across {lines}" for value, lines in legs if value > 0.0)
    return " and ".join(found)


def discharge_ohm(capacitance_f: float, line_voltage_v: float) -> float:
    """The largest resistor that discharges from the crest of these volts in time [ohm]."""
    crest = math.sqrt(2.0) * line_voltage_v
    return DISCHARGED_S / (capacitance_f * math.log(crest / _discharged_v()))


def _discharged_v() -> float:
    return table("limits", "discharged").number("volts")
