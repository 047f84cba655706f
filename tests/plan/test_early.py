"""What is told of a changed shop at once is what the whole answer then says of the same plan."""

import pytest
from page.conftest import ROOT

from phasewright.job.stages import Desk
from phasewright.job.texts import rewritten, shop_of

pytestmark = pytest.mark.whole
PRIVATE = """
phasewright: 1
shop: Shed
region: IEC
supply: {kind: single_phase, voltage: 230 V, frequency: 50 Hz, service_rating: 60 A, feeder: {length: 30 m, conductor: 10 mm2}}
tariff: {energy: 0.3}
machines:
  - name: Saw
    hours_per_year: 100
    motors:
      - {name: blade, plate: {power: 2.2 kW, voltage: 230/400 V, current: 8.6/5 A, speed: 2850 rpm, leads: 6}, load: {kind: saw}}
  - name: Fan
    hours_per_year: 100
    runs_with: [Saw]
    motors:
      - {name: fan, plate: {power: 1.1 kW, voltage: 230/400 V, current: 4.6/2.65 A, speed: 1430 rpm, leads: 6}, load: {kind: fan}}
"""
BARN = (ROOT / "examples" / "cider-barn.shop.yaml").read_text(encoding="utf-8")


def looked(text, changes):
    """The answer, what is known of the changed shop at once, and its own answer."""
    desk = Desk()
    before = desk.study(shop_of(text), text)
    new, shop = rewritten(text, changes)
    return before, desk.look(shop, text), desk.study(shop, new)


def running_a(study, title):
    """Amps of the plan of this name at the most."""
    return next(p.supply_current_a.running.number for p in study.plans if p.title == title)


@pytest.mark.parametrize(
    ("path", "value", "touched"),
    [
        ("machines[1].motors[0].plate.power", "1.3 kW", ["Fan/fan"]),
        ("machines[0].motors[0].load.torque", 0.7, ["Saw/blade"]),
        ("supply.voltage", "236 V", ["Saw/blade", "Fan/fan"]),
        ("supply.service_rating", "40 A", []),
        ("tariff.energy", 0.5, []),
    ],
)
def test_amps_of_the_line_are_those_of_the_whole_answer_on_the_same_plan(path, value, touched):
    before, look, after = looked(PRIVATE, {path: value})
    assert [motor.id for motor in look.motors] == touched
    line = look.line
    assert line.hangs
    assert line.before_a.number == pytest.approx(running_a(before, line.plan), rel=1e-12)
    assert line.now_a.number == pytest.approx(running_a(after, line.plan), rel=1e-9)
    changed = path.startswith("machines") or path == "supply.voltage"
    assert (line.now_a.number != line.before_a.number) == changed
    known = {motor.id: motor for motor in after.motors}
    for motor in look.motors:
        whole = known[motor.id]
        assert motor.full_load_current_a == whole.full_load_current_a
        assert motor.torque == whole.torque
        assert set(motor.ways) <= set(whole.ways)
        assert motor.ways


def test_on_a_converter_a_stronger_machine_takes_more_and_one_too_large_hangs_no_more():
    desk = Desk()
    before = desk.study(shop_of(BARN), BARN)
    shop = shop_of(BARN)
    plan = before.plans[0]
    hung = {
        serves for one in plan.equipment if one.way == "rotary_converter" for serves in one.serves
    }
    place, motor = next(
        (k, m.motors[0]) for k, m in enumerate(shop.machines)
        if f"{m.name}/{m.motors[0].name}" in hung
    )  # fmt: skip
    at = f"machines[{place}].motors[0]"
    lighter, heavier = (
        desk.look(rewritten(BARN, {f"{at}.load.torque": torque})[1], BARN) for torque in (0.5, 0.9)
    )
    assert lighter.line.lines is not None
    assert lighter.line.lines != heavier.line.lines
    assert lighter.line.now_a.number <= heavier.line.now_a.number
    power = motor.plate.power[0].number
    huge, _ = rewritten(BARN, {f"{at}.plate.power": f"{20 * power / 1000:.1f} kW",
                               f"{at}.plate.current": None, f"{at}.plate.speed": None})  # fmt: skip
    line = desk.look(shop_of(huge), BARN).line
    assert (line.hangs, line.bears, line.now_a, line.lines) == (False, False, None, None)


def test_what_cannot_be_compared_is_not():
    desk = Desk()
    shop = shop_of(PRIVATE)
    desk.study(shop, PRIVATE, quick=True)
    text, fewer = rewritten(PRIVATE, {"machines[0].runs_with": None, "machines[1].runs_with": None})
    text, fewer = rewritten(text, {"machines[1]": None})
    assert desk.look(fewer, PRIVATE).line is None
    other = desk.look(shop, "\n" + PRIVATE)
    assert other.line is None
    assert other.motors == ()


def test_of_an_answer_that_is_not_kept_the_changed_motors_are_told():
    shop = rewritten(PRIVATE, {"machines[1].motors[0].plate.power": "1.3 kW"})[1]
    look = Desk().look(shop, PRIVATE)
    assert [motor.id for motor in look.motors] == ["Fan/fan"]
    assert look.line is None
    assert look.motors[0] == Desk().look(shop, PRIVATE).motors[0]


def test_plans_are_told_in_the_order_of_their_cost_before_the_whole():
    ranked = []
    study = Desk().study(shop_of(PRIVATE), PRIVATE, ranked=ranked.append)
    (found,) = ranked
    able = [plan for plan in found if plan.feasible]
    assert [plan.cost for plan in able] == sorted(plan.cost for plan in able)
    assert found[: len(able)] == tuple(able)
    costs = {
        plan.title: plan.lifetime_cost.expected.number for plan in study.plans if plan.feasible
    }
    assert able[0].title == study.plans[0].title
    assert able[0].cost == pytest.approx(costs[able[0].title], rel=1e-9)


def test_an_answer_is_kept_for_as_many_shops_as_there_is_room():
    desk = Desk(most=1)
    text, shop = rewritten(PRIVATE, {"tariff.energy": 0.4})
    desk.study(shop_of(PRIVATE), PRIVATE, quick=True)
    assert desk.look(shop, PRIVATE).line is not None
    desk.study(shop, text, quick=True)
    assert desk.look(shop, PRIVATE).line is None
