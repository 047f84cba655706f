"""Places, parts, prices and motors are added, doubled, renamed, moved, taken away, and come back."""

import html
import re

import pytest
from page.test_forms import post, sent_back, text_at

from phasewright.files.shop_file import read_text
from phasewright.files.shop_writing import entries_of

FURNITURE, BARN, MILL = "furniture-shop", "cider-barn", "farm-sawmill"


def filled_in(client, address, typed):
    """The form at an address sent with some answers in it."""
    action, fields = sent_back(client.get(address).text)
    return post(client, action, (dict(fields) | typed).items())


def shop_at(client, place):
    return read_text(text_at(client, place))


def test_a_place_is_added_machines_move_into_it_and_out_when_it_goes(client, opened):
    place = opened(BARN)
    first = text_at(client, place)
    action, fields = sent_back(client.get(f"{place}/things/place/new").text)
    typed = [f for f in fields if f[0] != "name"] + [
        ("name", "upper barn"), ("feeder.length", "40 m"), ("feeder.conductor", "10 mm2"),
        ("feeder.method", "in the ground"), ("dust", "yes"),
        ("machines", "Press"), ("machines", "Filter"),
    ]  # fmt: skip
    typed = list(dict.fromkeys((n, v) for n, v in typed if v or n == "state"))
    assert post(client, action, typed).status_code == 303
    shop = shop_at(client, place)
    assert shop.places[-1].name == "upper barn"
    assert shop.places[-1].feeder.length.number == 40.0
    assert shop.places[-1].dust is True
    inside = {machine.name for machine in shop.machines if machine.place == "upper barn"}
    assert inside == {"Press", "Filter"}
    seat = len(shop.places) - 1
    action, fields = sent_back(client.get(f"{place}/things/place/{seat}").text)
    renamed = [(n, "loft" if n == "name" else v) for n, v in fields]
    assert post(client, action, renamed).status_code == 303
    shop = shop_at(client, place)
    assert {machine.name for machine in shop.machines if machine.place == "loft"} == inside
    post(client, f"{place}/back", [])
    post(client, f"{place}/things/place/{seat}", [("do", "take away")])
    shop = shop_at(client, place)
    assert "upper barn" not in {entry.name for entry in shop.places}
    assert all(machine.place != "upper barn" for machine in shop.machines)
    for _ in range(2):
        post(client, f"{place}/back", [])
    assert text_at(client, place) == first


@pytest.mark.parametrize(
    ("page", "typed", "list_of", "told"),
    [
        ("things/shelf/new?kind=run_capacitor",
         {"capacitance": "50 uF", "voltage": "450 V", "count": "6"}, "owned_parts",
         lambda one: (one.kind, one.capacitance.number, one.count) == ("run_capacitor", 5e-5, 6)),
        ("things/shelf/new?kind=drive",
         {"power": "3 hp", "current": "9,6 A", "input_phases": "one"}, "owned_parts",
         lambda one: (one.kind, one.current[0].number, one.input_phases) == ("drive", 9.6, 1)),
        ("things/price/new?kind=utility_service",
         {"price": "8200,5", "standing_per_year": "260"}, "quotes",
         lambda one: (one.kind, one.price, one.standing_per_year)
         == ("utility_service", 8200.5, 260.0)),
        ("things/price/new?kind=machine_replaced", {"price": "900", "machine": "Press"}, "quotes",
         lambda one: (one.machine, one.price) == ("Press", 900.0)),
    ],
)  # fmt: skip
def test_a_part_or_a_price_is_told_doubled_and_taken_away(
    client, opened, page, typed, list_of, told
):
    place = opened(BARN)
    first = text_at(client, place)
    before = getattr(shop_at(client, place), list_of)
    assert filled_in(client, f"{place}/{page}", typed).status_code == 303
    after = getattr(shop_at(client, place), list_of)
    assert after[:-1] == before
    assert told(after[-1])
    what = page.split("/")[1]
    address = f"{place}/things/{what}/{len(before)}"
    assert post(client, address, [("do", "duplicate")]).status_code == 303
    one, other = getattr(shop_at(client, place), list_of)[-2:]
    assert entries_of(one, "IEC") == entries_of(other, "IEC")
    for _ in range(2):
        assert post(client, address, [("do", "take away")]).status_code == 303
    assert getattr(shop_at(client, place), list_of) == before
    for _ in range(4):
        post(client, f"{place}/back", [])
    assert text_at(client, place) == first


