"""A plan's sums as figures: what is paid today, the work, the energy of a year, the whole cost.

Each names what it was added up from, so that a bill can be read line by line. Money is in the
shop's own currency and carries no unit.
"""

from __future__ import annotations

from phasewright.plan.arrays import Choice
from phasewright.plan.options import offer_of, shared_of
from phasewright.plan.problem import Solution
from phasewright.quantities.value import Value, figure
from phasewright.tables.usage import default_hours_per_year
from phasewright.ways.figures import Buy
from phasewright.ways.purchase import Item

PRICES = "the owner's quotes before illustrative price curves (invented)"
WORK = "hours of work, common practice, no source"


def hours_of_work(choice: Choice, plan: Solution) -> Value:
    """The owner's hours for what is done now; the jobs are the inputs."""
    state = choice.states[plan.state]
    parts: dict[str, Value] = {}
    on = shared_of(choice.facts, state)
    if on is not None and state.had is not None:
        parts[on.name] = state.had.labour_h
    for unit, index in enumerate(plan.options):
        if index >= 0:
            parts |= choice.ledger.jobs(unit, choice.options[index])
    return figure(
        sum(value.number for value in parts.values()), "h", "plan.sums.hours_of_work",
        {name: (value.number, "h") for name, value in parts.items()} or {"jobs": (0.0, "")}, WORK,
        low=sum(value.low for value in parts.values()),
        high=sum(value.high for value in parts.values()),
    )  # fmt: skip


def labour(choice: Choice, work: Value) -> Value:
    """What the hours of work cost under the shop's terms."""
    terms = choice.terms
    return figure(
        terms.labour(work.number), "", "plan.sums.labour",
        {"work": (work.number, "h"), "price of an hour": (terms.hour, "per h"),
         "share of the owner's hours that is paid": (terms.labour_share, "")}, WORK,
        low=terms.labour(work.low), high=terms.labour(work.high),
    )  # fmt: skip


def items_now(choice: Choice, plan: Solution) -> list[Item]:
    """Every piece that is bought (or taken from the owner's things) today."""
    state = choice.states[plan.state]
    found = [] if state.had is None else list(state.had.items)
    for unit, index in enumerate(plan.options):
        offer = None if index < 0 else offer_of(choice.facts, unit, choice.options[index])
        found += [] if offer is None else offer.items
    return found


def purchase(choice: Choice, plan: Solution, buys: tuple[Buy, ...]) -> Value:
    """What is paid for things today; the purchases are the inputs."""
    today = [each for each in buys if each.year == 0]
    lines: dict[str, float] = {}
    for each in today:
        name = f"{each.kind} for {', '.join(each.serves)}"
        lines[name] = lines.get(name, 0.0) + each.price
    inputs = {name: (price, "") for name, price in lines.items()} or {"purchases": (0.0, "")}
    items = items_now(choice, plan)
    return figure(
        sum(each.price for each in today), "", "plan.sums.purchase", inputs, PRICES,
        low=sum(item.price.low * item.quantity for item in items),
        high=sum(item.price.high * item.quantity for item in items),
    )  # fmt: skip


def idle_energy_per_year(choice: Choice, plan: Solution) -> Value:
    """Energy a year of what is shared, left running with nothing turning."""
    state = choice.states[plan.state]
    on = shared_of(choice.facts, state)
    return figure(
        choice.ledger.idle_kwh(state), "kWh", "plan.payments.Ledger.idle_kwh",
        {"idling takes": (0.0 if on is None else on.idle_power_w, "W"),
         "hours a year": (choice.ledger.idle_hours(state), "h")},
        "network of the idling converter; the owner's habit",
    )  # fmt: skip


def energy_per_year(choice: Choice, plan: Solution) -> Value:
    """What the energy of a year costs with the machines of today; kilowatt-hours are the inputs,
    those that a source of one's own gives and prices told by their names.

    Spread: the price of energy where it was assumed, and the hours of a machine where nobody
    gave them.
    """
    ledger, state, usual = choice.ledger, choice.states[plan.state], default_hours_per_year()
    idle, shared_price = ledger.idle_kwh(state), ledger.price_of(state)
    prices = {"price of energy": choice.terms.energy}
    if shared_price is not choice.terms.energy:
        prices["price of its own source's energy"] = shared_price
    costs = [_cost(idle, shared_price, 1.0, 1.0)]
    inputs = {}
    for unit, index in enumerate(plan.options):
        if index < 0:
            continue
        this, option = choice.facts.units[unit], choice.options[index]
        kwh = ledger.unit_kwh(unit, option, state)
        guessed = this.task.machine.hours_per_year is None
        low, high = (end / usual.number if guessed else 1.0 for end in (usual.low, usual.high))
        price = ledger.price_of(state, shared=option.shared)
        costs.append(_cost(kwh, price, low, high))
        inputs[this.id + _whose(price, choice)] = (kwh, "kWh")
    priced = {name: (price.number, "per kWh") for name, price in prices.items()}
    number, low, high = (sum(ends) for ends in zip(*costs, strict=True))
    return figure(
        number, "", "plan.sums.energy_per_year",
        {**inputs, "idling" + _whose(shared_price, choice): (idle, "kWh"), **priced},
        "networks and rectifiers at the usual loads; hours of the shop file", low=low, high=high,
    )  # fmt: skip


def _whose(price: Value, choice: Choice) -> str:
    """What a line of the bill says of where its kilowatt-hours come from, by their price."""
    return "" if price is choice.terms.energy else ", of its own source"


def _cost(kwh: float, price: Value, low: float, high: float) -> tuple[float, float, float]:
    """(expected, low, high) of so many kWh, their number within these factors."""
    return kwh * price.number, low * kwh * price.low, high * kwh * price.high
