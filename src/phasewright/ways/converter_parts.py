"""The parts of a rotary converter, and the ways to have one: bought, built, round own idlers."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from itertools import combinations

from phasewright.quantities.codes import Buyable, OwnedKind
from phasewright.quantities.errors import NoOperatingPoint
from phasewright.shop.model import OwnedPart
from phasewright.tables.labour import hours
from phasewright.tables.published import table
from phasewright.tables.sizes import (
    CAPACITOR_VOLTAGES_V,
    CONTACTORS_A,
    START_CAPACITORS_F,
    motor_size,
    next_size,
)
from phasewright.ways.converter_design import Design
from phasewright.ways.converter_origins import (
    OWN_CONVERTER,
    USED_CONVERTER,
    ready_made_wears,
    self_built,
)
from phasewright.ways.converter_start import DEEPEST_DIP, start_through
from phasewright.ways.idlers import (
    USUAL_POLES,
    Idlers,
    circuit_of,
    on_the_market,
    owned_converters,
    owned_idlers,
    power_of,
)
from phasewright.ways.purchase import QUOTED, Item, item
from phasewright.ways.shared_source import Had
from phasewright.ways.shelf import Shelf, leg_of, shelf_of
from phasewright.ways.site import Site

MADE = {"new": "ready-made", "self_built": "self-built", "used": "second-hand"}
LARGER_START = 1.25
"""How much larger an owned start capacitor may be than the one that was chosen."""


def least_volts(of: Design) -> float:
    """Volts the run capacitors must be made for."""
    return table("limits", "capacitor").number("margin") * max(of.idle.line_voltages_v)


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
    """Every way this converter can be had: ready-made, self-built, round idlers one owns."""
    found = []
    bought = on_the_market(of.idlers, site.region)
    if bought and len(of.idlers) == 1:
        found.append(_ready_made(site, of))
        found += _second_hand(site, of)
    found += _owned_whole(site, of)
    if not site.wiring_by_owner:
        return tuple(found)
    if bought:
        found.append(_built(site, of, None))
    place = _owned_place(site, of.idlers)
    if place is not None:
        found.append(_built(site, of, place))
    return tuple(found)


def _ready_made(site: Site, of: Design) -> Had:
    rating = of.converter.idler_power_w
    release = item("undervoltage_release", 1.0, "", site.quotes)
    return Had(
        "new",
        (item("rotary_converter", rating, "W", site.quotes), release, *_resistor(site, of)),
        hours("converter_ready_made"),
        hours("upkeep_rotary").number,
        words=_words(site, of, "new"),
        gives_up=(ready_made_wears(),),
    )


def _second_hand(site: Site, of: Design) -> list[Had]:
    """A used ready-made converter that the owner has found, which a quote tells, with new run
    capacitors and a new start relay; none where no such quote is."""
    converter = item(
        "rotary_converter", of.converter.idler_power_w, "W", site.quotes, origin="used"
    )
    if converter.price.origin != QUOTED:
        return []
    return [
        Had(
            "used",
            (
                converter,
                *_run_cans(site, of, shelf_of(())),
                item("drop_out_relay", 1.0, "", site.quotes),
                item("undervoltage_release", 1.0, "", site.quotes),
                *_resistor(site, of),
            ),
            hours("converter_used"),
            hours("upkeep_rotary").number,
            words=_words(site, of, "used"),
            gives_up=(USED_CONVERTER,),
        )
    ]


def _owned_whole(site: Site, of: Design) -> list[Had]:
    """Whole converters of the owner's with such an idler."""
    rating = of.converter.idler_power_w
    return [
        Had(
            "owned",
            (
                item("rotary_converter", rating, "W", site.quotes, origin="owned"),
                item("undervoltage_release", 1.0, "", site.quotes),
                *_resistor(site, of),
            ),
            hours("converter_ready_made"),
            hours("upkeep_rotary").number,
            place,
            words=_words(site, of, "owned"),
            gives_up=(OWN_CONVERTER,),
        )
        for place, idler in owned_converters(site)
        if of.idlers == (idler,)
    ]


def _owned_place(site: Site, idlers: Idlers) -> int | None:
    """The place of the first of the owner's parts where the owner has all of these idlers."""
    owned = owned_idlers(site)[0]
    if Counter(idlers) - Counter(each.idler for each in owned):
        return None
    return next(each.place for each in owned if each.idler == idlers[0])


def _built(site: Site, of: Design, owned_item: int | None) -> Had:
    """A self-built converter from its parts, the owner's things used first."""
    converter, shelf = of.converter, shelf_of(site.owned)
    origin: Buyable = "used" if owned_item is None else "owned"
    items = [
        item("idler_motor", each.power_w, "W", site.quotes, origin=origin) for each in of.idlers
    ]
    items += [*_run_cans(site, of, shelf), *_start_cans(site, of, shelf)]
    for idler in of.idlers:
        amps = circuit_of(site.source, idler).rated_current_a
        items += _switchgear(site, shelf, amps)
    items += [
        *([_piece(site, shelf, "drop_out_relay")] if converter.start_f else []),
        item("phase_sequence_relay", 1.0, "", site.quotes),
        item("undervoltage_release", 1.0, "", site.quotes),
        item("converter_box", converter.idler_power_w, "W", site.quotes),
        *_resistor(site, of, shelf),
    ]
    return Had(
        "self_built",
        tuple(items),
        hours("converter_self_built", converter.idler_power_w),
        hours("upkeep_rotary").number,
        owned_item,
        _words(site, of, "self_built", owned=owned_item is not None),
        gives_up=(self_built(site.region),),
    )


