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
    inputs: dict[str, tuple[float, str]] = {}
    for each in today:
        name = f"{each.kind} for {', '.join(each.serves)}"
        inputs[name if name not in inputs else f"{name}, its own"] = (each.price, "")
    inputs = inputs or {"purchases": (0.0, "")}
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
         "hours a year": (state.idle_hours, "h")},
        "network of the idling converter; the owner's habit",
    )  # fmt: skip


def energy_per_year(choice: Choice, plan: Solution) -> Value:
    """What the energy of a year costs with the machines of today; kilowatt-hours are the inputs.

    Spread: the price of energy where it was assumed, and the hours of a machine where nobody
    gave them.
    """
    ledger, price, state = choice.ledger, choice.terms.energy, choice.states[plan.state]
    used = {
        unit: ledger.unit_kwh(unit, choice.options[index], state)
        for unit, index in enumerate(plan.options)
        if index >= 0
    }
    idle, ends = ledger.idle_kwh(state), [0.0, 0.0]
    usual = default_hours_per_year()
    for unit, kwh in used.items():
        guessed = choice.facts.units[unit].task.machine.hours_per_year is None
        ends[0] += kwh * (usual.low / usual.number if guessed else 1.0)
        ends[1] += kwh * (usual.high / usual.number if guessed else 1.0)
    inputs = {choice.facts.units[unit].id: (kwh, "kWh") for unit, kwh in used.items()}
    return figure(
        (sum(used.values()) + idle) * price.number, "", "plan.sums.energy_per_year",
        {**inputs, "idling": (idle, "kWh"), "price of energy": (price.number, "per kWh")},
        "networks and rectifiers at the usual loads; hours of the shop file",
        low=(ends[0] + idle) * price.low, high=(ends[1] + idle) * price.high,
    )  # fmt: skip
