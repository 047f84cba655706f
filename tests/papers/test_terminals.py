"""The links of a terminal box make the volts they are for: found from the windings alone.

Every half winding is given the same volts along its own phase. Links that are right join only
points of the same potential, and the three lines then stand at equal volts, 120 degrees apart.
"""

import cmath
import math
from itertools import combinations

import pytest

from phasewright.papers.wiring.terminals import BOXES, speed_box, two_wire

THIRDS = {"1": 0, "2": 1, "3": 2, "U": 0, "V": 1, "W": 2}


def phase(begin, end):
    """Which third a winding belongs to: by the first number of its pair, in threes."""
    for name in (begin, end):
        if name[0] in "UVW":
            return THIRDS[name[0]]
    number = int(begin[1:])
    return (number - 1) % 3


def potentials(box):
    """Potential of every end against the first, and where two ways disagree."""
    near = {}
    for begin, end in box.windings:
        volts = cmath.exp(-2j * math.pi * phase(begin, end) / 3)
        near.setdefault(begin, []).append((end, -volts))
        near.setdefault(end, []).append((begin, volts))
    for joint in box.joints:
        for one, other in combinations(joint, 2):
            near.setdefault(one, []).append((other, 0.0))
            near.setdefault(other, []).append((one, 0.0))
    found, waiting, wrong = {box.lines[0]: 0j}, [box.lines[0]], []
    while waiting:
        at = waiting.pop()
        for other, volts in near[at]:
            value = found[at] + volts
            if other not in found:
                found[other] = value
                waiting.append(other)
            elif abs(found[other] - value) > 1e-9:
                wrong.append((at, other))
    return found, wrong


def line_volts(box):
    found, wrong = potentials(box)
    assert not wrong
    first, second, third = (found[end] for end in box.lines)
    return [abs(first - second), abs(second - third), abs(third - first)]


@pytest.mark.parametrize("key", sorted(BOXES), ids=str)
def test_links_make_equal_volts_between_the_lines(key):
    volts = line_volts(BOXES[key])
    assert volts == pytest.approx([volts[0]] * 3)
    assert volts[0] > 0.5


@pytest.mark.parametrize(
    ("leads", "delta", "volts"),
    [("9", False, math.sqrt(3)), ("9", True, 1.0), ("12", False, math.sqrt(3)), ("12", True, 1.0)],
)
def test_the_high_voltage_is_twice_the_low_one(leads, delta, volts):
    assert line_volts(BOXES[leads, delta, "low_voltage"])[0] == pytest.approx(volts)
    assert line_volts(BOXES[leads, delta, "high_voltage"])[0] == pytest.approx(2 * volts)


@pytest.mark.parametrize("leads", ["6", "6T"])
def test_star_is_for_root_three_times_the_volts_of_delta(leads):
    delta, star = BOXES[leads, True, "delta"], BOXES[leads, False, "star"]
    assert line_volts(star)[0] == pytest.approx(math.sqrt(3) * line_volts(delta)[0])


@pytest.mark.parametrize("key", sorted(BOXES), ids=str)
def test_every_end_is_in_one_joint_and_the_order_of_the_lines_is_kept(key):
    box = BOXES[key]
    ends = [end for joint in box.joints for end in joint]
    assert sorted(ends) == sorted(box.terminals)
    found, _ = potentials(box)
    turn = (found[box.lines[1]] - found[box.lines[2]]) / (found[box.lines[0]] - found[box.lines[1]])
    assert cmath.phase(turn) == pytest.approx(-2 * math.pi / 3)


def test_a_double_star_joins_the_other_speeds_ends_and_a_single_one_leaves_them_apart():
    double = speed_box("IEC", own_windings=False, high=True, double_star=True, words="")
    assert double.joints[-1] == ("1U", "1V", "1W")
    assert double.open == ()
    single = speed_box("IEC", own_windings=False, high=False, double_star=False, words="")
    assert single.open == ("2U", "2V", "2W")


def test_two_wires_have_nothing_to_link():
    assert two_wire("IEC").links == ()
