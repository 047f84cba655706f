"""The answer's words: headline, reasons, cautions, obstacles. Every number in them is computed."""

from __future__ import annotations

import re

from phasewright.plan.arrays import Choice
from phasewright.plan.listed import Listed
from phasewright.plan.options import shared_of
from phasewright.plan.problem import Solution
from phasewright.plan.study import PlanSide
from phasewright.quantities.codes import ON_A_DRIVE, WayName
from phasewright.quantities.finding import Reason, Said, reason
from phasewright.quantities.words import WAY_SHORT
from phasewright.ways.cautions import GENERATED_LINE_LIVE, STORED_CHARGE
from phasewright.ways.site import Site

COST = "lifetime_cost/expected"
_SIZE = re.compile(r"(\d[\d.,]*[\s\N{NO-BREAK SPACE}](?:kWh|kW|W|kVA|hp))\b")
"""A size in the title of a plan."""
CLOSE_SHARE = 0.10
"""Plans whose expected costs differ by less than this share are called close."""
DRIVEN: frozenset[WayName] = frozenset((*ON_A_DRIVE, "motor_swap"))
"""Ways that bring, or may bring, a drive with a charged link."""
_UNPOWERED = "leaves motors without power"
LONE: frozenset[WayName] = frozenset(("capacitor_run", "static_converter"))
"""Ways with capacitors at the motor itself."""


def headline_of(choice: Choice, sides: tuple[PlanSide, ...]) -> tuple[str | Said, ...]:
    """One sentence an owner can act on, as words and the figures among them."""
    best = sides[0]
    money = Said(_money(best.lifetime_cost.expected.number, choice), (f"/plans/0/{COST}",))
    years = f"{choice.terms.years:g} years"
    if not best.feasible:
        return (
            "No plan serves every motor yet; the nearest is: ", *_title(sides, best, small=True),
            " (", money, f" over {years}).",
        )  # fmt: skip
    now = Said(_money(best.purchase.number, choice), ("/plans/0/purchase",))
    parts = (*_title(sides, best), ": ", money, f" over {years}, ", now, " to buy now.")
    rival = _rival(sides)
    if rival is None or not _close(best, rival):
        return parts
    return (
        *parts, " It is close: ", *_title(sides, rival, small=True), " costs ",
        _cost(sides, rival, choice), ".",
    )  # fmt: skip


def _title(
    sides: tuple[PlanSide, ...], side: PlanSide, *, small: bool = False
) -> tuple[str | Said, ...]:
    """The title of a plan; its sizes lead to the plan."""
    words = _lower(side.title) if small else side.title
    at = (f"/plans/{sides.index(side)}/title",)
    pieces = _SIZE.split(words)  # words and sizes by turns
    return tuple(
        Said(piece, at) if place % 2 else piece for place, piece in enumerate(pieces) if piece
    )


def _cost(sides: tuple[PlanSide, ...], side: PlanSide, choice: Choice) -> Said:
    at = f"/plans/{sides.index(side)}/{COST}"
    return Said(_money(side.lifetime_cost.expected.number, choice), (at,))


