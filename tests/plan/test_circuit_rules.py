"""A plan whose circuits a rule forbids is told so and not offered."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace

import pytest

import phasewright
from phasewright.circuits.installation import Circuit, Installation, Socket
from phasewright.plan import answer
from phasewright.plan.circuit_rules import forbidden, forbids, judged, offered_first
from phasewright.quantities.finding import Finding
from phasewright.rules.over import rulings

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"


@pytest.fixture(scope="module")
def side():
    study = phasewright.study(phasewright.read(str(EXAMPLES / "pottery.shop.yaml")), quick=True)
    return next(each for each in study.plans if each.circuits)


def installation(id: str, **broken) -> Installation:
    """One circuit of that id, with nothing told but what is broken."""
    circuit = replace(Circuit(id, ("wheel",), "board", lines="1-2", voltage_v=230.0), **broken)
    return Installation("IEC", 230.0, 50.0, circuits=(circuit,))


def test_what_a_rule_says_stands_on_the_circuit_and_on_the_plan(side) -> None:
    id = side.circuits[0].id
    whole, found = judged(side, installation(id, socket=Socket(16.0, "red 6 h", 5, 400.0)))
    stops = [each for each in found if each.severity == "stop"]
    assert [each.rule for each in stops] == ["socket.voltage"]
    (told,) = stops
    assert told.id.startswith(f"{side.id}:")
    assert told.plan == side.id
    assert told.id in whole.findings
    assert told.id in whole.circuits[0].findings
    assert told.id not in whole.circuits[1].findings
    assert side.feasible
    assert not whole.feasible


def test_a_plan_with_nothing_against_it_stays_as_it_is(side) -> None:
    whole, found = judged(side, installation(side.circuits[0].id))
    assert found == ()
    assert replace(whole, to_confirm=side.to_confirm) == side


@pytest.mark.parametrize("shop", ["pottery", "furniture-shop"])
def test_no_plan_that_is_offered_breaks_a_rule_that_stops(shop: str) -> None:
    study = phasewright.study(phasewright.read(str(EXAMPLES / f"{shop}.shop.yaml")), quick=True)
    stopped = {each.plan for each in study.findings if each.severity == "stop" and each.circuit}
    assert not [each.id for each in study.plans if each.feasible and each.id in stopped]
    for each in study.plans:
        assert (each.to_confirm != ()) == (each.circuits != ())


ASKED = {
    "cider-barn": {
        "iec.60364_4_41.411_3_2", "iec.60364_4_41.411_5_3", "iec.60364_4_43.433_1_a",
        "iec.60364_4_43.433_1_b", "iec.60364_4_43.434_5_1", "iec.60364_4_43.434_5_2",
        "iec.60364_5_52.523_1", "iec.60364_5_54.543_1", "iec.60364_5_53.537_2",
        "iec.60204_1.6_2_4", "iec.60204_1.7_5", "line3.earth_fault", "converter.input_drops_out",
        "converter.sequence_proved", "drive.nothing_opens_behind", "supply.voltage_drop",
    },
    "furniture-shop": {
        "nec.110.9", "nec.250.122", "nec.310.16", "nec.430.22", "nec.430.52", "nec.430.122",
        "nec.430.122_b", "nec.455.6", "nec.455.7", "nec.455.8", "nec.455.21", "nec.455.22",
        "nec.460.6_a", "nec.460.8_a", "drive.nothing_opens_behind",
    },
}  # fmt: skip


@pytest.mark.parametrize("shop", ASKED)
def test_the_rules_that_matter_find_what_they_ask_for(shop: str, monkeypatch) -> None:
    """A rule that lacks a fact does not apply, and would be silent: of a whole plan none may."""
    caught = []

    def seen(side, installation):
        caught.append(installation)
        return judged(side, installation)

    monkeypatch.setattr(answer, "judged", seen)
    phasewright.study(phasewright.read(str(EXAMPLES / f"{shop}.shop.yaml")), quick=True)
    applying = {each.rule for installation in caught for each in rulings(installation)}
    assert ASKED[shop] - applying == set()


def plan(id: str, cost: float, *, feasible: bool, serves_all: bool = True):
    listed = SimpleNamespace(plan=SimpleNamespace(serves_all=serves_all), why="best")
    money = SimpleNamespace(expected=SimpleNamespace(number=cost))
    return listed, SimpleNamespace(id=id, feasible=feasible, lifetime_cost=money)


def ids(*plans) -> list[str]:
    listed, sides = zip(*plans, strict=True)
    _, order = offered_first(listed, sides)
    return [each.id for each in order]


def test_the_cheapest_that_no_rule_forbids_is_offered() -> None:
    cheap = plan("cheap", 100.0, feasible=False)
    dear, between = plan("dear", 300.0, feasible=True), plan("between", 200.0, feasible=True)
    nothing = plan("nothing", 50.0, feasible=False, serves_all=False)
    assert ids(cheap, dear, between, nothing) == ["between", "cheap", "dear", "nothing"]
    assert ids(dear, between, nothing) == ["dear", "between", "nothing"]
    assert ids(nothing, between) == ["nothing", "between"]  # the search found no better: not a rule
    assert ids(cheap, nothing) == ["cheap", "nothing"]
    assert forbidden(*cheap)
    assert not forbidden(*nothing)


def test_what_forbids_a_plan_is_an_obstacle_with_its_source() -> None:
    stop = Finding("a", "socket.voltage", "stop", "c", "a socket for 400 V", plan="p", circuit="c",
                   source="IEC 60309")  # fmt: skip
    other = replace(stop, id="b", plan="q")
    caution = replace(stop, id="d", severity="caution")
    (told,) = forbids(SimpleNamespace(id="p"), (stop, other, caution))
    assert told.code == "forbidden_by_rule"
    assert told.words == "c: a socket for 400 V (IEC 60309)."
