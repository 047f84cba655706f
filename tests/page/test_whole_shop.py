"""Every fact of a shop file can be told on the page, or stands here with the reason why not."""

import html
import re

import pytest
from page.test_forms import post, sent_back, text_at

from phasewright.files.shop_file import read_text
from phasewright.job.plate import LINE_KEYS
from phasewright.quantities.kinds import KINDS
from phasewright.quantities.units import format as printed
from phasewright.shop import keys
from phasewright.shop.bounds import shape_at
from phasewright.shop.keys import keys_of
from phasewright.shop.model import Shop
from phasewright.shop.thing_questions import PART, PRICE

NOT_ASKED = {
    "phasewright": "the form of the file, which the program writes",
    "supply.feeder.breaker": "the supply's own is its main fuse; the file refuses it there",
}
IN_ONE_BOX = {
    "supply.kind": "feeds", "supply.measured_voltage.low": "measured",
    "supply.measured_voltage.high": "measured",
    **{f"supply.other_loads[].{key}": "loads" for key in
       ("name", "current", "can_wait", "lines", "type")},
    **{f"machines[].motors[].plate.{key}": "line" for key in LINE_KEYS},
}  # fmt: skip
"""Facts that are typed together, and the field they are typed in."""
WORDS_NOT_OFFERED = {
    "supply.feeder.method": "the letters of IEC 60364-5-52: the form asks in words",
    "places[].feeder.method": "the same",
    "machines[].cable.method": "the same",
    "supply.converter_circuit.cable.method": "the same",
}


def every_key(made_of=Shop, at=""):
    for key in keys_of(made_of).values():
        path = f"{at}.{key.name}" if at else key.name
        inner = key.shape.item if isinstance(key.shape, keys.ListOf) else key.shape
        if isinstance(inner, keys.Part):
            listed = "[]" if inner is not key.shape else ""
            yield from every_key(inner.made_of, path + listed)
        else:
            yield path


def pages(place):
    """Every form of a shop with a machine of one motor first, and the path its fields begin at."""
    yield f"{place}/supply", "supply."
    yield f"{place}/wishes", ""
    yield f"{place}/converter", ""
    yield f"{place}/machine/0", "machines[]."
    yield f"{place}/machine/0/other/new", "machines[].others[]."
    yield f"{place}/things/place/new", "places[]."
    for kind in PART:
        yield f"{place}/things/shelf/new?kind={kind}", "owned_parts[]."
    for kind in PRICE:
        yield f"{place}/things/price/new?kind={kind}", "quotes[]."


def asked(page):
    """The names of the fields of the first form of a page, and the options of its choices."""
    _, fields = sent_back(page)
    names = {name for name, _ in fields} | set(
        re.findall(r'<input type="checkbox" name="([^"]+)"', page)
    )
    options = {
        name: {html.unescape(one) for one in re.findall(r"<option[^>]*>(.*?)</option>", inside)}
        for name, inside in re.findall(
            r'<select [^>]*name="([^"]+)"[^>]*>(.*?)</select>', page, re.S
        )
    }
    return names, options


def path_of(name, begins):
    """The path without numbers that a field of a form stands for."""
    if begins == "machines[]." and name.startswith("motor0."):
        return f"machines[].motors[].{name.removeprefix('motor0.')}"
    return begins + name


@pytest.fixture
def sawmill(client, opened):
    """A shop with a place and machines of one motor."""
    return opened("farm-sawmill")


def test_every_key_of_a_shop_file_is_asked_on_the_page(client, sawmill):
    told = set()
    for address, begins in pages(sawmill):
        names, _ = asked(client.get(address).text)
        told |= {path_of(name, begins) for name in names}
    boxes = {path for path, box in IN_ONE_BOX.items() if any(t.endswith(box) for t in told)}
    missing = set(every_key()) - told - boxes - set(NOT_ASKED)
    assert missing == {"machines[].motors[].name"}  # asked where a machine has several


def test_a_machine_of_several_motors_asks_their_names(client, opened):
    names, _ = asked(client.get(f"{opened('cider-barn')}/machine/0").text)
    assert {"motor0.name", "motor1.name"} <= names


def test_every_word_of_a_closed_list_can_be_chosen(client, sawmill):
    short = {}
    for address, begins in pages(sawmill):
        _, options = asked(client.get(address).text)
        for name, words in options.items():
            path = path_of(name, begins)
            shape = shape_at(path)
            if isinstance(shape, keys.Choice):
                there = len(words - {""})
                short[path] = min(short.get(path, 99), there - len(shape.options))
    few = {path for path, short_of in short.items() if short_of < 0}
    assert few == set(WORDS_NOT_OFFERED)


