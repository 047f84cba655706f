"""The answer on the screen: plain, 80 wide, every word beside its shape."""

import dataclasses
import io

import pytest
from filled_study import fill

from phasewright.command.answer import chosen, show
from phasewright.command.facts import findings
from phasewright.command.screen import Screen, amount, money, spread
from phasewright.command.starts import starts
from phasewright.plan.study import PlanSide, Study
from phasewright.quantities.value import Value, exact
from phasewright.quantities.words import VERDICT_WORDS, WAY_WORDS


def told(study, encoding="utf-8", width=80, reasons=False):
    raw = io.BytesIO()
    stream = io.TextIOWrapper(raw, encoding=encoding, errors="strict")
    console = Screen(file=stream, width=width, highlight=False, markup=False, emoji=False)
    show(console, study, reasons=reasons)
    stream.flush()
    return raw.getvalue().decode(encoding)


@pytest.fixture(scope="module")
def study():
    whole = fill(Study, full=True)
    plans = (dataclasses.replace(whole.plans[0], feasible=True), *whole.plans[1:])
    answer = dataclasses.replace(whole.answer, plan=plans[0].id)
    return dataclasses.replace(whole, answer=answer, plans=plans)


@pytest.mark.parametrize("width", [60, 80, 100])
def test_it_keeps_to_its_width_and_has_no_control_letters(study, width):
    text = told(study, width=width)
    assert max(map(len, text.splitlines())) <= width
    assert "\x1b" not in text


def test_it_says_everything_the_answer_holds(study):
    flat = " ".join(told(study, width=100).split())
    for words in (
        study.shop,
        study.answer.headline,
        *(reason.words for reason in study.answer.reasons),
        *(reason.words for reason in study.answer.cautions),
        *(reason.words for reason in study.answer.obstacles),
        *(motor.id for motor in study.motors),
        *(fact.words for fact in study.missing),
        *(change.what for change in study.answer.changes_if),
        *(plan.title for plan in study.plans[1:]),
    ):
        assert words in flat


def test_every_way_of_every_motor_stands_with_its_verdict_in_words(study):
    text = told(study, width=100, reasons=True)
    for motor in study.motors:
        for way in motor.ways:
            assert f"{VERDICT_WORDS[way.verdict]}: " in text
            assert WAY_WORDS[way.way] in " ".join(text.split())


def test_reasons_of_every_way_come_when_they_are_asked_for(study):
    whole, short = told(study, reasons=True), told(study)
    assert len(short) < len(whole)
    assert "--reasons" in short
    assert "--reasons" not in whole
    for part in short.split("\n\n"):
        assert part in whole or "--reasons" in part


def test_the_same_finding_of_several_subjects_is_said_once(study):
    one = dataclasses.replace(study.findings[0], words="it hums", subject="A")
    raw = io.StringIO()
    findings(Screen(file=raw, width=100), [one, dataclasses.replace(one, subject="B")])
    flat = " ".join(raw.getvalue().split())
    assert flat.count("it hums") == 1
    assert "A, B: it hums" in flat


def test_what_several_plans_give_up_is_said_once_below_them(study):
    words = "a long sentence that several plans give up alike, word for word, and that fills a line"
    reason = dataclasses.replace(study.plans[0].gives_up[0], words=words)
    others = tuple(
        dataclasses.replace(study.plans[0], id=name, gives_up=(reason,)) for name in ("x", "y")
    )
    flat = " ".join(told(dataclasses.replace(study, plans=others), width=100).split())
    assert flat.lower().count(words) == 1
    assert flat.count("(1)") == len(others) + 1


def test_the_verdicts_stand_in_a_table_with_shape_and_word(study):
    two = dataclasses.replace(study.motors[0].ways[0], verdict="suits", way="drive_per_motor")
    not_so = dataclasses.replace(two, verdict="refused", way="static_converter")
    maybe = dataclasses.replace(two, verdict="with_conditions", way="rotary_converter")
    motor = dataclasses.replace(study.motors[0], id="Lathe/spindle", ways=(not_so, maybe, two))
    text = told(dataclasses.replace(study, motors=(motor,)))
    row = next(row for row in text.splitlines() if row.startswith("  Lathe/spindle  "))
    assert row.split() == ["Lathe/spindle", "●", "yes", "◐", "if", "○", "no"]
    assert "● yes: suits   ◐ if: with conditions   ○ no: refused" in text


