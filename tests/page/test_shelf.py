"""Open shops: one study a text, none that nobody waits for, and none that somebody waits for lost."""

import threading
import time

import pytest
from page.conftest import ROOT

from phasewright.files.shop_file import read_text
from phasewright.page import shelf as shelves

TEXT = (ROOT / "examples" / "pottery.shop.yaml").read_text(encoding="utf-8")


@pytest.fixture
def told():
    """Shops whose study was begun, in order; the first one waits until it is let go."""
    return []


@pytest.fixture
def gate():
    return threading.Event()


@pytest.fixture
def shelf(monkeypatch, told, gate):
    def study(shop, *, progress):
        told.append(shop.shop)
        gate.wait(20.0)
        progress("looking", 1, 2)
        if shop.shop == "breaks":
            raise ZeroDivisionError("secret")
        return f"the answer for {shop.shop}"

    monkeypatch.setattr(shelves, "study", study)
    made = shelves.Shelf()
    yield made
    gate.set()
    made.close()


def named(name):
    return TEXT.replace(read_text(TEXT).shop, name)


def ended(*works):
    until = time.monotonic() + 20.0
    while not all(work.ended for work in works):
        assert time.monotonic() < until
        time.sleep(0.01)


def test_the_same_text_is_studied_once(shelf, told, gate):
    one, other = shelf.put(named("a")), shelf.put(named("a"))
    assert one.key != other.key
    gate.set()
    ended(one.work, other.work)
    assert told == ["a"]
    assert one.work.answer == "the answer for a"


def test_what_was_overtaken_is_not_begun(shelf, told, gate):
    shelf.put(named("first"))
    shop = shelf.put(named("overtaken"))
    shelf.change(shop, named("last"))
    gate.set()
    ended(shop.work)
    assert told == ["first", "last"]
    assert shop.work.answer == "the answer for last"


def test_what_somebody_else_waits_for_is_begun_all_the_same(shelf, told, gate):
    shelf.put(named("first"))
    shop, beside = shelf.put(named("both")), shelf.put(named("both"))
    asked = shelf.studied(named("asked"), read_text(named("asked")))
    third = shelf.put(named("asked"))
    shelf.change(shop, named("last"))
    shelf.change(third, named("last"))
    gate.set()
    ended(beside.work, asked, shop.work)
    assert told == ["first", "both", "asked", "last"]
    assert beside.work.answer == "the answer for both"
    assert asked.answer == "the answer for asked"


def test_a_text_that_was_overtaken_is_studied_when_it_comes_back(shelf, told, gate):
    shelf.put(named("first"))
    shop = shelf.put(named("away"))
    shelf.change(shop, named("there"))
    gate.set()
    ended(shop.work)
    shelf.back(shop)
    ended(shop.work)
    assert told == ["first", "there", "away"]
    assert shop.work.answer == "the answer for away"


def test_a_fault_ends_the_waiting_and_tells_nothing_of_the_inside(shelf, gate):
    shop = shelf.put(named("breaks"))
    gate.set()
    ended(shop.work)
    assert shop.work.answer is None
    assert "fault of this program" in shop.work.failed
    assert "secret" not in shop.work.failed


def test_the_oldest_shop_makes_room(shelf, gate):
    gate.set()
    first = shelf.put(TEXT)
    kept = [shelf.put(TEXT) for _ in range(shelves.MOST_SHOPS)]
    assert shelf.get(first.key) is None
    assert all(shelf.get(entry.key) is entry for entry in kept)
