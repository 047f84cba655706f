"""A remedy with a value is the smallest change that passes: with it the rule is kept, and with
the next smaller one that is sold it is not."""

from __future__ import annotations

import pytest

from phasewright.circuits.cables import Laid, ampacity, size_named, sizes
from phasewright.rules.capacitors import (
    capacitor_conductors,
    discharged_in_a_minute,
    discharged_in_seconds,
)
from phasewright.rules.conductors import ampacity as ampacity_rule
from phasewright.rules.conductors import carries, thick_enough
from phasewright.rules.earthing import protective_conductor
from phasewright.rules.farms import farm_circuit
from phasewright.rules.isolation import disconnect_rating, drive_disconnect, isolator_carries
from phasewright.rules.motor_circuits import motor_conductors, motor_overcurrent
from phasewright.rules.nec_motors import (
    drive_output_conductors,
    feeder_device,
    overload_setting,
    several_motors,
)
from phasewright.rules.nec_places import panel_conductors, panel_device
from phasewright.rules.nec_transformers import autotransformer_device, primary_device
from phasewright.rules.overcurrent import conductor_protected, device_carries, device_protects
from phasewright.rules.phase_converters import converter_conductors, converter_overcurrent
from phasewright.tables.circuits import residual_ratings_ma
from phasewright.tables.published import table
from phasewright.tables.sizes import BREAKERS_IEC_A, BREAKERS_NEC_A, CABLES_MM2

IEC = Laid("IEC", 3, "C", 40.0, 2)
NEC = Laid("NEC", 3)
ISOLATORS = {name: table("circuits", f"isolator_{name}").column("sizes") for name in ("iec", "nec")}

CONDUCTORS = {
    "iec.523.1": (IEC, lambda a: carries(26.0, a, "c", IEC)),
    "iec.433.1(b)": (IEC, lambda a: device_protects(20.0, a, "c", IEC)),
    "nec.310.16": (NEC, lambda a: ampacity_rule(48.0, a, "c", NEC)),
    "nec.430.22": (NEC, lambda a: motor_conductors(a, 22.0, "c", NEC)),
    "nec.430.24": (NEC, lambda a: several_motors(a, (28.0, 15.2), 0.0, "c", NEC)),
    "nec.430.122_b": (NEC, lambda a: drive_output_conductors(a, 42.0, "c", NEC)),
    "nec.409.20": (NEC, lambda a: panel_conductors(a, 20.0, (15.2, 6.8), "c", NEC)),
    "nec.455.6": (NEC, lambda a: converter_conductors(a, 60.0, "c", laid=NEC)),
    "nec.460.8_a": (NEC, lambda a: capacitor_conductors(a, 22.0, "c", laid=NEC)),
}


@pytest.mark.parametrize("id", CONDUCTORS)
def test_the_next_thinner_conductor_fails(id: str) -> None:
    laid, judge = CONDUCTORS[id]
    (finding,) = judge(1.0).findings
    assert finding.remedy is not None
    named = size_named(str(finding.remedy.value), laid.region)
    assert finding.remedy.value in finding.remedy.words
    sold = sizes(laid.region)
    assert judge(ampacity(named, laid).number).kept
    thinner = sold[sold.index(named) - 1]
    assert not judge(ampacity(thinner, laid).number).kept


MOST = {
    "nec.430.52": (BREAKERS_NEC_A, lambda a: motor_overcurrent(a, 15.2, "inverse_time", "c")),
    "nec.430.62": (BREAKERS_NEC_A, lambda a: feeder_device(a, 70.0, (28.0, 15.2), 0.0, "c")),
    "nec.450.3_b": (BREAKERS_NEC_A, lambda a: primary_device(a, 30.0, "t")),
    "nec.450.4_a": (BREAKERS_NEC_A, lambda a: autotransformer_device(a, 30.0, "t")),
    "nec.455.7": (BREAKERS_NEC_A, lambda a: converter_overcurrent(a, 60.0, "c")),
    "nec.409.21_c": (BREAKERS_NEC_A, lambda a: panel_device(a, 40.0, 20.0, 6.0, "c")),
    "nec.240.4_b": (
        BREAKERS_NEC_A, lambda a: conductor_protected(a, 65.0, "c", motor_circuit=False)
    ),
    "iec.705": (residual_ratings_ma(), lambda ma: farm_circuit(True, 63.0, ma, "c")),
}  # fmt: skip


@pytest.mark.parametrize("id", MOST)
def test_the_next_larger_device_fails(id: str) -> None:
    sold, judge = MOST[id]
    (finding,) = judge(1000.0).findings
    value = float(finding.remedy.value)
    assert judge(value).kept
    larger = min(size for size in sold if size > value)
    assert not judge(larger).kept


LEAST = {
    "iec.433.1(a)": (BREAKERS_IEC_A, lambda a: device_carries(21.0, a, "c")),
    "isolator.rating": (ISOLATORS["iec"], lambda a: isolator_carries(a, 33.0, "c", "IEC")),
    "nec.430.110_a": (ISOLATORS["nec"], lambda a: disconnect_rating(a, 54.0, "m")),
    "nec.430.128": (ISOLATORS["nec"], lambda a: drive_disconnect(a, 54.0, "d")),
    "iec.524.1": (CABLES_MM2, lambda mm2: thick_enough(mm2, "c")),
    "iec.543.1": (CABLES_MM2, lambda mm2: protective_conductor(mm2, 6.0, None, "c")),
}


@pytest.mark.parametrize("id", LEAST)
def test_the_next_smaller_one_fails(id: str) -> None:
    sold, judge = LEAST[id]
    (finding,) = judge(0.5).findings
    value = float(finding.remedy.value)
    assert judge(value).kept
    smaller = max((size for size in sold if size < value), default=0.9 * value)
    assert not judge(smaller).kept


@pytest.mark.parametrize(
    "judge",
    [
        lambda ohm: discharged_in_a_minute(240.0, 100e-6, ohm, "c"),
        lambda ohm: discharged_in_seconds(230.0, 40e-6, ohm, "c"),
        lambda ohm: discharged_in_seconds(230.0, 40e-6, ohm, "c", on_plug_pins=True),
    ],
)
def test_a_hundredth_more_ohms_keep_the_charge_too_long(judge) -> None:
    (finding,) = judge(None).findings
    ohm = float(finding.remedy.value)
    assert judge(ohm).kept
    assert not judge(1.01 * ohm).kept


def test_a_hundredth_more_on_the_overload_relay_is_too_much() -> None:
    (finding,) = overload_setting(20.0, 13.0, 5.0, "m", service_factor=1.15).findings
    most = float(finding.remedy.value)
    assert overload_setting(most, 13.0, 5.0, "m", service_factor=1.15).kept
    assert not overload_setting(1.01 * most, 13.0, 5.0, "m", service_factor=1.15).kept


def test_beyond_the_tables_no_size_is_named() -> None:
    (finding,) = carries(400.0, 100.0, "c", IEC).findings
    assert finding.remedy.value is None
    assert "share it out" in finding.remedy.words
