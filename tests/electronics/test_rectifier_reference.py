"""The bridge against a computed reference case, two independent methods (own model, ngspice).

230 V 50 Hz, 0.25 + j0.15 ohm, diodes 0.9 V + 10 mohm, constant current at mean power. Chokes of
the reference have 0.03 ohm + 10 ohm/H (found by matching the mean link voltage alone, then every
other column agreed). The figures were computed by another program than the code under test.
"""

from __future__ import annotations

import math
import time

import pytest

from phasewright.electronics.rectifier import Bridge, bridge_wave, settle_bridge
from phasewright.network.supply import Source

TOWN = Source(230.0, 0.25, 0.15, 50.0)
AMERICAN = Source(240.0, 0.12, 0.08, 60.0)

# source, farad, watt, AC choke, DC choke, then the circuit simulator's: rms, peak, THD, DPF, PF,
# mean link, ripple, 3rd, 5th, 7th
SIMULATED = [
    (TOWN, 600e-6, 0.0, 0.0, 16.821, 50.72,
     1.3186, 0.9779, 0.5785, 302.37, 93.53, 9.175, 7.419, 5.269),
    (TOWN, 600e-6, 2e-3, 0.0, 13.329, 31.50,
     0.8795, 0.9873, 0.7346, 300.82, 79.13, 7.600, 4.119, 1.319),
    (TOWN, 600e-6, 0.0, 5e-3, 12.546, 26.27,
     0.6725, 0.9489, 0.7829, 283.16, 73.30, 6.573, 2.172, 0.743),
    (AMERICAN, 1000e-6, 0.0, 0.0, 16.609, 53.41,
     1.4597, 0.9994, 0.5589, 328.41, 44.70, 8.686, 7.408, 5.761),
]  # fmt: skip


def choke_ohm(inductance_h: float) -> float:
    return 0.03 + 10.0 * inductance_h if inductance_h else 0.0


def bridge(source, power_w, capacitance_f, ac_h=0.0, dc_h=0.0):
    return Bridge(
        source, capacitance_f, power_w, ac_choke_h=ac_h, dc_choke_h=dc_h,
        ac_choke_ohm=choke_ohm(ac_h), dc_choke_ohm=choke_ohm(dc_h),
    )  # fmt: skip


@pytest.mark.parametrize("row", SIMULATED)
def test_2200_w_against_a_circuit_simulator(row) -> None:
    source, link_f, ac_h, dc_h, *expected = row
    state = settle_bridge(bridge(source, 2200.0, link_f, ac_h, dc_h))
    harmonics = [abs(state.harmonics_a[n - 1]) for n in (3, 5, 7)]
    got = [
        state.current_a, state.peak_a, state.thd, state.displacement_factor, state.power_factor,
        state.link_mean_v, state.link_ripple_v, *harmonics,
    ]  # fmt: skip
    assert got == pytest.approx(expected, rel=0.003)


# power W, uF, AC mH, DC mH: rms, peak, THD %, DPF, mean link, h3 (printed to the digits given)
TABLE = [
    (370, 37, 0, 0, 2.90, 9.7, 95, 0.775, 230, 1.06),
    (370, 74, 0, 0, 3.20, 12.5, 140, 0.876, 272, 1.41),
    (370, 148, 0, 0, 3.85, 15.8, 193, 0.921, 293, 1.69),
    (750, 150, 0, 0, 6.37, 23.4, 138, 0.889, 275, 2.88),
    (750, 225, 0, 0, 7.38, 27.1, 171, 0.898, 284, 3.54),
    (750, 750, 0, 0, 6.05, 20.0, 152, 1.000, 316, 3.10),
    (1500, 450, 0, 0, 12.16, 39.1, 144, 0.971, 303, 6.40),
    (2200, 220, 0, 0, 16.90, 51.2, 94, 0.802, 233, 6.55),
    (2200, 440, 0, 0, 18.76, 58.2, 136, 0.897, 276, 10.13),
    (2200, 2200, 0, 0, 15.45, 43.0, 119, 0.994, 307, 8.69),
    (3000, 900, 0, 0, 21.44, 60.5, 120, 0.994, 304, 12.03),
    (4000, 400, 0, 0, 30.10, 85.8, 92, 0.824, 237, 12.07),
    (4000, 1600, 0, 0, 26.96, 71.0, 108, 1.000, 302, 15.44),
    (750, 150, 2, 0, 5.40, 15.7, 125, 0.985, 310, 2.99),
    (750, 150, 0, 20, 4.18, 8.6, 64, 0.944, 284, 2.14),
    (2200, 440, 5, 0, 12.49, 26.6, 70, 0.966, 289, 6.67),
    (2200, 440, 0, 10, 12.27, 23.5, 52, 0.911, 265, 5.52),
    (2200, 440, 0, 20, 13.03, 22.1, 33, 0.808, 221, 3.85),
    (2200, 440, 0, 40, 11.98, 17.5, 38, 0.902, 197, 3.33),
    (4000, 800, 0, 20, 22.52, 33.5, 35, 0.881, 193, 5.90),
    (4000, 800, 0, 40, 21.26, 27.0, 39, 0.955, 189, 5.82),
]


