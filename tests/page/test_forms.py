"""Forms change what was typed and leave every other letter of the shop file as it was."""

import difflib
import html
import re

import pytest
from page.conftest import ROOT

from phasewright.files.shop_file import read_text
from phasewright.files.shop_writing import entries_of

HERE = {"origin": "http://127.0.0.1:8765"}
DEMOS = sorted(path.name.split(".")[0] for path in (ROOT / "examples").glob("*.shop.yaml"))
FORM = re.compile(r'<form method="post" action="([^"]+)" class="questions">(.*?)</form>', re.S)


def text_at(client, place):
    return client.get(f"{place}/shop.yaml").text


def sent_back(page):
    """The first form of a page as a browser sends it: every field with what stands in it."""
    action, inside = FORM.search(page).groups()
    fields = []
    for tag in re.finditer(r"<input ([^>]*)>", inside):
        of = dict(re.findall(r'([a-z-]+)="([^"]*)"', tag[1]))
        if of.get("type") == "checkbox" and not re.search(r"\schecked\b", tag[1]):
            continue
        fields.append((of["name"], html.unescape(of.get("value", ""))))
    for name, options in re.findall(
        r'<select [^>]*name="([^"]+)"[^>]*>(.*?)</select>', inside, re.S
    ):
        listed = re.findall(r"<option([^>]*)>(.*?)</option>", options, re.S)
        chosen = next((o for o in listed if "selected" in o[0]), listed[0])
        value = re.search(r'value="([^"]*)"', chosen[0])
        fields.append((name, html.unescape(value[1] if value else chosen[1])))
    for name, text in re.findall(
        r'<textarea [^>]*name="([^"]+)"[^>]*>(.*?)</textarea>', inside, re.S
    ):
        fields.append((name, html.unescape(text)))
    assert fields
    return html.unescape(action), fields


def post(client, action, fields):
    """Sends a form; what carries no state is sent as from the page as it stands."""
    data = {}
    if "state" not in dict(fields) and action != "/first":
        form = client.get(f"/shop/{action.split('/')[2]}/supply").text
        data["state"] = [re.search(r'name="state" value="(\d+)"', form)[1]]
    for name, value in fields:
        data.setdefault(name, []).append(value)
    return client.post(action, data=data, headers=HERE, follow_redirects=False)


def changed_lines(before, after):
    rows = difflib.ndiff(before.splitlines(), after.splitlines())
    return [row for row in rows if row[0] in "+-"]


@pytest.mark.parametrize("key", DEMOS)
def test_a_form_sent_back_as_it_came_changes_nothing(client, opened, key):
    place = opened(key)
    before = text_at(client, place)
    pages = ["supply"] + [f"machine/{n}" for n in range(len(read_text(before).machines))]
    for page in pages:
        action, fields = sent_back(client.get(f"{place}/{page}").text)
        answer = post(client, action, fields)
        assert answer.status_code == 303, page
        assert text_at(client, place) == before, page


def test_a_plate_typed_anew_changes_that_plate_alone(client, opened):
    place = opened("cider-barn")
    before = text_at(client, place)
    action, fields = sent_back(client.get(f"{place}/machine/0").text)
    typed = dict(fields) | {"motor0.line": "3 HP 220/380V 8.4/4.9A 1430 RPM 50~ Δ/Y"}
    assert post(client, action, typed.items()).status_code == 303
    after = text_at(client, place)
    changed = changed_lines(before, after)
    assert {row[2:].strip() for row in changed if row[0] == "+"} == {
        "power: 3 hp", "voltage: 220/380 V", "current: 8.4/4.9 A", "speed: 1430 rpm",
    }  # fmt: skip
    plate = read_text(after).machines[0].motors[0].plate
    assert (plate.power_factor, plate.leads, plate.year) == (None, None, None)
    assert len(changed) == 4 + 4 + 3


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ({"motor0.line": "3"}, "has no unit"),
        ({"hours_per_year": "9000"}, "out of place"),
        ({"name": ""}, "Not changed"),
        ({"name": "Press"}, "Press"),
        ({"control.voltage": "24 kg"}, "24 kg"),
        ({"starter": "by magic"}, "by magic"),
    ],
)
def test_what_cannot_be_is_not_taken_and_nothing_is_lost(client, opened, typed, words):
    place = opened("cider-barn")
    before = text_at(client, place)
    action, fields = sent_back(client.get(f"{place}/machine/0").text)
    answer = post(client, action, (dict(fields) | typed).items())
    assert answer.status_code == 422
    assert "Not changed" in answer.text
    assert words in html.unescape(answer.text)
    for value in typed.values():
        assert not value or html.escape(value) in answer.text
    assert text_at(client, place) == before


