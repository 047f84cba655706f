"""What leaves a machine short of torque is weighed only where nothing else serves, or on the
owner's word. Common practice, no source: one small machine alone gets a drive."""

from __future__ import annotations

from phasewright.files.shop_file import read_text
from phasewright.plan.facts import facts_of

SHOP = """\
phasewright: 1
shop: One small lathe
region: IEC
supply: {{kind: single_phase, voltage: 230 V, frequency: 50 Hz}}
machines:
  - name: Lathe
    motors:
      - name: spindle
        plate: {{power: 0.55 kW, voltage: 220/380 V, current: 2.6/1.5 A, frequency: 50 Hz,
                speed: 1425 rpm, leads: 6}}
        load: {{kind: spindle{torque}}}
"""


def weighed(torque: str) -> tuple[set[str], set[str]]:
    """(ways the plan weighs for the lathe, codes of the run capacitor's conditions)."""
    facts = facts_of(read_text(SHOP.format(torque=torque)))
    judgements = facts.judgements[0]
    capacitor = next(each for each in judgements if each.way == "capacitor_run")
    assert capacitor.verdict == "with_conditions"
    return (
        {each.way for each in judgements if each.offers},
        {reason.code for reason in capacitor.conditions},
    )


def test_a_run_capacitor_that_leaves_a_lathe_short_is_weighed_last() -> None:
    ways, codes = weighed("")
    assert "drive_per_motor" in ways
    assert "capacitor_run" not in ways
    assert "weighed_last" in codes


def test_the_owners_word_that_less_is_enough_counts() -> None:
    ways, codes = weighed(", torque: 0.4")
    assert {"drive_per_motor", "capacitor_run"} <= ways
    assert "weighed_last" not in codes
