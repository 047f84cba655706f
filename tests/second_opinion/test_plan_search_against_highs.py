"""The plan search against the same choice written out whole as a mixed-integer programme.

Solver: HiGHS, as scipy carries it. Q. Huangfu, J. A. J. Hall, Parallelizing the dual revised
simplex method, Math. Prog. Comp. 10 (2018) 119-142. Problems without groups, for an unknown
`admit` cannot be written as rows.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from plan.invented_problems import invented
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_array

from phasewright.plan.search import solve


class Programme:
    """Columns with a cost, rows of sums that must be equal to a number."""

    def __init__(self):
        self.costs, self.whole, self.rows = [], [], []

    def column(self, cost, *, whole):
        self.costs.append(cost)
        self.whole.append(int(whole))
        return len(self.costs) - 1

    def row(self, plus, minus, equals=0.0):
        self.rows.append(([(c, 1.0) for c in plus] + [(c, -1.0) for c in minus], equals))

    def least(self):
        data = [(i, c, v) for i, (row, _) in enumerate(self.rows) for c, v in row]
        at, column, value = zip(*data, strict=True)
        matrix = csr_array((value, (at, column)), shape=(len(self.rows), len(self.costs)))
        equals = [equal for _, equal in self.rows]
        answer = milp(
            self.costs,
            integrality=self.whole,
            bounds=Bounds(0, 1),
            constraints=LinearConstraint(matrix, equals, equals),
            options={"mip_rel_gap": 0.0, "time_limit": 60.0},
        )
        assert answer.status == 0, answer.message
        return answer.fun


def written_out(problem):
    """Least expected cost of the extensive form: one set of later columns for each future."""
    states, units = problem.first.shape[1:3]
    form = Programme()
    now = [u for u in range(units) if problem.now[u]]
    weight = np.bincount(problem.epoch, problem.probability, minlength=problem.second.size)
    first = np.tensordot(weight, np.nan_to_num(problem.first, posinf=1e15), axes=1)
    bought = [form.column(float(weight @ problem.hold[:, s]), whole=True) for s in range(states)]
    form.row(bought, [], 1.0)
    chosen = {}
    for s in range(states):
        for u in now:
            for a in np.flatnonzero(first[s, u] < 1e9):
                chosen[s, u, int(a)] = form.column(first[s, u, a], whole=True)
            form.row([c for (t, v, _), c in chosen.items() if (t, v) == (s, u)], [bought[s]])
    for f in range(problem.probability.size):
        if problem.second[problem.epoch[f]]:
            second_stage(problem, form, f, bought, chosen)
    return form.least()


def second_stage(problem, form, f, bought, chosen):
    """Columns and rows of one future."""
    states, _, options = problem.first.shape[1:]
    e, p = problem.epoch[f], problem.probability[f]
    moved = {
        (s, t): form.column(p * problem.move[e, s, t], whole=True)
        for s in range(states)
        for t in range(states)
        if np.isfinite(problem.move[e, s, t])
    }
    for s in range(states):
        form.row([c for (x, _), c in moved.items() if x == s], [bought[s]])
    for u in np.flatnonzero(problem.present[f]):
        before = range(options) if problem.now[u] else [options]
        flow = {
            (t, b, a): form.column(p * problem.later[e, t, u, b, a], whole=False)
            for t in range(states)
            for b in before
            for a in range(options)
            if np.isfinite(problem.later[e, t, u, b, a])
        }
        for t in range(states):
            to = [c for (_, y), c in moved.items() if y == t]
            form.row([c for (x, _, _), c in flow.items() if x == t], to)
        for b in before if problem.now[u] else ():
            of = [c for (_, v, a), c in chosen.items() if (v, a) == (u, b)]
            form.row([c for (_, x, _), c in flow.items() if x == b], of)


@pytest.mark.parametrize("seed", range(8))
def test_same_cost_as_the_extensive_form(seed):
    """Seven units, five states, five options, up to 64 futures: equal to the cent."""
    problem = invented(seed, units=7, states=5, options=5, grouping=0.0)
    problem = replace(problem, groups=(), admit=lambda state, running: True)
    found = solve(problem)
    assert found.proven
    assert found.expected == pytest.approx(written_out(problem), abs=0.005)


def test_the_programme_is_the_sum_done_by_hand():
    """The second opinion itself: one unit now, one state of two, 100 + 10 against 80."""
    problem = invented(1, units=1, states=2, options=2)
    problem = replace(
        problem,
        hold=np.tile([0.0, 100.0], (3, 1)),
        first=np.broadcast_to(np.array([[[80.0, np.inf]], [[80.0, 10.0]]]), (3, 2, 1, 2)).copy(),
        second=np.zeros(3, dtype=bool),
        groups=(),
        admit=lambda state, running: True,
    )
    assert written_out(problem) == pytest.approx(80)
