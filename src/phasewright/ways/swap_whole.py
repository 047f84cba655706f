"""The whole machine replaced, or its job hired out, at the price the owner was quoted.

Weighed for machines with one motor: of a machine with several, no share of the price belongs to
one of them. Nothing is weighed without a quote.
"""

from __future__ import annotations

import math
from dataclasses import replace

from phasewright.quantities.finding import Reason
from phasewright.quantities.value import exact
from phasewright.shop.model import Quote
from phasewright.tables.prices import Price
from phasewright.ways.figures import Figures
from phasewright.ways.purchase import QUOTED, Item, buy, total
from phasewright.ways.site import Site
from phasewright.ways.swap_single_phase import Swapped, stands_in
from phasewright.ways.way import Draw, Offer, Service, Task

REPLACED = "another machine with a single-phase motor"
HIRED_OUT = "the job hired out"


def whole_machine(task: Task, site: Site) -> list[Swapped]:
    """A variant for each quote that names this machine; words alone where there is none."""
    name = task.machine.name
    quotes = [quote for quote in site.quotes if quote.machine == name]
    if not quotes:
        return [Swapped((_open_besides(name),))]
    if len(task.machine.motors) > 1:
        words = (
            f"Quotes for the whole of {name} are not weighed: it has several motors, and no share "
            "of the price belongs to one of them. Compare them with the sum of its motors."
        )
        return [Swapped((Reason("whole_machine_not_weighed", words),))]
    found = []
    for quote in quotes:
        if quote.kind == "machine_replaced":
            found.append(_replaced(task, site, quote))
        elif quote.kind == "job_hired_out":
            found.append(_hired_out(quote))
    return found


def _open_besides(name: str) -> Reason:
    return Reason(
        "without_this_machine",
        f"Also open: sell {name} and buy one with a single-phase motor, or hire the job out; no "
        "price of it was quoted, so it is not weighed.",
    )


def _replaced(task: Task, site: Site, quote: Quote) -> Swapped:
    """Another machine of the same power on this supply, at the quoted price."""
    motor = stands_in(task, site)
    if motor.offer is None or motor.figures is None:
        return Swapped(
            tuple(replace(each, words=f"{REPLACED}: {each.words}") for each in motor.reasons)
        )
    items = (_quoted("machine_replaced", "another machine", quote.price),)
    figures = replace(motor.figures, price=total(items, REPLACED))
    offer = replace(
        motor.offer,
        buys=(buy("motor_swap", motor.offer.buys[0].rating, "W", (task.motor.id,), items),),
        items=items,
        labour_h=exact(0.0, "h", "assumed", "it comes ready"),
        words=REPLACED,
        figures=figures,
    )
    told = Reason(
        "replaced_machine",
        "Another machine: its power, speeds and size must serve the job; the quoted price is taken "
        "as net of what the old machine brings.",
    )
    reason = Reason("machine_replaced", f"{REPLACED}: at the price quoted, {quote.price:g}.")
    return Swapped((reason,), (told,), figures, offer)


def _hired_out(quote: Quote) -> Swapped:
    """Nothing turns here; the job costs the quoted amounts."""
    yearly = quote.standing_per_year or 0.0
    items = (_quoted("job_hired_out", "hiring the job out", quote.price),)
    figures = Figures(price=total(items, HIRED_OUT))
    offer = Offer(
        service=Service(Draw(), Draw(), Draw(), 0.0),
        buys=(),
        items=items,
        labour_h=exact(0.0, "h", "assumed", "the work is done elsewhere"),
        upkeep_h_per_year=0.0,
        words=HIRED_OUT,
        figures=figures,
        yearly_cost=yearly,
    )
    reason = Reason(
        "job_hired_out",
        f"{HIRED_OUT}: {quote.price:g} once and {yearly:g} a year, as quoted; the machine stands "
        "still.",
    )
    told = Reason("machine_stands", "The job hired out: waiting and transport are not counted.")
    return Swapped((reason,), (told,), figures, offer)


def _quoted(kind: str, what: str, amount: float) -> Item:
    """The owner's price for a whole machine: it lasts for the plan and is not sold again."""
    price = Price(
        kind=kind, what=what, amount=amount, low=amount, high=amount, origin=QUOTED,
        life_years=math.inf, resale_share=0.0, resale_halving_years=1.0, lowest_rating=0.0,
        highest_rating=math.inf, rating_unit="",
    )  # fmt: skip
    return Item(kind, 1.0, "", 1, price)
