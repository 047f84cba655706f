"""A plan that needs an unsafe thing is not offered: a row for each such thing.

Every row says how the thing would show in a plan, and breaks an installation made by hand: no plan
of any example or story holds it, and the rule finds it where somebody has done it.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import pytest
from installations import given, iec_shop, nec_shop
from stories.judged import HERE, studied

from phasewright.circuits.installation import (
    Circuit,
    Equipment,
    Installation,
    PhaseRelay,
    ResidualCurrentDevice,
    Socket,
)
from phasewright.files.shop_file import read
from phasewright.rules.earthing import earth_continuity, line_3_bonded, line_3_marked
from phasewright.rules.generated_line import (
    control_on_supply_lines,
    neutral,
    single_phase_loads_on_supply_lines,
)
from phasewright.rules.over import findings
from phasewright.rules.register import Ruling
from phasewright.rules.shock_protection import residual_kept
from phasewright.rules.stopping import emergency_category

EXAMPLES = sorted((Path(__file__).resolve().parents[2] / "examples").glob("*.shop.yaml"))
STORIES = sorted(path.name.removesuffix(".shop.yaml") for path in HERE.glob("*.shop.yaml"))
Tree = dict[str, Any]
MAKES_LINE_3 = ("rotary_converter", "static_converter", "capacitor_run")
SAFE_V, WITHIN_S = 50.0, 60.0  # NFPA 70-2023, 460.6(A)


def circuits(plan: Tree, *roles: str) -> list[Tree]:
    return [each for each in plan.get("circuits", ()) if each["role"] in roles]


def ways(plan: Tree) -> dict[str, str]:
    return {each["motor"]: each.get("way", "") for each in plan["motors"]}


def confirms(plan: Tree) -> set[str]:
    return {each["rule"] for each in plan.get("to_confirm", ())}


def generates(plan: Tree) -> bool:
    return bool(set(ways(plan).values()) & {*MAKES_LINE_3})


# how each thing would show in a plan; every one yields what is wrong


def opens_behind_a_drive(plan: Tree, shop: Tree) -> list[str]:
    """A breaker or a switch in a drive's output that does not tell the drive first."""
    return [
        each["id"] for each in circuits(plan, "drive_to_motor")
        if "device" in each or not each.get("isolator", {}).get("early_break", True)
    ]  # fmt: skip


def single_phase_on_line_3(plan: Tree, shop: Tree) -> list[str]:
    others = {each["id"] for each in shop["others"]}
    return [
        each["id"] for each in plan.get("circuits", ())
        if each["to"] in others and (each["lines"] != "1-2" or not each["from"].startswith("supply"))
    ]  # fmt: skip


def controls_on_line_3(plan: Tree, shop: Tree) -> list[str]:
    return [
        each["id"] for each in circuits(plan, "control")
        if each["lines"] != "control" or not each["from"].startswith("supply")
    ]  # fmt: skip


def a_neutral_from_the_idler(plan: Tree, shop: Tree) -> list[str]:
    """A fourth loaded conductor behind what makes line 3."""
    makers = {each["id"] for each in plan["equipment"] if each["way"] in MAKES_LINE_3}
    return [
        each["id"] for each in plan.get("circuits", ())
        if each["from"] in makers and each["loaded"] > 3
    ]  # fmt: skip


def capacitors_that_keep_their_charge(plan: Tree, shop: Tree) -> list[str]:
    """More than 50 V a minute after the shaft has stopped, by the law of discharge."""
    found = []
    for each in circuits(plan, "capacitor_branch"):
        seconds = each["discharge_ohm"] * each["capacitance_f"]
        left = math.sqrt(2.0) * each["voltage_v"] * math.exp(-WITHIN_S / seconds)
        if left > SAFE_V * (1.0 + 1e-6):
            found.append(each["id"])
    return found


def nobody_told_to_wait_for_the_shaft(plan: Tree, shop: Tree) -> list[str]:
    bare = circuits(plan, "capacitor_branch") and "capacitor.shaft_at_rest" not in confirms(plan)
    return ["capacitors"] if bare else []


def a_generated_line_that_is_not_marked(plan: Tree, shop: Tree) -> list[str]:
    marks = {"line3.marked", "nec.455.6_b"}
    return ["line 3"] if generates(plan) and not confirms(plan) & marks else []


def line_3_not_looked_at_for_a_bond(plan: Tree, shop: Tree) -> list[str]:
    return ["line 3"] if generates(plan) and "line3.bonded" not in confirms(plan) else []


