"""Links and volts of a plate that no winding has together are asked about."""

import pytest

from phasewright.files.shop_file import read_text
from phasewright.job.check import check

SHOP = """phasewright: 1
shop: Shed
region: IEC
supply: {{kind: single_phase, voltage: 230 V, frequency: 50 Hz}}
machines:
  - name: Lathe
    motors:
      - name: motor
        plate: {{power: 3 hp, voltage: {volts} V, current: {amps} A, speed: 1430 rpm, connection: {links}}}
"""


@pytest.mark.parametrize(
    ("volts", "amps", "links", "asked"),
    [
        ("220/440", "8.4/4.2", "D/Y", True),
        ("220/380", "8.4/4.9", "D/Y", False),
        ("220/440", "8.4/4.2", "YY/Y", False),
    ],
)
def test_delta_and_star_beside_volts_as_one_to_two_are_asked_about(volts, amps, links, asked):
    found = check(read_text(SHOP.format(volts=volts, amps=amps, links=links))).findings
    rules = [finding for finding in found if finding.rule == "links_and_volts"]
    assert bool(rules) is asked
    assert all(rule.found == pytest.approx(2.0) for rule in rules)
    assert all(rule.allowed == pytest.approx(3**0.5) for rule in rules)
