"""The sheets, read back from their marks: nothing cut, nothing on top of another, and joined as
the wiring joins it."""

import csv
import io
import json
import xml.etree.ElementTree as ET
from collections import Counter
from dataclasses import replace
from itertools import combinations
from pathlib import Path

import jsonschema
import pytest
from filled_study import fill
from hypothesis import given, settings
from papers.drawn import crosses, dots, inked, joined, strokes
from papers.special_wirings import SPECIAL
from papers.wired import on_converter, on_drives, wired, wirings

from phasewright.files.wiring_files import files_of, wiring_schema_text
from phasewright.papers.drawings.gathered import Room, gathered
from phasewright.papers.drawings.look import EDGE
from phasewright.papers.drawings.sheets import revision_of, sheets_of
from phasewright.papers.drawings.symbols import INTERNATIONAL, LONG, NORTH_AMERICAN, shape_of
from phasewright.papers.drawings.terminal_boxes import box_drawing, like_boxes
from phasewright.papers.lists import labels_csv, parts_csv, wires_csv
from phasewright.papers.report.blocks import Picture
from phasewright.papers.report.drawings import alike, drawings
from phasewright.papers.report.looks import ROOM
from phasewright.papers.svg import boxes, svg
from phasewright.papers.wiring.check import nets
from phasewright.papers.wiring.model import There
from phasewright.plan.study import PlanSide

ROOT = Path(__file__).resolve().parents[2]
MOTORS = [
    ("Lathe", "six", "direct", None), ("Press", "two_speed", "two_speed_switch", 110),
    ("Saw", "star_delta", "star_delta", 24), ("Mill", "nine", "reversing_drum", None),
    ("Planer", "nine_star", None, None),
]  # fmt: skip
WIRINGS = {
    "converter": wired(*on_converter(MOTORS, travels=(20e-6,))),
    "converter in North America": wired(*on_converter(MOTORS, region="NEC")),
    "a bank of many cans": wired(*on_converter(MOTORS[:1], cans=((3e-6,) * 24, (30e-6,) * 9))),
    "drives": wired(*on_drives(MOTORS)),
    "drives in North America": wired(*on_drives(MOTORS, region="NEC")),
    "a shop of many machines": wired(
        *on_converter([(f"A machine with a long name, number {k}", "six", None, 24) for k in range(14)])
    ),
}  # fmt: skip
ALL = pytest.mark.parametrize(
    "wiring", [*WIRINGS.values(), *SPECIAL.values()], ids=[*WIRINGS, *SPECIAL]
)
EVERY = pytest.mark.parametrize("wiring", WIRINGS.values(), ids=WIRINGS)
NO_PLAN = replace(fill(PlanSide, full=False), buys=(), circuit_parts=None, circuits=None)
"""A plan of which nothing is known but that it is there: parts are listed without prices."""


def rows(text):
    return list(csv.DictReader(io.StringIO(text)))


def faults_of(page):
    """What is wrong with the look of a sheet."""
    of = dict(page.marks.attributes)
    right, bottom = float(of["width"]) - EDGE, float(of["height"]) - EDGE
    for box in boxes(page.marks):
        if box.left < EDGE or box.top < EDGE or box.right > right or box.bottom > bottom:
            yield f"{box.words!r} leaves its sheet"
    ink = inked(page.marks)
    for one, other in combinations(ink, 2):
        if one.meets(other):
            yield f"{one.words!r} on {other.words!r}"
    pieces = list(strokes(page.marks))
    for box in ink:
        if any(crosses(piece, box) for piece in pieces):
            yield f"a line through {box.words!r}"
    for piece in pieces:
        if any(not (EDGE - 1 <= x <= right + 1 and EDGE - 1 <= y <= bottom + 1) for x, y in piece):
            yield f"ink outside the frame at {piece}"


def groups(of):
    found = {}
    for terminal, net in of.items():
        found.setdefault(net, set()).add(terminal)
    return {frozenset(each) for each in found.values()}


def wired_together(wiring):
    """Terminals that conductors other than a motor's links join."""
    wires = [each for each in wiring.conductors if each.kind != "link"]
    of = nets(replace(wiring, conductors=tuple(wires)))
    return groups({end: of.of(end) for each in wires for end in (each.from_, each.to)})


