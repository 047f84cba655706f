"""What a plan tells of its drives together: harmonics of a set, filters, radio category."""

from __future__ import annotations

import cmath
import math

import pytest

from phasewright.electronics.harmonics import at_the_service
from phasewright.files.shop_file import read_text
from phasewright.job.study import study
from phasewright.network.supply import Source

SHOP = """
phasewright: 1
shop: An invented pair of drives
region: {region}
supply: {{kind: {kind}, voltage: 230 V, frequency: 50 Hz, service_rating: 63 A,
  {earth} loop_impedance: 0.5 ohm, other_loads: [{{name: heater, current: 8 A, type: heater}}]}}
machines:
  - name: Mill
    have: owned
    hours_per_year: 200
    runs_with: [Lathe]
    motors:
      - name: main
        plate: {{power: 1.5 kW, voltage: 230/400 V, frequency: 50 Hz, speed: 1420 rpm}}
        load: {{kind: spindle}}
        wants: {{speed: [0.5, 1.2]}}
  - name: Lathe
    have: owned
    hours_per_year: 200
    motors:
      - name: main
        plate: {{power: 1.1 kW, voltage: 230/400 V, frequency: 50 Hz, speed: 1410 rpm}}
        load: {{kind: spindle}}
        wants: {{speed: [0.5, 1.2]}}
wishes: {{who_wires: {wires}}}
"""


def told(*, region="IEC", kind="single_phase", earth="", wires="own"):
    text = SHOP.format(region=region, kind=kind, earth=earth, wires=wires)
    return study(read_text(text)).to_dict()


def of_drives(of):
    """The plans in which both hang on drives of their own."""
    found = [
        plan for plan in of["plans"]
        if len(plan["motors"]) == 2
        and all(each.get("way") == "drive_per_motor" for each in plan["motors"])
    ]  # fmt: skip
    assert found
    return found[0]


def rules_of(of, plan):
    return {each["rule"]: each for each in of["findings"] if each.get("plan") == plan["id"]}


def test_two_drives_together_distort_less_than_each_alone_added() -> None:
    of = told()
    plan = of_drives(of)
    case = max(plan["cases"], key=lambda each: len(each["running"]))
    assert len(case["running"]) == 2
    tale, figures = case["harmonics"], [each["figures"] for each in plan["motors"]]
    z = of["supply"]["impedance_ohm"]
    alone = [
        [cmath.rect(a, math.radians(d)) for a, d in zip(f["harmonics_a"], f["harmonics_deg"],
                                                        strict=True)]
        for f in figures
    ]  # fmt: skip
    added = at_the_service(Source(230.0, z["r"], z["x"], 50.0), alone)
    assert 0.5 * added.voltage_thd < tale["service_voltage_thd"] < added.voltage_thd
    whole = math.sqrt(sum(each**2 for each in tale["harmonics_a"]))
    assert tale["current_a"] == pytest.approx(whole, rel=1e-3)
    first = tale["harmonics_a"][0]
    assert tale["current_thd"] == pytest.approx(math.sqrt(whole**2 - first**2) / first, rel=1e-2)
    # skin adds below a percent to the heat of the amps
    assert 1.0 <= tale["conductor_heat_ratio"] / (tale["current_a"] / first) ** 2 < 1.01
    assert tale["neutral_a"] == tale["current_a"]


def test_the_filter_stays_in_where_the_supply_is_earthed_and_comes_out_where_it_is_not() -> None:
    earthed, floating = told(earth="earthing: TN-S,"), told(earth="earthing: IT,")
    there, gone = rules_of(earthed, of_drives(earthed)), rules_of(floating, of_drives(floating))
    assert there["emc.filter_stays"]["severity"] == "info"
    assert "emc.floating_supply" not in there
    assert "emc.filter_stays" not in gone
    assert gone["emc.floating_supply"]["severity"] == "condition"


@pytest.mark.parametrize(
    ("case", "asked"),
    [
        ({}, True),
        ({"wires": "electrician"}, False),
        ({"region": "NEC"}, False),
    ],
    ids=["own hands", "an electrician's", "NEC"],
)
def test_a_radio_category_is_asked_where_dwellings_share_the_supply(case, asked) -> None:
    of = told(**case)
    assert ("iec.61800_3.category" in rules_of(of, of_drives(of))) is asked
