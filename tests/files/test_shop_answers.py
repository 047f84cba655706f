"""The shop file made of answers reads back, says what was not known, and judges as the reader does."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from phasewright.files.shop_answers import answers_text, mistakes
from phasewright.files.shop_file import read_text
from phasewright.quantities.errors import QuantityError
from phasewright.shop.interview import replay

PLATE = "2.2 kW 230/400 V 8.6/5 A 1430 rpm 50 Hz"
START = ["Ann's: barn #2", "GB", "1", "", "", "60 A"]
SHORT = [*START, "Lathe", "1", PLATE, "", "", "", "", ""]


def test_short_answers_read_back_as_they_were_given():
    draft, _ = replay(SHORT)
    text = answers_text(draft)
    shop = read_text(text)
    assert shop.shop == "Ann's: barn #2"
    assert shop.supply.earthed == "line_2"
    assert shop.supply.service_rating.number == 60.0
    assert [volts.number for volts in shop.machines[0].motors[0].plate.voltage] == [230.0, 400.0]
    assert shop.machines[0].motors[0].load.kind == "spindle"


def test_what_was_not_known_stands_in_comments_with_how_to_find_it_out():
    text = " ".join(answers_text(replay(SHORT)[0]).replace("#", " ").split())
    assert "not known: length in feeder. How long is the cable" in text
    assert "not known: spindle_nose." in text
    assert "Written as threaded (screwed on)" in text
    assert "not known: voltage (230 V is taken)" in text
    assert "not known: service_rating" not in text


def test_no_line_is_longer_than_the_house_writes():
    assert max(map(len, answers_text(replay(SHORT)[0]).splitlines())) <= 100


@pytest.mark.parametrize(
    ("answers", "words"),
    [
        ([*START[:1], "gb"], "'gb' is no country code"),
        ([*START[:3], "230"], "'230' has no unit"),
        ([*START[:2], "2", "120 V"], "is the voltage from one line to the centre"),
        ([*START[:5], "60"], "'60' has no unit"),
        ([*START, "a/b"], "holds a slash"),
        ([*START, "Lathe", "1", "hello"], "nothing tells the size of this motor"),
        ([*START, "Lathe", "1", "2.2 kW 5 V"], "is not credible here"),
        ([*START, "Lathe", "1", PLATE, "motor"], "is the name of machines[0].motors[0] too"),
        ([*START, "Lathe", "1", PLATE, "", "LATHE"], "is the name of machines[0] too"),
        ([*START, "Lathe", "1", PLATE, "", "", "y", "120/236 V"], "does not belong to a supply"),
    ],
)
def test_a_wrong_answer_is_told_in_the_words_of_the_file(answers, words):
    draft, _ = replay(answers)
    told = [f"{m.found}; {m.allowed}; {m.remedy}" for m in mistakes(draft)]
    assert len(told) == 1
    assert words in told[0]
    assert mistakes(replay(answers[:-1])[0]) == ()


TYPED = st.sampled_from(
    ["", "", "", "1", "2", "3", "y", "yes", "no", "60 A", "6 kVA", "25 m", "10 mm2", "240 V",
     "236/251 V", "90 mm", "5 ohm", "Lathe", "Saw", "Lathe, Saw", "kettle 9 A", PLATE,
     "3 HP 230/460V", "120", "0.3", "own", "2850 rpm", "16 A", "GB", "US", "x: [", "'", "#"]
) | st.text(max_size=12)  # fmt: skip


def taken(answers, text):
    """The draft and the next question where this answer is taken, else None."""
    try:
        draft, question = replay([*answers, text])
    except QuantityError:
        return None
    return None if mistakes(draft) else (draft, question)


@settings(deadline=None, max_examples=40)
@given(st.lists(TYPED, max_size=40))
def test_whatever_is_typed_there_is_a_way_on_and_what_comes_out_reads_back(typed):
    """Each answer is taken or refused, and from wherever that leads the interview can end."""
    answers, question = [], True
    for text in typed:
        if (after := taken(answers, text)) is not None:
            answers.append(text)
            draft, question = after
            if question is None:
                break
    for _ in range(400):
        if question is None:
            break
        text = next(t for t in ("", "1", "Lathe", "5 ohm") if taken(answers, t) is not None)
        draft, question = taken(answers, text)
        answers.append(text)
    assert question is None
    shop = read_text(answers_text(draft))
    assert [machine.name for machine in shop.machines] == [m["name"] for m in draft.machines]