@pytest.mark.parametrize("row", TABLE)
def test_input_figures_over_power_link_and_choke(row) -> None:
    power_w, uf, ac_mh, dc_mh, rms, peak, thd, dpf, mean, third = row
    state = settle_bridge(bridge(TOWN, power_w, uf * 1e-6, ac_mh * 1e-3, dc_mh * 1e-3))
    # With a ripple above 200 V the reference's load, a constant current by a 60 ms average,
    # is no longer quite constant: those rows (whose drive would trip) are held to 1 %.
    rel = 0.01 if state.link_ripple_v > 200.0 else 0.004
    assert state.current_a == pytest.approx(rms, rel=rel, abs=0.006)
    assert state.peak_a == pytest.approx(peak, rel=rel, abs=0.06)
    assert 100.0 * state.thd == pytest.approx(thd, rel=rel, abs=0.6)
    assert state.displacement_factor == pytest.approx(dpf, abs=0.0035)
    assert state.link_mean_v == pytest.approx(mean, rel=rel, abs=0.6)
    assert abs(state.harmonics_a[2]) == pytest.approx(third, rel=rel, abs=0.006)


HARMONICS = {
    0.0: [10.13, 8.32, 6.09, 3.83, 1.91, 0.55, 0.20, 0.44, 0.35, 0.14, 0.09, 0.16, 0.14, 0.07,
          0.05, 0.08, 0.08, 0.04, 0.04],
    5e-3: [6.67, 2.40, 0.67, 0.58, 0.28, 0.26, 0.16, 0.15, 0.10, 0.09, 0.07, 0.06, 0.05, 0.05,
           0.04, 0.04, 0.03, 0.03, 0.02],
}  # fmt: skip


@pytest.mark.parametrize("choke_h", HARMONICS)
def test_odd_harmonics_to_the_39th(choke_h) -> None:
    state = settle_bridge(bridge(TOWN, 2200.0, 440e-6, ac_h=choke_h))
    odd = [abs(state.harmonics_a[n - 1]) for n in range(3, 40, 2)]
    assert odd == pytest.approx(HARMONICS[choke_h], rel=0.003, abs=0.015)
    even = [abs(state.harmonics_a[n - 1]) for n in range(2, 41, 2)]
    assert max(even) < 1e-3


# R, X: rms, peak, THD %, PF, link, V THD %, V at service; 2.2 kW, 440 uF
SUPPLIES = [
    (0.02, 0.02, 19.25, 76.1, 140, 0.502, 269, 1.8, 230.0),
    (0.10, 0.05, 18.47, 67.1, 134, 0.524, 273, 2.8, 229.4),
    (0.25, 0.15, 18.76, 58.2, 136, 0.518, 276, 5.5, 228.6),
    (0.40, 0.25, 16.25, 45.9, 119, 0.601, 293, 6.8, 227.2),
    (0.80, 0.40, 14.98, 38.2, 101, 0.663, 288, 8.7, 223.2),
    (0.25, 1.00, 13.03, 30.3, 85, 0.744, 302, 14.4, 228.7),
]


@pytest.mark.parametrize("row", SUPPLIES)
def test_supply_impedance(row) -> None:
    r, x, rms, peak, thd, pf, mean, volts_thd, volts = row
    state = settle_bridge(bridge(Source(230.0, r, x, 50.0), 2200.0, 440e-6))
    assert state.current_a == pytest.approx(rms, rel=0.003)
    assert state.peak_a == pytest.approx(peak, rel=0.003)
    assert 100.0 * state.thd == pytest.approx(thd, abs=0.6)
    assert state.power_factor == pytest.approx(pf, abs=0.0015)
    assert state.link_mean_v == pytest.approx(mean, abs=0.6)
    assert 100.0 * state.service_voltage_thd == pytest.approx(volts_thd, abs=0.06)
    assert state.service_voltage_v == pytest.approx(volts, abs=0.06)


def test_a_solve_takes_less_than_three_milliseconds() -> None:
    settle_bridge(bridge(TOWN, 1234.0, 440e-6))
    times = []
    for n in range(15):
        begun = time.perf_counter()
        settle_bridge(bridge(TOWN, 2000.0 + n, 440e-6, ac_h=3e-3))
        times.append(time.perf_counter() - begun)
    assert min(times) < 0.003


def test_the_wave_is_the_state_s() -> None:
    of = bridge(TOWN, 2200.0, 440e-6)
    wave, state = bridge_wave(of), settle_bridge(of)
    rms = math.sqrt(sum(i * i for i in wave.current_a) / len(wave.current_a))
    assert rms == pytest.approx(state.current_a, rel=1e-12)
    assert min(wave.link_v) == state.link_min_v
    assert wave.time_s[-1] == pytest.approx(0.02 * 999 / 1000)