def test_a_heater_in_a_machine_is_told(client, opened):
    place = opened(BARN)
    typed = {"kind": "a heater or oven", "power": "9 kW", "phases": "three", "voltage": "400 V"}
    assert filled_in(client, f"{place}/machine/1/other/new", typed).status_code == 303
    machine = shop_at(client, place).machines[1]
    assert (machine.others[-1].kind, machine.others[-1].phases) == ("heater", 3)
    assert "A heater or oven, 9 kW" in client.get(f"{place}/machine/1").text


def test_several_mistakes_are_each_told_at_their_field_and_nothing_is_lost(client, opened):
    place = opened(MILL)
    before = text_at(client, place)
    typed = {
        "hours_per_year": "9000", "control.voltage": "24 kg", "motor0.load.torque": "nine",
        "motor0.line": "3 HP 220/440", "circuit.breaker": "strong", "motor0.wants.speed": "fast",
        "cable.length": "12 m",
    }  # fmt: skip
    told = filled_in(client, f"{place}/machine/0", typed)
    assert told.status_code == 422
    assert "6 answers could not be taken" in told.text
    marked = set(re.findall(r'name="([^"]+)"[^>]*aria-invalid="true"', told.text))
    assert marked == set(typed) - {"cable.length"}
    for name, value in typed.items():
        shown = re.search(rf'name="{re.escape(name)}" value="([^"]*)"', told.text)[1]
        assert html.unescape(shown) == value
    assert text_at(client, place) == before


def test_a_motor_is_doubled_and_renamed_where_an_order_names_it(client, opened):
    place = opened(BARN)
    at = next(
        n for n, machine in enumerate(shop_at(client, place).machines) if len(machine.motors) > 1
    )
    names = [motor.name for motor in shop_at(client, place).machines[at].motors]
    order = {"starts_before": f"{names[0]} before {names[1]}"}
    assert filled_in(client, f"{place}/machine/{at}", order).status_code == 303
    assert filled_in(client, f"{place}/machine/{at}", {"motor1.name": "worm"}).status_code == 303
    machine = shop_at(client, place).machines[at]
    assert machine.motors[1].name == "worm"
    assert machine.orders == ((names[0], "worm"),)
    post(client, f"{place}/machine/{at}", [("do", "duplicate motor 1")])
    motors = shop_at(client, place).machines[at].motors
    assert motors[-1].name == "worm 2"
    assert entries_of(motors[-1].plate, "IEC") == entries_of(motors[1].plate, "IEC")
    post(client, f"{place}/machine/{at}", [("do", f"take motor {len(motors) - 1}")])
    assert len(shop_at(client, place).machines[at].motors) == len(motors) - 1


def test_all_of_a_part_can_be_taken_back_at_once(client, opened):
    place = opened(MILL)
    whole = shop_at(client, place)
    typed = {"feeder.length": "", "feeder.conductor": "", "feeder.method": ""}
    assert filled_in(client, f"{place}/supply", typed).status_code == 303
    assert shop_at(client, place).supply.feeder is None
    wishes = {"wishes.plan_years": "", "wishes.labour": "", "wishes.who_wires": ""}
    assert filled_in(client, f"{place}/wishes", wishes).status_code == 303
    after = shop_at(client, place)
    assert after.wishes == type(after.wishes)()
    assert after.machines == whole.machines