def an_emergency_stop_of_no_category(plan: Tree, shop: Tree) -> list[str]:
    return [
        each["motor"] for each in plan["motors"]
        if "emergency_stop" in each["figures"]
        and each["figures"]["emergency_stop"]["category"] not in (0, 1)
    ]  # fmt: skip


def power_before_earth_is_proved(plan: Tree, shop: Tree) -> list[str]:
    proved = {
        each["subject"] for each in plan.get("to_confirm", ()) if each["rule"] == "iec.60204_1.18_2"
    }
    motors = {each["motor"] for each in plan["motors"]}
    ends = circuits(
        plan, "outlet_to_machine", "converter_to_machine", "supply_to_machine", "drive_to_motor"
    )
    return [each["to"] for each in ends if each["to"] in motors - proved]


def an_input_that_holds_in_without_supply(plan: Tree, shop: Tree) -> list[str]:
    makers = {each["id"] for each in plan["equipment"] if each["way"] == "rotary_converter"}
    return [
        each["id"] for each in circuits(plan, "supply_to_converter")
        if each["to"] in makers and not each["undervoltage_release"]
    ]  # fmt: skip


def outlets_live_in_the_wrong_sequence(plan: Tree, shop: Tree) -> list[str]:
    makers = {each["id"] for each in plan["equipment"] if each["way"] == "rotary_converter"}
    return [
        each["id"] for each in circuits(plan, "converter_to_outlet", "converter_to_machine")
        if each["from"] in makers and "phase_relay" not in each
    ]  # fmt: skip


def sockets_for_other_volts(plan: Tree, shop: Tree) -> list[str]:
    found = []
    for each in plan.get("circuits", ()):
        of = each.get("socket")
        if of is None:
            continue
        red = of["pattern"].startswith("red")
        if abs(of["voltage_v"] - each["voltage_v"]) > 1.0 or (red and of["voltage_v"] < 300.0):
            found.append(each["id"])
    return found


def line_3_that_stays_live(plan: Tree, shop: Tree) -> list[str]:
    """Of an IEC shop: a fault of line 3 that no residual device opens and no breaker at once."""
    if shop["region"] != "IEC":
        return []
    return [
        each["id"] for each in plan.get("circuits", ())
        if "first_cycles_a" in each
        and "trips_s" not in each.get("residual_current", {})
        and each.get("disconnects_s", math.inf) > 0.4
    ]  # fmt: skip


def a_device_that_sees_nothing(plan: Tree, shop: Tree) -> list[str]:
    """Behind an isolating source, one that stands ahead of it."""
    return [
        each["id"] for each in plan.get("circuits", ())
        if each["upstream_blind"] and each.get("residual_current", {}).get("upstream")
    ]  # fmt: skip


# the same things done by hand, and the rule that finds them


def broken(shop: Installation, name: str, **other: Any) -> Installation:
    assert shop.circuit(name)
    changed = (replace(each, **other) if each.id == name else each for each in shop.circuits)
    return replace(shop, circuits=tuple(changed))


def found_in(rule: str, shop: Installation) -> Callable[[], bool]:
    return lambda: rule in {each.rule for each in findings(shop)}


def told_by(rule: str, ruling: Callable[[], Ruling]) -> Callable[[], bool]:
    return lambda: rule in {each.rule for each in ruling().findings}


def with_isolating_source() -> Installation:
    shop = iec_shop()
    isolated = Equipment("box", "electronic_converter", isolates=True)
    behind: Circuit = replace(
        shop.circuit("outlet"), id="behind the box", source="box", feeds=("press",),
        residual_current=ResidualCurrentDevice(30.0, "A", upstream=True, trips_s=0.04),
    )  # fmt: skip
    return replace(shop, circuits=(*shop.circuits, behind), equipment=(*shop.equipment, isolated))


@dataclass(frozen=True)
class Unsafe:
    shows: Callable[[Tree, Tree], list[str]]
    by_hand: Callable[[], bool]


