"""One drive for several motors in invented shops: one at a time, or not at all.

What is asked for is common practice, no source. A start straight on takes six to nine times the
rated amps by the trade's word; what this motor takes is computed from its own circuit.
"""

import re

import pytest
from stories.judged import HERE, codes, judged, motor, words
from stories.moved import shop_of, tree_of

from phasewright.files.shop_file import read
from phasewright.plan.arrays import choice_of
from phasewright.plan.facts import facts_of
from phasewright.plan.terms import terms_of

TOOLS = ("Drill/main", "Bandsaw/main", "Scroll saw/main")


def choice(shop):
    facts = facts_of(read(HERE / f"{shop}.shop.yaml"))
    return choice_of(facts, terms_of(facts.shop))


def drives(of):
    return [one for one in of.facts.shared if one.way == "shared_drive"]


@pytest.mark.parametrize("name", TOOLS)
def test_three_tools_share_a_drive_by_an_interlocked_selector(name):
    of = judged("three_tools", name, "shared_drive")
    assert of.verdict == "with_conditions"
    asked = {"selector_interlocked", "own_overload", "never_onto_running"}
    assert asked <= codes(of.conditions)
    assert "early-break" in words(of.conditions)
    assert "at rest" in words(of.conditions)
    amps = motor("three_tools", name).current_at(of.link)
    assert f"set to {amps:.3g} A" in words(of.conditions)


def test_closing_one_onto_a_running_drive_is_many_times_what_a_drive_gives():
    of = judged("three_tools", "Drill/main", "shared_drive")
    said = next(each.words for each in of.conditions if each.code == "never_onto_running")
    times, gives = (float(each) for each in re.findall(r"(\d+\.\d) times", said))
    assert 3.5 < times < 9.0
    assert times > 2.0 * gives


def test_one_at_a_time_the_drive_is_sized_for_the_largest():
    """2.2 A and not the 6.2 A of all three."""
    of = choice("three_tools")
    for one in drives(of):
        assert 2.2 <= one.figures.drive_rating_a.number < 6.2
        assert one.rating == 370.0
    (whole,) = [one for one in drives(of) if all(one.serves(k) for k in range(3))]
    lead = [unit.id for k, unit in enumerate(of.facts.units) if whole.serves(k).variant == 1]
    assert lead == ["Bandsaw/main"]


def test_a_spindle_with_pump_and_feed_behind_one_cabinet_is_refused():
    for name in ("spindle", "pump", "feed"):
        of = judged("cabinet_lathe", f"Lathe/{name}", "shared_drive")
        assert of.verdict == "refused"
        assert codes(of.reasons) == {"several_motors"}
        assert "a drive of its own" in words(of.reasons)
        assert "converter" in words(of.reasons)
    assert judged("cabinet_lathe", "Drill/main", "shared_drive").verdict == "with_conditions"


def two_blowers(**keys):
    """A machine with two like motors, and a second one, so that there is something to share."""
    tree = tree_of("cabinet_lathe")
    drill = tree["machines"][1]
    blower = {
        "name": "one", "load": {"kind": "fan"}, "plate": drill["motors"][0]["plate"],
    }  # fmt: skip
    twin = {**drill, "name": "Twin", "motors": [blower, {**blower, "name": "two"}], **keys}
    return shop_of({**tree, "machines": [drill, twin]})


def test_like_motors_of_one_machine_share_a_drive_unless_one_must_run_first():
    """A drive starts all that hang on it at once."""
    for name in ("one", "two"):
        assert judged(two_blowers(), f"Twin/{name}", "shared_drive").verdict == "with_conditions"
        of = judged(two_blowers(starts_before=["one before two"]), f"Twin/{name}", "shared_drive")
        assert of.verdict == "refused"
        assert codes(of.reasons) == {"one_after_another"}
        assert "one must run before two" in words(of.reasons)
    other = two_blowers(starts_before=["Twin before Drill"])
    assert judged(other, "Twin/one", "shared_drive").verdict == "with_conditions"


def test_a_machine_that_must_not_share_leaves_nothing_to_share_with():
    assert drives(choice("cabinet_lathe")) == []
