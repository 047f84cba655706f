"""Volts of a motor's windings from what its ends hang on, all windings taken as alike."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping

import numpy as np

from phasewright.machines.motor import Motor
from phasewright.papers.wiring.model import Pairs
from phasewright.papers.wiring.terminals import TerminalBox, box_of
from phasewright.quantities.codes import Connection, Region


def winding_volts(
    windings: Pairs, fed: Mapping[str, complex], node: Callable[[str], str]
) -> tuple[float, ...]:
    """Volts (rms) of each winding: ends of the same node are joined, `fed` are the volts of the
    nodes that are fed, and where nothing is fed the currents of equal windings balance.

    A winding that nothing reaches has no volts.
    """
    pairs = [(node(one), node(other)) for one, other in windings]
    free = sorted({end for pair in pairs for end in pair} - set(fed))
    place = {name: k for k, name in enumerate(free)}
    matrix = np.zeros((len(free), len(free)))
    right = np.zeros(len(free), dtype=complex)
    for one, other in pairs:
        for here, there in ((one, other), (other, one)):
            if here in place and here != there:
                matrix[place[here], place[here]] += 1.0
                if there in place:
                    matrix[place[here], place[there]] -= 1.0
                else:
                    right[place[here]] += fed[there]
    solved = np.linalg.lstsq(matrix, right, rcond=None)[0] if free else right
    volts = {**fed, **{name: complex(solved[k]) for name, k in place.items()}}
    return tuple(abs(volts[one] - volts[other]) for one, other in pairs)


def winding_share(box: TerminalBox) -> float | None:
    """Volts of the box's windings for one volt between its lines; None where they are not known."""
    if not box.sure or not box.windings or len(box.lines) != 3:
        return None
    at = {end: joint[0] for joint in box.joints for end in joint}
    fed = {
        end: complex(math.cos(turn), -math.sin(turn)) / math.sqrt(3.0)
        for end, turn in zip(box.lines, (0.0, 2.0 * math.pi / 3.0, 4.0 * math.pi / 3.0),
                             strict=True)
    }  # fmt: skip
    return max(winding_volts(box.windings, fed, lambda end: at.get(end, end)))


def rated_winding_v(motor: Motor, used: Connection | None, region: Region) -> float | None:
    """Volts of one winding by the motor's plate: from a link other than the one that is used,
    where the plate has one, so that a wrong link is seen. None where the inside is not known."""
    links = sorted(motor.links, key=lambda link: link.connection == used)
    for volts in _by_plate((link.line_voltage_v, box_of(link, motor.plate.leads, region))
                            for link in links):  # fmt: skip
        return volts
    return None


def _by_plate(links: Iterable[tuple[float, TerminalBox]]) -> Iterable[float]:
    for line_v, box in links:
        share = winding_share(box)
        if share is not None:
            yield line_v * share
