"""The largest motor a converter starts: what must hold whatever the converter and the load."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from reference_machines import FARM, M4K0, TOWN, uf

from phasewright.machines.performance import rated
from phasewright.quantities.codes import LOAD_KINDS
from phasewright.running.converter import Converter, on_converter
from phasewright.running.network import Connected, LoadLaw
from phasewright.running.settle import stalled
from phasewright.tables.loads import load_kind
from phasewright.tables.sizes import motor_sizes_w
from phasewright.ways.idlers import Idler, circuit_of
from phasewright.ways.largest_start import (
    Demand,
    largest_start,
    largest_starts,
    start_of_size,
    usual_demand,
)
from phasewright.ways.on_converter import deepest_dip

CONVERTER = Converter(4000.0, M4K0, uf(0, 47.5, 63))
PAIR = replace(CONVERTER, idler_power_w=8000.0, beside=(M4K0,), run_f=uf(0, 95, 126))
SIZES = motor_sizes_w("IEC")
STIFF = replace(TOWN, resistance_ohm=0.05, reactance_ohm=0.03)
SAW = Demand("constant", 0.3, 0.3, 3.0)


def largest_w(source, converter, demand, near_w=4000.0):
    return largest_start(source, converter, "other", demand, "IEC", near_w).power_w


@pytest.mark.parametrize("source", [STIFF, TOWN, FARM])
@pytest.mark.parametrize(
    ("name", "values"),
    [
        ("inertia_ratio", (0.0, 3.0, 30.0, 300.0, 1000.0)),
        ("breakaway", (0.1, 0.5, 1.0, 1.6, 2.5)),
        ("on_the_way", (0.0, 0.3, 0.7, 1.0, 1.5)),
    ],
)
def test_more_to_turn_never_starts_a_larger_motor(source, name, values) -> None:
    found = [largest_w(source, CONVERTER, replace(SAW, **{name: value})) for value in values]
    assert all(more <= less for less, more in pairwise(found))
    assert found[-1] < found[0] or source is FARM  # there the dip of any start rules


@pytest.mark.parametrize("demand", [SAW, replace(SAW, breakaway=1.0, inertia_ratio=20.0)])
def test_a_softer_supply_never_starts_a_larger_motor(demand) -> None:
    found = [largest_w(source, CONVERTER, demand) for source in (STIFF, TOWN, FARM)]
    assert found[0] >= found[1] >= found[2] > 0.0


@pytest.mark.parametrize("source", [STIFF, TOWN, FARM])
@pytest.mark.parametrize("kind", LOAD_KINDS)
def test_two_idlers_of_one_size_start_at_least_as_much_as_one(source, kind) -> None:
    """But for the dip: stiffer lines let a motor draw more through the same supply."""
    demand = usual_demand(load_kind(kind))
    one, two = (
        largest_start(source, converter, kind, demand, "IEC", 4000.0)
        for converter in (CONVERTER, PAIR)
    )
    assert two.power_w >= one.power_w or two.limited_by.code == "dip_too_deep"


@pytest.mark.parametrize("power_w", [2200.0, 4000.0, 5500.0, 7500.0, 11000.0])
@pytest.mark.parametrize("breakaway", [0.1, 0.5, 1.0])
def test_what_runs_up_on_one_idler_runs_up_on_two(power_w, breakaway) -> None:
    demand = replace(SAW, breakaway=breakaway)
    one, two = (start_of_size(STIFF, converter, demand, power_w) for converter in (CONVERTER, PAIR))
    assert two.runs_up or not one.runs_up
    assert two.seconds <= one.seconds


@pytest.mark.parametrize("near_w", SIZES[::3])
def test_where_the_search_begins_is_no_matter(near_w) -> None:
    assert largest_w(TOWN, CONVERTER, SAW, near_w) == largest_w(TOWN, CONVERTER, SAW)


def test_the_size_starts_and_the_next_one_is_barred_as_told() -> None:
    kinds = [load_kind(name) for name in LOAD_KINDS]
    for one, kind in zip(largest_starts(TOWN, CONVERTER, kinds, "IEC"), kinds, strict=True):
        demand, at = usual_demand(kind), SIZES.index(one.power_w)
        starts = start_of_size(TOWN, CONVERTER, demand, SIZES[at])
        barred = start_of_size(TOWN, CONVERTER, demand, SIZES[at + 1])
        # a separator is given all the time its clutch needs: it may be seen too briefly to tell
        assert starts.runs_up or (one.load == "separator" and starts.outcome.runs_up is None)
        assert 1.0 - starts.service_ratio <= deepest_dip()
        if one.limited_by.code == "dip_too_deep":
            assert barred.outcome.runs_up is not False
            assert 1.0 - barred.service_ratio > deepest_dip()
        else:
            assert not barred.runs_up
        assert f"{SIZES[at + 1] / 1000:.3g} kW" in one.limited_by.words


@pytest.mark.parametrize("power_w", [1500.0, 3000.0, 5500.0])
def test_what_it_breaks_away_from_is_the_settled_networks_torque_at_rest(power_w) -> None:
    """The network held at standstill knows nothing of time; leakage saturated by the starting
    current and the beat of the torque give more than it says, never less."""
    circuit = circuit_of(TOWN, Idler(power_w))
    motor = Connected("motor", circuit, LoadLaw("none"))
    held = stalled(on_converter(TOWN, CONVERTER, (motor,)), "motor").machines[-1]
    ratio = held.shaft_torque_nm / rated(circuit).shaft_torque_nm
    less, more = (replace(SAW, breakaway=share * ratio) for share in (1.0, 2.5))
    assert start_of_size(TOWN, CONVERTER, less, power_w).runs_up
    assert not start_of_size(TOWN, CONVERTER, more, power_w).runs_up


def test_where_nothing_starts_it_is_no_watts_and_the_smallest_is_told() -> None:
    one = largest_start(TOWN, CONVERTER, "other", replace(SAW, breakaway=20.0), "IEC", 4000.0)
    assert one.power_w == 0.0
    assert f"{SIZES[0] / 1000:.3g} kW" in one.limited_by.words


def test_the_sizes_are_those_of_the_region() -> None:
    one = largest_start(TOWN, CONVERTER, "saw", SAW, "NEC", 4000.0)
    assert one.power_w in motor_sizes_w("NEC")
    assert "hp" in one.limited_by.words
