"""The battery inverters that could stand in a shop, and what every motor gets on each."""

from __future__ import annotations

from phasewright.quantities.errors import TableEnds
from phasewright.quantities.finding import Reason
from phasewright.tables.labour import hours
from phasewright.tables.own_sources import battery_round_trip, charger_serves, session_hours
from phasewright.tables.sizes import BATTERY_INVERTER_SIZES_W, BATTERY_SIZES_KWH
from phasewright.tables.usage import default_hours_per_year
from phasewright.ways.battery_serve import LICENSED, serve
from phasewright.ways.battery_source import BatteryInverter
from phasewright.ways.electronic_serve import NAME
from phasewright.ways.figures import Figures
from phasewright.ways.own_lines import Verdicts, not_beaten
from phasewright.ways.purchase import Item, item
from phasewright.ways.shared_source import Had, Said, Shared, Work
from phasewright.ways.site import Site

BATTERY_INVERTER = "battery inverter"


def against_battery(site: Site) -> Reason | None:
    """Why no battery inverter is weighed on this supply; None where one is."""
    if site.supply_kind == "three_phase":
        return Reason("three_phases_there", "Three phases are there already.")
    if site.supply_kind == "inverter":
        return Reason(
            "inverter_already",
            "The supply is an inverter already: ask for one with three phases in its place rather "
            "than a battery that fills another.",
        )
    try:
        charger_serves(site.source.voltage_v)
    except TableEnds as end:
        return Reason("no_charger_for_these_volts", f"Beyond what is known: {end}.")
    return None


def inverters_of(site: Site) -> list[BatteryInverter]:
    """Every inverter with every battery, those on the market and the owner's, growing in price."""
    if against_battery(site) is not None:
        return []
    pairs = {(w, kwh) for w in BATTERY_INVERTER_SIZES_W for kwh in BATTERY_SIZES_KWH}
    found = [
        BatteryInverter(site.source, site.region, w, kwh, site.room_a)
        for w, kwh in sorted(pairs | {pair for _, pair in _owned(site)})
    ]
    return sorted(found, key=lambda of: (min(map(_price, hads_of(site, of))), of.battery_kwh))


def _owned(site: Site) -> list[tuple[int, tuple[float, float]]]:
    """(place among the owner's parts, (W, kWh)); one whose battery is not told is left out."""
    found = []
    for index, part in enumerate(site.owned):
        sold_by = part.power or part.rating
        if part.kind == "battery_inverter" and sold_by is not None and part.energy is not None:
            found.append((index, (sold_by.number, part.energy.number)))
    return found


def hads_of(site: Site, of: BatteryInverter) -> tuple[Had, ...]:
    """Every way to have this inverter with this battery: bought new, or the owner's own."""
    words = f"battery inverter of {of.rating_w / 1000.0:.3g} kW with {of.battery_kwh:g} kWh"
    work, upkeep = hours("battery_inverter"), hours("upkeep_battery").number
    found = []
    if of.rating_w in BATTERY_INVERTER_SIZES_W and of.battery_kwh in BATTERY_SIZES_KWH:
        things = (
            item("battery_inverter", of.rating_w, "W", site.quotes),
            item("battery", of.battery_kwh, "kWh", site.quotes),
        )
        found.append(Had("new", things, work, upkeep, words=f"a {words}"))
    for index, size in _owned(site):
        if size == (of.rating_w, of.battery_kwh):
            found.append(Had("owned", _own_things(of), work, upkeep, index, words=f"your {words}"))
    return tuple(found)


def _own_things(of: BatteryInverter) -> tuple[Item, ...]:
    """The owner's, with the life of such things where the price curves reach them."""
    things = []
    for kind, rating, unit in (
        ("battery_inverter", of.rating_w, "W"),
        ("battery", of.battery_kwh, "kWh"),
    ):
        try:
            things.append(item(kind, rating, unit, (), origin="owned"))
        except TableEnds:
            continue
    return tuple(things)


