"""What dust, damp, thin and warm air of a place ask of what stands there (common practice)."""

from __future__ import annotations

from phasewright.machines.circuit import Circuit
from phasewright.machines.load import Load
from phasewright.machines.motor import Motor
from phasewright.quantities.words import place_words
from phasewright.rules.places import frost
from phasewright.tables.surroundings import drive_share
from phasewright.ways.asked import Asked, by_rules, condition, refusal, told
from phasewright.ways.balanced import usable_ratio
from phasewright.ways.conditions import demand_ratio
from phasewright.ways.lasting import mean_ratio
from phasewright.ways.purchase import Item, item
from phasewright.ways.site import Site, Surroundings


def amps_share(air: Surroundings) -> float:
    """Share of its rated amps that a drive or an electronic source gives in this air."""
    return drive_share(air.ambient_c, air.altitude_m)


def boxes(site: Site, rating_w: float) -> list[Item]:
    """The dust-tight box that a drive or electronic source wants in dust or damp."""
    if not (site.surroundings.dust or site.surroundings.damp):
        return []
    return [item("dust_box", rating_w, "W", site.quotes)]


def of_electronics(site: Site) -> Asked:
    """What the place asks of a drive or an electronic source."""
    air, share = site.surroundings, amps_share(site.surroundings)
    whole = Asked()
    if air.dust or air.damp:
        what = " and ".join(w for w, so in (("dust", air.dust), ("damp", air.damp)) if so)
        whole += condition(
            "dust_tight",
            f"Where there is {what} no vented drive: one of a closed kind (IP54 or better) or in "
            "a closed box with room to shed its heat. A box is counted in the price.",
        )
    if share < 1.0:
        whole += told(
            "thin_or_warm_air",
            f"In this air a drive gives {share:.0%} of its amps; the size is chosen so.",
        )
    return whole + of_frost(site)


def of_idler_there(site: Site) -> Asked:
    """What the place asks of an idler with its capacitors."""
    whole = Asked()
    if site.surroundings.dust:
        whole += condition(
            "idler_in_dust",
            "Wood dust or flour that settles on a hot idler or its capacitors may glow and burn: "
            "a closed motor and box, out of the dust, and blown clean.",
        )
    return whole + of_frost(site)


def of_frost(site: Site) -> Asked:
    """Told where the place freezes."""
    return by_rules(frost(site.surroundings.ambient_c, place_words(site.place)))


def heat_ratio(motor: Motor, circuit: Circuit) -> float:
    """Torque over the rated one that its windings bear for ever at its plate's volts there."""
    if motor.heat_share >= 1.0:
        return 1.0
    return usable_ratio(circuit, circuit.line_voltage_v, circuit.frequency_hz, motor.heat_share)


def of_heat(motor: Motor, circuit: Circuit, load: Load) -> Asked:
    """What warm or thin air leaves of a motor at its plate's volts, against its load."""
    ratio = heat_ratio(motor, circuit)
    mean, demand = mean_ratio(load), min(demand_ratio(load), 1.0)
    words = f"In the warm or thin air there its windings bear {ratio:.0%} of its torque for ever"
    if ratio < mean:
        return refusal("too_little_torque", f"{words}; {mean:.0%} is asked as a mean.")
    if ratio < demand:
        return condition("less_power", f"{words}; it may ask for {demand:.0%}.")
    return Asked()
