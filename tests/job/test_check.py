"""The check of a file asks what the whole answer asks, before anything is computed."""

from pathlib import Path

import pytest

import phasewright
from phasewright.files.shop_file import read_text
from phasewright.job.check import check

EXAMPLES = sorted((Path(__file__).resolve().parents[2] / "examples").glob("*.shop.yaml"))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_what_the_answer_asks_was_asked_by_the_check(path):
    """A cable's length and a shared pipe decide only once circuits are sized: the check tells the
    length as assumed, and cannot know yet where a pipe would make a conductor thicker."""
    shop = phasewright.read(path)
    found = check(shop)
    asked = {fact.path for fact in found.missing}
    asked |= {each.path for each in found.assumed if each.field == "cable length"}
    answer = {fact.path for fact in phasewright.study(shop, quick=True).missing}
    assert {path for path in answer if not path.endswith(".cable.grouped")} <= asked


def test_nothing_is_weighed_by_the_check():
    assert all(
        fact.worth is None for path in EXAMPLES for fact in check(phasewright.read(path)).missing
    )


def test_what_the_check_says_of_a_file_the_answer_says_too():
    """Whatever a look at the file finds, of an unusual frequency too, the answer tells again."""
    text = (EXAMPLES[0].parent / "pottery.shop.yaml").read_text(encoding="utf-8")
    odd = read_text(text.replace("frequency: 50 Hz", "frequency: 42 Hz"))
    assert "supply.frequency" in {finding.id for finding in check(odd).findings}
    for shop in (odd, *map(phasewright.read, EXAMPLES)):
        told = {finding.id for finding in check(shop).findings}
        assert told <= {finding.id for finding in phasewright.study(shop, quick=True).findings}
