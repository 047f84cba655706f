"""Every figure of an answer has a name an owner reads, and money its currency."""

import dataclasses
import re
import typing
from collections import Counter
from collections.abc import Mapping
from pathlib import Path

import pytest

import phasewright
from phasewright.papers.workings.names import MONEY, NAMES, PLAIN, TIMES
from phasewright.papers.workings.places import figure_words, placed
from phasewright.papers.workings.sentences import spans
from phasewright.plan.study import Study
from phasewright.quantities.finding import Said
from phasewright.quantities.plain import figures
from phasewright.quantities.value import Value

EXAMPLES = sorted((Path(__file__).resolve().parents[2] / "examples").glob("*.shop.yaml"))
KEYS = re.compile(
    r"_|\b\d+$|\b(vuf|nema|thd|c12|c23|c31|expected|high(?! speed)|low(?! speed)|ratio)\b"
)
OF_LINES = re.compile(r"(lines? \d( and \d)?|line \d, .+)$")


@pytest.fixture(scope="module", params=EXAMPLES, ids=lambda path: path.name.split(".")[0])
def answered(request):
    shop = phasewright.read(request.param)
    return shop, phasewright.study(shop, quick=True)


def values_of(kind, path=()):
    """Every place of a figure that an answer may have, by the shapes it is made of."""
    if kind is Value:
        yield path
    for part in typing.get_args(kind):
        if part is not Ellipsis:
            yield from values_of(part, path)
    if dataclasses.is_dataclass(kind) and kind is not Value:
        told = typing.get_type_hints(kind)
        for entry in dataclasses.fields(kind):
            yield from values_of(told[entry.name], (*path, entry.name.removesuffix("_")))


def test_every_figure_an_answer_may_have_is_named():
    ends = {"value"}  # of what was taken and of readings: named by themselves
    lost = set()
    for path in set(values_of(Study)):
        tails = {"/".join(path[at:]) for at in range(len(path))}
        if not tails & set(NAMES) and path[-1] not in ends:
            lost.add("/".join(path))
    assert not lost


def test_every_kind_of_figure_is_of_one_that_is_there():
    others = {"price of a tariff": "tariff"}
    for kind in (MONEY, PLAIN, TIMES):
        assert kind - set(NAMES) <= set(others.values())
    assert not MONEY & PLAIN
    assert not MONEY & TIMES


def test_every_figure_of_an_example_is_told_in_words(answered):
    shop, study = answered
    for pointer, value in figures(study):
        of = placed(study, shop, pointer)
        assert of.value.number == value.number
        owners = [*(plan.title for plan in study.plans), *(each.name for each in shop.machines)]
        told = of.title
        for name in owners:
            told = told.replace(name, "it")
        assert not KEYS.search(OF_LINES.sub("", told)), f"{pointer}: {of.title}"


def test_money_carries_its_currency_and_nothing_else_does(answered):
    shop, study = answered
    currency = study.currency
    assert currency
    for pointer, _ in figures(study):
        of = placed(study, shop, pointer)
        assert (currency in figure_words(of, currency)) == (of.key in MONEY), pointer


def test_figures_of_one_plan_have_names_of_their_own(answered):
    shop, study = answered
    named = Counter(placed(study, shop, at).title for at, _ in figures(study.plans[0], "/plans/0"))
    assert not [title for title, times in named.items() if times > 1]


def sentences(tree, pointer=""):
    """Every sentence with figures that tell where they stand, and its place."""
    if dataclasses.is_dataclass(tree) and not isinstance(tree, type):
        told = getattr(tree, "figures", None)
        if isinstance(told, tuple) and told and isinstance(told[0], Said):
            yield pointer, getattr(tree, "words", None) or tree.headline, told
        for entry in dataclasses.fields(tree):
            below = getattr(tree, entry.name)
            yield from sentences(below, f"{pointer}/{entry.name.removesuffix('_')}")
    elif isinstance(tree, Mapping):
        for key, part in tree.items():
            yield from sentences(part, f"{pointer}/{key}")
    elif isinstance(tree, tuple):
        for place, part in enumerate(tree):
            yield from sentences(part, f"{pointer}/{place}")


def test_the_figures_in_a_sentence_are_those_it_says_they_are(answered):
    shop, study = answered
    found = 0
    for pointer, words, told in sentences(study):
        pieces = spans(words, pointer, told, study.currency)
        assert "".join(piece.words for piece in pieces) == words
        for piece in pieces:
            if not piece.own:
                continue
            try:
                of = placed(study, shop, piece.at)
            except LookupError:
                continue  # not one figure: the plan whose title it is, a sentence told again
            found += 1
            number = float(re.search(r"[\d.,]+", piece.words)[0].rstrip(".,").replace(",", ""))
            scale = {"%": 0.01, "kW": 1e3, "kV": 1e3, "kA": 1e3, "ms": 1e-3, "mA": 1e-3,
                     "µF": 1e-6, "mH": 1e-3, "min": 60.0}  # fmt: skip
            unit = piece.words.split()[-1] if " " in piece.words else piece.words[-1]
            number *= scale.get(unit, 1.0)
            ends = (of.value.low, of.value.number, of.value.high)
            assert any(number == pytest.approx(end, rel=0.06, abs=0.6 if end > 5 else 0.006)
                       for end in ends), (words, piece, ends)  # fmt: skip
    assert found >= 2
