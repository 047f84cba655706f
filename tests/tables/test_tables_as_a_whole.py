"""What holds for every table: it is read, says where it comes from, and is never clamped."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from phasewright.quantities.codes import LOAD_KINDS
from phasewright.quantities.errors import TableEnds
from phasewright.tables import motors, sizes
from phasewright.tables.labour import hours, jobs
from phasewright.tables.loads import load_kind
from phasewright.tables.noise import greatest_no_load_sound_power_dba, typical_sound_pressure_dba
from phasewright.tables.prices import price, price_kinds
from phasewright.tables.published import (
    STATUSES,
    between,
    data_files,
    source_rows,
    table,
    tables_of,
)
from phasewright.tables.sources import all_sources

DEFAULTS = [
    motors.default_power_factor, motors.default_efficiency, motors.default_slip,
    motors.default_starting_current_ratio, motors.default_starting_torque_ratio,
    motors.default_breakdown_ratio, motors.default_no_load_current_ratio,
    motors.default_inertia_kg_m2,
]  # fmt: skip


@pytest.mark.parametrize("file", data_files())
def test_every_table_names_a_listed_source_and_a_status(file: str) -> None:
    for of in tables_of(file):
        assert of.source in source_rows()
        assert of.status in STATUSES
        assert of.status in of.words
        assert of.rows


def test_every_source_is_used_and_says_where() -> None:
    listed = all_sources()
    assert {entry.id for entry in listed} == set(source_rows())
    for entry in listed:
        assert entry.title
        assert entry.where_used
        assert entry.status
    titles = [entry.title.lower() for entry in listed]
    assert titles == sorted(titles)


def test_an_unknown_table_is_an_error() -> None:
    with pytest.raises(KeyError):
        table("motors", "no such table")


@given(st.floats(40.0, 45e3), st.sampled_from([2, 4, 6, 8]), st.integers(1920, 2025))
@settings(deadline=None, max_examples=150)
def test_every_motor_default_is_a_figure_with_a_spread(power_w, poles, year) -> None:
    with_year = {
        motors.default_efficiency, motors.default_slip, motors.default_starting_current_ratio,
        motors.default_inertia_kg_m2,
    }  # fmt: skip
    for default in DEFAULTS:
        args = (power_w, poles, year) if default in with_year else (power_w, poles)
        value = default(*args)
        assert 0.0 < value.low <= value.number <= value.high < 1e3
        assert value.origin in ("table", "common practice", "assumed")
    for frequency_hz in (50.0, 60.0):
        assert motors.default_efficiency(power_w, poles, year, frequency_hz).number < 1.0
    assert motors.default_power_factor(power_w, poles).high < 1.0


@given(st.floats(120.0, 40e3), st.floats(1.02, 1.5), st.sampled_from([2, 4, 6, 8]))
@settings(deadline=None, max_examples=100)
def test_larger_motors_are_better_and_slip_less(power_w, factor, poles) -> None:
    larger = min(45e3, power_w * factor)
    for default, rises in (
        (motors.default_power_factor, True),
        (motors.default_efficiency, True),
        (motors.default_slip, False),
        (motors.default_inertia_kg_m2, True),
    ):
        small, large = default(power_w, poles).number, default(larger, poles).number
        assert (large >= small - 1e-12) if rises else (large <= small)


@pytest.mark.parametrize("default", DEFAULTS)
def test_motor_defaults_end(default) -> None:
    for power_w, poles in ((30.0, 4), (46e3, 4), (2200.0, 3), (2200.0, 12), (math.nan, 4)):
        with pytest.raises(TableEnds):
            default(power_w, poles)


@pytest.mark.parametrize("name", LOAD_KINDS)
def test_every_load_kind_is_whole(name) -> None:
    kind = load_kind(name)
    for value in (
        kind.running,
        kind.breakaway,
        kind.inertia_ratio,
        kind.duty,
        kind.starts_per_hour,
    ):
        assert 0.0 < value.low <= value.number <= value.high
    assert kind.duty.high <= 1.0
    assert kind.stopping
    assert kind.wrong_direction
    assert all(limit.why for limit in kind.ways)
    for limit in kind.ways:
        assert limit.verdict in ("refused", "with_conditions")
    if kind.peak is not None:
        assert kind.peak > kind.running.number


def test_a_saw_s_refusal_begins_above_its_limit() -> None:
    saw = load_kind("saw")
    assert saw.limits("static_start_only", 1100.0) == ()
    assert saw.limits("static_start_only", 1101.0)[0].verdict == "refused"


def test_no_load_kind_is_other_and_an_unknown_one_is_an_error() -> None:
    assert load_kind(None).name == "other"
    with pytest.raises(TableEnds):
        load_kind("washing machine")


SIZE_LISTS = {
    name: value
    for name, value in vars(sizes).items()
    if name.isupper() and isinstance(value, tuple) and isinstance(value[0], float)
}


@pytest.mark.parametrize("name", SIZE_LISTS)
def test_sizes_grow(name: str) -> None:
    rows = SIZE_LISTS[name]
    assert list(rows) == sorted(set(rows))


@given(st.sampled_from(sorted(SIZE_LISTS)), st.floats(0.0, 1.0))
@settings(deadline=None, max_examples=200)
def test_the_next_size_serves_and_the_one_before_does_not(name: str, share: float) -> None:
    rows = SIZE_LISTS[name]
    need = share * rows[-1]
    size = sizes.next_size(need, rows, name)
    assert size in rows
    assert need <= size * (1.0 + 1e-8)
    smaller = [row for row in rows if row < size]
    assert not smaller or need > smaller[-1]


def test_the_next_size_ends_and_never_clamps() -> None:
    for need in (4001.0, math.inf, math.nan):
        with pytest.raises(TableEnds):
            sizes.next_size(need, sizes.DRIVE_SIZES_W, "drive")
    assert sizes.next_size(4000.0, sizes.DRIVE_SIZES_W, "drive") == 4000.0


def test_drive_sizes_have_their_amps() -> None:
    assert len(sizes.DRIVE_SIZES_W) == len(sizes.DRIVE_OUTPUT_A)
    assert len(sizes.THREE_PHASE_DRIVE_SIZES_W) == len(sizes.THREE_PHASE_DRIVE_OUTPUT_A)
    assert len(sizes.STEP_UP_DRIVE_SIZES_W) == len(sizes.STEP_UP_DRIVE_OUTPUT_A)
    # a drive must carry a motor of its own rating: amps of an old catalogue motor at 230 V
    for power_w, amps in zip(sizes.DRIVE_SIZES_W, sizes.DRIVE_OUTPUT_A, strict=True):
        if power_w >= 1500.0:
            assert power_w / (math.sqrt(3.0) * 230.0 * 0.85 * 0.85) <= amps


def test_wire_gauge_by_its_definition() -> None:
    # ASTM B258: AWG 36 is 0.127 mm, 4/0 is 11.684 mm (0.46 inch)
    assert sizes.awg_mm2("4/0") == pytest.approx(math.pi / 4 * 11.684**2, rel=1e-4)
    assert sizes.awg_mm2("10") == pytest.approx(5.26, rel=1e-3)
    with pytest.raises(TableEnds):
        sizes.awg_mm2("7")


def test_cans_join_to_steps_of_five() -> None:
    assert sizes.capacitor_bank_f(27.4e-6) == 25e-6
    assert sizes.capacitor_bank_f(125e-6) == 125e-6
    assert sizes.capacitor_bank_f(1e-6) == 0.0


def test_every_price_is_a_price_within_its_range_and_ends_there() -> None:
    for kind in price_kinds():
        probe = price(kind, _middle(kind))
        assert probe.amount > 0.0
        assert probe.low <= probe.amount <= probe.high
        assert probe.life_years > 0.0
        assert 0.0 <= probe.resale(1.0) < probe.amount
        assert probe.value().unit == ""
        if probe.highest_rating < 1e8:
            with pytest.raises(TableEnds):
                price(kind, probe.highest_rating * 1.01)
            if probe.lowest_rating > 0.0:
                with pytest.raises(TableEnds):
                    price(kind, probe.lowest_rating * 0.99)
                assert price(kind, probe.lowest_rating).amount <= probe.amount


def _middle(kind: str) -> float:
    for rating in (1.0, 10.0, 50e-6, 1000.0, 2000.0, 6000.0):
        try:
            price(kind, rating)
        except TableEnds:
            continue
        return rating
    raise AssertionError(kind)


def test_what_has_no_price_is_refused() -> None:
    for kind, origin in (
        ("unicorn", "new"),
        ("drive_per_motor", "used"),
        ("isolator", "self_built"),
    ):
        with pytest.raises(TableEnds):
            price(kind, 1000.0, origin=origin)
    with pytest.raises(TableEnds):
        price("drive_per_motor", math.nan)


def test_owned_parts_cost_nothing() -> None:
    owned = price("idler_motor", 4000.0, origin="owned")
    assert (owned.amount, owned.low, owned.high) == (0.0, 0.0, 0.0)
    assert owned.resale(1.0) == 0.0


def test_hours_are_never_guessed() -> None:
    for job in jobs():
        value = hours(job, 5.0)
        assert 0.0 < value.low <= value.number <= value.high
    with pytest.raises(TableEnds):
        hours("juggling")
    with pytest.raises(TableEnds):
        hours("outlet_circuit", -1.0)


def test_noise() -> None:
    assert greatest_no_load_sound_power_dba(4000.0, 4) == 76.0
    assert greatest_no_load_sound_power_dba(1000.0, 2) == 81.0
    value = typical_sound_pressure_dba(2200.0)
    assert (value.low, value.high) == (45.0, 55.0)
    for call in (
        lambda: greatest_no_load_sound_power_dba(500.0, 4),
        lambda: greatest_no_load_sound_power_dba(4000.0, 10),
        lambda: typical_sound_pressure_dba(15e3),
    ):
        with pytest.raises(TableEnds):
            call()


def test_between_is_linear_in_the_logarithm() -> None:
    assert between(2.0, (1.0, 4.0), (10.0, 20.0), "x", "") == pytest.approx(15.0)
    assert between(1.0, (1.0, 4.0), (10.0, 20.0), "x", "") == 10.0
    assert between(4.0, (1.0, 4.0), (10.0, 20.0), "x", "") == 20.0
    for wrong in (0.9, 4.1, math.nan):
        with pytest.raises(TableEnds):
            between(wrong, (1.0, 4.0), (10.0, 20.0), "x", "")