def test_a_machine_renamed_is_renamed_where_others_name_it(client, opened):
    place = opened("farm-sawmill")
    shop = read_text(text_at(client, place))
    named = [m for m in shop.machines if any(m.name in other.runs_with for other in shop.machines)]
    assert named
    at = shop.machines.index(named[0])
    action, fields = sent_back(client.get(f"{place}/machine/{at}").text)
    assert post(client, action, (dict(fields) | {"name": "Neu <b>"}).items()).status_code == 303
    after = read_text(text_at(client, place))
    assert after.machines[at].name == "Neu <b>"
    for machine, was in zip(after.machines, shop.machines, strict=True):
        swapped = tuple("Neu <b>" if n == named[0].name else n for n in was.runs_with)
        assert set(machine.runs_with) == set(swapped)


def test_a_second_machine_a_planned_one_and_back_again(client, opened):
    place = opened("cider-barn")
    first = text_at(client, place)
    post(client, f"{place}/machine/1", [("do", "duplicate")])
    second = text_at(client, place)
    shop = read_text(second)
    one, other = (entries_of(shop.machines[at], "IEC") for at in (1, -1))
    assert one["motors"] == other["motors"]
    assert shop.machines[-1].name == "Press 2"
    last = len(shop.machines) - 1
    action, fields = sent_back(client.get(f"{place}/machine/{last}").text)
    typed = dict(fields) | {"have": "it may come", "chance": "maybe", "year": "3"}
    assert post(client, action, typed.items()).status_code == 303
    planned = read_text(text_at(client, place)).machines[-1]
    assert (planned.have, planned.chance, planned.year) == ("planned", 0.3, 3.0)
    post(client, f"{place}/back", [])
    assert text_at(client, place) == second
    post(client, f"{place}/machine/{last}", [("do", "take away")])
    assert read_text(text_at(client, place)) == read_text(first)
    post(client, f"{place}/back", [])
    post(client, f"{place}/back", [])
    assert text_at(client, place) == first


def test_the_only_machine_cannot_be_taken_away(client, opened):
    answer = client.post(
        "/first", data={"region": "wires in mm2, motors in kW", "machine": "Saw", "plate": "2 kW"},
        headers=HERE, follow_redirects=False,
    )  # fmt: skip
    place = answer.headers["location"]
    told = post(client, f"{place}/machine/0", [("do", "take away")])
    assert told.status_code == 422
    assert "only machine" in told.text