def test_none_is_told_and_gives_way_again(client, opened):
    place = opened(MILL)
    key = "circuit.residual_current.rating"
    assert filled_in(client, f"{place}/machine/0", {key: "none"}).status_code == 303
    assert shop_at(client, place).machines[0].circuit.residual_current == "none"
    assert filled_in(client, f"{place}/machine/0", {}).status_code == 303
    assert shop_at(client, place).machines[0].circuit.residual_current == "none"
    assert filled_in(client, f"{place}/machine/0", {key: "30 mA"}).status_code == 303
    device = shop_at(client, place).machines[0].circuit.residual_current
    assert device.rating.number == pytest.approx(0.03)
    assert filled_in(client, f"{place}/machine/0", {key: "none"}).status_code == 303
    assert filled_in(client, f"{place}/machine/0", {key: ""}).status_code == 303
    assert shop_at(client, place).machines[0].circuit is None


@pytest.mark.parametrize(
    "address",
    ["things/place/99", "things/shelf/x", "things/nothing/new", "things/nothing",
     "machine/99/other/new", "machine/0/other/7", "source?id=nothing"],
)  # fmt: skip
def test_what_is_not_there_is_said_with_a_way_back(client, opened, address):
    told = client.get(f"{opened(MILL)}/{address}")
    assert told.status_code == 404
    assert "<a " in told.text


def test_a_machine_without_a_plate_is_added_as_one_to_come_where_it_will_stand(client, opened):
    place = opened(MILL)
    typed = {
        "name": "Planer", "drives": "circular saw, planer or cutter block", "plate": "",
        "shaft_height": "100 mm", "no_load_current": "3,2 A", "have": "it may come",
        "chance": "likely", "year": "2", "place": "saw shed",
    }  # fmt: skip
    assert filled_in(client, f"{place}/machine/new", typed).status_code == 303
    machine = shop_at(client, place).machines[-1]
    assert (machine.have, machine.chance, machine.year) == ("planned", 0.7, 2.0)
    assert machine.place == "saw shed"
    plate = machine.motors[0].plate
    assert plate.shaft_height.number == pytest.approx(0.1)
    assert plate.no_load_current.number == pytest.approx(3.2)
    seat = len(shop_at(client, place).machines) - 1
    assert filled_in(client, f"{place}/machine/{seat}", {"have": "it is here"}).status_code == 303
    machine = shop_at(client, place).machines[-1]
    assert (machine.have, machine.chance, machine.year) == ("owned", None, None)
    added = [("do", "another motor"), ("another", "feed"), ("plate", ""), ("drives", "magic"),
             ("winding_resistance", "12 ohm")]  # fmt: skip
    told = post(client, f"{place}/machine/{seat}", added)
    assert told.status_code == 422
    assert "magic" in html.unescape(told.text)
    added[3] = ("drives", "centrifugal water pump")
    assert post(client, f"{place}/machine/{seat}", added).status_code == 303
    assert shop_at(client, place).machines[-1].motors[-1].plate.winding_resistance.number == 12.0


def test_a_machine_without_plate_and_measures_is_asked_for_them(client, opened):
    place = opened(MILL)
    before = text_at(client, place)
    told = filled_in(client, f"{place}/machine/new", {"name": "Planer", "plate": ""})
    assert told.status_code == 422
    assert "<details open><summary>No plate" in told.text
    assert re.search(r'name="plate"[^>]*aria-invalid', told.text)
    assert text_at(client, place) == before


def test_a_plate_that_can_no_longer_be_read_gives_way_to_what_is_measured(client, opened):
    place = opened(MILL)
    typed = {"motor0.line": "", "motor0.plate.shaft_height": "132 mm"}
    assert filled_in(client, f"{place}/machine/0", typed).status_code == 303
    plate = shop_at(client, place).machines[0].motors[0].plate
    assert (plate.power, plate.voltage, plate.leads) == ((), (), None)
    assert plate.shaft_height.number == pytest.approx(0.132)


def test_a_socket_means_a_plug_and_a_country_may_be_typed_small(client, opened):
    place = opened(MILL)
    assert (
        filled_in(client, f"{place}/machine/0", {"circuit.socket.rating": "32 A"}).status_code
        == 303
    )
    assert shop_at(client, place).machines[0].connects_by == "plug"
    assert filled_in(client, f"{place}/supply", {"country": "fr"}).status_code == 303
    assert shop_at(client, place).supply.country == "FR"
