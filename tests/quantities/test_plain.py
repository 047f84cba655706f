"""A tree of frozen data as plain data, and the past of its figures."""

import json
from dataclasses import dataclass, field

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from phasewright.quantities.finding import Assumed
from phasewright.quantities.plain import DIGITS, figures, past, plain, rounded
from phasewright.quantities.value import Value, exact, figure


@dataclass(frozen=True, slots=True)
class Leaf:
    from_: float
    amps: Value | None = None
    law: str | None = field(default=None, metadata={"null": "no law"})


@dataclass(frozen=True, slots=True)
class Tree:
    name: str
    leaves: tuple[Leaf, ...]
    sums: dict[str, Value] | None = None


AMPS = figure(8.6, "A", "amps", {"watts": (2200.0, "W")}, "by hand", low=8.0, high=9.0)
TREE = Tree("t", (Leaf(1.0), Leaf(2.0, AMPS, "linear")), {"a/b~c": exact(3.0, "V", "plate")})


def test_a_value_is_its_number_and_what_is_not_computed_is_left_out():
    assert plain(TREE) == {
        "name": "t",
        "leaves": [
            {"from": 1.0, "law": None},
            {"from": 2.0, "amps": 8.6, "law": "linear"},
        ],
        "sums": {"a/b~c": 3.0},
    }


def resolve(tree, pointer):
    """A JSON pointer followed as RFC 6901 says, written again here."""
    for part in pointer.split("/")[1:]:
        key = part.replace("~1", "/").replace("~0", "~")
        tree = tree[int(key)] if isinstance(tree, list) else tree[key]
    return tree


def test_every_figure_is_found_by_its_pointer():
    found = dict(figures(TREE))
    assert list(found) == ["/leaves/1/amps", "/sums/a~1b~0c"]
    for pointer, value in found.items():
        assert resolve(plain(TREE), pointer) == value.number


def test_the_past_of_a_figure_says_where_it_comes_from():
    assert past(AMPS) == {
        "value": 8.6, "unit": "A", "low": 8.0, "high": 9.0, "origin": "computed",
        "formula": "amps", "inputs": [{"name": "watts", "value": 2200.0, "unit": "W"}],
        "source": "by hand",
    }  # fmt: skip


def test_an_assumed_fact_shows_its_spread():
    fact = Assumed("efficiency", "machines[0].motors[0].plate.efficiency", AMPS)
    assert plain(fact)["low"] == 8.0
    assert plain(fact)["unit"] == "A"
    assert resolve([plain(fact)], dict(figures((fact,))).__iter__().__next__()) == 8.6


@pytest.mark.parametrize("number", [float("nan"), float("inf"), float("-inf")])
def test_what_is_no_number_is_never_written(number):
    with pytest.raises(ValueError, match="no number"):
        plain(Leaf(number))


def test_a_foreign_leaf_is_refused():
    with pytest.raises(TypeError, match="complex"):
        plain((1j,))


@settings(deadline=None, max_examples=200)
@given(st.floats(allow_nan=False, allow_infinity=False))
def test_rounding_is_close_repeats_and_survives_json(number):
    written = rounded(number)
    assert rounded(written) == written
    assert json.loads(json.dumps(written)) == written
    assert abs(written - number) <= abs(number) * 10.0 ** (1 - DIGITS) + 5e-324
    assert str(written) != "-0.0"
