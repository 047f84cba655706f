"""Fault currents of the house against a general open-source network library (pandapower), which
follows IEC 60909-0: 11 kV network, 100 kVA transformer, feeder of the house's own conductor table.

That standard multiplies a transformer's impedance by K_T = 0.95 c/(1 + 0.6 x_T) (from memory); the
house does not, so the hand sum here does it on the house's figures.
"""

from __future__ import annotations

import math

import pandapower as pp
import pandapower.shortcircuit as sc
import pytest

from phasewright.network.conductors import feeder_impedance
from phasewright.network.impedance import of_transformer
from phasewright.network.shortcircuit import GREATEST, fault_current_a, peak_current_a
from phasewright.tables.published import table

RATING_VA, LENGTH_M, AREA_M2 = 100e3, 60.0, 16e-6
LINE_V = 400.0


def transformer_ohm() -> tuple[float, float]:
    """The house's transformer without the service line it adds [ohm a phase]."""
    whole = of_transformer(RATING_VA, LINE_V / math.sqrt(3.0))
    line = table("supplies_impedance", "transformer").column("service_line_ohm")
    return whole.resistance.number - line[0], whole.reactance.number - line[1]


def feeder_ohm() -> tuple[float, float]:
    """One conductor of the house's feeder at 20 degC, as the standard takes it for the greatest."""
    r, x = feeder_impedance(LENGTH_M, AREA_M2, at_c=20.0)
    return r.number / 2.0, x.number / 2.0


@pytest.fixture(scope="module")
def by_library():
    rows = table("supplies_impedance", "transformer")
    net = pp.create_empty_network(f_hz=50.0)
    high, low, far = (pp.create_bus(net, vn_kv=volts) for volts in (11.0, 0.4, 0.4))
    pp.create_ext_grid(net, high, s_sc_max_mva=1e7, rx_max=0.1)
    pp.create_transformer_from_parameters(
        net, high, low, sn_mva=RATING_VA / 1e6, vn_hv_kv=11.0, vn_lv_kv=0.4,
        vk_percent=100.0 * rows.number("impedance"), vkr_percent=100.0 * rows.number("resistance"),
        pfe_kw=0.0, i0_percent=0.0, shift_degree=0.0,
    )  # fmt: skip
    r, x = feeder_ohm()
    pp.create_line_from_parameters(
        net, low, far, length_km=LENGTH_M / 1e3, r_ohm_per_km=1e3 * r / LENGTH_M,
        x_ohm_per_km=1e3 * x / LENGTH_M, c_nf_per_km=0.0, max_i_ka=1.0,
    )  # fmt: skip
    found = {}
    for fault in ("3ph", "2ph"):
        sc.calc_sc(net, case="max", fault=fault, ip=fault == "3ph", lv_tol_percent=10)
        found[fault] = net.res_bus_sc.ikss_ka * 1e3
        if fault == "3ph":
            found["peak"] = net.res_bus_sc.ip_ka * 1e3
    return found, low, far


def by_house(with_feeder: bool) -> tuple[float, float]:
    """Resistance and reactance a phase with the standard's K_T."""
    r, x = transformer_ohm()
    rated = LINE_V**2 / RATING_VA
    k = 0.95 * GREATEST / (1.0 + 0.6 * x / rated)
    along = feeder_ohm() if with_feeder else (0.0, 0.0)
    return k * r + along[0], k * x + along[1]


@pytest.mark.parametrize("with_feeder", [False, True])
def test_greatest_current_between_three_lines_and_between_two(by_library, with_feeder):
    found, low, far = by_library
    r, x = by_house(with_feeder)
    bus = far if with_feeder else low
    three = fault_current_a(LINE_V / math.sqrt(3.0), r, x, GREATEST)
    assert three == pytest.approx(found["3ph"][bus], rel=1e-3)
    two = fault_current_a(LINE_V, 2.0 * r, 2.0 * x, GREATEST)
    assert two == pytest.approx(found["2ph"][bus], rel=1e-3)


def test_peak_of_the_first_half_cycle(by_library):
    """Radial: both use kappa of the whole loop's R/X."""
    found, _, far = by_library
    r, x = by_house(with_feeder=True)
    three = fault_current_a(LINE_V / math.sqrt(3.0), r, x, GREATEST)
    assert peak_current_a(three, r, x) == pytest.approx(found["peak"][far], rel=5e-3)
