"""What of a circuit is not given says why; breakers in series; circuits in one pipe."""

from __future__ import annotations

from dataclasses import fields, replace
from functools import cache
from pathlib import Path

import pytest
from some_jobs import amps, job

import phasewright
from phasewright.plan.circuit_laid import laid
from phasewright.plan.circuit_series import not_selective, with_series
from phasewright.plan.circuit_there import pipes_worth

pytestmark = pytest.mark.whole
EXAMPLES = sorted((Path(__file__).resolve().parents[2] / "examples").glob("*.shop.yaml"))
OF_ITSELF = {"place", "motor", "panel", "behind_overload", "fused", "ahead"}
"""Absent where there is none of it, which needs no reason."""


@cache
def studied(path):
    return phasewright.study(phasewright.read(path), quick=True)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_every_absent_figure_of_every_circuit_has_its_reason_and_no_other_has(path):
    for plan in studied(path).plans:
        for circuit in plan.circuits or ():
            absent = {each.name for each in fields(circuit) if getattr(circuit, each.name) is None}
            told = {each.field: each.words for each in circuit.not_given}
            assert absent - OF_ITSELF == set(told), (plan.title, circuit.id)
            assert all(len(words) > 10 for words in told.values())


def pair(ahead_a, behind_a, **more):
    ahead = job(to="board", design=amps(ahead_a))
    behind = job(source="board", design=amps(behind_a), **more)
    return [laid(each)[0] for each in (ahead, behind)]


def test_two_of_a_size_in_series_are_told_once_and_two_far_apart_are_better():
    alike = with_series(pair(15.0, 15.0), ())
    (found,) = not_selective(alike)
    assert "goes dead" in found.words
    assert found.circuit == alike[0].id
    apart = with_series(pair(60.0, 3.0), ())
    assert apart[1].selective_up_to_a.number > alike[1].selective_up_to_a.number
    assert apart[0].selective_up_to_a is None


def test_behind_a_source_of_its_own_no_breaker_of_the_supply_stands_ahead():
    circuits = pair(15.0, 15.0)
    told = with_series(circuits, {circuits[1].id})
    assert told[1].selective_up_to_a is None
    assert not not_selective(told)


def test_circuits_of_one_board_are_asked_for_their_pipe_where_it_makes_one_thicker():
    def board(number, each_a):
        return [
            replace(job(to=f"Saw {k}/blade", design=amps(each_a)),
                    run=replace(job().run, path=f"machines[{k}].cable"))
            for k in range(number)
        ]  # fmt: skip

    assert not pipes_worth(board(1, 15.0), laid)
    (found,) = pipes_worth(board(6, 15.0), laid)
    assert found.path == "machines[0].cable.grouped"
    assert (found.low, found.high) == (1.0, 6.0)
    told = [replace(each, run=replace(each.run, grouped=1)) for each in board(6, 15.0)]
    assert not pipes_worth(told, laid)
    assert not pipes_worth(board(2, 1.0), laid)
