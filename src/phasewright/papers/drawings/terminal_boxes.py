"""The motors' terminal boxes: which ends are joined, which take the lines, which stay apart."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from phasewright.papers.drawings.look import (
    NAME,
    PITCH,
    SAYS,
    TERMINAL,
    circle,
    rectangle,
)
from phasewright.papers.svg import Mark, line, words, wrapped
from phasewright.papers.wiring.model import Device, Wiring
from phasewright.papers.wiring.nets import Nets

STUD, ACROSS, DOWN = 4.5, 40.0, 27.0
LEAST = 250.0


@dataclass(frozen=True, slots=True)
class Joint:
    """Ends that are joined by links, and what arrives at them, where something does."""

    ends: tuple[str, ...]
    arrives: str


@dataclass(frozen=True, slots=True)
class BoxDrawing:
    """A terminal box: its marks from (0, 0), and its size."""

    marks: tuple[Mark, ...]
    width: float
    height: float


def joints_of(wiring: Wiring, motor: Device) -> tuple[Joint, ...]:
    """The motor's ends, joined as the links of the wiring join them."""
    nets = Nets()
    arrives: dict[str, str] = {}
    for each in wiring.conductors:
        if each.kind == "link":
            nets.join(each.from_, each.to)
    for each in wiring.conductors:
        if each.kind == "wire" and each.to.startswith(f"{motor.id}:"):
            arrives.setdefault(nets.of(each.to), each.mark)
    groups: dict[str, list[str]] = {}
    for end in motor.terminals:
        groups.setdefault(nets.of(motor.at(end)), []).append(end)
    wired = {each.to for each in wiring.conductors if each.kind == "wire"}
    found = [
        Joint(tuple(sorted(ends, key=lambda end: motor.at(end) not in wired)), arrives.get(net, ""))
        for net, ends in groups.items()
    ]
    return tuple(
        sorted(found, key=lambda joint: ("PE" in joint.ends, not joint.arrives, joint.arrives))
    )


def motors_of(wiring: Wiring) -> Iterator[Device]:
    """Every motor with a terminal box."""
    return (each for each in wiring.devices if each.kind in ("motor", "idler"))


def like_boxes(wiring: Wiring) -> list[tuple[Device, ...]]:
    """The motors whose boxes are linked alike, with the same to be told of them, together."""
    found: dict[object, list[Device]] = {}
    for motor in motors_of(wiring):
        form = (joints_of(wiring, motor), motor.left_open, motor.links_known, motor.note)
        found.setdefault(form, []).append(motor)
    return [tuple(motors) for motors in found.values()]


def box_drawing(wiring: Wiring, motors: Sequence[Device], x: float, y: float) -> BoxDrawing:
    """The drawing of the box of motors that are linked alike, with its upper left corner at
    (x, y)."""
    motor = motors[0]
    joints = joints_of(wiring, motor)
    inner = ACROSS * len(joints) + 12.0
    wide = max(inner, LEAST)
    heads = [line for each in motors for line in wrapped(f"{each.id}  {each.words}", NAME, wide)]
    most = max(len(joint.ends) for joint in joints)
    top, deep = y + 31.0 + (PITCH + 1.7) * len(heads), DOWN * most + 14.0
    marks = [words(each, (x, y + 10.0 + (PITCH + 1.7) * k), NAME) for k, each in enumerate(heads)]
    marks.append(rectangle((x, top), inner, deep, "frame"))
    for k, joint in enumerate(joints):
        marks += _joint(motor, joint, x + 24.0 + ACROSS * k, top)
    below = top + deep + 4.0
    for text in wrapped(motor.note, SAYS, wide):
        below += PITCH
        marks.append(words(text, (x, below), SAYS))
    return BoxDrawing(tuple(marks), wide, below + 18.0 - y)


def _joint(motor: Device, joint: Joint, x: float, top: float) -> list[Mark]:
    marks: list[Mark] = []
    heights = [top + 18.0 + DOWN * k for k in range(len(joint.ends))]
    if joint.arrives:
        marks += [
            words(joint.arrives.replace(" generated", "*"), (x, top - 14.0), SAYS, "middle"),
            line((x, top - 10.0), (x, heights[0] - STUD), "wire"),
        ]
    for one, other in pairwise(heights):
        marks.append(line((x, one + STUD), (x, other - STUD), "rail"))
    for end, height in zip(joint.ends, heights, strict=True):
        marks.append(circle((x, height), STUD, "eye"))
        marks.append(words(end, (x + 7.0, height + 3.0), TERMINAL))
        if end in motor.left_open:
            said = "apart" if motor.links_known else "?"
            marks.append(words(said, (x, height + 14.0), TERMINAL, "middle", "quiet"))
    return marks
