"""Points of trip bands and of winding heat typed a second time from their sources, as text."""

from __future__ import annotations

import math

import pytest

from phasewright.tables.published import table
from phasewright.tables.trip_bands import (
    breaker_band,
    fuse_band,
    inverse_time_band,
    overload_relay,
)
from phasewright.tables.winding_heat import (
    capacitor_starts_an_hour,
    design_n_inertia_kg_m2,
    greatest_winding_c,
    heated_c,
    stall_s,
)

JUST_BELOW = 1.0 - 1e-9

# IEC 60898-1 (multiples B 3-5, C 5-10, D 10-20 in many printed summaries; the rest from memory):
# curve, rated A, least and greatest multiple, seconds at the least multiple
BREAKERS = "B 16 3 5 45, B 63 3 5 90, C 32 5 10 15, C 40 5 10 30, D 20 10 20 8, D 80 10 20 8"

# IEC 60269-1 (from memory): rated A: not in 10 s, in 5 s, not in 0.1 s, in 0.1 s
FUSES = (
    "16: 33 65 85 150; 20: 42 85 110 200; 25: 52 110 150 260; 32: 75 150 200 350; "
    "40: 95 190 260 450; 50: 125 250 350 610; 63: 160 320 450 820; 80: 215 425 610 1100; "
    "100: 290 580 820 1450; 125: 355 715 1100 1910; 160: 460 950 1450 2590"
)

# IEC 60947-4-1: class, seconds from cold at 7.2 (printed summaries), from warm at 1.5 (from memory)
RELAYS = "10A 2-10 2, 10 4-10 4, 20 6-20 8, 30 9-30 12"


@pytest.mark.parametrize("row", BREAKERS.split(", "))
def test_breakers(row: str) -> None:
    curve, rated, least, most, slow = row.split()
    amps = float(rated)
    band = breaker_band(curve, amps)
    hour = 3600.0 if amps <= 63.0 else 7200.0
    minute = 60.0 if amps <= 32.0 else 120.0
    assert math.isinf(band.early.seconds(1.1299 * amps))
    assert band.early.seconds(1.13 * amps) == pytest.approx(hour)
    assert math.isinf(band.late.seconds(1.4499 * amps))
    assert band.late.seconds(1.45 * amps) == pytest.approx(hour)
    assert band.early.seconds(2.55 * amps) == pytest.approx(1.0)
    assert band.late.seconds(2.55 * amps) == pytest.approx(minute)
    assert band.early.seconds(float(least) * amps * JUST_BELOW) == pytest.approx(0.1, rel=1e-6)
    assert band.late.seconds(float(least) * amps) == pytest.approx(float(slow))
    assert band.early.seconds(float(least) * amps) == 0.0
    assert band.late.seconds(float(most) * amps) == pytest.approx(0.1)
    assert band.late.seconds(float(most) * amps * JUST_BELOW) > 1.0


@pytest.mark.parametrize("row", FUSES.split("; "))
def test_fuses(row: str) -> None:
    rated, gates = row.split(":")
    amps = float(rated)
    ten, five, early, late = (float(entry) for entry in gates.split())
    band = fuse_band(amps)
    assert math.isinf(band.early.seconds(1.2499 * amps))
    assert band.late.seconds(1.6 * amps) == pytest.approx(3600.0 if amps <= 63.0 else 7200.0)
    assert band.early.seconds(ten) == pytest.approx(10.0)
    assert band.late.seconds(five) == pytest.approx(5.0)
    assert band.early.seconds(early * JUST_BELOW) == pytest.approx(0.1, rel=1e-6)
    assert band.late.seconds(late) == pytest.approx(0.1)


@pytest.mark.parametrize(("amps", "hour", "short"), [(20.0, 3600.0, 120.0), (30.0, 3600.0, 120.0), (40.0, 3600.0, 240.0), (60.0, 7200.0, 360.0), (125.0, 7200.0, 480.0)])  # fmt: skip
def test_inverse_time_breakers(amps: float, hour: float, short: float) -> None:
    """UL 489: 135 % within an hour (50 A), 200 % within two minutes (30 A); larger from memory."""
    band = inverse_time_band(amps)
    assert band.late.seconds(1.35 * amps) == pytest.approx(hour)
    assert band.late.seconds(2.0 * amps) == pytest.approx(short)
    assert math.isinf(band.early.seconds(0.999 * amps))
    assert math.isinf(band.late.seconds(1.349 * amps))


@pytest.mark.parametrize("row", RELAYS.split(", "))
def test_overload_relays(row: str) -> None:
    """Both images against every printed point: cold at 7.2, never at 1.05, 1.2 and warm 1.5."""
    name, span, minutes = row.split()
    least, most = (float(entry) for entry in span.split("-"))
    relay = overload_relay(name)

    def trips(multiple: float, tau: float, pick_up: float, before: float) -> float:
        square, theta = multiple**2, before
        return tau * math.log((square - theta) / (square - pick_up**2))

    early, late = relay.early_pick_up, relay.late_pick_up
    assert trips(7.2, relay.early_tau_s, early, 0.0) == pytest.approx(least)
    assert trips(7.2, relay.late_tau_s, late, 0.0) <= most * (1.0 + 1e-5)
    assert early == pytest.approx(1.05)
    assert trips(1.2, relay.late_tau_s, late, 1.05**2) == pytest.approx(7200.0, rel=1e-3)
    assert trips(1.5, relay.late_tau_s, late, 1.0) <= 60.0 * float(minutes) * (1.0 + 1e-9)


def test_winding_heat() -> None:
    for name, limit in {"A": 200.0, "B": 225.0, "F": 250.0, "H": 275.0}.items():
        assert greatest_winding_c(name)[0] == limit
    assert stall_s() == 12.0  # MG 1, 12.49 (from memory)
    # IEC 60034-12 (from memory): 0.04 P^0.9 p^2.5: 4 kW with four poles, 1 kW with two
    assert design_n_inertia_kg_m2(4000.0, 4) == pytest.approx(0.7879, rel=1e-3)
    assert design_n_inertia_kg_m2(1000.0, 2) == pytest.approx(0.04)


@pytest.mark.parametrize(("k", "before", "after"), [(115.0, 70.0, 160.0), (143.0, 30.0, 160.0), (143.0, 90.0, 250.0)])  # fmt: skip
def test_copper_heats_as_the_factors_of_cables_say(k: float, before: float, after: float) -> None:
    """IEC 60364-5-54: 115 for PVC from 70 to 160 °C, 143 from 30 to 160 and XLPE from 90 to 250."""
    assert heated_c(before, k * k) == pytest.approx(after, abs=1.5)


def test_start_capacitors() -> None:
    """60 starts of 1 s, 30 of 2 s or 20 of 3 s an hour."""
    for seconds, starts in ((1.0, 60.0), (2.0, 30.0), (3.0, 20.0)):
        assert capacitor_starts_an_hour(seconds) == pytest.approx(starts)


def test_usual_drop_out() -> None:
    of = table("trip_bands", "coils_usual")
    assert (of.number("drop_out_low"), of.number("drop_out_high")) == (0.40, 0.65)