def reasons_of(
    choice: Choice, listed: tuple[Listed, ...], sides: tuple[PlanSide, ...]
) -> tuple[Reason, ...]:
    """Why the best plan wins, against the plans of other kinds, in sums."""
    best = sides[0]
    at = (f"/plans/0/{COST}",)
    found = []
    if best.feasible:
        found.append(
            reason(
                "least_cost",
                "Of every way of powering these motors that was computed it costs least: "
                if listed[0].plan.proven
                else "Of the plans that were tried it costs least: ",
                _cost(sides, best, choice), " (",
                Said(_money(best.lifetime_cost.low, choice), at), " to ",
                Said(_money(best.lifetime_cost.high, choice), at),
                f") over {choice.terms.years:g} years.",
            )
        )  # fmt: skip
    for each, side in zip(listed[1:], sides[1:], strict=True):
        if each.why.startswith("best with") or each.why.endswith("throughout"):
            more = side.lifetime_cost.expected.number - best.lifetime_cost.expected.number
            sums = Said(
                _money(abs(more), choice), (f"/plans/{sides.index(side)}/{COST}", *at),
                "one less the other",
            )  # fmt: skip
            than = f" {'less' if more < 0.0 else 'more'} over the years"
            join = "but" if more < 0.0 else "and"
            lacks = "is forbidden as it stands" if each.plan.serves_all else _UNPOWERED
            serves = "" if side.feasible else f", {join} {lacks}"
            code = "against_" + each.why.replace(" ", "_")
            found.append(reason(code, *_title(sides, side), ": ", sums, f"{than}{serves}."))
    on = shared_of(choice.facts, choice.states[listed[0].plan.state])
    if on is not None and on.idle_power_w > 0.0:
        found.append(
            reason(
                "idle_is_loss",
                f"{on.said.idle} ", _idle(best, on.way, on.idle_power_w),
                ": left on with nothing turning that is pure loss, ",
                Said(
                    f"{best.idle_energy_per_year_kwh.number:.0f} kWh",
                    ("/plans/0/idle_energy_per_year_kwh",),
                ),
                " a year here.",
            )
        )  # fmt: skip
    found += _with_circuits(choice, sides)
    rival = _rival(sides)
    if best.feasible and rival is not None and _close(best, rival):
        found.append(
            reason(
                "close",
                "The next plan is within ",
                Said(f"{CLOSE_SHARE:.0%}", (f"/plans/{sides.index(rival)}/{COST}", *at),
                     "the other over the one, less 1"),
                ": ", *_title(sides, rival), ". Let what each gives and gives up decide.",
            )
        )  # fmt: skip
    return tuple(found)


def _idle(best: PlanSide, way: WayName, watts: float) -> Said | str:
    """What the shared equipment takes idling, where it stands in the plan."""
    words = f"{watts:.0f} W"
    for place, each in enumerate(best.equipment):
        if each.way == way and each.figures.idle_power_w is not None:
            return Said(words, (f"/plans/0/equipment/{place}/figures/idle_power_w",))
    return words


def _with_circuits(choice: Choice, sides: tuple[PlanSide, ...]) -> tuple[Reason, ...]:
    """What the circuits of the best plan cost, and whether they change which plan is cheapest."""
    best = sides[0]
    mine, cost = best.lifetime_cost_with_circuits, best.circuits_cost
    if mine is None or cost is None or not best.feasible:
        return ()
    at = ("/plans/0/circuits_cost/expected",)
    words = (
        "Its cables, breakers, residual-current devices, isolators and outlets cost about ",
        Said(_money(cost.expected.number, choice), at), " more (",
        Said(_money(cost.low, choice), at), " to ", Said(_money(cost.high, choice), at),
        ", from the shortest lengths to the longest); ",
    )  # fmt: skip
    known = [
        (of.number, place) for place, side in enumerate(sides)
        if place and side.feasible and (of := side.lifetime_cost_with_circuits) is not None
    ]  # fmt: skip
    least = min(known, default=None)
    if least is None or least[0] >= mine.number:
        stays = "of the plans that are listed it stays the cheapest with them."
        return (reason("with_circuits", *words, stays),)
    number, place = least
    less = Said(
        _money(mine.number - number, choice),
        tuple(f"/plans/{of}/lifetime_cost_with_circuits" for of in (0, place)),
        "one less the other",
    )
    title = _title(sides, sides[place], small=True)
    with_them = ("with them ", *title, " would cost ", less, " less in all.")
    return (reason("with_circuits", *words, *with_them),)


def _not_proven(choice: Choice, plan: Solution) -> tuple[Reason, ...]:
    """Told where the search ended before it could prove its plan the cheapest."""
    if plan.proven:
        return ()
    return (
        Reason(
            "not_proven",
            "So many motors may turn at once here that not every plan could be ruled out: a "
            f"cheaper one may exist, but none below {_money(plan.bound, choice)}.",
        ),
    )