def check(wiring):
    pages = sheets_of(wiring, "A plan")
    assert [fault for page in pages for fault in faults_of(page)] == []
    assert groups(joined(pages)) == wired_together(wiring)


@ALL
def test_a_sheet_is_clean_and_joins_what_the_wiring_joins(wiring):
    check(wiring)


@given(wirings())
@settings(max_examples=25, deadline=None)
def test_any_sheet_is_clean_and_joins_what_the_wiring_joins(drawn):
    check(drawn.wiring)


@EVERY
def test_where_three_wires_meet_there_is_a_dot(wiring):
    for page in sheets_of(wiring, "A plan"):
        ends = Counter(
            (round(x, 2), round(y, 2))
            for piece in strokes(page.marks, {"wire", "earth", "rail"}) for x, y in piece
        )  # fmt: skip
        dotted = {(round(x, 2), round(y, 2)) for x, y in dots(page.marks)}
        assert {at for at, count in ends.items() if count > 2} <= dotted


@ALL
def test_drawing_parts_list_and_wire_list_show_the_same(wiring):
    known = {device.id for device in wiring.devices}
    drawn = {
        terminal.partition(":")[0]
        for page in sheets_of(wiring, "A plan") for terminal, _ in page.spots
    }  # fmt: skip
    listed = [
        name for row in rows(parts_csv(wiring, NO_PLAN)) for name in row["designations"].split()
    ]
    assert sorted(listed) == sorted(known)
    assert drawn == known
    ends = [(row["from"], row["to"]) for row in rows(wires_csv(wiring))]
    assert ends == [(each.from_, each.to) for each in wiring.conductors]
    assert {end.partition(":")[0] for pair in ends for end in pair} == known


@EVERY
def test_quantities_of_the_parts_list_count_the_designations(wiring):
    for row in rows(parts_csv(wiring, NO_PLAN)):
        assert int(row["quantity"]) == len(row["designations"].split())
        assert row["get"] in ("buy", "there")
        assert row["price"] == ""


def test_both_ends_of_a_wire_bear_its_label():
    wiring = WIRINGS["converter"]
    labels = rows(labels_csv(wiring))
    wires = [each for each in wiring.conductors if each.kind == "wire"]
    assert sum(int(row["how many"]) for row in labels) == len(wiring.devices) + 2 * len(wires)


def test_two_plans_differ_on_paper_by_the_devices_in_which_their_wiring_differs():
    shop, plan = on_drives(MOTORS[:2])
    bare = replace(plan.buys[0], parts=tuple(p for p in plan.buys[0].parts if p.kind != "ac_choke"))
    one, other = wired(shop, plan), wired(shop, replace(plan, buys=(bare, plan.buys[1])))
    seen = [
        {t.partition(":")[0] for page in sheets_of(each, "A plan") for t, _ in page.spots}
        for each in (one, other)
    ]  # fmt: skip
    assert seen[0] - seen[1] == {d.id for d in one.devices} - {d.id for d in other.devices}
    assert seen[0] - seen[1] == {"=M1-R1"}
    assert seen[1] <= seen[0]


def test_drawings_of_all_plans_differ_by_the_devices_in_which_their_wiring_differs():
    """Of any two wirings, and of every sheet: designations drawn, listed and wired are the same."""
    shop, plan = on_drives(MOTORS[:3])
    bare = [replace(b, parts=tuple(p for p in b.parts if p.kind != "ac_choke")) for b in plan.buys]
    other = on_converter(MOTORS[:3])
    made = [wired(shop, plan), wired(*other),
            *(wired(shop, replace(plan, buys=(*plan.buys[:k], bare[k], *plan.buys[k + 1 :])))
              for k in range(3))]  # fmt: skip
    drawn = [
        {t.partition(":")[0] for page in sheets_of(each, "A plan") for t, _ in page.spots}
        for each in made
    ]
    for one, other in combinations(range(len(made)), 2):
        devices = [{device.id for device in made[k].devices} for k in (one, other)]
        assert drawn[one] ^ drawn[other] == devices[0] ^ devices[1]


