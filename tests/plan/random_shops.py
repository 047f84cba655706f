"""Random shops for the plan: real motors and converters computed once, everything else drawn.

Which machines there are, who may turn with whom, who comes and when, hours, prices, labour, room
at the service, owned things: drawn. Motors, offers and converters: of one pool, computed once.
All figures are invented.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np

from phasewright.files.shop_file import read_text
from phasewright.plan.arrays import Choice, choice_of
from phasewright.plan.facts import Facts, facts_of
from phasewright.plan.terms import Terms
from phasewright.plan.worlds import STEADY
from phasewright.quantities.value import exact

_MOTOR = """\
      - name: {name}
        plate: {{power: {kw} kW, voltage: 230/400 V, current: {low}/{high} A, frequency: 50 Hz,
                 speed: 1420 rpm, power_factor: 0.78, leads: 6}}
        load: {{kind: {kind}, start: unloaded}}
"""
_MACHINES = (
    ("Saw", (("blade", 2.2, 8.7, 5.0, "saw"),)),
    ("Lathe", (("spindle", 1.5, 6.3, 3.6, "spindle"), ("coolant", 0.12, 0.73, 0.42, "other"))),
    ("Fan", (("blower", 1.1, 4.8, 2.75, "fan"),)),
    ("Pump", (("pump", 0.75, 3.5, 2.0, "pump"),)),
    ("Mill", (("spindle", 1.1, 4.7, 2.7, "spindle"), ("feed", 0.25, 1.4, 0.8, "feed"))),
    ("Press", (("ram", 3.0, 11.5, 6.6, "hydraulic_pump"),)),
)


@cache
def pool() -> Facts:
    """Every machine of the pool with all its offers, and converters of several sizes."""
    text = (
        "phasewright: 1\nshop: Pool\nregion: IEC\n"
        "supply: {kind: single_phase, voltage: 230 V, frequency: 50 Hz, service_rating: 100 A}\n"
        "machines:\n"
    )
    for name, motors in _MACHINES:
        text += f"  - name: {name}\n    motors:\n"
        for motor, kw, low, high, kind in motors:
            text += _MOTOR.format(name=motor, kw=kw, low=low, high=high, kind=kind)
    return facts_of(read_text(text))


def random_shop(seed: int) -> Choice:
    """The choice of a random shop of up to five motors."""
    draw = np.random.default_rng(seed)
    of = pool()
    names = draw.permutation(sorted({unit.machine for unit in of.units})).tolist()
    most = int(draw.integers(1, 6))
    kept: list[int] = []
    for name in names:
        more = [k for k, unit in enumerate(of.units) if unit.machine == name]
        if len(kept) + len(more) <= most:
            kept += more
    if not kept:
        kept = [k for k, unit in enumerate(of.units) if unit.machine == "Saw"]
    kept.sort()
    known_hours, known_prices = bool(draw.random() < 0.6), bool(draw.random() < 0.5)
    facts = replace(
        of,
        units=_units(draw, of, kept, known_hours),
        judgements=tuple(_judged(draw, of, k, len(kept), known_prices) for k in kept),
        shared=_shared(draw, of, kept, known_prices),
        groups=_groups(draw, of, kept),
        site=replace(
            of.site,
            limit=replace(
                of.site.limit,
                current_a=exact(float(draw.choice([12, 20, 35, 60])), "A", "stated", "drawn"),
            ),
            wiring_by_owner=bool(draw.random() < 0.3),
        ),
    )
    return choice_of(facts, _terms(draw))


def _terms(draw: np.random.Generator) -> Terms:
    drawn = Terms(
        years=float(draw.choice([1.0, 4.5, 10.0, 20.0])),
        rate=float(draw.choice([0.0, 0.04, 0.12])),
        energy=exact(float(draw.uniform(0.05, 0.9)), "1/kWh", "stated", "drawn"),
        hour=float(draw.choice([0.0, 20.0])),
        labour_share=float(draw.choice([1.0, 0.6])),
        assumed=(),
    )
    return replace(drawn, own_hour=drawn.hour if drawn.labour_share == 1.0 else 0.0)


def _units(draw, of, kept, known_hours):
    coming = {}
    habits = draw.choice([0.0, 30.0, 120.0, 600.0], size=int(draw.integers(1, 3)))
    for name in sorted({of.units[k].machine for k in kept}):
        if draw.random() < 0.55:
            coming[name] = (1.0, 0.0)
        else:
            coming[name] = (
                float(draw.choice([0.2, 0.5, 0.8, 1.0])),
                float(draw.choice([0, 1, 2.5, 6])),
            )
    hours = {name: float(draw.choice([0.0, 40.0, 200.0, 1200.0])) for name in coming}
    idle = {name: float(draw.choice(habits)) for name in coming}
    return tuple(
        replace(
            of.units[k],
            chance=coming[of.units[k].machine][0],
            year=coming[of.units[k].machine][1],
            hours_per_year=hours[of.units[k].machine],
            idle_hours_per_year=idle[of.units[k].machine],
            hours_ratio=STEADY if known_hours else (0.2, 1.0, 4.0),
            idle_ratio=STEADY if known_hours else (0.5, 1.0, 2.0),
        )
        for k in kept
    )


def _judged(draw, of, k, units, known):
    """The ten judgements with a few offers left, their prices drawn; one drive may be the
    owner's, who has it once."""
    out = []
    level = float(draw.choice([1.0, 4.0]))
    for judgement in of.judgements[k]:
        offers = [
            replace(offer, items=tuple(_priced(draw, item, level, known) for item in offer.items))
            for offer in judgement.offers
            if draw.random() < (0.8 if units < 4 else 0.6)
        ]
        if offers and judgement.way == "drive_per_motor" and draw.random() < 0.4:
            offers.append(
                replace(offers[0], owned_item=0, items=tuple(map(_owned, offers[0].items)))
            )
        out.append(replace(judgement, offers=tuple(offers)))
    return tuple(out)