def _price(had: Had) -> float:
    return sum(thing.amount for thing in had.items)


def shared(site: Site, work: Work) -> tuple[Shared, ...]:
    """Of every inverter with every battery those that can do something no cheaper one can.

    A battery that all it serves together would fill oftener than once a day is left out, where
    a larger one would do.
    """
    candidates: list[tuple[BatteryInverter, Verdicts]] = [
        (of, tuple(serve(task, site, of) for task in work.tasks)) for of in inverters_of(site)
    ]
    lasting = [each for each in candidates if _year_kwh(work, each[1]) <= each[0].most_kwh_per_year]
    needed = not_beaten(work, lasting or candidates)
    return tuple(_shared(site, of, served) for of, served in needed)


def _year_kwh(work: Work, served: Verdicts) -> float:
    """What all that may hang on it take from the supply in a year."""
    total = 0.0
    for task, one in zip(work.tasks, served, strict=True):
        if isinstance(one, tuple) or task.motor.load is None:
            continue
        stated = task.machine.hours_per_year
        hours_per_year = default_hours_per_year().number if stated is None else stated
        total += one.service.mean_w(task.motor.load.duty.number) * hours_per_year / 1000.0
    return total


def _shared(site: Site, of: BatteryInverter, served: Verdicts) -> Shared:
    return Shared(
        way=NAME,
        name=BATTERY_INVERTER,
        rating=of.rating_w,
        unit="W",
        hads=hads_of(site, of),
        served=served,
        turning=of,
        said=said_of(of),
        idle_power_w=of.idle_w,
        figures=_figures(served),
        generated_line=False,
        neutral=True,
        always_on=True,
        most_kwh_per_year=of.most_kwh_per_year,
        fault_source=of.fault_source(BATTERY_INVERTER),
    )


def _figures(served: Verdicts) -> Figures:
    """What holds of the inverter, whoever hangs on it."""
    one = next(each.figures for each in served if not isinstance(each, tuple))
    return Figures(
        idle_power_w=one.idle_power_w,
        charger_power_w=one.charger_power_w,
        battery_kwh=one.battery_kwh,
        round_trip_efficiency=battery_round_trip(),
    )


def said_of(of: BatteryInverter) -> Said:
    """What it gives, gives up and warns of (common practice, no source)."""
    hours = session_hours()
    return Said(
        idle="Day and night the battery inverter takes",
        gives=(
            Reason(
                "real_neutral",
                f"the original switches and pumps work as they are, on three equal lines of "
                f"{of.line_voltage_v:.0f} V with a real neutral; the winding stays as it is.",
            ),
            Reason(
                "no_peaks_on_the_supply",
                f"the supply gives the charger {of.charger_w:.0f} W and sees no start.",
            ),
            Reason(
                "carries_on",
                "when the mains fails they run on until the battery is empty; panels on a roof "
                "may fill it.",
            ),
        ),
        gives_up=(
            Reason(
                "session_ends",
                f"Counted for {hours.number:g} h of turning ({hours.low:g} to {hours.high:g}) of "
                "what turns together, then it must fill: longer days want a larger battery.",
            ),
            Reason(
                "battery_wears",
                f"About {1.0 - battery_round_trip().number:.0%} of the energy is lost on the way, "
                "and the battery wears out whether it is used or not.",
            ),
            Reason("one_box", "One box for the whole shop: if it fails, everything on it stands."),
        ),
        cautions=(
            LICENSED,
            Reason(
                "battery_cannot_be_switched_off",
                "A battery's own terminals and cables stay live whatever is switched off, and a "
                "short across them burns: insulated tools, no rings, its fuse out first. Place it "
                "where local codes let a battery stand.",
            ),
            Reason(
                "lines_live_without_mains",
                "With the mains off or failed its three lines are still live: switch the inverter "
                "off, lock it and prove dead. Its earth fault current is small: ask which "
                "protection it needs.",
            ),
        ),
    )