def test_what_may_come_is_dashed_on_the_single_line_and_in_no_list():
    wiring = SPECIAL["with a machine to come"]
    assert [(each.unit, each.hangs_on) for each in wiring.later] == [("=M2", "=G0-X1")]
    page = next(p for p in sheets_of(wiring, "A plan") if "To come" in str(p.marks))
    dashed = [
        mark for mark in parts_of(page.marks) if dict(mark.attributes).get("class") == "later"
    ]
    said = {box.words for group in dashed for box in boxes(group)}
    assert {"=M2-F1", "=M2-Q1", "=M2-M1"} <= said
    assert any("70% likely" in words for words in said)
    assert "=M2" not in parts_csv(wiring, NO_PLAN) + wires_csv(wiring)
    assert not [p for p in sheets_of(WIRINGS["drives"], "A plan") if "To come" in str(p.marks)]


def test_what_is_there_already_stands_on_the_single_line_and_in_no_list():
    wiring = replace(WIRINGS["drives"], there=(There("lights and kettle", 15.0),))
    pages = sheets_of(wiring, "A plan")
    first = next(page for page in pages if "There already" in str(page.marks))
    assert first.name.endswith("-A0")
    assert not [fault for page in pages for fault in faults_of(page)]
    said = {box.words for box in boxes(first.marks)}
    assert {"=G0-E1", "15 A"} <= said
    assert "lights and kettle" in " ".join(said)
    assert "=G0-E1" not in parts_csv(wiring, NO_PLAN) + wires_csv(wiring)
    assert not [p for p in sheets_of(WIRINGS["drives"], "A plan") if "=G0-E1" in str(p.marks)]


def parts_of(mark):
    yield mark
    for each in mark.holds:
        if not isinstance(each, str):
            yield from parts_of(each)


def test_the_revision_changes_with_the_wiring_alone():
    one = wired(*on_drives(MOTORS[:2]))
    assert revision_of(one) == revision_of(wired(*on_drives(MOTORS[:2])))
    assert revision_of(one) != revision_of(wired(*on_drives(MOTORS[:3])))


def test_both_traditions_have_every_symbol_of_the_same_length():
    assert set(INTERNATIONAL) == set(NORTH_AMERICAN)
    for name in INTERNATIONAL:
        for region in ("IEC", "NEC"):
            points = [p for stroke in shape_of(name, region).strokes for p in stroke]
            assert (0.0, 0.0) in points
            assert (0.0, LONG) in points
    assert shape_of("coil", "IEC") != shape_of("coil", "NEC")


@EVERY
def test_references_name_the_sheet_where_the_rail_is_fed(wiring):
    pages = sheets_of(wiring, "A plan")
    at = {}
    for page in pages:
        for terminal, _ in page.spots:
            at.setdefault(terminal.partition(":")[0], set()).add(page.number)
    seen = 0
    for page in pages:
        for box in boxes(page.marks):
            head, _, sheet = box.words.partition("  (sheet ")
            if sheet:
                device = head.split()[-1].partition(":")[0]
                assert int(sheet.rstrip(")")) in at[device]
                seen += 1
    assert seen


def test_an_end_that_must_be_measured_is_never_said_to_stay_apart():
    wiring = WIRINGS["converter"]
    motor = wiring.device("=M4-M1")
    assert not motor.links_known
    assert wiring.device("=M5-M1").links_known
    said = [box.words for mark in box_drawing(wiring, (motor,), 0, 0).marks for box in boxes(mark)]
    assert said.count("?") == 6
    assert "apart" not in said


def test_the_files_can_be_read_back():
    wiring = WIRINGS["converter"]
    drawings = sheets_of(wiring, "A plan")
    files = dict(files_of(wiring, NO_PLAN, drawings))
    tree = json.loads(files["wiring.json"])
    jsonschema.Draft202012Validator(json.loads(wiring_schema_text())).validate(tree)
    assert tree["faults"] == []
    assert len(tree["devices"]) == len(wiring.devices)
    assert tree["conductors"][0]["from"] == wiring.conductors[0].from_
    sheets = [text for name, text in files.items() if name.startswith("drawings/")]
    assert len(sheets) == len(drawings)
    for sheet in sheets:
        assert ET.fromstring(sheet).tag.endswith("svg")
    assert {name for name in files if name.startswith("lists/")} == {
        f"lists/{name}.csv" for name in ("parts", "wires", "labels", "spares", "meters")
    }