def _priced(draw, item, level, known):
    factor = float(draw.choice([0.3, 1.0, 2.5]) * draw.uniform(0.8, 1.2)) * level
    amount = item.price.amount * factor
    low, high = (amount, amount) if known else (0.5 * amount, 2.0 * amount)
    return replace(item, price=replace(item.price, amount=amount, low=low, high=high))


def _exact(item):
    return replace(item, price=replace(item.price, low=item.price.amount, high=item.price.amount))


def _owned(item):
    return replace(item, price=replace(item.price, amount=0.0, origin="owned"))


def _shared(draw, of, kept, known):
    if not of.shared or draw.random() < 0.2:
        return ()
    count = int(draw.integers(1, 3)) if len(kept) < 4 else 1
    chosen = sorted(draw.choice(len(of.shared), size=min(count, len(of.shared)), replace=False))
    return tuple(_with(of.shared[d], kept, known) for d in chosen)


def _with(on, kept, known):
    """A shared thing for these units only, its prices known exactly or not."""
    hads = on.hads
    if known:
        hads = tuple(replace(had, items=tuple(map(_exact, had.items))) for had in hads)
    return replace(on, served=tuple(on.served[k] for k in kept), hads=hads)


def _groups(draw, of, kept):
    """Machines that may turn together; the motors of a machine always do."""
    names = sorted({of.units[k].machine for k in kept})
    sets = {frozenset({name}) for name in names}
    for _ in range(int(draw.integers(0, 3))):
        size = int(draw.integers(1, len(names) + 1))
        sets.add(frozenset(draw.choice(names, size=size, replace=False).tolist()))
    sets = {s for s in sets if not any(s < other for other in sets)}
    groups = {frozenset(i for i, k in enumerate(kept) if of.units[k].machine in s) for s in sets}
    return tuple(sorted(groups, key=sorted))
