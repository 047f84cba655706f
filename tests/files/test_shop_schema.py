"""The schema for editors is current, valid, and agrees with the reader."""

import json

import jsonschema
import pytest
from files.shop_texts import EXAMPLES, FULL, ROOT, data

from phasewright.files.shop_file import read_text
from phasewright.files.shop_schema import shop_schema, shop_schema_text

JUDGE = jsonschema.Draft202012Validator(shop_schema())


def test_the_committed_schema_is_that_of_the_code():
    """`python tools/schemas.py` writes it anew."""
    committed = (ROOT / "docs" / "shop.schema.json").read_text(encoding="utf-8")
    assert committed == shop_schema_text()


def test_the_schema_is_a_schema():
    jsonschema.Draft202012Validator.check_schema(json.loads(shop_schema_text()))


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda path: path.name)
def test_the_examples_are_valid(example):
    JUDGE.validate(data(example.read_text(encoding="utf-8")))


def test_a_file_with_every_key_is_valid():
    JUDGE.validate(data(FULL))


@pytest.mark.parametrize(
    ("found", "instead"),
    [
        ("phasewright: 1\n", "phasewright: 2\n"),
        ("shop: Every key\n", ""),
        ("region: IEC", "region: iecc"),
        ("currency: GBP", "curency: GBP"),
        ("  voltage: 230 V\n", "  voltage: 230\n"),
        ("  voltage: 230 V\n", "  voltage: '230'\n"),
        ("can_wait: true", "can_wait: perhaps"),
        ("torque: 0.9", "torque: 9"),
        ("leads: 6", "leads: 6.5"),
        ("[0.5, 1.2]", "[0.5]"),
        ("labour: own", "labour: mine"),
        ("price: 240", "price: -1"),
    ],
)
def test_what_the_schema_can_tell_it_tells(found, instead):
    assert not JUDGE.is_valid(data(FULL.replace(found, instead)))


@pytest.mark.parametrize(
    ("found", "instead"),
    [
        ("labour: own", "labour: 45.5"),
        ("starts_before: pump before mill", "starts_before: [pump before mill]"),
        ("2.2 kW\n", "1 1/2 hp\n"),
        ("conductor: 10 mm2", "conductor: 1/0 AWG"),
        ("ambient: 30 °C", "ambient: -5 °C"),
        ("loop_impedance: 0.35 ohm", "loop_impedance: 350 mΩ"),
    ],
)
def test_what_the_reader_takes_the_schema_takes(found, instead):
    text = FULL.replace(found, instead)
    assert text != FULL
    read_text(text)
    JUDGE.validate(data(text))
