"""Parts with their prices, spare parts and meters: each device once, no price paid twice."""

import csv
import io
import re
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

import phasewright
from phasewright.job.papers import papers, wiring
from phasewright.papers.designations import Designations
from phasewright.papers.part_prices import prices_of
from phasewright.papers.part_standards import STANDARDS, standard_of
from phasewright.papers.parts_list import CABLE, part_lines
from phasewright.papers.spares import WEARS, instruments, spares_of

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
SHOPS = ("cider-barn", "furniture-shop", "farm-sawmill", "pottery")
pytestmark = pytest.mark.whole


@cache
def made(name):
    shop = phasewright.read(EXAMPLES / f"{name}.shop.yaml")
    study = phasewright.study(shop, quick=True)
    return shop, study, *wiring(shop, study)


@pytest.fixture(params=SHOPS)
def answered(request):
    return made(request.param)


def read(files, name):
    return list(csv.DictReader(io.StringIO(files[f"lists/{name}.csv"])))


def test_every_device_stands_in_one_line(answered):
    _, _, wires, plan = answered
    lines = part_lines(wires, plan)
    assert sorted(name for line in lines for name in line.designations) == sorted(
        device.id for device in wires.devices
    )
    for line in lines:
        if line.what != CABLE:
            assert int(line.quantity) == len(line.designations)


def test_no_part_of_the_plan_is_paid_for_twice(answered):
    _, _, wires, plan = answered
    paid = [each.price for each in prices_of(wires, plan).values() if each.price is not None]
    cables = [line.price for line in part_lines(wires, plan) if line.what == CABLE]
    bought = [part.price for buy in plan.buys for part in buy.parts]
    pieces = [each.price.expected.number for each in plan.circuit_parts or () if each.price]
    assert sum(paid) + sum(filter(None, cables)) <= sum(bought) + sum(pieces) + 1e-6
    assert sum(paid) > 0.3 * sum(bought)


def test_what_is_there_or_owned_is_not_bought(answered):
    _, _, wires, plan = answered
    prices = prices_of(wires, plan)
    for device in wires.devices:
        if device.kind == "motor":
            assert prices[device.id].getting == "there"
            assert prices[device.id].price is None
    owned = [part for buy in plan.buys for part in buy.parts if part.owned and part.quantity]
    capacitors = [part for part in owned if part.kind == "run_capacitor"]
    kept = [one for one in wires.devices
            if one.kind == "run_capacitor" and prices[one.id].getting == "owned"]  # fmt: skip
    assert len(kept) == sum(part.quantity for part in capacitors)


def test_a_price_has_an_origin_and_a_bought_guard_comes_from_a_figure(answered):
    _, _, wires, plan = answered
    for line in part_lines(wires, plan):
        if line.price is not None:
            assert line.price_origin
        if line.what == "breaker" and line.getting == "buy":
            assert re.match(r"design current \d", line.figure)


def test_standards_are_those_of_the_region():
    for kind, (iec, nec) in STANDARDS.items():
        assert re.match(r"(IEC|ISO) \d", iec)
        assert re.match(r"(UL|NEMA) ", nec)
        assert standard_of(kind, "IEC") == iec
        assert standard_of(kind, "NEC") == nec
    assert standard_of("no such kind", "IEC") == ""


def test_spares_are_of_what_is_there_and_wears(answered):
    _, _, wires, _ = answered
    kinds = {device.id: device.kind for device in wires.devices}
    spares = spares_of(wires)
    assert {name for each in spares for name in each.stands_for} == {
        name for name, kind in kinds.items() if kind in WEARS
    }
    assert all(each.keep >= 1 and each.why for each in spares)
    assert len({(each.what, each.specification) for each in spares}) == len(spares)


def test_every_meter_of_the_readings_is_on_the_list_with_its_range(answered):
    _, _, _, plan = answered
    found = {each.what: each for each in instruments(plan.readings_expected or ())}
    for reading in plan.readings_expected or ():
        if not reading.meter.startswith(("the same ", "the drive")):
            assert str(reading.step) in found[reading.meter].used


def test_the_lists_are_written(answered):
    shop, study, wires, plan = answered
    files = papers(shop, study).files
    assert [row["what"] for row in read(files, "parts")] == [
        line.what for line in part_lines(wires, plan)
    ]
    assert len(read(files, "spares")) == len(spares_of(wires))
    assert len(read(files, "meters")) > 5
    assert "drive_per_motor" not in files["lists/parts.csv"]


def test_what_stands_there_in_a_circuit_is_not_bought(answered):
    _, _, wires, plan = answered
    first = next(each for each in plan.circuits if each.device is not None and not each.there)
    stands = replace(plan, circuits=tuple(
        replace(each, there=("breaker",)) if each is first else each for each in plan.circuits
    ))  # fmt: skip
    guard = Designations(wires).in_circuit(first.id, "breaker")[0]
    assert prices_of(wires, plan)[guard].getting == "buy"
    assert prices_of(wires, stands)[guard].getting == "there"
