"""Steps with what is measured in them as blocks of the report, close together.

Steps in which the same is read of one thing after another stand in one table, a step in a row; a
step that reads the same points of several things names those points once. What another reading
means is told once a sheet (`told`: the words and their number).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from phasewright.papers.report.blocks import Block, Column, Measured, Step, Table, bullets
from phasewright.papers.sheets import sheet as of

FEW, MOST = 3, 8
"""Readings of a step: so many at least, and at most, stand in a row."""
Numbered = tuple[int, of.Step]


def steps_of(steps: Sequence[of.Step], first: int, told: dict[str, int]) -> Iterator[Block]:
    """The blocks of steps that are numbered through from `first`."""
    numbered = list(enumerate(steps, start=first))
    head = next((k for k, each in numbered if each.measures), 0)
    for _, run in groupby(numbered, key=_read):
        like = list(run)
        if len(like) > 1 and FEW <= len(like[0][1].measures) <= MOST:
            yield from _rows(like, told)
        else:
            for number, each in like:
                yield _step(number, each, told, headed=number == head)


def _read(numbered: Numbered) -> tuple[tuple[str, str, str], ...] | int:
    """What a step reads, of whatever it is read; a step with a caution of its own stands alone."""
    number, step = numbered
    if step.caution or not step.measures:
        return -number
    return tuple((each.points, each.meter, each.differs) for each in step.measures)


def _rows(like: Sequence[Numbered], told: dict[str, int]) -> Iterator[Block]:
    """Steps in which the same is read, a row each, with room to write under what to expect."""
    read = like[0][1].measures
    new = _new(read, told)
    same = [len({step.measures[k].at for _, step in like}) == 1 for k in range(len(read))]
    heads = (
        _marked(each.points, each.at if alike else "")
        + (f" (if not: {told[each.differs]})" if each.differs else "")
        for each, alike in zip(read, same, strict=True)
    )
    columns = (Column("Step", 1.5), *(Column(head, 1.0) for head in heads))
    rows = tuple(
        (_marked(f"☐ {number}. {step.words.removesuffix(':')}", _own(step, same)),
         *(f"{each.expected}\nread:" for each in step.measures))
        for number, step in like
    )  # fmt: skip
    yield Table(columns, rows, small=True, wide=True)
    meters = "; ".join(dict.fromkeys(each.meter for each in read))
    means = ((f"{number}: if not:", words) for number, words in new)
    yield from bullets((("With:", meters), *means), "small")


def _own(step: of.Step, same: Sequence[bool]) -> str:
    """The devices of a step's readings that are not those of every step beside it."""
    own = (each.at for each, alike in zip(step.measures, same, strict=True) if not alike)
    return " ".join(dict.fromkeys(filter(None, own)))


def _marked(words: str, at: str) -> str:
    return f"{words} ({at})" if at else words


def _new(read: Sequence[of.Measure], told: dict[str, int]) -> tuple[tuple[int, str], ...]:
    """What other readings mean that was not told before, now with its number."""
    new = [each for each in dict.fromkeys(each.differs for each in read) if each not in told]
    for words in filter(None, new):
        told[words] = len(told) + 1
    return tuple((told[words], words) for words in new if words)


def _step(number: int, step: of.Step, told: dict[str, int], *, headed: bool) -> Step:
    new = _new(step.measures, told)
    measured: list[Measured] = []
    meter = points = ""
    for each in step.measures:
        several = sum(other.points == each.points for other in step.measures) > 1
        place = f"{each.points}, {each.meter}" if several else each.meter
        again = place == points if several else each.meter == meter
        meter, points = each.meter, place
        measured.append(
            Measured(
                _marked(each.of if several else each.between, each.at), "" if again else place,
                each.expected, told.get(each.differs, 0),
            )
        )  # fmt: skip
    return Step(number, step.words, step.caution, tuple(measured), new, headed)