def test_loads_of_the_supply_keep_what_the_form_does_not_ask(client, opened):
    place = opened("furniture-shop")
    shop = read_text(text_at(client, place))
    kept = [load for load in shop.supply.other_loads if load.lines == "one" or load.type]
    assert kept
    action, fields = sent_back(client.get(f"{place}/supply").text)
    typed = dict(fields)
    typed["loads"] += "\r\nwelder 20 A, may wait"
    assert post(client, action, typed.items()).status_code == 303
    after = read_text(text_at(client, place)).supply.other_loads
    assert after[:-1] == shop.supply.other_loads
    assert (after[-1].name, after[-1].current.number, after[-1].can_wait) == ("welder", 20.0, True)


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        ({"plate": "rubbish 3"}, "plate"),
        ({"plate": ""}, "plate"),
        ({"plate": "", "shaft_height": "90"}, "shaft_height"),
        ({"fuse": "60"}, "fuse"),
        ({"fuse": "60 kg"}, "fuse"),
        ({"machine": " "}, "machine"),
        ({"feeds": "steam"}, "feeds"),
        ({"region": ""}, "region"),
    ],
)
def test_an_answer_that_cannot_be_taken_is_marked_where_it_stands(client, typed, field):
    good = {
        "region": "wires in mm2, motors in kW", "feeds": "", "fuse": "60 A", "machine": "Lathe",
        "drives": "something else", "plate": "2.2 kW 230/400 V",
    }  # fmt: skip
    told = client.post("/first", data=good | typed, headers=HERE)
    assert told.status_code == 422
    assert f'id="{field}-why"' in told.text
    assert told.text.count('-why"') == 2  # the words, and the field that points to them
    for name, value in (good | typed).items():
        assert not value.strip() or name in ("region", "feeds", "drives") or value in told.text


def test_every_answer_of_the_first_visit_that_cannot_be_taken_is_marked_at_once(client):
    typed = {
        "region": "wires in mm2, motors in kW", "feeds": "steam", "fuse": "60 kg", "volts": "many",
        "machine": "", "drives": "something else", "plate": "2.2 kW 230/400",
    }  # fmt: skip
    told = client.post("/first", data=typed, headers=HERE)
    assert told.status_code == 422
    assert set(re.findall(r'id="([a-z_]+)-why"', told.text)) == {
        "feeds", "fuse", "volts", "machine", "plate",
    }  # fmt: skip
    assert "5 answers could not be taken" in told.text
    assert told.text.count("autofocus") == 1


def test_where_no_plate_is_typed_what_can_be_measured_stands_open(client):
    typed = {"region": "wires in mm2, motors in kW", "machine": "Saw", "plate": ""}
    told = client.post("/first", data=typed, headers=HERE).text
    assert re.search(r"<details open>\s*<summary>No plate", told)


def test_three_phases_that_are_there_have_the_volts_of_three_phases(client):
    typed = {
        "region": "wires in mm2, motors in kW", "feeds": "three phases already",
        "machine": "Saw", "drives": "something else", "plate": "2.2 kW 230/400 V",
    }  # fmt: skip
    place = client.post("/first", data=typed, headers=HERE, follow_redirects=False)
    supply = read_text(text_at(client, place.headers["location"])).supply
    assert (supply.kind, supply.voltage.number) == ("three_phase", 400.0)
    other = client.post(
        "/first", data=typed | {"volts": "230 V"}, headers=HERE, follow_redirects=False
    )
    supply = read_text(text_at(client, other.headers["location"])).supply
    assert supply.voltage.number == 230.0


def test_a_plate_that_is_typed_is_told_back(client, opened):
    place = opened("cider-barn")
    data = {"motor0.line": "2.2 kW 230/400V 8.6/5.0A 1430rpm 50Hz 6 leads"}
    told = client.post(f"{place}/plate/0/0", data=data, headers=HERE).text
    assert "Read: 2.2 kW, 230/400 V, 8.6/5.0 A, 50 Hz, 1430 rpm and 6 leads." in told
    assert "linked in delta for 230 V, where it takes 8.6 A" in told
    assert "W2-U1, U2-V1 and V2-W1" in told
    assert 'class="terminals"' in told
    wrong = client.post(f"{place}/plate/0/0", data={"motor0.line": "<b>3"}, headers=HERE).text
    assert "not taken" in wrong
    assert "<b>3" not in wrong


