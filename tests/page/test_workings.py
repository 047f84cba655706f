"""The workings as the server gives them: what is not there, what is busy, names that are no names."""

import html
import re
import time

import pytest

from phasewright.job.curves.chart import Chart, Curve, Sheet, Spot
from phasewright.page.demos import demos
from phasewright.page.turns import turns_of
from phasewright.page.workings import BUSY
from phasewright.quantities.value import Input

pytestmark = pytest.mark.whole
HERE = {"origin": "http://127.0.0.1:8765"}


@pytest.fixture
def shop(app, client):
    """A demo shop whose answer is there, as the server has it, and its address."""
    entry = app.state.shelf.put(demos()["pottery"].text, own=False)
    until = time.monotonic() + 120.0
    while not entry.work.ended:
        assert time.monotonic() < until
        time.sleep(0.05)
    assert entry.work.answer is not None, entry.work.failed
    return entry, f"/shop/{entry.key}"


def test_what_is_not_there_is_told(client, shop):
    entry, place = shop
    motor = entry.work.answer.plans[0].motors[0].motor
    for path in (
        f"{place}/curves/start?motor=nobody", f"{place}/curves/nonsense?motor={motor}",
        f"{place}/figure?at=/plans/0/nothing", f"{place}/figure?at=", "/shop/none/workings",
        "/shop/none/figures", "/shop/none/years",
    ):  # fmt: skip
        assert client.get(path).status_code == 404, path
    told = client.get(f"{place}/curves/capacitors?motor={motor}")
    assert "There are no such curves" in told.text


def test_a_busy_server_says_so_and_a_sheet_escapes_every_name(client, shop, app, monkeypatch):
    entry, place = shop
    motor = entry.work.answer.plans[0].motors[0].motor
    studies = app.state.shelf.studies
    monkeypatch.setattr(studies, "curves", lambda *_: None)
    busy = client.get(f"{place}/curves/torque?motor={motor}", headers={"hx-request": "true"})
    assert busy.status_code == 503
    assert BUSY in busy.text
    bad = '<img src=x onerror="alert(1)">'
    chart = Chart(
        bad, bad, bad, bad, bad, bad, bad, (0.0, 1.0), (Curve(bad, (1.0, None)),), bad,
        (Input(bad, 1.0, "V"),), bad, (Spot(0.5, bad),),
    )  # fmt: skip
    monkeypatch.setattr(studies, "curves", lambda *_: Sheet(bad, (bad,), (chart,)))
    sheet = client.get(f"{place}/curves/torque?motor={motor}")
    assert sheet.status_code == 200
    assert "<img" not in sheet.text
    assert sheet.text.count("&lt;img") > 5
    assert "<td>none</td>" in sheet.text


def test_only_a_turning_point_of_the_answer_is_taken_and_only_within_its_slider(client, shop):
    entry, place = shop
    before = entry.text
    for path, value in (
        ("machines[0].name", "1"), ("tariff.energy", "nan"), ("tariff.energy", "1e9"),
        ("tariff.energy", "a lot"), ("", ""),
    ):  # fmt: skip
        data = {"state": str(entry.number), "path": path, "value": value}
        told = client.post(f"{place}/turn", data=data, headers=HERE, follow_redirects=False)
        assert told.status_code == 409, (path, value)
    assert entry.text == before


def test_the_stretches_of_a_slider_join_and_hold_the_answer_where_the_shop_stands(shop):
    entry, _ = shop
    study = entry.work.answer
    best = next(plan for plan in study.plans if plan.id == study.answer.plan)
    for turn in turns_of(study):
        assert turn.low < turn.value < turn.high
        assert [zone.here for zone in turn.zones].count(True) == 1
        for one, other in zip(turn.zones, turn.zones[1:], strict=False):
            assert one.end == other.start
        here = next(zone for zone in turn.zones if zone.here)
        assert here.start <= turn.value <= here.end
        assert here.plan == best.title
        assert all(zone.plan != best.title for zone in turn.zones if not zone.here)


@pytest.mark.parametrize(
    ("pointer", "name"),
    [
        ("/plans/0/purchase", "To buy"),
        ("/supply/impedance_ohm/r", "The supply: resistance of the supply"),
        ("/plans/0/motors/0/figures/input_current_a/expected", "as built: amps from the supply"),
    ],
)
def test_a_figure_is_told_by_its_name_and_what_it_is_of(client, shop, pointer, name):
    _, place = shop
    told = client.get(f"{place}/figure?at={pointer}").text
    assert name.lower() in told.lower()
    assert pointer in told


def test_whatever_leads_somewhere_on_the_pages_of_a_shop_gets_there(client, shop):
    _, place = shop
    leads = set()
    for page in ("", "/figures"):
        leads |= set(
            re.findall(r'class="figure[^"]*" href="([^"]+)"', client.get(place + page).text)
        )
    assert len(leads) > 100
    for each in sorted(leads):
        told = client.get(html.unescape(each), headers={"hx-request": "true"})
        assert told.status_code == 200, each
        assert '<h2 id="working-title"' in told.text
        # a way on, or a source: nothing leads to an empty window
        assert "<h3>Source" in told.text or 'class="put-in"' in told.text, each