def cautions_of(choice: Choice, plan: Solution) -> tuple[Reason, ...]:
    """The usual cautions for what the plan holds; local codes and licensed practice come first."""
    ways = {choice.options[index].way for index in plan.options if index >= 0}
    found = [
        Reason(
            "licensed_work",
            "Local codes come first, and fixed wiring is for those who are licensed for it. Cut "
            "off the supply, lock it and prove it dead before opening anything.",
        ),
        Reason(
            "illustrative_prices",
            "Prices without a quote of yours are invented illustrations, those of cables, breakers "
            "and outlets too; these are no part of the sums that plans are compared by.",
        ),
        *_not_proven(choice, plan),
    ]
    if "motor_swap" in ways:
        found.append(
            Reason(
                "swapped_motor",
                "A single-phase motor's capacitors hold a charge after switching off. Another "
                "motor needs its overload set anew, its earth proved and its guard back on.",
            )
        )
    on = shared_of(choice.facts, choice.states[plan.state])
    hung = on is not None and on.way in ways
    lone = (STORED_CHARGE, GENERATED_LINE_LIVE) if ways & LONE else ()
    found += dict.fromkeys((*lone, *(on.said.cautions if on is not None and hung else ())))
    if ways & DRIVEN:
        found.append(
            Reason(
                "drive_link_charge",
                "The capacitors in a drive stay charged for minutes after switching off: wait as "
                "marked and measure. Bond frame and screen to earth.",
            )
        )
    found.append(
        Reason(
            "moving_machines",
            "Try every machine first with guards on, belt off or tool out, hands clear.",
        )
    )
    return tuple(found)


def obstacles_of(choice: Choice, plan: Solution) -> tuple[Reason, ...]:
    """What stands in the way of every motor the plan leaves without power."""
    found = []
    for unit, index in enumerate(plan.options):
        later = {then.options[unit] for then in plan.later}
        without = [i for i in (index, *later) if i >= 0 and choice.options[i].way is None]
        if not without:
            continue
        name = choice.facts.units[unit].id
        motor = [each.id for each in choice.facts.motors].index(name)
        for place, judgement in enumerate(choice.facts.judgements[unit]):
            if judgement.verdict == "refused" and judgement.reasons:
                why = judgement.reasons[0]
                at = f"/motors/{motor}/ways/{place}/reasons/0"
                found.append(
                    Reason(
                        why.code, f"{name}, {WAY_SHORT[judgement.way]}: {why.words}",
                        figures=(Said("", (at,)),),
                    )
                )  # fmt: skip
        if not any(j.offers for j in choice.facts.judgements[unit]):
            continue
        found.append(
            Reason(
                "not_together",
                f"{name} could be powered alone, but not beside what turns with it within "
                f"{_limits(choice.facts.site_at(choice.facts.units[unit].place))}.",
            )
        )
    return tuple(found)


def _limits(site: Site) -> str:
    """What bounds the amps of a place, in words."""
    return site.limit.words + ("" if site.feeder is None else f" and {site.feeder.words}")


def _rival(sides: tuple[PlanSide, ...]) -> PlanSide | None:
    """The cheapest feasible plan whose shared equipment or number of drives differs."""
    best = sides[0]
    others = [side for side in sides[1:] if side.feasible and _shape(side) != _shape(best)]
    return min(others, key=lambda side: side.lifetime_cost.expected.number, default=None)


def _shape(side: PlanSide) -> tuple[str | None, ...]:
    return tuple(motor.way for motor in side.motors)


def _close(best: PlanSide, rival: PlanSide) -> bool:
    gap = rival.lifetime_cost.expected.number - best.lifetime_cost.expected.number
    return gap < CLOSE_SHARE * best.lifetime_cost.expected.number


def _money(amount: float, choice: Choice) -> str:
    currency = choice.facts.shop.currency
    return f"{amount:,.0f} {currency}".strip()


def _lower(words: str) -> str:
    return words[0].lower() + words[1:] if words else words
