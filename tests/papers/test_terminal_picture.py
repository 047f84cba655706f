"""The picture of the links says what the words of the link say.

Source: terminal marks and links as in the words of `machines/link_words.py` (IEC 60034-8 and NEMA
MG 1 part 2, from memory); the two were written apart and are compared here.
"""

import re

import pytest

from phasewright.machines import link_words
from phasewright.papers.svg import boxes
from phasewright.papers.terminal_picture import block_of, drawn, speed_block, terminal_picture, told


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
     ("low_voltage", 12, None), ("delta", 12, True), ("delta", 9, True)],
)  # fmt: skip
def test_what_is_not_known_is_not_drawn(connection, leads, delta):
    assert terminal_picture(connection, leads, "IEC", delta=delta) is None


def nets(block):
    """Which ends are one net: links down a column and across a row, and the three lines."""
    parent = {end: end for row in block.rows for end in row}

    def root(end):
        while parent[end] != end:
            end = parent[end]
        return end

    for row in block.down:
        for at in range(3):
            parent[root(block.rows[row][at])] = root(block.rows[row + 1][at])
    for row in block.across:
        for at in (0, 1):
            parent[root(block.rows[row][at])] = root(block.rows[row][at + 1])
    return root


TWELVE = {
    "IEC": [("U1", "U2", "U5", "U6"), ("V1", "V2", "V5", "V6"), ("W1", "W2", "W5", "W6")],
    "NEC": [("T1", "T4", "T7", "T10"), ("T2", "T5", "T8", "T11"), ("T3", "T6", "T9", "T12")],
}


@pytest.mark.parametrize("region", ["IEC", "NEC"])
@pytest.mark.parametrize("delta", [True, False])
@pytest.mark.parametrize("connection", ["low_voltage", "high_voltage"])
def test_twelve_leads_put_both_halves_of_every_phase_between_the_same_two_places(
    region, delta, connection
):
    block = block_of(connection, 12, region, delta=delta)
    root = nets(block)
    lines = [root(end) for end in block.rows[-1]]
    assert len(set(lines)) == 3
    for at, (begin, end, begin_2, end_2) in enumerate(TWELVE[region]):
        other = lines[(at + 1) % 3]
        assert root(begin) == lines[at]
        if connection == "low_voltage":
            assert root(begin_2) == root(begin)
            last = (end, end_2)
        else:
            assert root(end) == root(begin_2) not in lines
            last = (end_2,)
        for each in last:
            assert root(each) == other if delta else root(each) not in lines


@pytest.mark.parametrize("region", ["IEC", "NEC"])
@pytest.mark.parametrize(
    ("winding", "name"),
    [
        ("delta", "low"),
        ("double_star", "high"),
        ("star", "low"),
        ("double_star", "low"),
        ("delta", "high"),
    ],
)
def test_a_speed_is_drawn_as_its_words_say(region, winding, name):
    from phasewright.machines.two_speed_words import ONE_WINDING, ONE_WINDING_NEMA

    words = (ONE_WINDING_NEMA if region == "NEC" else ONE_WINDING)[winding, name]
    block = speed_block("one_winding", winding, name, region)
    lines = re.search(r"the lines on ([^;.]*)", words)[1]
    assert set(re.findall(r"[12][UVW]|T[0-9]", lines)) == set(block.rows[-1])
    other = set(re.findall(r"[12][UVW]|T[0-9]", words)) - set(block.rows[-1])
    assert other == set(block.rows[0])
    assert ("joined" in words) == (block.across == (0,))
    assert {box.words for box in boxes(drawn(block))} == {
        *block.rows[0],
        *block.rows[1],
        "L1",
        "L2",
        "L3",
    }


def test_of_two_windings_one_speed_leaves_the_other_apart():
    for name, own in (("low", "1U"), ("high", "2U")):
        block = speed_block("two_windings", "own", name, "IEC")
        assert block.rows[-1][0] == own
        assert block.across == ()
    assert speed_block("unknown", "own", "low", "IEC") is None
