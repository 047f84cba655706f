"""Every figure moves when its causes move, and only then."""

import re
from pathlib import Path

import pytest
from figures import table
from figures.cases import EDITS, MIXER_EDITS, SMALL, WIDE, result
from figures.further_table import FURTHER_IDENTITIES, FURTHER_ROWS
from figures.named_figures import named
from stories.judged import studied

from phasewright.files.shop_file import read

# each worker would compute every case anew: all cases go to one, beside what the others do
pytestmark = pytest.mark.xdist_group("figures")

ROWS = [*table.ROWS, *FURTHER_ROWS]
IDENTITIES = {**table.IDENTITIES, **FURTHER_IDENTITIES}
EXAMPLES = sorted((Path(__file__).resolve().parents[2] / "examples").glob("*.shop.yaml"))
WHOLE = ("base", "near", f"{WIDE}base", f"{SMALL}base")
CASES = sorted(
    {*EDITS, *(WIDE + case for case in MIXER_EDITS), *(case for row in ROWS for case in row[1:3])}
)

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


def test_every_figure_of_the_shops_has_a_test():
    there = {pattern for case in WHOLE for pattern, _ in result(case).values()}
    tested = patterns_of(row for row in ROWS if row[0] in result(row[1]))
    left = there - tested - set(IDENTITIES)
    assert not left, f"no cause is known for {sorted(left)}"


SHOPS = (*EXAMPLES, "pond_pump", "off_grid", "threaded_nose", "hoist_and_brake", "dough")


@pytest.mark.parametrize("shop", SHOPS, ids=lambda shop: getattr(shop, "stem", shop))
def test_every_figure_of_the_examples_and_stories_has_a_test(shop):
    tree = studied(shop if isinstance(shop, str) else read(shop))
    there = {pattern for pattern, _ in named(tree).values()}
    left = there - patterns_of(ROWS) - set(IDENTITIES)
    assert not left, f"no cause is known for {sorted(left)}"


def test_no_identity_is_left_over_and_none_is_tested_as_well():
    there = {pattern for case in WHOLE for pattern, _ in result(case).values()}
    assert set(IDENTITIES) <= there
    assert not set(IDENTITIES) & patterns_of(row for row in ROWS if row[0] in result(row[1]))


MONEY = (
    r"plans/[^/]*/(purchase|labour|energy_per_year|lifetime_cost|regret|years|buys)",
    r"missing/.*/worth$",
    r"supply/headroom_a$",  # that of the best plan, which may be another then
    r"plans/[^/]*/(starts|motors_to_come)/Sander/",  # what a machine to come will hang on is a matter of money
)
PRICES = (*MONEY, r".*/price$")
ROOM = (r"supply/headroom_a$", r"plans/[^/]*/cases/.*/room_left_(starting_)?a$")
ONLY = {
    "more beside": ROOM,
    "larger service": ROOM,
    # a lamp burns while its machine turns, and with no other
    "brighter lamp": (
        r"others/Mill/lamp 1/",
        r"supply/headroom_a$",
        r"plans/[^/]*/supply_current_a/",
        r"plans/[^/]*/cases/Mill/[^/]*/(supply_(current_a|power_w)|room_left_(starting_)?a)$",
        r"plans/[^/]*/cases/Mill/[^/]*/harmonics/",
        r"plans/[^/]*/circuits/supply to Mill/lamp 1/",
    ),
    "dearer energy": MONEY,
    "dearer fuel": (*MONEY, r".*/own_energy_price$"),
    "dearer hours": MONEY,
    "longer plan": MONEY,
    "higher discount": MONEY,
    "surer machine": MONEY,
    "later machine": MONEY,
    "longer under load": (*MONEY, r"plans/[^/]*/starts/.*/starts_per_hour/windings/"),
    # by a stop in time that is wished for nothing moves but the stop and money
    "a stop in 1 s": (
        *PRICES,
        r".*Mill/cutter/.*(ramp_down_s|stopping/time_s|settings/ramp_down/value)$",
    ),
    "started more often": (
        r"plans/[^/]*/starts/.*/starts_per_hour/asked$",
        r"plans/[^/]*/network_effects/.*(flicker_|starts_per_hour$)",
        r"findings/.*(flicker|5_a) supply/",
    ),
    "more hours": MONEY,
    "longer idling": (*MONEY, r"plans/[^/]*/idle_energy_per_year_kwh$"),
    # a finding is told by its subject, and another plan of which it speaks is listed first then
    "dear drive": (
        *PRICES,
        r"findings/(circuit\.source_limits_fault electronic source|operator\.asked Pump/wheel)/",
    ),
    "dear single-phase motor": PRICES,
    "dear idler": PRICES,
}
POSITION = re.compile(r"plans/(plan \d+|best)/")


def unchanged(case):
    return next((f"{shop}base" for shop in (WIDE, SMALL) if case.startswith(shop)), "base")


def moved_by(case):
    """The paths of its shop that one case moves, but for those of plans told by their place,
    where another plan may stand then."""
    base, other = result(unchanged(case)), result(case)
    return [
        path
        for path, (_, was) in base.items()
        if path in other and not POSITION.match(path) and moved(was, other[path][1])
    ]


@pytest.mark.parametrize("case", ONLY)
def test_nothing_else_moves(case):
    strayed = [path for path in moved_by(case) if not re.match("|".join(ONLY[case]), path)]
    assert not strayed


def test_no_pattern_of_what_may_move_is_left_over():
    """A pattern by which nothing moved in any case that allows it would hide what may come."""
    allowed = {pattern for patterns in ONLY.values() for pattern in patterns}
    used = {
        pattern
        for case, patterns in ONLY.items()
        for pattern in patterns
        if any(re.match(pattern, path) for path in moved_by(case))
    }
    assert allowed == used


def test_an_identity_moves_with_no_cause():
    """What moves by a cause is none: its cause belongs into the rows."""
    moving = {
        (case, path)
        for case in CASES
        for path in moved_by(case)
        if result(case)[path][0] in IDENTITIES
    }
    assert not moving


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


def test_every_case_changes_its_shop():
    for case in CASES:
        if case != unchanged(case):
            assert result(case) != result(unchanged(case)), case