def _switchgear(site: Site, shelf: Shelf, amps: float) -> list[Item]:
    """Contactor and overload relay of one idler."""
    least = max(CONTACTORS_A[0], amps)
    contactor = shelf.take(
        "contactor", lambda part: bool(part.current) and part.current[0].number >= least
    )
    relay = shelf.take("overload_relay", lambda part: _sets_to(part, amps))
    return [
        item("contactor", least, "A", site.quotes, origin="owned" if contactor else "new"),
        item("overload_relay", amps, "A", site.quotes, origin="owned" if relay else "new"),
    ]


def _sets_to(part: OwnedPart, amps: float) -> bool:
    """Whether an owned relay's range, two values, takes in these amps."""
    if len(part.current) != 2:
        return False
    low, high = sorted(value.number for value in part.current)
    return low <= amps <= high


def _piece(site: Site, shelf: Shelf, kind: OwnedKind) -> Item:
    owned = shelf.take(kind, lambda part: True)
    return item(kind, 1.0, "", site.quotes, origin="owned" if owned else "new")


def _words(site: Site, of: Design, origin: Buyable, *, owned: bool = False) -> str:
    around = f" round the {_named(site, of.idlers)} you own" if owned else ""
    switched = " with capacitors switched by the machines" if of.brings else ""
    power = motor_size(of.converter.idler_power_w, site.region)
    if len(of.idlers) > 1 and not owned:
        power += f" in {len(of.idlers)} idlers"
    if origin == "owned":
        return f"the rotary converter of {power} you own{switched}"
    return f"a {MADE[origin]} rotary converter of {power}{around}{switched}"


def _named(site: Site, idlers: Idlers) -> str:
    """The idlers in words, told apart where they are not the usual ones."""
    if len(idlers) == 1 and idlers[0].poles == USUAL_POLES:
        return "idler"
    sizes = " and ".join(
        motor_size(each.power_w, site.region)
        + ("" if each.poles == USUAL_POLES else f", {each.poles} poles")
        for each in idlers
    )
    return f"idler{'s' if len(idlers) > 1 else ''} ({sizes})"


def _resistor(site: Site, of: Design, shelf: Shelf | None = None) -> list[Item]:
    """The series start resistor with its bypass, or the pony motor, where the supply does not bear
    a direct start."""
    if of.start.method == "pony_motor":
        return [item("pony_motor", 1.0, "", site.quotes)]
    if of.start.method == "direct":
        return []
    owned = shelf is not None and shelf.take("start_resistor", lambda part: _starts(site, of, part))
    power = power_of(of.idlers[:1])
    origin: Buyable = "owned" if owned else "new"
    return [item("start_resistor", power, "W", site.quotes, origin=origin)]


def _starts(site: Site, of: Design, part: OwnedPart) -> bool:
    """Whether the idler starts through this resistor as gently, with as much torque."""
    if part.resistance is None:
        return False
    try:
        start = start_through(site.source, of.converter, part.resistance.number)
    except NoOperatingPoint:
        return False
    return start.runs_up and start.dip_ratio <= max(DEEPEST_DIP, of.start.dip_ratio)


def _run_cans(site: Site, of: Design, shelf: Shelf) -> list[Item]:
    """The run capacitors by their class; the owner's cost nothing where their volts are enough."""
    volts = least_volts(of)
    kind = run_can_kind(next_size(volts, CAPACITOR_VOLTAGES_V, "run capacitor volts"))
    items = []
    for cans in (of.cans_31_f, of.cans_23_f):
        leg = leg_of(cans, shelf.cans("run_capacitor", volts))
        for can in leg.owned_f:
            shelf.take_can("run_capacitor", can, volts)
            items.append(item(kind, can, "F", site.quotes, origin="owned"))
        items += [item(kind, can, "F", site.quotes) for can in leg.bought_f]
    return items


def _start_cans(site: Site, of: Design, shelf: Shelf) -> list[Item]:
    """The start capacitors with a discharge resistor each; the owner's where they are enough."""
    wanted, volts = of.converter.start_f, site.source.voltage_v
    if wanted == 0.0:
        return []
    pieces = shelf.cans("start_capacitor", volts)[:4]
    sets = (set_ for count in (1, 2, 3) for set_ in combinations(pieces, count))
    fitting = (each for each in sets if 0.98 * wanted <= sum(each) <= LARGER_START * wanted)
    owned = min(fitting, key=lambda each: (len(each), sum(each)), default=())
    for can in owned:
        shelf.take_can("start_capacitor", can, volts)
    bought = () if owned else _stock_of(wanted)
    return [
        *(item("start_capacitor", can, "F", site.quotes, origin="owned") for can in owned),
        *(item("start_capacitor", can, "F", site.quotes, quantity=n) for can, n in bought),
        item("bleeder", 1.0, "", site.quotes, quantity=len(owned) + sum(n for _, n in bought)),
    ]


def _stock_of(total_f: float) -> Sequence[tuple[float, int]]:
    largest = START_CAPACITORS_F[-1]
    if total_f <= largest:
        return ((total_f, 1),)
    return ((largest, round(total_f / largest)),)
