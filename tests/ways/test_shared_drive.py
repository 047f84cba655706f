"""One drive for several motors: who may hang on it, when, and what it costs.

Relations that must hold (the drive carries the largest, or the sum where they turn together; sums
of parts by hand). Prices are invented curves typed here again: a drive 120 + 80 P^1.1, a place
70 + 10 P, an isolator 25, an overload relay 20 + 0.5 I. Two minutes a changeover and 30 to 100 %
of the drive's amps are common practice, no source.
"""

from __future__ import annotations

from functools import cache
from itertools import combinations

import pytest

from phasewright.files.shop_file import read_text
from phasewright.job.study import study
from phasewright.plan.arrays import choice_of
from phasewright.plan.facts import facts_anew, facts_of
from phasewright.plan.search import solve
from phasewright.plan.terms import terms_of

MACHINE = """
  - name: {name}
    hours_per_year: {hours}
    runs_with: [{beside}]
    motors:
      - name: main
        plate: {{power: {kw} kW, voltage: {volts}, frequency: {hertz} Hz, speed: {rpm} rpm, current: {amps} A}}
        load: {{kind: {kind}}}
"""
SUPPLY = "supply: {kind: single_phase, voltage: 230 V, frequency: 50 Hz, service_rating: 100 A}"
AMPS = {0.25: 1.45, 0.37: 2.0, 0.55: 2.7, 0.75: 3.5, 1.1: 4.8, 1.5: 6.3, 2.2: 8.7, 3.0: 11.5}


def machine(kw, kind="saw", beside=(), hours=100, volts="230/400 V", hertz=50, rpm=1420):
    high = AMPS[kw] if "/" not in volts else f"{AMPS[kw]}/{AMPS[kw] / 3**0.5:.2f}"
    return dict(kw=kw, kind=kind, beside=", ".join(beside), hours=hours, volts=volts, hertz=hertz,
                rpm=rpm, amps=high)  # fmt: skip


def text(machines, more=""):
    told = "".join(MACHINE.format(name=name, **of) for name, of in machines.items())
    return f"phasewright: 1\nshop: Invented\nregion: IEC\n{SUPPLY}\n{more}\nmachines:{told}"


@cache
def made(of):
    return facts_of(read_text(of))


def facts(machines, more=""):
    return made(text(machines, more))


def drives(of):
    return [one for one in of.shared if one.way == "shared_drive"]


def hung(of, on):
    return {unit.machine: on.serves(k) for k, unit in enumerate(of.units) if on.serves(k)}


def lead(of, on):
    (name,) = [name for name, served in hung(of, on).items() if served.variant == 1]
    return name


def judged(of, name, way="shared_drive"):
    k = next(k for k, unit in enumerate(of.units) if unit.machine == name)
    return next(each for each in of.judgements[k] if each.way == way)


def price(of, on, names):
    """What these motors pay together for the drive and what each has of its own."""
    whole = sum(item.amount for item in on.hads[0].items)
    return whole + sum(item.amount for name in names for item in hung(of, on)[name].own.items)


MIXED = {
    "Big": machine(1.5), "Mid": machine(1.1), "Like": machine(1.1), "Small": machine(0.37),
}  # fmt: skip


def test_the_drive_the_first_place_and_the_others_add_up_by_hand():
    of = facts({name: machine(0.37) for name in ("A", "B", "C")})
    on = max(drives(of), key=lambda one: len(hung(of, one)))
    assert on.rating == 370.0
    choke = sum(item.amount for item in on.hads[0].items if item.kind == "ac_choke")
    drive = 120.0 + 80.0 * 0.37**1.1 + 25.0
    first, place = 20.0 + 0.5 * 2.0, 70.0 + 10.0 * 0.37
    assert price(of, on, "ABC") == pytest.approx(drive + choke + first + 2.0 * place)


