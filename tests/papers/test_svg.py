"""The writer of drawings: well-formed whatever the words, measured as a typesetter measures."""

import itertools
import json
import xml.etree.ElementTree as ET

import pytest
import typst
from hypothesis import given
from hypothesis import strategies as st

from phasewright.papers import font
from phasewright.papers.picture import png
from phasewright.papers.svg import (
    Box,
    boxes,
    drawing,
    group,
    line,
    mark,
    polyline,
    svg,
    words,
    wrapped,
)

SPACE = "{http://www.w3.org/2000/svg}"


def typeset(text: str, size: float) -> float:
    """Width of the words as the typesetter finds it, without kerning [pt]."""
    sheet = f"""#let said = sys.inputs.said
#context [#metadata(measure(text(font: "DejaVu Sans", size: {size}pt, kerning: false,
  ligatures: false, said)).width.pt()) <w>]"""
    found = typst.query(
        sheet.encode(), "<w>", field="value", sys_inputs={"said": text},
        font_paths=typst.Fonts(include_system_fonts=False, font_paths=[font.FOLDER]),
    )  # fmt: skip
    return float(json.loads(found)[0])


@pytest.mark.parametrize(
    "text",
    ["Current from the supply (A)", "lines 2\u20133", "0.13 s Säge/Motor", "µΩ 1 500 WAVEfi"],
)
def test_words_are_as_wide_as_a_typesetter_finds_them(text):
    assert font.width_of(text, 11.0) == pytest.approx(typeset(text, 11.0), rel=1e-3)


def test_the_font_goes_with_its_licence():
    assert "Bitstream Vera Fonts Copyright" in (font.FOLDER / "DejaVuSans.LICENSE").read_text()


@given(st.text(max_size=40), st.text(max_size=40))
def test_any_words_make_a_drawing_that_can_be_read_back(text, title):
    whole = drawing(100, 50, title, "", group(words(text, (5, 20), 10), title=title))
    read = ET.fromstring(svg(whole))
    found = read.find(f".//{SPACE}text")
    kept = "".join(c for c in text if c >= " " and c not in "\ufffe\uffff" and c != "\ufffd")
    shown = "".join(c for c in (found.text or "") if c >= " " and c != "\ufffd")
    assert shown == kept


def test_numbers_are_short_and_signs_are_kept():
    text = svg(line((-0.5, -0.001), (10.0, 1 / 3)))
    assert text == '<line x1="-0.5" y1="0" x2="10" y2="0.33"/>\n'
    assert 'points="0,1 2.5,-3"' in svg(polyline([(0, 1), (2.5, -3)]))


def test_an_empty_attribute_is_left_out_and_names_are_those_of_the_language():
    assert svg(mark("rect", look="", stroke_width=2)) == '<rect stroke-width="2"/>\n'


def test_boxes_know_how_words_are_hung():
    left, middle, right = (
        next(boxes(words("wide", (50, 20), 10, anchor))) for anchor in ("start", "middle", "end")
    )
    assert left.left == middle.left + font.width_of("wide", 10) / 2 == right.right == 50
    assert left.top < 20 < left.bottom


def test_boxes_meet_where_they_share_room_only():
    box = Box("", 0, 0, 10, 10)
    assert box.meets(Box("", 9, 9, 20, 20))
    assert not box.meets(Box("", 10, 0, 20, 10))
    assert not box.meets(Box("", 0, 11, 10, 20))


def test_wrapping_keeps_the_words_and_the_width():
    text = "The motor reaches its speed in half a second and the lights fall by a tenth"
    lines = wrapped(text, 11, 150)
    assert " ".join(lines) == text
    assert len(lines) > 1
    assert all(font.width_of(part, 11) <= 150 for part in lines)


@pytest.mark.parametrize("wide", range(80, 200, 10))
def test_no_number_is_parted_from_its_unit(wide):
    text = "Breaker C6, 2.5 mm² and 3.5 kW at 230 V, 1,932 GBP, 20 ohm for 14 motors in 2 rooms"
    lines = wrapped(text, 11, wide)
    assert " ".join(lines) == text
    for one, next_one in itertools.pairwise(lines):
        assert one[-1] not in "0123456789" or next_one.startswith(("motors", "rooms"))


def test_a_picture_repeats_its_bytes_and_shows_what_is_drawn():
    plain = svg(drawing(40, 20, "a", "b"))
    drawn = svg(
        drawing(40, 20, "a", "b", line((0, 10), (40, 10)), mark("style", "line{stroke:red}"))
    )
    assert png(plain) == png(plain)
    assert png(plain) != png(drawn)
    assert png(plain)[:8] == b"\x89PNG\r\n\x1a\n"
    across, down = (int.from_bytes(png(plain)[at : at + 4], "big") for at in (16, 20))
    assert across == 2 * down
