"""What is worth finding out leads to the field in which it is typed."""

import re

import pytest

from phasewright.job.check import check
from phasewright.page.demos import demos
from phasewright.page.typed_at import typed_at
from phasewright.papers.measuring import measuring


@pytest.mark.parametrize(
    ("path", "address"),
    [
        ("machines[2].motors[1].plate.no_load_current", "machine/2#motor1-plate-no-load-current"),
        ("machines[2].motors[1]", "machine/2#line1"),
        ("machines[2].motors[1].plate.voltage", "machine/2#line1"),
        ("machines[2].motors[1].plate.leads", "machine/2#motor1-plate-leads"),
        ("owned_parts[2].current", "things/shelf/2#current"),
        ("quotes[0].price", "things/price/0#price"),
        ("machines[0].never_above", "machine/0#never-above"),
        ("machines[3].others[1].power", "machine/3/other/1#power"),
        ("places[1].feeder.length", "things/place/1#feeder-length"),
        ("places[0]", "things/place/0"),
        ("supply.measured_voltage", "supply#measured"),
        ("supply.heater_test", "supply#heater-test"),
        ("tariff.energy", "wishes#tariff-energy"),
    ],
)
def test_a_path_of_the_shop_file_has_its_form_and_field(path, address):
    assert typed_at(path) == address


@pytest.mark.parametrize("demo", ["cider-barn", "bakery", "farm-sawmill", "furniture-shop"])
def test_every_fact_worth_finding_out_has_a_field_where_it_is_typed(app, client, demo, monkeypatch):
    monkeypatch.setattr(app.state.shelf.studies, "begin", lambda *_, **__: None)  # forms alone
    entry = app.state.shelf.put(demos()[demo].text, own=False)
    facts = check(entry.shop).missing
    assert facts
    for fact in facts:
        page, _, name = typed_at(fact.path).partition("#")
        text = client.get(f"/shop/{entry.key}/{page}").text
        names = re.findall(r'<(?:input|select|textarea) id="([^"]+)"', text)
        line = re.sub(r"^motor(\d+)-.*", r"line\1", name)
        assert any(each in (name, line) or each.startswith(f"{name}-") for each in names), fact.path


def test_live_parts_and_turning_machines_carry_a_caution():
    for path in ("supply.heater_test", "supply.measured_voltage",
                 "machines[0].motors[0].plate.no_load_current",
                 "machines[0].motors[0].plate.winding_resistance"):  # fmt: skip
        assert measuring(path).care
    assert measuring("tariff.energy") is None