def test_the_first_place_is_that_of_the_largest_that_hangs_there():
    """Whatever set shares: the places of all but the largest, for the least that any drive asks."""
    of = facts(MIXED)
    checked = 0
    for size in (2, 3, 4):
        for names in combinations(MIXED, size):
            fit = [on for on in drives(of) if {*names} <= {*hung(of, on)}]
            if not fit:
                continue
            best = min(fit, key=lambda on: price(of, on, names))
            largest = max(names, key=lambda name: MIXED[name]["kw"])
            assert MIXED[lead(of, best)]["kw"] == MIXED[largest]["kw"]
            own = sum(item.amount for name in names for item in hung(of, best)[name].own.items)
            relay = 20.0 + 0.5 * AMPS[MIXED[largest]["kw"]]
            others = sum(70.0 + 10.0 * MIXED[name]["kw"] for name in names) - (
                70.0 + 10.0 * MIXED[largest]["kw"]
            )
            assert own == pytest.approx(relay + others)
            checked += 1
    assert checked >= 4


@pytest.mark.parametrize("kw", [0.37, 0.75, 1.5, 2.2])
@pytest.mark.parametrize("count", [2, 3, 5])
def test_sharing_costs_less_than_a_drive_for_each_where_a_place_does(kw, count):
    """Motors of one size that never turn together; a place and a relay cost less than a drive."""
    names = [f"M{k}" for k in range(count)]
    of = facts({name: machine(kw) for name in names})
    alone = sum(judged(of, name, "drive_per_motor").figures.price.number for name in names)
    one_drive = alone / count
    place, relay = 70.0 + 10.0 * kw, 20.0 + 0.5 * AMPS[kw]
    assert place + relay < one_drive
    shared = min(price(of, on, names) for on in drives(of) if {*names} <= {*hung(of, on)})
    assert shared < alone
    assert shared == pytest.approx(one_drive + relay + (count - 1) * place)


def test_a_drive_for_one_costs_no_less_than_a_drive_of_its_own():
    of = facts(MIXED)
    for name in MIXED:
        own = judged(of, name, "drive_per_motor").figures.price.number
        assert judged(of, name).figures.price.number == pytest.approx(
            own + 20.0 + 0.5 * AMPS[MIXED[name]["kw"]]
        )


def test_a_shop_with_one_motor_has_nothing_to_share():
    assert drives(facts({"A": machine(0.75)})) == []


def test_every_motor_takes_a_fifth_of_the_drive_at_least_and_no_more_than_all():
    of = facts({**MIXED, "Tiny": machine(0.25), "Large": machine(2.2)})
    seen = set()
    for on in drives(of):
        carried = on.figures.drive_rating_a.number
        for name, served in hung(of, on).items():
            assert 0.2 * carried <= served.full_load_current_a <= carried, (on.rating, name)
        for k, one in enumerate(of.units):
            if on.serves(k) is None:
                seen.add(on.served[k][0].code)
                assert one.machine not in hung(of, on)
    assert "drive_too_large" in seen


def test_motors_that_turn_together_share_only_where_they_are_like():
    names = ["A", "B", "C", "D"]
    machines = {
        "A": machine(0.75, "fan", "BCD"), "B": machine(0.75, "fan", "ACD"),
        "C": machine(0.75, "pump", "ABD"), "D": machine(0.75, "fan", "ABC", rpm=2850),
    }  # fmt: skip
    of = facts(machines)
    choice = choice_of(of, terms_of(of.shop))
    both = set()
    for k, state in enumerate(choice.states):
        if state.way != "shared_drive":
            continue
        on = of.shared[state.shared]
        for u, v in combinations(range(4), 2):
            options = [choice.options.index(type(choice.options[0])("shared_drive", variant))
                       for variant in (on.variant_of(u), on.variant_of(v))
                       if variant is not None]  # fmt: skip
            if len(options) < 2:
                continue
            if choice.admission(k, ((u, options[0]), (v, options[1]))):
                both.add((names[u], names[v]))
                assert on.figures.drive_rating_a.number >= 2 * 3.5
    assert both == {("A", "B")}


