"""The part of the font has the letters of the whole, each as wide and with the same outline.

Source: OpenType specification 1.9, "Calculating checksums", and the tables named there.
"""

import struct

import pytest

from phasewright.papers.font import FOLDER, glyphs_of, letter_map, metrics, tables_at
from phasewright.papers.font_part import LETTERS, part_of, plain_letters

WHOLE = (FOLDER / "DejaVuSans.ttf").read_bytes()


def outline(data, letter):
    at = tables_at(data)
    glyph = glyphs_of(data, letter_map(data, at["cmap"]))[ord(letter)]
    kind, step = ("L", 4) if struct.unpack_from(">h", data, at["head"] + 50)[0] else ("H", 2)
    begin, end = struct.unpack_from(f">2{kind}", data, at["loca"] + step * glyph)
    times = 1 if step == 4 else 2
    return data[at["glyf"] + times * begin : at["glyf"] + times * end].rstrip(b"\0")


def test_its_letters_are_those_of_the_whole_font_within_the_runs():
    part = plain_letters()
    at = tables_at(part)
    here = set(glyphs_of(part, letter_map(part, at["cmap"]))) - {0xFFFF}
    wanted = {c for begin, end in LETTERS for c in range(begin, end + 1)}
    assert here == {ord(letter) for letter in metrics().widths} & wanted
    assert len(part) < 0.25 * len(WHOLE)


@pytest.mark.parametrize("letter", list("Aeg5%ÄåÅŁΔΩ×²½≤→●◐■△€"))
def test_each_letter_is_drawn_as_in_the_whole_font(letter):
    assert outline(plain_letters(), letter) == outline(WHOLE, letter) != b""


def test_the_parts_of_a_letter_with_an_accent_come_with_it():
    both = part_of(WHOLE, {ord("Ä")})
    at = tables_at(both)
    _, flags, glyph = 0, *struct.unpack_from(">HH", outline(both, "Ä"), 10)
    kind = struct.unpack_from(">2L", both, at["loca"] + 4 * glyph)
    assert kind[1] > kind[0], "the letter under the accent is empty"
    assert flags


def test_its_checksums_are_right():
    part = plain_letters()
    whole = sum(struct.unpack(f">{len(part) // 4}L", part)) & 0xFFFFFFFF
    assert whole == 0xB1B0AFBA
