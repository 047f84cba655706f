"""The site of a shop: its supply with what is known of it, its limits, its money terms."""

from __future__ import annotations

from phasewright.network.impedance import SupplyImpedance
from phasewright.quantities.value import Value, exact, figure, spread
from phasewright.shop.model import Shop
from phasewright.shop.supply import Place, Supply
from phasewright.tables.shared_sources import largest_phase_fuse_a, three_phase_volts
from phasewright.tables.usage import default_service_a, mains_ratio
from phasewright.ways.phases import Phases
from phasewright.ways.place_of import feeder_limit, loaded_conductors, surroundings_of
from phasewright.ways.site import Limit, Site, Surroundings, line_factor, room_under


def site_of(shop: Shop, impedance: SupplyImpedance, place: Place | None = None) -> Site:
    """The site as every way sees it: at the intake, or in a place with its own feeder, which
    `impedance` then holds."""
    supply = shop.supply
    volts, others = mains_volts(shop), others_a(shop)
    surge = supply.surge
    return Site(
        region=shop.region,
        source=impedance.source(volts.number, supply.frequency.number),
        voltage_v=volts,
        resistance_ohm=impedance.resistance,
        reactance_ohm=impedance.reactance,
        limit=limit_of(shop, others),
        others_a=others,
        quotes=shop.quotes,
        owned=shop.owned_parts,
        wiring_by_owner=shop.wishes.who_wires != "electrician",
        supply_kind=supply.kind,
        surge_a=None if surge is None else _amps(surge.rating.number, supply),
        crest_factor=None if surge is None else surge.crest_factor,
        phases=phases_of(shop, volts.number),
        place="" if place is None else place.name,
        feeder=None if place is None else feeder_limit(shop, place, loaded_conductors(supply)),
        feeder_three=None if place is None else feeder_limit(shop, place, 3),
        surroundings=Surroundings() if place is None else surroundings_of(place),
        fuel_price=shop.tariff.fuel,
        quiet=shop.wishes.quiet,
    )


def _amps(apparent_va: float, supply: Supply) -> float:
    """Line amps of so many volt-amperes at the supply's nominal volts."""
    return apparent_va / (supply.voltage.number * line_factor(supply.kind))


def mains_volts(shop: Shop) -> Value:
    """Volts at no load: the nominal ones, with the measured or the country's usual spread."""
    nominal = shop.supply.voltage.number
    measured = shop.supply.measured_voltage
    if measured is not None:
        middle = 0.5 * (measured.low.number + measured.high.number)
        return spread(
            middle, measured.low.number, measured.high.number, "V", "measured",
            "middle of the lowest and highest reading",
        )  # fmt: skip
    ratio = mains_ratio(shop.supply.country)
    return spread(
        nominal, nominal * ratio.low, nominal * ratio.high, "V", ratio.origin, ratio.source
    )


def limit_of(shop: Shop, others: Value) -> Limit:
    """The one of service, outlet and contract that leaves least; the usual where none is given.

    Other loads hang on the service and count in the contract; an outlet that only the machines
    may use is theirs alone.
    """
    supply = shop.supply
    found: list[Limit] = []
    if supply.outlet_rating is not None:
        found.append(
            Limit(
                supply.outlet_rating, "the outlet", "supply.outlet_rating", beside_others=False
            )
        )  # fmt: skip
    if supply.service_rating is not None:
        found.append(Limit(supply.service_rating, "the service", "supply.service_rating"))
    if supply.contracted_power is not None:
        amps = figure(
            _amps(supply.contracted_power.number, supply), "A", "ways.site_of.limit_of",
            {
                "contracted power": (supply.contracted_power.number, "VA"),
                "voltage": (supply.voltage.number, "V"),
            },
            supply.contracted_power.source,
        )  # fmt: skip
        found.append(Limit(amps, "the contract", "supply.contracted_power"))
    if not found:
        usual = default_service_a(shop.region, supply.country)
        return Limit(usual, "the service (assumed)", "supply.service_rating")
    return min(found, key=lambda limit: room_under(limit, others))


def others_a(shop: Shop) -> Value:
    """What other loads take between lines 1 and 2 that cannot wait.

    A load on one line of a split-phase service burdens that line alone: its amps count whole,
    for the fuse of that line is the one that goes.
    """
    taken = [load for load in shop.supply.other_loads if not load.can_wait]
    total = sum(load.current.number for load in taken)
    waiting = sum(load.current.number for load in shop.supply.other_loads if load.can_wait)
    if not shop.supply.other_loads:
        return exact(0.0, "A", "stated", "no other loads are given")
    return figure(
        total, "A", "ways.site_of.others_a",
        {load.name: (load.current.number, "A") for load in taken},
        "shop file; all at once, without diversity", high=total + waiting,
    )  # fmt: skip


def phases_of(shop: Shop, volts: float) -> Phases | None:
    """The three-phase service an operator would bring under the same contract; None where the
    supply has three phases already, or where only an outlet may be used and none is offered.

    A contracted power gives each phase a third. Without one a phase gets today's fuse, but no
    more than a small new service usually has (common practice, no source).
    """
    supply = shop.supply
    offered = any(quote.kind == "utility_service" for quote in shop.quotes)
    if supply.kind == "three_phase" or (supply.outlet_rating is not None and not offered):
        return None
    line, phase = three_phase_volts(shop.region, volts)
    between = shop.region == "NEC"
    if supply.contracted_power is not None:
        kva = supply.contracted_power.number / 1000.0
        limit, words = 1000.0 * kva / (3.0 * phase), f"a third of the contract's {kva:g} kVA"
    else:
        usual = largest_phase_fuse_a(shop.region)
        limit = usual if supply.service_rating is None else min(supply.service_rating.number, usual)
        words = f"a fuse of {limit:g} A"
    others = tuple(
        (load.current.number, between and load.lines == "both")
        for load in supply.other_loads
        if not load.can_wait
    )
    return Phases(line, phase, limit, words, others, between)