def test_a_second_motor_never_starts_on_the_drive_that_runs_an_unlike_one():
    of = facts(
        {"A": machine(0.75, "saw", "B"), "B": machine(0.75, "pump", "A"), "C": machine(0.75)}
    )
    refused = 0
    for on in drives(of):
        tasks = {unit.machine: unit.task for unit in of.units}
        if {"A", "B"} <= {*hung(of, on)}:
            assert on.turning((tasks["A"], tasks["B"])) is None
            refused += 1
        assert on.turning((tasks[lead(of, on)],)).stands
    assert refused


def test_like_motors_together_want_a_drive_for_the_sum_and_take_more():
    of = facts({"A": machine(0.75, "fan", "B"), "B": machine(0.75, "fan", "A")})
    one, two = (unit.task for unit in of.units)
    stood = 0
    for on in drives(of):
        both, alone = on.turning((one, two)), on.turning((one,))
        assert both.stands == (on.figures.drive_rating_a.number >= 2 * 3.5)
        stood += both.stands
        assert alone.draw.power_w < both.draw.power_w < 2.0 * alone.draw.power_w
        assert (
            "together_from_rest" in {c.code for c in hung(of, on)["A"].conditions}
            or not both.stands
        )
    assert stood
    apart = facts({"A": machine(0.75, "fan"), "B": machine(0.75, "fan")})
    assert min(on.rating for on in drives(apart)) < min(
        on.rating for on in drives(of) if on.turning((one, two)).stands
    )


def test_more_motors_never_take_a_smaller_drive():
    sizes = (0.37, 0.75, 1.1, 1.5, 2.2)
    before = 0.0
    for count in range(2, len(sizes) + 1):
        of = facts({f"M{k}": machine(kw) for k, kw in enumerate(sizes[:count])})
        top = f"M{count - 1}"
        on = min((one for one in drives(of) if top in hung(of, one)), key=lambda one: one.rating)
        assert on.figures.drive_rating_a.number >= AMPS[sizes[count - 1]]
        assert on.rating >= before
        before = on.rating


def test_other_base_volts_want_a_set_of_their_own_and_very_other_ones_are_refused():
    of = facts({"A": machine(1.1), "B": machine(0.75, volts="220/380 V"),
                "C": machine(0.55, volts="120 V")})  # fmt: skip
    on = next(one for one in drives(of) if {"A", "B"} <= {*hung(of, one)})
    asked = {name: {c.code for c in served.conditions} for name, served in hung(of, on).items()}
    assert "own_parameter_set" in asked["B"]
    assert "own_parameter_set" not in asked["A"]
    for one in drives(of):
        assert not {"A", "C"} <= {*hung(of, one)}
    assert any(one.served[2][0].code == "too_unlike" for one in drives(of) if lead(of, one) == "A")


def test_a_larger_drive_stands_only_where_it_serves_more():
    of = facts(MIXED)
    by_lead = {}
    for on in drives(of):
        by_lead.setdefault(lead(of, on), []).append(on)
    for found in by_lead.values():
        for small, large in combinations(sorted(found, key=lambda one: one.rating), 2):
            assert {*hung(of, large)} - {*hung(of, small)}


OWNED = (
    "owned_parts: [{kind: drive, input_phases: 1, voltage: 230 V, power: 1.5 kW, current: 7.5 A}]"
)


def test_an_owned_drive_is_shared_for_nothing_and_not_used_twice():
    of = facts(MIXED, OWNED)
    mine = [on for on in drives(of) if on.hads[0].origin == "owned"]
    assert mine
    for on in mine:
        assert (
            sum(item.amount for item in on.hads[0].items if item.kind == "drive_per_motor") == 0.0
        )
        assert "your drive" in on.hads[0].words
    choice = choice_of(of, terms_of(of.shop))
    kind = type(choice.options[0])
    for k, state in enumerate(choice.states):
        if state.way != "shared_drive" or state.had.origin != "owned":
            continue
        for u, judgements in enumerate(of.judgements):
            own = next(each for each in judgements if each.way == "drive_per_motor")
            for n, offer in enumerate(own.offers):
                running = ((u, choice.options.index(kind("drive_per_motor", n))),)
                assert choice.admission(k, running) == (offer.owned_item is None)
                assert choice.admission(0, running)