UNSAFE = (
    Unsafe(opens_behind_a_drive, found_in(
        "drive.nothing_opens_behind",
        broken(iec_shop(), "drive to saw", switches=("reversing_drum",)))),
    Unsafe(single_phase_on_line_3, told_by(
        "nec.455.9", lambda: single_phase_loads_on_supply_lines(("lamp",), True, "mill"))),
    Unsafe(controls_on_line_3, told_by(
        "line3.control", lambda: control_on_supply_lines("three lines", True, "mill"))),
    Unsafe(a_neutral_from_the_idler, told_by(
        "line3.neutral", lambda: neutral(True, False, "mill"))),
    Unsafe(capacitors_that_keep_their_charge, found_in(
        "nec.460.6_a", broken(nec_shop(), "capacitors", discharge_ohm=1e6))),
    Unsafe(nobody_told_to_wait_for_the_shaft, found_in(
        "iec.60204_1.6_2_4", broken(iec_shop(), "capacitors", discharge_ohm=None))),
    Unsafe(a_generated_line_that_is_not_marked, told_by(
        "line3.marked", lambda: line_3_marked(True, False, "converter"))),
    Unsafe(line_3_not_looked_at_for_a_bond, told_by(
        "line3.bonded", lambda: line_3_bonded(True, "converter"))),
    Unsafe(an_emergency_stop_of_no_category, told_by(
        "stop.emergency_category", lambda: emergency_category(2, 3.0, 1.0, "saw"))),
    Unsafe(power_before_earth_is_proved, told_by(
        "iec.60204_1.18_2", lambda: earth_continuity(None, 0.1, "saw"))),
    Unsafe(an_input_that_holds_in_without_supply, found_in(
        "converter.input_drops_out",
        broken(iec_shop(), "to converter", undervoltage_release=False))),
    Unsafe(outlets_live_in_the_wrong_sequence, found_in(
        "converter.sequence_proved", broken(iec_shop(), "outlet", phase_relay=None))),
    Unsafe(sockets_for_other_volts, found_in(
        "socket.voltage",
        broken(iec_shop(), "outlet", socket=Socket(16.0, "red 6 h", 4, 400.0)))),
    Unsafe(line_3_that_stays_live, found_in(
        "line3.earth_fault", broken(
            iec_shop(), "outlet", residual_current=ResidualCurrentDevice(30.0, "A"),
            earth_fault_a=given(50.0)))),
    Unsafe(a_device_that_sees_nothing, found_in("residual.sees", with_isolating_source())),
)  # fmt: skip
NAMES = [each.shows.__name__ for each in UNSAFE]


@pytest.mark.parametrize("unsafe", UNSAFE, ids=NAMES)
def test_where_somebody_has_done_it_the_rule_finds_it(unsafe: Unsafe) -> None:
    assert unsafe.by_hand()


def test_a_device_taken_out_to_calm_it_is_found() -> None:
    assert residual_kept(True, False, "supply").findings
    assert not residual_kept(True, True, "supply").findings


def test_nothing_unsafe_is_found_where_nothing_is_broken() -> None:
    rules = {each.rule for each in findings(iec_shop())}
    assert not rules & {"drive.nothing_opens_behind", "residual.sees", "line3.earth_fault"}
    assert iec_shop().circuit("outlet").phase_relay == PhaseRelay(200.0, 0.08, 2.0)


def none_in(shop: Tree) -> None:
    offered = [plan for plan in shop["plans"] if plan["feasible"]]
    for plan in offered:
        for unsafe in UNSAFE:
            wrong = unsafe.shows(plan, shop)
            assert not wrong, (unsafe.shows.__name__, plan["title"], wrong)


@pytest.mark.whole
@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_no_plan_of_an_example_holds_an_unsafe_thing(path: Path) -> None:
    none_in(studied(read(path)))


@pytest.mark.whole
@pytest.mark.parametrize("story", STORIES)
def test_no_plan_of_a_story_holds_an_unsafe_thing(story: str) -> None:
    none_in(studied(story))


@pytest.mark.whole
def test_every_thing_would_show_in_some_plan_of_the_examples() -> None:
    """A row that looks at nothing proves nothing: each has something to look at somewhere."""
    plans = [p for path in EXAMPLES for p in studied(read(path))["plans"] if p["feasible"]]
    roles = {each["role"] for plan in plans for each in plan.get("circuits", ())}
    assert roles >= {"drive_to_motor", "control", "capacitor_branch", "supply_to_converter"}
    assert any(generates(plan) for plan in plans)
    assert any("socket" in each for plan in plans for each in plan.get("circuits", ()))
    assert any(each["upstream_blind"] for plan in plans for each in plan.get("circuits", ()))
    assert any("emergency_stop" in m["figures"] for plan in plans for m in plan["motors"])
