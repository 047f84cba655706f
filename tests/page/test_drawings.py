"""Every sheet of the demo shops and of thirty random shops, looked at in a real browser."""

from pathlib import Path

import pytest
from long.drawn_shops import drawn
from papers.in_browser import seen, wrong_with

import phasewright
from phasewright.papers.drawings.sheets import sheets_of
from phasewright.papers.svg import drawing, line, words
from phasewright.plan.answer import answer

ROOT = Path(__file__).resolve().parents[2]
FIRST, SHOPS, PARTS = 40_000, 30, 3
EXAMPLES = sorted((ROOT / "examples").glob("*.shop.yaml"))
pytestmark = pytest.mark.whole


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_sheets_of_a_demo_shop_are_clean_in_a_browser(look, path):
    shop = phasewright.read(path)
    assert wrong_with(look(), shop, answer(shop, quick=True)) == []


@pytest.mark.parametrize("part", range(PARTS))
def test_sheets_of_random_shops_are_clean_in_a_browser(look, part):
    seed, done, wrong, window = FIRST + 1000 * part, 0, {}, look()
    while done < SHOPS // PARTS:
        shop = drawn(seed, most=2, most_motors=2)
        if shop is not None:
            done += 1
            if found := wrong_with(window, shop, answer(shop, quick=True)):
                wrong[seed] = found[:4]
        seed += 1
    assert wrong == {}


class Bad:
    """A sheet with marks that are wrong on purpose."""

    def __init__(self, *marks):
        self.marks = drawing(200.0, 100.0, "Bad", "Bad.", *marks)


@pytest.mark.parametrize(
    ("marks", "said"),
    [
        ([words("outside", (190.0, 50.0), 10.0)], "outside its sheet"),
        ([words("first", (20.0, 50.0), 10.0), words("other", (30.0, 52.0), 10.0)], "lies on"),
        ([words("crossed", (20.0, 50.0), 10.0), line((0.0, 46.0), (99.0, 46.0), "wire")],
         "a line goes through"),
    ],
    ids=["outside", "on another", "crossed"],
)  # fmt: skip
def test_what_is_wrong_is_seen(look, marks, said):
    found = seen(look(), [Bad(*marks)])
    assert len(found["wrong"]) == 1
    assert said in found["wrong"][0]


def test_the_sheets_are_read_whole(look):
    from papers.wired import on_converter, wired

    sheets = sheets_of(wired(*on_converter([("Lathe", "six", None, None)])), "A plan")
    found = seen(look(), sheets)
    assert found["texts"] > 100
    assert found["pieces"] > 300