SAMPLES = {
    "supply.volts_to_earth.line_1": "238 V", "supply.volts_to_earth.line_2": "1 V",
    "supply.heater_test.unloaded": "238 V", "supply.heater_test.loaded": "233 V",
    "supply.country": "IE", "supply.voltage": "230 V", "supply.frequency": "50 Hz",
    "currency": "EUR", "machines[].starts_before": "Edger before Log chain",
    "machines[].motors[].load.wheel.rim": "5 cm", "machines[].motors[].load.wheel.diameter": "50 cm",
    "machines[].connects_by": "by plug and socket",
    "supply.converter_circuit.breaker": "C25", "machines[].circuit.breaker": "gG 25 A",
    "places[].feeder.breaker": "B32", "quotes[].machine": "Edger",
    "supply.earthing": "a rod of my own", "machines[].place": "saw shed",
}  # fmt: skip
APART = {
    "machines[].motors[].load.inertia", "machines[].motors[].load.run_up",
    "machines[].motors[].plate.leads", "machines[].have",
    "machines[].chance", "machines[].year", "supply.surge.rating", "supply.surge.seconds",
    "supply.surge.crest_factor", "region",
}  # fmt: skip
"""What cannot stand beside the other answers of the same form."""


def sample(path, options):
    """Something that may stand at a path, as an owner types it."""
    if path in SAMPLES:
        return SAMPLES[path]
    if options:
        return sorted(options)[0]
    shape = shape_at(path)
    if isinstance(shape, keys.Quantity):
        low, high = shape.low or KINDS[shape.kind].low, shape.high or KINDS[shape.kind].high
        return printed(max(low, 1e-6) ** 0.5 * high**0.5, shape.kind)
    if isinstance(shape, keys.Either):
        return "35"
    if isinstance(shape, keys.Number):
        middle = min(shape.high, max(shape.low, 2))
        return f"{middle:g}"
    return "0.5 to 1.2" if isinstance(shape, keys.Pair) else "evening"


def filled(page, begins):
    """The first form of a page with an answer in every field, and the paths that are then told."""
    action, fields = sent_back(page)
    _, options = asked(page)
    known = dict(fields)
    told = []
    for name in list(known):
        path = path_of(name, begins)
        listed = isinstance(shape_at(path), keys.ListOf) and path != "machines[].starts_before"
        if path in APART or shape_at(path) is None or listed:
            continue
        if path in ("owned_parts[].kind", "quotes[].kind"):
            told.append(path)  # chosen before the form
            continue
        offered = options.get(name, set()) - {""}
        inside = re.search(
            rf'<select [^>]*name="{re.escape(name)}"[^>]*>(.*?)</select>', page, re.S
        )
        if inside:  # the first option is that nothing is known, where it may be left out
            empty = re.search(r'<option value="">(.*?)</option>', inside[1])
            offered -= {html.unescape(empty[1])} if empty else set()
        known[name] = sample(path, offered)
        told.append(path)
    return action, known, told


def test_an_answer_to_every_question_stands_in_the_file(client, sawmill):
    for address, begins in pages(sawmill):
        page = client.get(address).text
        action, known, told = filled(page, begins)
        answer = post(client, action, known.items())
        assert answer.status_code == 303, (address, re.findall(r'class="refused".*', answer.text))
        lines = read_text(text_at(client, sawmill)).lines
        given = {re.sub(r"\[\d+\]", "[]", path) for path in lines}
        assert set(told) <= given, (address, set(told) - given)


@pytest.mark.parametrize("path", sorted(APART - {"machines[].have", "region"}))
def test_what_cannot_stand_beside_the_rest_stands_alone(client, sawmill, path):
    begins, page = ("supply.", "supply") if "surge" in path else ("machines[].", "machine/0")
    address = f"{sawmill}/{page}"
    if "surge" in path:
        _, fields = sent_back(client.get(address).text)
        typed = dict(fields) | {"feeds": "a generator", "surge.rating": "9 kVA"}
        assert post(client, address, typed.items()).status_code == 303
    elif "load" in path:
        _, fields = sent_back(client.get(address).text)
        typed = {n: "" if ".load.wheel." in n else v for n, v in fields}
        assert post(client, address, typed.items()).status_code == 303
    action, fields = sent_back(client.get(address).text)
    known = dict(fields)
    if path.endswith((".chance", ".year")):
        known["have"] = "it may come"
    name = path.removeprefix(begins).replace("motors[].", "motor0.")
    known[name] = {"chance": "maybe", "inertia": "0.15 kg m2", "run_up": "6 s"}.get(
        path.rsplit(".", 1)[1], "9 kVA" if path.endswith("rating") else "3"
    )
    told = post(client, action, known.items())
    assert told.status_code == 303, re.findall(r'class="refused".*', told.text)
    given = {re.sub(r"\[\d+\]", "[]", p) for p in read_text(text_at(client, sawmill)).lines}
    assert path in given
