"""Harmonics in a neutral and in a cable's conductors."""

from __future__ import annotations

import math

import pytest
from scipy.special import jv

from phasewright.electronics.neutral import (
    heat_ratio,
    neutral_harmonics,
    rms,
    skin_ratio,
    spread_over_phases,
)
from phasewright.electronics.rectifier import Bridge, settle_bridge
from phasewright.network.supply import Source

DRIVE = settle_bridge(Bridge(Source(230.0, 0.25, 0.15, 50.0), 600e-6, 1500.0)).harmonics_a
LINEAR = (10.0 + 0j,)


def test_on_one_phase_the_neutral_is_the_line() -> None:
    assert neutral_harmonics([DRIVE]) == pytest.approx(DRIVE)


def test_even_linear_loads_leave_nothing_in_the_neutral() -> None:
    assert rms(neutral_harmonics([LINEAR] * 3)) == pytest.approx(0.0, abs=1e-9)
    assert rms(neutral_harmonics([LINEAR] * 2)) == pytest.approx(0.0, abs=1e-9)


def test_on_three_phases_multiples_of_three_add_and_all_else_cancels() -> None:
    found = neutral_harmonics([DRIVE] * 3)
    for n in range(1, 41):
        wanted = 3.0 * DRIVE[n - 1] if n % 3 == 0 else 0j
        assert found[n - 1] == pytest.approx(wanted, abs=1e-9)
    assert rms(found) > rms(DRIVE)


def test_pulses_that_never_overlap_make_root_three_in_the_neutral() -> None:
    """The most there is: three phases whose pulses follow each other, by the time wave."""
    alone = 0.1  # half width of a pulse [rad]; six of them fit apart into a period
    orders = range(1, 400)
    pulse = tuple(
        complex(4.0 / (math.sqrt(2.0) * math.pi * n) * math.sin(n * alone) * math.sin(n * math.pi / 2))
        if n % 2 else 0j
        for n in orders
    )  # fmt: skip
    ratio = rms(neutral_harmonics([pulse] * 3)) / rms(pulse)
    assert ratio == pytest.approx(math.sqrt(3.0), rel=0.01)


def test_on_a_split_phase_like_drives_cancel_in_the_centre() -> None:
    found = neutral_harmonics([DRIVE, DRIVE])
    assert all(abs(each) < 1e-9 for each in found[::2])


def test_the_spread_keeps_every_amp_and_is_no_worse_than_one_phase() -> None:
    spread = spread_over_phases([DRIVE, LINEAR, DRIVE, DRIVE])
    for n in range(40):
        whole = 3 * DRIVE[n] + (LINEAR[n] if n < 1 else 0j)
        assert sum(each[n] for each in spread) == pytest.approx(whole)
    assert max(rms(each) for each in spread) < rms(tuple(4 * each for each in DRIVE))


@pytest.mark.parametrize("area_mm2", [1.5, 6.0, 16.0])
@pytest.mark.parametrize("order", [1, 3, 7, 13, 25])
def test_skin_by_bessel_functions(area_mm2: float, order: int) -> None:
    """A round conductor's own field solved exactly: k a J0 / (2 J1)."""
    radius = math.sqrt(area_mm2 * 1e-6 / math.pi)
    k = (1 - 1j) * math.sqrt(math.pi * 50.0 * order * 4e-7 * math.pi / 17.241e-9)
    exact = (k * radius * jv(0, k * radius) / (2.0 * jv(1, k * radius))).real
    assert skin_ratio(area_mm2 * 1e-6, 50.0 * order) == pytest.approx(exact, rel=0.005)


def test_skin_is_nothing_beside_the_harmonics_themselves() -> None:
    """What a shop's cable heats more by is the amps squared; skin adds below a percent of it."""
    amps = (rms(DRIVE) / abs(DRIVE[0])) ** 2
    assert amps > 1.5
    assert 1.0 <= heat_ratio(DRIVE, 16e-6, 50.0) / amps < 1.01
    assert heat_ratio(LINEAR, 16e-6, 50.0) == pytest.approx(1.0)