def plan_of(more, hours=100):
    of = facts({name: machine(0.37, hours=hours) for name in ("A", "B", "C")}, more)
    choice = choice_of(of, terms_of(of.shop))
    k = next(k for k, s in enumerate(choice.states)
             if s.way == "shared_drive" and len(hung(of, of.shared[s.shared])) == 3)  # fmt: skip
    unit = next(u for u in range(3) if of.shared[choice.states[k].shared].variant_of(u) == 0)
    option = next(o for o in choice.options if o.way == "shared_drive" and o.offer == 0)
    entries = choice.ledger.run(unit, option, choice.states[k], 0.0, 1.0)
    return sum(entry.payment.amount for entry in entries if entry.kind == "upkeep")


def test_the_owners_minutes_are_counted_where_the_owner_prices_an_hour():
    """Two minutes for every hour that it turns: 100 h a year at 30 an hour are 100."""
    assert plan_of("") == 0.0
    assert plan_of("wishes: {labour: 30}") == pytest.approx(100.0)
    assert plan_of("wishes: {labour: 30}", hours=300) == pytest.approx(300.0)
    assert plan_of("wishes: {labour: 30, who_wires: electrician}") == 0.0


def test_hours_changed_alone_change_the_minutes():
    of = facts(MIXED, "wishes: {labour: 30}")
    other = read_text(
        text({n: {**m, "hours": 400} for n, m in MIXED.items()}, "wishes: {labour: 30}")
    )
    again, anew = facts_anew(of, other), facts_of(other)
    one, two = (choice_of(each, terms_of(other)) for each in (again, anew))
    assert solve(one.problem).expected == pytest.approx(solve(two.problem).expected, rel=1e-9)


def quoted(kw, price):
    return f"  - {{kind: rotary_converter, power: {kw} kW, price: {price}}}\n"


def test_it_stands_in_plans_with_its_words_and_cautions():
    """Converters priced out of the way."""
    more = "wishes: {who_wires: electrician}\nquotes:\n" + "".join(
        quoted(kw, 9000) for kw in (1.1, 1.5, 2.2, 3, 4, 5.5)
    )
    of = study(read_text(text({name: machine(0.37) for name in ("A", "B", "C")}, more)))
    plan = next(p for p in of.plans if p.id.startswith("shared_drive"))
    assert plan.id == of.plans[0].id
    assert plan.title == "One drive of 0.37 kW with a selector for 3 motors"
    (entry,) = plan.equipment
    assert (entry.id, entry.way, entry.rating, entry.unit) == (
        "shared drive",
        "shared_drive",
        370.0,
        "W",
    )
    assert {*entry.serves} == {"A/main", "B/main", "C/main"}
    assert [motor.overload_setting_a.number for motor in plan.motors] == [2.0] * 3
    assert plan.purchase.number == pytest.approx(sum(buy.price for buy in plan.buys))
    assert {"one_at_a_time", "one_drive", "owner_time"} <= {each.code for each in plan.gives_up}
    assert "speed_one_at_a_time" in {each.code for each in plan.gives}
    cautions = {each.code for each in of.answer.cautions}
    assert {"drive_link_charge", "drive_selector"} <= cautions
    assert "generated_line_live" not in cautions
    rules = {each.rule: each.severity for each in of.findings if each.plan == plan.id}
    assert rules["drive.selector_interlocked"] == "condition"
    for case in plan.cases:
        assert len(case.running) == 1
        assert case.unbalance.vuf.number == 0.0
