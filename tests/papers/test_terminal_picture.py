"""The picture of the links says what the words of the link say.

Source: terminal marks and links as in the words of `machines/link_words.py` (IEC 60034-8 and NEMA
MG 1 part 2, from memory); the two were written apart and are compared here.
"""

import re

import pytest

from phasewright.machines import link_words
from phasewright.papers.svg import boxes
from phasewright.papers.terminal_picture import block_of, terminal_picture, told


def joined(text):
    """Every set of terminals that a sentence joins."""
    text = re.sub(r"(the )?lines on [^;.:]*", "", text)
    sets = set()
    for part in re.split(r"[;:]", text):
        if "join" in part:
            sets.add(frozenset(re.findall(r"[UVW][12]|T[0-9]", part)))
            continue
        for pair in re.findall(r"([UVW]2)-([UVW]1)|([UVW]2) with ([UVW]1)", part):
            sets.add(frozenset(filter(None, pair)))
        for one, others in re.findall(r"(T[0-9]) with (T[0-9](?: (?:and|with) T[0-9])?)", part):
            sets.add(frozenset([one, *re.findall(r"T[0-9]", others)]))
    return sets


CASES = [
    ("delta", 6, "IEC", True, link_words.DELTA_6),
    ("star", 6, "IEC", False, "Star: links join U2, V2 and W2"),
    ("delta", 6, "NEC", True, link_words.DELTA_6_NEMA),
    ("star", 6, "NEC", False, link_words.STAR_6_NEMA),
    ("high_voltage", 9, "NEC", None, link_words.high_words(9, None)),
    ("low_voltage", 9, "NEC", False, link_words.low_words(9, False)),
    ("low_voltage", 9, "NEC", True, link_words.low_words(9, True)),
]


@pytest.mark.parametrize(("connection", "leads", "region", "delta", "words"), CASES)
def test_picture_and_words_join_the_same_terminals(connection, leads, region, delta, words):
    block = block_of(connection, leads, region, delta=delta)
    assert joined(words.split(" (on old")[0])
    assert joined(told(block)) == joined(words.split(" (on old")[0])
    ends = {mark for row in block.rows for mark in row}
    assert len(ends) == leads
    shown = {box.words for box in boxes(terminal_picture(connection, leads, region, delta=delta))}
    assert ends | {"L1", "L2", "L3"} == shown


@pytest.mark.parametrize(
    ("connection", "leads", "delta"),
    [("unknown", 9, None), ("low_voltage", 9, None), ("none", 3, None), ("delta", None, True),
     ("low_voltage", 12, True), ("delta", 9, True)],
)  # fmt: skip
def test_what_is_not_known_is_not_drawn(connection, leads, delta):
    assert terminal_picture(connection, leads, "IEC", delta=delta) is None
