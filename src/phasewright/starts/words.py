"""Three sentences an owner reads about a start: does it, what is seen, what to watch."""

from __future__ import annotations

from phasewright.starts.capacitor_volts import CapacitorVolts
from phasewright.starts.felt import Coil
from phasewright.starts.heat import StartHeat
from phasewright.starts.outcome import Outcome
from phasewright.starts.seen import Event
from phasewright.starts.trips import Trip
from phasewright.tables.published import table

TOLD = 2
"""How many things to watch the third sentence tells."""
CONFIRM = " (to be confirmed with the maker's curve)"


def sentences(
    own: Outcome, all_: tuple[Outcome, ...], events: tuple[Event, ...], trips: tuple[Trip, ...],
    coils: tuple[Coil, ...], heat: StartHeat | None, capacitors: tuple[CapacitorVolts, ...],
    *, three_lines: bool = False,
) -> tuple[str, str, str]:  # fmt: skip
    """Whether it starts and how fast; what lights and supply see, or a source of three lines
    gives; what trips or is to watch."""
    seen = _given(own, events) if three_lines else _seen(own, events)
    return own.words, seen, _watch(own, all_, trips, coils, heat, capacitors)


def _given(own: Outcome, events: tuple[Event, ...]) -> str:
    since = [each for each in events if own.closed_s is not None and each.at_s >= own.closed_s]
    if not since:
        return "The source of the three lines sees nothing of it."
    dip = max(each.dip for each in since)
    peak = max(each.supply_peak_a for each in since)
    rms = max(each.supply_rms_max_a for each in since)
    return (
        f"The source of the three lines gives up to {rms:.0f} A in a line ({peak:.0f} A at the "
        f"crest), and its lines fall {dip:.1%}."
    )


def _seen(own: Outcome, events: tuple[Event, ...]) -> str:
    since = [each for each in events if own.closed_s is not None and each.at_s >= own.closed_s]
    if not since:
        return "The supply sees nothing of it."
    dip = max(each.dip for each in since)
    peak = max(each.supply_peak_a for each in since)
    rms = max(each.supply_rms_max_a for each in since)
    allowed = table("limits", "voltage_change").number("general")
    lights = (
        f"the lights hardly show it, the supply falls {dip:.1%}"
        if dip <= allowed
        else f"the lights dip: the supply falls {dip:.1%}, more than the {allowed:.0%} that are "
        "usually allowed without asking the network operator"
    )
    pairs = [pair for each in since for pair in (each.dip_23, each.dip_31) if pair is not None]
    third = f", and line 3 falls {max(pairs):.0%}" if pairs else ""
    taken = f"It takes up to {rms:.0f} A from the supply ({peak:.0f} A at the crest)"
    return f"{taken} and {lights}{third}."


def _watch(
    own: Outcome, all_: tuple[Outcome, ...], trips: tuple[Trip, ...], coils: tuple[Coil, ...],
    heat: StartHeat | None, capacitors: tuple[CapacitorVolts, ...],
) -> str:  # fmt: skip
    """The two gravest things, and how many more there are; or that nothing was found."""
    grave = [_confirmed(each) for each in trips if each.verdict == "trips"]
    grave += [
        each.words
        for each in all_
        if each.machine != own.machine and each.code in ("pulled_down", "runs_backwards")
    ]
    grave += [_confirmed(each) for each in trips if each.verdict == "may_trip"]
    grave += [each.words for each in coils if each.pulls_in != "pulls_in" or each.holds != "holds"]
    grave += [each.words for each in capacitors if each.verdict == "over"]
    if heat is not None and heat.verdict in ("may_not_bear", "too_hot"):
        grave.append(heat.words)
    lasting = [each for each in trips if each.verdict == "holds" and each.lasting_may_s is not None]
    grave += [each.words for each in sorted(lasting, key=lambda each: each.of != own.machine)]
    grave += [each.words for each in trips if each.verdict == "not_judged"]
    if grave:
        more = len(grave) - TOLD
        rest = [f"There is more to watch: {more} further."] if more > 0 else []
        return " ".join(grave[:TOLD] + rest)
    judged = "no breaker, fuse or relay was named" if not trips else "nothing trips"
    return f"There is nothing to watch: {judged}, and every contactor holds."


def _confirmed(trip: Trip) -> str:
    if not trip.to_be_confirmed:
        return trip.words
    return trip.words.removesuffix(".") + CONFIRM + "."
