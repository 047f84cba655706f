"""The interview: few questions to a first answer, going back, what is left out, what is refused."""

import pytest

from phasewright.quantities import codes
from phasewright.quantities.errors import QuantityError
from phasewright.shop import machine_questions, questions
from phasewright.shop.interview import replay
from phasewright.shop.keys import Choice, ListOf, Part, keys_of
from phasewright.shop.machine import Machine, Motor
from phasewright.shop.model import Shop, Wishes
from phasewright.shop.supply import Supply, Tariff

PLATE = "2.2 kW 230/400 V 8.6/5 A 1430 rpm 50 Hz"
SHORT = ["Barn", "GB", "1", "", "", "60 A", "Lathe", "1", PLATE, "", "", "", "", ""]


def shape_at(made_of, key):
    """The shape of a key of the shop file, dots leading deeper."""
    *deeper, last = key.split(".")
    for part in deeper:
        shape = keys_of(made_of)[part].shape
        assert isinstance(shape, Part)
        made_of = shape.made_of
    return keys_of(made_of)[last].shape


ASKED = [
    *((Supply, q) for q in (questions.COUNTRY, questions.FUSE, questions.MEASURED,
                            questions.OTHER_LOAD, *questions.SUPPLY_MORE, *questions.MADE_HERE)),
    *((Machine, q) for q in (*machine_questions.MACHINE_MORE, machine_questions.SPINDLE_NOSE)),
    *((Motor, q) for q in machine_questions.MOTOR_MORE),
    (Shop, machine_questions.CURRENCY),
    (Tariff, machine_questions.ENERGY),
    *((Wishes, q) for q in machine_questions.WISHES),
]  # fmt: skip


@pytest.mark.parametrize(("made_of", "question"), ASKED, ids=lambda of: getattr(of, "key", ""))
def test_every_question_asks_for_a_key_and_offers_what_may_stand_there(made_of, question):
    shape = shape_at(made_of, question.key)
    assert question.asks.endswith("?")
    if isinstance(shape, Choice):
        assert {option.entry for option in question.options} <= set(shape.options)
    else:
        assert question.look or question.options
        assert not isinstance(shape, ListOf) or question is questions.OTHER_LOAD


def test_every_load_kind_can_be_chosen_in_words():
    offered = [option.entry for option in machine_questions.LOAD.options]
    assert sorted(offered) == sorted(codes.LOAD_KINDS)


@pytest.mark.parametrize("question", [machine_questions.LOAD, questions.SUPPLY_KIND])
def test_no_answer_means_two_things_and_enter_means_one_of_them(question):
    names = [name.casefold() for option in question.options
             for name in (option.words, *option.names)]  # fmt: skip
    assert len(names) == len(set(names))
    assert question.chosen(question.enter) in [option.entry for option in question.options]
    for number, option in enumerate(question.options, 1):
        assert question.chosen(str(number)) == question.chosen(option.words) == option.entry


@pytest.mark.parametrize("text", ["0", "22", "-1", "nonsense", "١"])
def test_what_is_no_answer_is_refused(text):
    with pytest.raises(QuantityError, match="a number from 1 to 21"):
        machine_questions.LOAD.chosen(text)


def test_a_dozen_short_answers_make_a_whole_shop():
    draft, question = replay(SHORT)
    assert question is None
    assert draft.top == {"shop": "Barn", "region": "IEC"}
    assert draft.machines[0]["motors"][0]["plate"]["power"] == "2.2 kW"
    assert len(SHORT) <= 14


def test_going_back_is_leaving_the_last_answer_out():
    for length in range(len(SHORT)):
        draft, question = replay(SHORT[:length])
        again, same = replay([*SHORT[:length], SHORT[length]][:-1])
        assert (question, draft) == (same, again)
        assert question is not None


def test_what_is_left_out_is_noted_with_its_question():
    draft, _ = replay(SHORT)
    left = {question.key for part in draft.unknown.values() for question in part}
    assert {"hours_per_year", "needs_neutral", "feeder.length", "load.start", "energy"} <= left
    assert "service_rating" not in left
    assert any(key.startswith("voltage (230 V") for key in left)


def test_without_a_country_the_region_is_asked_and_cannot_be_left_out():
    _, question = replay(["Barn", ""])
    assert question is questions.REGION
    with pytest.raises(QuantityError, match="cannot be left out"):
        replay(["Barn", "", ""])
    draft, _ = replay(["Barn", "", "2", "", "", ""])
    assert (draft.supply["voltage"], draft.supply["frequency"]) == ("240 V", "60 Hz")


def test_not_measured_to_earth_is_told_as_unknown():
    draft, _ = replay(["Barn", "GB", ""])
    assert draft.supply["earthed"] == "unknown"


def test_a_generator_is_asked_what_it_gives_and_no_fuse():
    draft, _ = replay(["Barn", "GB", "generator", "", "", "6 kVA", "9 kVA"])
    assert draft.supply["contracted_power"] == "6 kVA"
    assert draft.supply["surge"] == {"rating": "9 kVA"}
    asked = [replay(["Barn", "GB", "generator", "", "", "6 kVA", "9 kVA"][:n])[1]
             for n in range(8)]  # fmt: skip
    assert questions.FUSE not in asked


def test_a_motor_without_a_plate_must_be_measured():
    start = [*SHORT[:8], ""]
    assert replay(start)[1] == questions.NO_PLATE[0]
    draft, question = replay([*start, "3.2 A", "90 mm", ""])
    assert draft.machines[0]["motors"][0]["plate"] == {
        "no_load_current": "3.2 A", "shaft_height": "90 mm",
    }  # fmt: skip
    assert question == questions.NEXT_MOTOR
    with pytest.raises(QuantityError, match="cannot be left out"):
        replay([*start, "3.2 A", "", ""])


def test_what_was_read_off_the_plate_is_said_back():
    draft, _ = replay([*SHORT[:8], PLATE + " IP44"])
    assert "power 2.2 kW" in draft.said[0]
    assert draft.said[1] == "Not used: IP44."
    draft, _ = replay([*SHORT[:8], PLATE, ""])
    assert draft.said == ()


def test_machines_that_run_together_are_all_told_of_each_other():
    three = [*SHORT[:10], "Saw", "2", PLATE, "", "Fan", "fan", PLATE, "", ""]
    draft, _ = replay([*three, "lathe, saw, FAN"])
    assert draft.machines[0]["runs_with"] == ["Saw", "Fan"]
    assert draft.machines[1]["runs_with"] == ["Fan"]
    for group in ("Lathe", "Nobody, Saw", ",,"):
        with pytest.raises(QuantityError, match="names no two machines"):
            replay([*three, group])
