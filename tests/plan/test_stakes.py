"""What a missing fact is worth: against the ranked plans of the shop with the fact known."""

import re
from pathlib import Path

import pytest
from figures.cases import text_of

import phasewright
from phasewright.plan.arrays import choice_of
from phasewright.plan.facts import facts_of
from phasewright.plan.missing import missing_of
from phasewright.plan.search import rank, solve
from phasewright.plan.stakes import stake_of_limit
from phasewright.plan.terms import terms_of
from phasewright.plan.titles import content_of
from phasewright.plan.worlds import END_WEIGHT

BARN = Path(__file__).resolve().parents[2] / "examples" / "cider-barn.shop.yaml"


def without(text, *lines):
    for line in lines:
        text, count = re.subn(line, "", text)
        assert count
    return text


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    """(choice, plan) of a shop's text, kept."""
    kept = {}

    def make(text):
        if text not in kept:
            path = tmp_path_factory.mktemp("shop") / "a.shop.yaml"
            path.write_text(text, encoding="utf-8")
            shop = phasewright.read(path)
            choice = choice_of(facts_of(shop), terms_of(shop))
            kept[text] = choice, solve(choice.problem)
        return kept[text]

    return make


TEXT = BARN.read_text(encoding="utf-8")
UNKNOWN = without(TEXT, r" *hours_per_year: 120\n", r"tariff.*\n", r" *service_rating.*\n")


def facts(made, text):
    return {fact.path: fact for fact in missing_of(*made(text))}


def test_a_fact_that_was_given_is_not_asked(made):
    given, unknown = facts(made, TEXT), facts(made, UNKNOWN)
    for path in ("machines[0].hours_per_year", "tariff.energy", "supply.service_rating"):
        assert path not in given
        assert path in unknown


def loss(made, text, changed):
    """What today's plan costs more in the changed shop than the best plan there, from the ranked
    list of all plans."""
    choice, today = made(text)
    then, best = made(changed)
    plans = rank(then.problem, 400)
    same = next(plan for plan in plans if content_of(then, plan) == content_of(choice, today))
    return same.expected - best.expected


def test_the_worth_of_hours_is_that_of_the_ranked_plans(made):
    near = text_of("near, hours unknown")
    fact = facts(made, near)["machines[0].hours_per_year"]
    of = {
        end: near.replace("- name: Mill\n", f"- name: Mill\n    hours_per_year: {end}\n")
        for end in (fact.low, fact.high)
    }
    losses = [loss(made, near, text) for text in of.values()]
    assert max(losses) > 1.0
    assert fact.worth == pytest.approx(END_WEIGHT * sum(losses), rel=1e-6)
    assert "the plan, at its" in fact.would_change


def test_no_stake_where_no_end_changes_the_plan(made):
    fact = facts(made, UNKNOWN)["tariff.energy"]
    plans = {
        content_of(*made(f"{UNKNOWN}tariff: {{energy: {price}}}\n"))
        for price in (fact.low, 0.27, fact.high)
    }
    assert (len(plans) == 1) == (fact.worth == 0.0)


def test_a_service_too_small_for_the_plan_is_told_without_a_price(made):
    choice, today = made(UNKNOWN)
    low = stake_of_limit(choice, today, 14.0)
    assert low.title is not None
    assert low.loss is None
    assert stake_of_limit(choice, today, choice.facts.site.limit.current_a.number).loss == 0.0


@pytest.mark.parametrize("amps", [24, 30, 36])
def test_a_service_that_kept_plans_out_is_judged_again(made, amps):
    choice, today = made(TEXT.replace("service_rating: 60 A", f"service_rating: {amps} A"))
    wide, best = made(TEXT)
    stake = stake_of_limit(choice, today, 60.0)
    if content_of(choice, today) == content_of(wide, best):
        assert (stake.title, stake.loss) == (None, 0.0)
    elif today.serves_all:
        assert stake.title
        assert stake.loss == pytest.approx(today.expected - best.expected)
    else:
        assert stake.title
        assert stake.loss is None


NO_SAFETY = without(TEXT, r" *residual_current.*\n", r" *earthing.*\n", r" *earthed.*\n")


@pytest.mark.parametrize(
    ("path", "answer", "where"),
    [
        ("supply.earthed", "  earthed: line_2\n", "supply:\n"),
        ("supply.earthing", "  earthing: TT\n", "supply:\n"),
        ("supply.residual_current", "  residual_current: {rating: 30 mA}\n", "supply:\n"),
        ("machines[0].needs_neutral", "    needs_neutral: false\n", "  - name: Scratter\n"),
        ("machines[0].control.fed_from", "    control: {fed_from: two lines}\n",
         "  - name: Scratter\n"),
    ],
)  # fmt: skip
def test_what_safety_rests_on_is_asked_until_it_is_answered(made, path, answer, where):
    assert path in facts(made, NO_SAFETY)
    assert path not in facts(made, NO_SAFETY.replace(where, where + answer))


def test_a_tool_that_a_drive_may_turn_too_fast_is_asked_about(made):
    """A lathe on a drive: highest speed, chuck and brake; without a drive none of the three."""
    lathe = TEXT.replace("{kind: feed}", "{kind: spindle}")
    asked = {p for p in facts(made, lathe) if p.startswith("machines[0].") and ".motors" not in p}
    choice, plan = made(lathe)
    drives = {
        choice.facts.units[u].machine
        for u, o in enumerate(plan.options)
        if o >= 0 and choice.options[o].way == "drive_per_motor"
    }
    own = {"machines[0].never_above", "machines[0].spindle_nose"}
    assert (own <= asked) == ("Scratter" in drives)
    assert "machines[0].brake" in asked
