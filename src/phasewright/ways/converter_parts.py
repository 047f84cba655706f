"""The parts of a rotary converter, and the ways to have one: bought, built, round an own idler."""

from __future__ import annotations

from collections.abc import Sequence

from phasewright.quantities.codes import Buyable
from phasewright.tables.labour import hours
from phasewright.tables.published import table
from phasewright.tables.sizes import (
    CAPACITOR_VOLTAGES_V,
    CONTACTORS_A,
    START_CAPACITORS_F,
    idler_sizes_w,
    motor_size,
    next_size,
)
from phasewright.ways.converter_design import Design
from phasewright.ways.purchase import Item, item
from phasewright.ways.shared_source import Had
from phasewright.ways.site import Site

MADE = {"new": "ready-made", "self_built": "self-built", "used": "used", "owned": "owned"}


def capacitor_class_v(highest_idle_v: float) -> float:
    """The rated volts the run capacitors need."""
    return next_size(
        table("limits", "capacitor").number("margin") * highest_idle_v,
        CAPACITOR_VOLTAGES_V,
        "run capacitor volts",
    )


def run_can_kind(class_v: float) -> str:
    """What a run capacitor of this voltage class is called in the price curves."""
    return "run_capacitor" if class_v <= 450.0 else "run_capacitor_600"


def ways_to_have(site: Site, of: Design) -> tuple[Had, ...]:
    """Every way this converter can be had: ready-made, self-built, round an idler one owns."""
    found = []
    rating = of.converter.idler_power_w
    release = item("undervoltage_release", 1.0, "", site.quotes)
    if rating in idler_sizes_w(site.region):
        found.append(
            Had(
                "new",
                (item("rotary_converter", rating, "W", site.quotes), release, *_resistor(site, of)),
                hours("converter_ready_made"),
                hours("upkeep_rotary").number,
                words=_words(site, of, "new"),
            )
        )
    if site.wiring_by_owner:
        if rating in idler_sizes_w(site.region):
            motor = item("idler_motor", rating, "W", site.quotes, origin="used")
            found.append(_built(site, of, motor, "self_built", None))
        for index, part in enumerate(site.owned):
            if part.kind == "idler_motor" and part.power and part.power.number == rating:
                motor = item("idler_motor", rating, "W", site.quotes, origin="owned")
                found.append(_built(site, of, motor, "self_built", index))
    return tuple(found)


def _built(site: Site, of: Design, motor: Item, origin: Buyable, owned_item: int | None) -> Had:
    """A self-built converter from its parts, owned capacitors used first."""
    converter = of.converter
    amps = converter.idler.rated_current_a
    items = [motor, *_run_cans(site, of)]
    starts = _start_cans(converter.start_f)
    items += [item("start_capacitor", can, "F", site.quotes, quantity=n) for can, n in starts]
    items += [
        item("bleeder", 1.0, "", site.quotes, quantity=sum(n for _, n in starts)),
        item("contactor", max(CONTACTORS_A[0], amps), "A", site.quotes),
        item("overload_relay", amps, "A", site.quotes),
        item("drop_out_relay", 1.0, "", site.quotes),
        item("phase_sequence_relay", 1.0, "", site.quotes),
        item("undervoltage_release", 1.0, "", site.quotes),
        item("converter_box", converter.idler_power_w, "W", site.quotes),
        *_resistor(site, of),
    ]
    return Had(
        origin,
        tuple(items),
        hours("converter_self_built", converter.idler_power_w),
        hours("upkeep_rotary").number,
        owned_item,
        _words(site, of, origin, owned=owned_item is not None),
    )


def _words(site: Site, of: Design, origin: Buyable, *, owned: bool = False) -> str:
    around = " round the idler you own" if owned else ""
    switched = " with capacitors switched by the machines" if of.brings else ""
    power = motor_size(of.converter.idler_power_w, site.region)
    return f"a {MADE[origin]} rotary converter of {power}{around}{switched}"


def _resistor(site: Site, of: Design) -> list[Item]:
    """The series start resistor with its bypass, where the supply does not bear a direct start."""
    if of.start.resistor_ohm == 0.0:
        return []
    return [item("start_resistor", of.converter.idler_power_w, "W", site.quotes)]


def _run_cans(site: Site, of: Design) -> list[Item]:
    """The run capacitors by their class; owned ones of the right class and value cost nothing."""
    volts = capacitor_class_v(max(of.idle.line_voltages_v))
    kind = run_can_kind(volts)
    shelf = [
        [part.capacitance.number, part.count]
        for part in site.owned
        if part.kind == "run_capacitor"
        and part.capacitance is not None
        and (not part.voltage or part.voltage[0].number >= volts)
    ]
    items = []
    for can in (*of.cans_23_f, *of.cans_31_f):
        owned = next((row for row in shelf if row[1] > 0 and abs(row[0] / can - 1.0) < 0.02), None)
        if owned is not None:
            owned[1] -= 1
            items.append(item(kind, can, "F", site.quotes, origin="owned"))
        else:
            items.append(item(kind, can, "F", site.quotes))
    return items


def _start_cans(total_f: float) -> Sequence[tuple[float, int]]:
    largest = START_CAPACITORS_F[-1]
    if total_f <= largest:
        return ((total_f, 1),)
    return ((largest, round(total_f / largest)),)
