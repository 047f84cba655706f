"""Radio filters of a plan's drives: how the supply's earthing suits them, and their category."""

from __future__ import annotations

from collections.abc import Iterator

from phasewright.plan.arrays import Choice
from phasewright.plan.on_one_supply import behind_isolation, drive_figures
from phasewright.plan.options import offer_of, shared_of
from phasewright.plan.problem import Solution
from phasewright.quantities.finding import Finding
from phasewright.rules.emc import (
    Category,
    Feed,
    borne_to_earth_v,
    filter_on_floating_supply,
    filter_volts,
    highest_to_earth_v,
    radio_category,
)
from phasewright.shop.supply import Supply
from phasewright.tables.drives import drive_class_v, radio_category_of
from phasewright.tables.stepping_up import secondary_volts

DRIVES = "drives"
_OWN_NETWORK = ("generator", "inverter")


def filter_findings(choice: Choice, plan: Solution) -> Iterator[Finding]:
    """Findings on the filters of the plan's drives; none where it has no drive."""
    kinds: list[bool] = []
    for unit, this in enumerate(choice.facts.units):
        if plan.options[unit] < 0 or drive_figures(choice, plan, unit) is None:
            continue
        three = _three_phase_type(choice, plan, unit)
        kinds.append(three)
        yield from _against_earthing(choice, plan, unit, this.id, three)
    if not kinds:
        return
    supply = choice.facts.shop.supply
    public = supply.kind not in _OWN_NETWORK
    if feed_of(supply) not in (None, "none") and public:
        yield _stays()
    if choice.facts.site.region == "IEC":
        professional = not choice.facts.site.wiring_by_owner
        category: Category = radio_category_of(any(kinds))
        dwellings = public and supply.dwelling is not False
        yield from radio_category(category, dwellings, professional, DRIVES).findings


def feed_of(supply: Supply) -> Feed | None:
    """How the supply stands to earth; None where that is not known and nothing tells it."""
    if supply.earthing == "IT" or supply.earthed == "none":
        return "none"
    if supply.earthed in ("line_2", "centre"):
        return "centre" if supply.earthed == "centre" else "line_2"
    if supply.kind == "split_phase":
        return "centre"
    return "line_2" if supply.kind == "single_phase" else None


def _three_phase_type(choice: Choice, plan: Solution, unit: int) -> bool:
    """Whether the unit's drive is one made for three-phase input."""
    option = choice.options[plan.options[unit]]
    items = list(had.items if (had := choice.states[plan.state].had) and option.shared else ())
    offer = offer_of(choice.facts, unit, option)
    items += () if offer is None else offer.items
    return any(each.kind == "three_phase_input_drive" for each in items)


def _against_earthing(
    choice: Choice, plan: Solution, unit: int, subject: str, three: bool
) -> Iterator[Finding]:
    """Of one drive: the volts to earth of what feeds it, and whether that is earthed at all."""
    volts, feed = choice.facts.site.source.voltage_v, feed_of(choice.facts.shop.supply)
    if behind_isolation(choice, unit, choice.options[plan.options[unit]]):
        # its secondary is earthed at its centre: a condition of the way
        volts, feed = _secondary_v(choice, plan, unit), "centre"
    on = shared_of(choice.facts, choice.states[plan.state])
    if feed is None or (on is not None and on.phases is not None):
        return
    borne = borne_to_earth_v(drive_class_v(volts), three)
    yield from filter_volts(highest_to_earth_v(volts, feed), borne, subject).findings
    yield from filter_on_floating_supply(feed, True, subject).findings


def _secondary_v(choice: Choice, plan: Solution, unit: int) -> float:
    """Volts behind the transformer before a unit's drive: the lowest that reach its winding's."""
    option = choice.options[plan.options[unit]]
    judgement = next(j for j in choice.facts.judgements[unit] if j.way == option.way)
    link = judgement.link_of(judgement.offers[option.offer])
    least_v = choice.facts.site.source.voltage_v if link is None else link.line_voltage_v
    return secondary_volts(choice.facts.site.region, least_v)


def _stays() -> Finding:
    return Finding(
        id=f"emc.filter_stays:{DRIVES}", rule="emc.filter_stays", severity="info", subject=DRIVES,
        words="their radio filters stay in on this earthed supply: a screw or bridge marked for "
        "it is taken out only on a supply that is not earthed, never to stop a residual-current "
        "device from tripping",
        source="IEC 61800-3; makers' manuals (from memory)",
    )  # fmt: skip
