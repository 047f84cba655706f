"""Open shops: one study a text, none that nobody waits for, and none that somebody waits for lost."""

import pytest
from page.conftest import ROOT

from phasewright.files.shop_file import read_text
from phasewright.page.limits import Bounds
from phasewright.page.shelf import Shelf
from phasewright.quantities.errors import ShopFileError

TEXT = (ROOT / "examples" / "pottery.shop.yaml").read_text(encoding="utf-8")


class Line:
    """Stands for the processes: notes what is begun, and from which answer it is looked at, and
    what is dropped; the test says what ends."""

    def __init__(self):
        self.begun, self.seen_from, self.dropped = [], [], []

    def begin(self, one, before="", who=""):
        self.begun.append(one)
        self.seen_from.append(before)

    def drop(self, one):
        if one.text:
            self.dropped.append(one)

    def close(self):
        pass

    def names(self):
        return [read_text(one.text).shop for one in self.begun]

    def end(self, one):
        one.packed = b"an answer"


@pytest.fixture
def line():
    return Line()


@pytest.fixture
def shelf(line):
    return Shelf(studies=line)


def named(name):
    return TEXT.replace(read_text(TEXT).shop, name)


def test_the_same_text_is_studied_once(shelf, line):
    one, other = shelf.put(named("a")), shelf.put(named("a"))
    assert one.key != other.key
    assert one.work is other.work
    assert line.names() == ["a"]


def test_what_was_overtaken_is_dropped(shelf, line):
    shop = shelf.put(named("overtaken"))
    was = shop.work
    shelf.change(shop, named("last"))
    assert line.dropped == [was]
    assert line.names() == ["overtaken", "last"]


def test_what_somebody_else_waits_for_is_done_all_the_same(shelf, line):
    shop, beside = shelf.put(named("both")), shelf.put(named("both"))
    asked = shelf.studied(named("asked"), read_text(named("asked")))
    third = shelf.put(named("asked"))
    shelf.change(shop, named("last"))
    shelf.change(third, named("last"))
    assert line.dropped == []
    assert beside.work is line.begun[0]
    assert asked is line.begun[1]


def test_what_has_its_answer_is_never_dropped(shelf, line):
    shop = shelf.put(named("a"))
    line.end(shop.work)
    shelf.change(shop, named("b"))
    shelf.back(shop)
    assert line.names() == ["a", "b"]
    assert shop.work is line.begun[0]
    assert line.dropped == [line.begun[1]]


def test_a_text_that_was_overtaken_is_studied_when_it_comes_back(shelf, line):
    shop = shelf.put(named("away"))
    shelf.change(shop, named("there"))
    shelf.back(shop)
    assert line.names() == ["away", "there", "away"]
    assert shop.work is line.begun[2]


def test_a_change_is_looked_at_from_the_last_answer_or_the_last_state(shelf, line):
    shop = shelf.put(named("a"))
    shelf.change(shop, named("b"))
    line.end(shop.work)
    shelf.change(shop, named("c"))
    shelf.change(shop, named("d"))
    assert line.seen_from == ["", named("a"), named("b"), named("b")]


def test_what_found_no_room_is_asked_for_anew_when_it_is_looked_at(shelf, line):
    shop = shelf.put(named("a"))
    shop.work.failed, shop.work.again = "Too many", True
    assert shelf.get(shop.key).work is line.begun[1]
    assert not shop.work.ended


def test_the_oldest_shop_makes_room_and_is_worked_for_no_more(line):
    shelf = Shelf(studies=line, bounds=Bounds(shops=3))
    first = shelf.put(named("first"))
    kept = [shelf.put(named(f"shop {number}")) for number in range(3)]
    assert shelf.get(first.key) is None
    assert line.dropped == [first.work]
    assert all(shelf.get(entry.key) is entry for entry in kept)


@pytest.mark.parametrize(
    ("bounds", "words"),
    [(Bounds(text=1000), "up to 1 kB"), (Bounds(motors=0), "up to 0 motors")],
)
def test_a_shop_that_is_too_large_here_is_refused_with_a_way_out(line, bounds, words):
    shelf = Shelf(studies=line, bounds=bounds)
    for opens in (lambda: shelf.put(TEXT), lambda: shelf.studied(TEXT, read_text(TEXT))):
        with pytest.raises(ShopFileError) as refused:
            opens()
        assert words in str(refused.value)
        assert "your own computer" in str(refused.value)
    assert line.begun == []
