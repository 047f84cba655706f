"""Which machines may run together, against the definition tried on every subset."""

from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from phasewright.files.shop_file import read_text
from phasewright.quantities.errors import NotComputable
from phasewright.shop.cases import cases, largest_sets, neighbours, planned, present
from phasewright.shop.check import faults


def shop(together: dict[str, list[str]], extra: str = ""):
    machines = "".join(
        f"  - {{name: {name}, runs_with: [{', '.join(others)}], {extra}"
        "motors: [{name: a, plate: {power: 1 kW}}]}\n"
        for name, others in together.items()
    )
    return read_text(
        "phasewright: 1\nshop: Test\nregion: IEC\n"
        "supply: {kind: single_phase, voltage: 230 V, frequency: 50 Hz}\n"
        f"machines:\n{machines}"
    )


def test_who_names_nobody_runs_alone():
    assert cases(shop({"A": [], "B": []})) == (frozenset("A"), frozenset("B"))


def test_one_side_of_the_wish_is_enough():
    assert cases(shop({"A": [], "B": ["A"]})) == (frozenset("AB"),)


def test_a_with_b_and_a_with_c_is_not_all_three():
    found = cases(shop({"A": ["B", "C"], "B": [], "C": []}))
    assert found == (frozenset("AB"), frozenset("AC"))


def test_forty_machines_and_an_extractor_that_runs_with_each():
    names = [f"M{i}" for i in range(39)]
    found = cases(shop({**{name: [] for name in names}, "Dust": names}))
    assert found == tuple(frozenset((name, "Dust")) for name in names)


def test_forty_machines_all_together_are_one_case():
    names = [f"M{i}" for i in range(40)]
    assert cases(shop({name: names[:i] for i, name in enumerate(names)})) == (frozenset(names),)


def test_sets_that_nobody_could_list_are_refused_in_words():
    # twenty pairs, each machine with everybody but its twin: 2^20 largest sets
    names = [f"M{i}" for i in range(40)]
    near = {
        a: frozenset(b for b in names if b != a and b != names[i ^ 1]) for i, a in enumerate(names)
    }
    with pytest.raises(NotComputable, match="more than 20000 different sets of machines"):
        largest_sets(near)


@settings(deadline=None, max_examples=150)
@given(
    st.integers(1, 8).flatmap(
        lambda n: st.tuples(
            st.just(n),
            st.sets(
                st.tuples(st.integers(0, n - 1), st.integers(0, n - 1)).filter(
                    lambda pair: pair[0] != pair[1]
                )
            ),
        )
    )
)
def test_the_sets_are_those_of_the_definition(graph):
    size, pairs = graph
    names = "ABCDEFGH"[:size]
    together = {name: [names[j] for i, j in sorted(pairs) if names[i] == name] for name in names}
    allowed = {frozenset((names[i], names[j])) for i, j in pairs}
    fit = [
        set(some)
        for count in range(1, size + 1)
        for some in combinations(names, count)
        if all(frozenset(pair) in allowed for pair in combinations(some, 2))
    ]
    largest = {frozenset(some) for some in fit if not any(some < other for other in fit)}
    found = cases(shop(together))
    assert len(found) == len(set(found))
    assert set(found) == largest


def test_the_order_of_the_machines_does_not_change_the_sets():
    wishes = {"A": ["B", "C"], "B": ["C"], "C": ["D"], "D": []}
    turned = dict(reversed(wishes.items()))
    assert set(cases(shop(wishes))) == set(cases(shop(turned)))


def test_neighbours_are_symmetric():
    near = neighbours(shop({"A": ["B"], "B": [], "C": ["A"]}).machines)
    assert near == {"A": frozenset("BC"), "B": frozenset("A"), "C": frozenset("A")}


def test_a_smaller_shop_is_whole():
    whole = shop({"A": ["B"], "B": ["C"], "C": []}, "starts_with: [], ")
    smaller = present(whole, frozenset("AC"))
    assert [machine.name for machine in smaller.machines] == ["A", "C"]
    assert smaller.machine("A").runs_with == ()
    assert faults(smaller) == ()
    assert present(whole, frozenset("ABC")) == whole


def test_orders_with_absent_machines_vanish_and_those_of_motors_stay():
    text = """
phasewright: 1
shop: Test
region: IEC
supply: {kind: single_phase, voltage: 230 V, frequency: 50 Hz}
machines:
  - name: A
    starts_with: [B]
    starts_before: [pump before spindle, A/pump before B]
    motors: [{name: pump, plate: {power: 1 kW}}, {name: spindle, plate: {power: 1 kW}}]
  - {name: B, motors: [{name: pump, plate: {power: 1 kW}}]}
"""
    whole = read_text(text)
    assert whole.machine("A").orders == (("pump", "spindle"), ("A/pump", "B"))
    alone = present(whole, frozenset("A")).machine("A")
    assert alone.orders == (("pump", "spindle"),)
    assert alone.starts_with == ()


def test_planned_machines_are_those_to_come():
    assert planned(shop({"A": []})) == ()
    to_come = shop({"A": []}, "have: planned, chance: 0.5, ")
    assert [machine.name for machine in planned(to_come)] == ["A"]
