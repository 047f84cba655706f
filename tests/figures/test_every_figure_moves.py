"""Every figure moves when its causes move, and only then."""

import re

import pytest
from figures.cases import EDITS, result
from figures.table import IDENTITIES, ROWS

EVEN = 1e-7
"""Numbers are written with nine digits; a search for a root stops somewhat before."""


def moved(before, after):
    return abs(after - before) > EVEN * max(abs(before), abs(after))


@pytest.mark.parametrize(
    ("path", "before", "after", "how"), ROWS, ids=[f"{row[2]}: {row[0]}" for row in ROWS]
)
def test_it_moves(path, before, after, how):
    one, other = result(before), result(after)
    assert path in one, f"{path} is not in the result of {before!r}"
    assert path in other, f"{path} is not in the result of {after!r}"
    was, is_ = one[path][1], other[path][1]
    assert moved(was, is_), f"{path} stays at {was}"
    if how != "~":
        assert (is_ > was) == (how == "+"), f"{path}: {was} became {is_}"


def patterns_of(paths):
    found = set()
    for path, before, *_ in paths:
        found.add(result(before)[path][0])
    return found


def test_every_figure_of_the_base_shop_has_a_test():
    there = {pattern for case in ("base", "near") for pattern, _ in result(case).values()}
    tested = patterns_of(row for row in ROWS if row[0] in result(row[1]))
    left = there - tested - set(IDENTITIES)
    assert not left, f"no cause is known for {sorted(left)}"


def test_no_identity_is_left_over_and_none_is_tested_as_well():
    there = {pattern for pattern, _ in result("base").values()}
    assert set(IDENTITIES) <= there
    assert not set(IDENTITIES) & patterns_of(row for row in ROWS if row[0] in result(row[1]))


MONEY = (
    r"plans/[^/]*/(purchase|labour|energy_per_year|lifetime_cost|regret|years|buys)"
    r"|missing/.*/worth$"
    r"|supply/headroom_a$"  # that of the best plan, which may be another then
    r"|plans/[^/]*/starts/Sander/"  # what a machine to come will hang on is a matter of money
)
ONLY = {
    "more beside": r"supply/headroom_a|plans/.*/room_left_a",
    "larger service": r"supply/headroom_a|plans/.*/room_left_a",
    # a lamp burns while its machine turns, and with no other
    "brighter lamp": r"others/Mill/lamp 1/|supply/headroom_a|plans/[^/]*/supply_current_a/"
    r"|plans/[^/]*/cases/Mill/[^/]*/(supply_current_a|supply_power_w|room_left_a|harmonics/.*)$"
    r"|plans/[^/]*/circuits/supply to Mill/lamp 1/",
    "dearer energy": MONEY,
    "dearer fuel": rf"{MONEY}|.*/own_energy_price$",
    "dearer hours": MONEY,
    "longer plan": MONEY,
    "higher discount": MONEY,
    "surer machine": MONEY,
    "later machine": MONEY,
    "longer under load": rf"{MONEY}|assumed/.*|plans/[^/]*/starts/.*/starts_per_hour/windings/",
    # by a stop in time that is wished for nothing moves but the stop and money
    "a stop in 1 s": rf"{MONEY}|.*/price$"
    r"|.*Mill/cutter/.*(ramp_down_s|stopping/time_s|settings/ramp_down/value)$",
    "started more often": r"plans/[^/]*/starts/.*/starts_per_hour/asked$"
    r"|plans/[^/]*/network_effects/.*(flicker_|starts_per_hour$)|findings/.*(flicker|5_a) supply/",
    "more hours": rf"{MONEY}|missing/.*",
    "longer idling": rf"{MONEY}|plans/.*idle_energy|missing/.*",
    "dear drive": rf"{MONEY}|.*/price$",
    "dear single-phase motor": rf"{MONEY}|.*/price$",
    "dear idler": rf"{MONEY}|.*/price$",
}
POSITION = re.compile(r"plans/(plan \d+|best)/")  # another plan may stand there now


@pytest.mark.parametrize("case", ONLY)
def test_nothing_else_moves(case):
    base, other = result("base"), result(case)
    strayed = [
        path
        for path, (_, was) in base.items()
        if path in other
        and not POSITION.match(path)
        and moved(was, other[path][1])
        and not re.match(ONLY[case], path)
    ]
    assert not strayed


def of_cases(figure):
    """(before, after, whether the mill turns) of every case of a plan told by what it is."""
    was, is_ = result("base"), result("brighter lamp")
    paths = [path for path in was if re.match(rf"plans/[^/]*/cases/.*/{figure}$", path)]
    return [
        (was[path][1], is_[path][1], "Mill/cutter" in path)
        for path in paths
        if path in is_ and not POSITION.match(path)
    ]


def test_a_brighter_lamp_takes_just_its_watts_while_its_machine_turns():
    """0.4 A more of a lamp at 230 V are 92 W, whatever turns the motors beside it."""
    cases = of_cases("supply_power_w")
    assert {mill for *_, mill in cases} == {True, False}
    for was, is_, mill in cases:
        assert is_ - was == pytest.approx(0.4 * 230 if mill else 0.0, abs=1e-4)


def test_a_lamps_amps_add_as_phasors_and_leave_the_room():
    """In step with the volts where a motor lags: a sum shorter than that of the two lengths."""
    currents, rooms = of_cases("supply_current_a"), of_cases("room_left_a")
    assert currents
    for (was, is_, mill), (room, room_then, _) in zip(currents, rooms, strict=True):
        assert 0.0 < is_ - was < 0.4 if mill else is_ == was
        assert room - room_then == pytest.approx(is_ - was, abs=1e-6)


def test_more_beside_takes_just_its_amps_from_the_room():
    was, is_ = result("base"), result("more beside")
    for path in ("supply/headroom_a", "plans/drives/cases/Mill/cutter/room_left_a"):
        assert was[path][1] - is_[path][1] == pytest.approx(5.0)


def test_a_turning_point_stands_where_it_stands():
    """Seen from another price of energy it is the same, to the step it is told to."""
    path = "answer/changes_if/tariff.energy up/to"
    was, is_ = result("near")[path][1], result("near, dearer energy")[path][1]
    assert is_ == pytest.approx(was, rel=0.01)
    assert is_ > 0.27


def test_every_case_changes_the_base_shop():
    for case in EDITS:
        if case != "base":
            assert result(case) != result("base"), case
