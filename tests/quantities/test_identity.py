"""Things that are hashed once are as equal, as hashed and as packed as any frozen data class."""

import pickle
from dataclasses import dataclass, fields, replace

from phasewright.quantities.identity import Hashed, hashed_once, the_same


@hashed_once
@dataclass(frozen=True, slots=True)
class _Tree(Hashed):
    name: str
    leaves: tuple[float, ...] = ()


class _Counts:
    """Something that tells how often its hash was asked for."""

    def __init__(self):
        self.asked = 0

    def __hash__(self):
        self.asked += 1
        return 7


def test_equals_hash_alike_and_a_change_is_hashed_anew():
    one, other = _Tree("oak", (1.0, 2.0)), _Tree("oak", (1.0, 2.0))
    assert (hash(one), one) == (hash(other), other)
    changed = replace(one, leaves=(1.0, 3.0))
    assert changed != one
    assert hash(changed) == hash(_Tree("oak", (1.0, 3.0))) != hash(one)
    assert {one: "it"}[other] == "it"


def test_the_hash_is_reckoned_once_and_is_no_part_of_the_thing():
    counts = _Counts()
    tree = _Tree("oak", (counts,))
    assert hash(tree) == hash(tree)
    assert counts.asked == 1
    assert [each.name for each in fields(tree)] == ["name", "leaves"]
    assert "_hash" not in repr(tree)


def test_the_hash_is_not_packed_because_another_process_hashes_otherwise():
    tree = _Tree("oak", (1.0,))
    before = pickle.dumps(tree)
    hash(tree)
    assert pickle.dumps(tree) == before
    again = pickle.loads(before)
    assert not hasattr(again, "_hash")
    assert (again, hash(again)) == (tree, hash(tree))


def test_of_equals_the_first_is_the_one():
    one, other = _Tree("elm", (1.0,)), _Tree("elm", (1.0,))
    assert one is not other
    assert the_same(one) is one
    assert the_same(other) is one
    assert the_same(replace(one, name="ash")).name == "ash"