@pytest.mark.parametrize(
    ("region", "plate", "told"),
    [
        ("wires in mm2, motors in kW", "2,2 kW 230/400V 8.6/5A", "linked in delta for 230 V"),
        ("wires by gauge number (AWG), motors in horsepower", "3 HP 230/460V 60Hz 1725 RPM 9 leads",
         "linked for the low voltage for 230 V"),
        ("wires in mm2, motors in kW", "2,2", "not taken"),
    ],
)  # fmt: skip
def test_a_plate_is_told_back_on_the_first_page_and_of_a_new_machine(
    client, opened, region, plate, told
):
    data = {"region": region, "drives": "something else", "plate": plate, "fuse": "nonsense"}
    first = client.post("/first/plate", data=data, headers=HERE)
    assert first.status_code == 200
    assert told in first.text
    key = "cider-barn" if "mm2" in region else "furniture-shop"
    new = client.post(f"{opened(key)}/plate/new", data=data, headers=HERE)
    assert new.status_code == 200
    assert told in new.text


def test_the_cable_to_a_machine_and_its_room_are_told_and_taken_back(client, opened):
    place = opened("farm-sawmill")
    first = text_at(client, place)
    action, fields = sent_back(client.get(f"{place}/machine/0").text)
    typed = dict(fields) | {
        "cable.length": "12 m", "cable.conductor": "6 mm2", "cable.method": "on the wall",
        "cable.grouped": "2", "place": "",
    }  # fmt: skip
    assert post(client, action, typed.items()).status_code == 303
    machine = read_text(text_at(client, place)).machines[0]
    assert machine.cable.length.number == 12.0
    assert machine.cable.conductor.number == pytest.approx(6e-6)
    assert (machine.cable.method, machine.cable.grouped) == ("on_wall", 2)
    assert machine.place == ""
    back = dict(fields)
    action, fields = sent_back(client.get(f"{place}/machine/0").text)
    assert (
        post(
            client, action, (dict(fields) | back | {"state": dict(fields)["state"]}).items()
        ).status_code
        == 303
    )
    assert read_text(text_at(client, place)) == read_text(first)


def test_a_farm_and_its_neighbours_are_told_at_the_supply(client, opened):
    place = opened("farm-sawmill")
    action, fields = sent_back(client.get(f"{place}/supply").text)
    typed = dict(fields)
    assert (typed["farm"], typed["dwelling"]) == ("yes", "no")
    assert (
        post(client, action, (typed | {"farm": "", "dwelling": "yes"}).items()).status_code == 303
    )
    supply = read_text(text_at(client, place)).supply
    assert supply.farm is None
    assert supply.dwelling is True


def test_each_speed_of_a_two_speed_plate_has_its_own_picture(client, opened):
    place = opened("cider-barn")
    data = {"motor0.line": "1.5/2.2 kW 230 V 7.1/9.0 A 1420/2840 rpm 50 Hz D/YY"}
    told = client.post(f"{place}/plate/0/0", data=data, headers=HERE).text
    assert told.count('class="terminals"') == 2
    assert told.index("low speed") < told.index("high speed")
    assert "1U, 1V, 1W joined" in told


def test_the_circuit_of_a_machine_as_it_stands_is_told(client, opened):
    place = opened("farm-sawmill")
    action, fields = sent_back(client.get(f"{place}/machine/0").text)
    told = {
        "circuit.breaker": "C25", "circuit.residual_current.rating": "30 mA",
        "circuit.residual_current.type": "B", "circuit.protective_conductor": "4 mm2",
        "circuit.isolator.rating": "32 A", "circuit.isolator.lockable": "yes",
        "circuit.overload": "20 A", "circuit.undervoltage_release": "no",
    }  # fmt: skip
    answer = post(client, action, (dict(fields) | told).items())
    assert answer.status_code == 303, answer.text
    circuit = read_text(text_at(client, place)).machines[0].circuit
    assert circuit.breaker == "C25"
    assert circuit.residual_current.rating.number == pytest.approx(0.03)
    assert circuit.residual_current.type == "B"
    assert circuit.isolator.lockable is True
    assert circuit.overload.number == 20.0
    assert circuit.undervoltage_release is False
    wrong = post(client, f"{place}/machine/0", [("state", "2"), ("circuit.breaker", "strong")])
    assert wrong.status_code == 422
    assert "circuit.breaker" in wrong.text
    several = client.get(f"{opened('cider-barn')}/machine/0").text
    assert "circuit.breaker" not in several
