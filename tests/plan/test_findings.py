"""What the rules find in plans, and how a feasible plan tells what it moves itself."""

from __future__ import annotations

import pytest

from phasewright.files.shop_file import read_text
from phasewright.job.study import study

SHOP = """
phasewright: 1
shop: An invented mill shop
region: IEC
supply: {{kind: single_phase, voltage: 230 V, frequency: 50 Hz, service_rating: 63 A}}
machines:
  - name: Mill
    have: owned
    hours_per_year: 200
    {starter}
    motors:
      - name: main
        plate: {{power: 1.5 kW, voltage: 230/400 V, frequency: 50 Hz, speed: 1420 rpm}}
        load: {{kind: spindle}}
        wants: {{speed: [0.5, 1.2]}}
"""
RULE = "drive.nothing_opens_behind"


def found(starter):
    of = study(read_text(SHOP.format(starter=starter))).to_dict()
    driven = {
        p["id"] for p in of["plans"] if any(m.get("way") == "drive_per_motor" for m in p["motors"])
    }
    assert driven
    return [each for each in of["findings"] if each["rule"] == RULE], driven, of


@pytest.mark.parametrize("starter", ["reversing_drum", "star_delta", "direct", "soft_starter"])
def test_a_switch_the_plan_moves_is_a_step_of_the_wiring_and_no_stop(starter):
    findings, driven, of = found(f"starter: {starter}")
    assert {each["plan"] for each in findings} == driven
    for each in findings:
        assert each["severity"] == "condition"
        assert "to be changed before the drive is switched on" in each["words"]
        assert "drive's inputs" in each["remedy"]["words"]
    feasible = {plan["id"] for plan in of["plans"] if plan["feasible"]}
    assert not [
        each for each in of["findings"] if each["severity"] == "stop" and each["plan"] in feasible
    ]


def test_a_starter_that_is_not_told_is_not_guessed():
    assert found("users: owner")[0] == []