def test_what_is_refused_for_every_motor_is_said_once(study):
    way = dataclasses.replace(study.motors[0].ways[0], verdict="refused", way="direct")
    motors = tuple(
        dataclasses.replace(study.motors[0], id=name, ways=(way,)) for name in ("A/a", "B/b", "C/c")
    )
    flat = " ".join(told(dataclasses.replace(study, motors=motors)).split())
    assert (
        flat.count(WAY_WORDS["direct"])
        - flat.split("WHAT EACH MOTOR CAN")[0].count(WAY_WORDS["direct"])
        == 1
    )


def test_without_drawn_letters_the_words_still_stand(study):
    plain = dataclasses.replace(study, plans=(), motors=study.motors)
    text = told(plain, encoding="ascii")
    assert any(shape in text for shape in ("(+)", "(o)", "(-)"))


def test_a_bare_study_is_told_without_empty_headings():
    text = told(fill(Study, full=False))
    assert "TAKE CARE" not in text
    assert "WHAT TO BUY" not in text


def test_the_chosen_plan_is_the_one_the_answer_names(study):
    assert chosen(study) is study.plans[0]
    nameless = dataclasses.replace(study.answer, plan="no such plan")
    assert chosen(dataclasses.replace(study, answer=nameless)) is None


@pytest.mark.parametrize(
    ("number", "unit", "words"),
    [
        (2200.0, "W", "2.2 kW"),
        (4.75e-05, "F", "47.5 µF"),
        (8.6, "A", "8.6 A"),
        (0.72, "A", "0.72 A"),
        (210.4, "kWh", "210 kWh"),
        (12345.0, "kWh", "12,345 kWh"),
        (0.038, "", "0.038"),
    ],
)
def test_amounts_are_told_as_an_owner_reads_them(number, unit, words):
    assert amount(number, unit) == words


def test_a_spread_is_told_only_where_there_is_one():
    assert spread(exact(8.6, "A", "plate")) == "8.6 A"
    assert spread(Value(8.6, "A", 8.0, 9.1, "plate")) == "8.6 A (8 to 9.1 A)"
    assert spread(Value(900.0, "W", 800.0, 1100.0, "table")) == "900 W (800 W to 1.1 kW)"


def test_money_carries_a_sign_only_with_a_currency():
    assert money(1240.4, None) == "1,240"
    assert money(1240.4, "GBP") == "1,240 GBP"
    assert money(5.5, "GBP") == "5.50 GBP"


def test_the_starts_stand_with_what_helps_and_what_goes_wrong(study):
    flat = " ".join(told(study, width=100).split())
    (plan,) = (plan for plan in study.plans if plan.id == study.answer.plan)
    for start in plan.starts:
        for effect, how in (("helps", "easier"), ("hinders", "harder")):
            names = [each.motor for each in start.beside if each.effect == effect]
            words = f"{how} with {', '.join(names)} running"
            assert (words in flat) == bool(names)
    for on in plan.equipment:
        assert on.wrong_direction.words in flat
        assert on.wrong_direction.not_turned.words in flat
    assert f"Start them in this order: {', then '.join(plan.starting_order)}." in flat


def test_a_plan_without_a_start_has_no_such_heading(study):
    assert "STARTS" in told(study)
    bare = tuple(dataclasses.replace(plan, starts=()) for plan in study.plans)
    assert "STARTS" not in told(dataclasses.replace(study, plans=bare))


def test_a_start_that_fails_says_so_and_one_that_trips_names_what():
    plan = fill(PlanSide, full=True)
    trip = dataclasses.replace(plan.starts[0].trips[0], device="main fuse", kind="gG",
                               verdict="may_trip")  # fmt: skip
    stalls = dataclasses.replace(plan.starts[0], runs_up=False, trips=(trip,))
    raw = io.BytesIO()
    stream = io.TextIOWrapper(raw, encoding="utf-8")
    console = Screen(file=stream, width=100, highlight=False, markup=False, emoji=False)
    starts(console, dataclasses.replace(plan, starts=(stalls,)), "NEC")
    stream.flush()
    flat = " ".join(raw.getvalue().decode().split())
    assert "does not" in flat
    assert "main fuse (gG): may" in flat