def test_circuits_that_are_wired_alike_are_told_with_what_differs():
    wiring = wired(*on_drives([("Lathe", "six", "direct", None), ("Press", "six", "direct", None),
                               ("Mill", "nine", "reversing_drum", None)]))  # fmt: skip
    like = {first: [unit.id for unit in units] for first, units in alike(wiring).items()}
    assert like == {"=M1": ["=M2"]}
    told = " ".join(
        svg
        for block in drawings(wiring, "a4")
        if isinstance(block, Picture)
        for svg in [block.drawing]
    )
    assert "=M1  Motor" in told
    assert "=M2  Motor" not in told
    assert "Wired alike: =M2" in told


@EVERY
@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_gathered_drawings_are_clean_within_their_page_and_all_there(wiring, paper):
    wide, high = ROOM[paper]
    pages = gathered(wiring, Room(wide, high, 34.0), {})
    for number, page in enumerate(pages):
        of = dict(page.marks.attributes)
        if wiring is not WIRINGS["a bank of many cans"]:  # larger than a page: made smaller
            assert float(of["width"]) <= wide + 1e-6
            assert float(of["height"]) <= high - (34.0 if number == 0 else 0.0) + 1e-6
        ink = inked(page.marks)
        for one, other in combinations(ink, 2):
            assert not one.meets(other), f"{one.words!r} on {other.words!r}"
        pieces = list(strokes(page.marks))
        for box in ink:
            assert not any(crosses(piece, box) for piece in pieces), f"a line through {box.words!r}"
            assert 0.0 <= box.left < box.right <= float(of["width"])
        for piece in pieces:
            assert all(-0.1 <= x <= float(of["width"]) + 0.1 for x, _ in piece)
    told = {box.words for page in pages for box in boxes(page.marks)}
    for device in wiring.devices:
        names = (device.id, device.id.removeprefix(device.unit))
        assert any(name in words for name in names for words in told), device.id


@ALL
def test_no_letter_of_a_drawing_is_smaller_than_7_pt(wiring):
    def sizes(mark):
        if mark.name == "text":
            yield float(dict(mark.attributes)["font-size"])
        for each in mark.holds:
            if not isinstance(each, str):
                yield from sizes(each)

    for page in sheets_of(wiring, "A plan"):
        assert min(size for part in page.inside for size in sizes(part)) * 0.75 >= 7.0


def test_boxes_that_are_linked_alike_are_drawn_once_with_all_their_motors():
    wiring = WIRINGS["a shop of many machines"]
    groups = like_boxes(wiring)
    assert sorted(each.id for motors in groups for each in motors) == sorted(
        each.id for each in wiring.devices if each.kind in ("motor", "idler")
    )
    assert max(map(len, groups)) == 14
    for motors in groups:
        said = [
            box.words for mark in box_drawing(wiring, motors, 0, 0).marks for box in boxes(mark)
        ]
        assert all(any(words.startswith(f"{each.id} ") for words in said) for each in motors)


def test_the_schema_is_that_of_the_data_classes():
    kept = (ROOT / "docs" / "wiring.schema.json").read_text(encoding="utf-8")
    assert kept == wiring_schema_text(), "run: python tools/schemas.py"


def test_a_wiring_with_a_fault_is_written_and_not_drawn():
    wiring = WIRINGS["drives"]
    broken = replace(wiring, conductors=wiring.conductors[:-1])
    files = dict(files_of(broken, NO_PLAN, ()))
    assert set(files) == {"wiring.json"}
    assert json.loads(files["wiring.json"])["faults"]


def test_the_same_wiring_gives_the_same_bytes():
    wiring = WIRINGS["converter"]
    one, other = ([svg(page.marks) for page in sheets_of(wiring, "A plan")] for _ in range(2))
    assert one == other
