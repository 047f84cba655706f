"""The drawing of a shop: everything in its sheet, nothing over anything, every figure the study's."""

import html
import re
from pathlib import Path
from urllib.parse import unquote

import pytest

import phasewright
from phasewright.papers.font import width_of
from phasewright.papers.shop_lines import thickness
from phasewright.papers.shop_scene import scene
from phasewright.papers.shop_sheet import WIDTHS, shop_sheet
from phasewright.papers.svg import Mark, boxes, svg
from phasewright.papers.workings.working import working
from phasewright.quantities.told import amount

EXAMPLES = sorted((Path(__file__).resolve().parents[2] / "examples").glob("*.shop.yaml"))
TOUCH = 1.5
"""Descenders of one line and ascenders of the next may share this much."""


@pytest.fixture(scope="module", params=EXAMPLES, ids=lambda path: path.name.split(".")[0])
def shop(request):
    return phasewright.read(request.param)


_KNOWN = {}


def study_of(shop):
    if shop.shop not in _KNOWN:
        _KNOWN[shop.shop] = phasewright.study(shop, quick=True)
    return _KNOWN[shop.shop]


def all_marks(whole):
    yield whole
    for part in whole.holds:
        if isinstance(part, Mark):
            yield from all_marks(part)


def check_room(drawn, width):
    size = dict(drawn.attributes)
    height = float(size["height"])
    found = list(boxes(drawn))
    for box in found:
        assert box.left >= 0.0, box
        assert box.right <= width, box
        assert box.top >= 0.0, box
        assert box.bottom <= height, box
    for at, one in enumerate(found):
        for other in found[at + 1 :]:
            overlap = min(one.bottom, other.bottom) - max(one.top, other.top)
            across = min(one.right, other.right) - max(one.left, other.left)
            assert overlap <= TOUCH or across <= 0.0, (one, other)


@pytest.mark.parametrize("width", WIDTHS.values(), ids=WIDTHS)
def test_before_there_is_an_answer_all_words_have_room(shop, width):
    check_room(shop_sheet(shop, None, None, width=width, at="/shop/x"), width)


@pytest.mark.whole
@pytest.mark.parametrize("width", WIDTHS.values(), ids=WIDTHS)
def test_with_every_plan_all_words_have_room(shop, width):
    study = study_of(shop)
    for plan in study.plans:
        check_room(shop_sheet(shop, study, plan, width=width, at="/shop/x"), width)


@pytest.mark.whole
def test_every_machine_stands_there_once_and_leads_to_its_page(shop):
    study = study_of(shop)
    text = svg(shop_sheet(shop, study, study.plans[0], width=736.0, at="/shop/x"))
    leads = re.findall(r'href="/shop/x/([^"]+)"', text)
    pages = [lead for lead in leads if not lead.startswith("figure?")]
    machines = [f"machine/{place}" for place in range(len(shop.machines))]
    what = scene(shop, study, study.plans[0])
    sources = [source.page for source in what.sources]
    rooms = [room.page for room in what.rooms if room.name]
    found = sorted(html.unescape(page) for page in pages)
    assert found == sorted(["supply", *machines, *sources, *rooms, "machine/new"])
    assert len({*sources, *rooms}) == len(what.sources) + sum(bool(r.name) for r in what.rooms)
    on_paper = svg(shop_sheet(shop, study, study.plans[0], width=736.0))
    assert "href" not in on_paper
    assert "Another machine" not in on_paper


@pytest.mark.whole
def test_a_motor_hangs_where_the_plan_hangs_it(shop):
    study = study_of(shop)
    for plan in study.plans:
        told = scene(shop, study, plan)
        hung = {
            f"{stand.name}/{drop.motor}": (drop.way, drop.source)
            for stand in told.stands for drop in stand.drops
        }  # fmt: skip
        shared = {source.id for source in told.sources}
        for motor in plan.motors:
            way, source = hung[motor.motor]
            assert way == motor.way
            assert source == (motor.equipment if motor.equipment in shared else "")
        served = {m for one in plan.equipment if one.id in shared for m in one.serves}
        assert {name for name, (_, source) in hung.items() if source} == served


@pytest.mark.whole
def test_the_amps_beside_a_line_are_those_of_the_study(shop):
    study = study_of(shop)
    plan = study.plans[0]
    told = scene(shop, study, plan)
    for stand in told.stands:
        said = [sentence.words for sentence in stand.told]
        words_of = [words for words in said if not words.startswith(("May come", "In "))]
        for drop, words in zip(stand.drops, words_of, strict=False):
            motor = next((m for m in plan.motors if m.motor == f"{stand.name}/{drop.motor}"), None)
            if motor is not None and motor.overload_setting_a is not None:
                assert amount(motor.overload_setting_a.number, "A") in words


@pytest.mark.whole
def test_what_stops_is_told_at_its_place(shop):
    study = study_of(shop)
    for plan in study.plans:
        told = scene(shop, study, plan)
        for stand in told.stands:
            ids = {stand.name, *(f"{stand.name}/{drop.motor}" for drop in stand.drops)}
            stops = [
                f for f in study.findings
                if f.subject in ids and f.severity == "stop" and (f.plan is None or f.id in plan.findings)
            ]  # fmt: skip
            dead = any(m.motor in ids and m.way is None for m in plan.motors)
            told_so = any(wrong.severity == "stop" for wrong in stand.wrong)
            assert told_so == (bool(stops) or dead)


@pytest.mark.whole
def test_the_same_of_several_motors_is_told_once_and_whose_it_is(shop):
    study = study_of(shop)
    for plan in study.plans:
        for stand in scene(shop, study, plan).stands:
            told = [wrong for wrong in stand.wrong if wrong.severity == "condition"]
            assert len({wrong.words for wrong in told}) == len(told)
            for wrong in told:
                whose = {
                    f.subject for f in study.findings
                    if f.words.startswith(wrong.words) and f.id in plan.findings
                    and f.severity == "condition" and f.subject.split("/")[0] == stand.name
                }  # fmt: skip
                names = {name.partition("/")[2] for name in whose} - {""}
                several = len(stand.drops) > 1
                assert set(filter(None, wrong.of.split(", "))) == (names if several else set())


def test_every_machine_stands_in_its_own_room(shop):
    told = scene(shop, None, None)
    assert sorted(s.place for room in told.rooms for s in room.stands) == list(
        range(len(shop.machines))
    )
    for room in told.rooms:
        for stand in room.stands:
            assert shop.machines[stand.place].place == room.name
    text = svg(shop_sheet(shop, None, None, width=736.0))
    named = [room.name for room in told.rooms if room.name]
    assert text.count('class="wall"') == 2 * len(named)
    assert all(f"In the {name}" in text for name in named)


def test_chance_and_year_of_a_machine_to_come_stand_on_its_line(shop):
    told = scene(shop, None, None)
    for stand in told.stands:
        machine = shop.machines[stand.place]
        if machine.have == "planned" and machine.chance is not None:
            assert f"{machine.chance:.0%}" in stand.to_come
        assert bool(stand.to_come) == (machine.have == "planned")


def test_a_line_that_carries_more_is_thicker():
    amps = [0.1, 0.5, 1.0, 4.0, 16.0, 60.0, 200.0]
    drawn = [thickness(one) for one in amps]
    assert drawn == sorted(drawn)
    assert len(set(drawn)) == len(drawn)


def test_hostile_names_are_words_and_nothing_else(shop):
    from dataclasses import replace

    name = '<script>alert("&")</script>\u202e'
    renamed = replace(
        shop, shop=name, machines=tuple(replace(m, name=f"{name}{m.name}") for m in shop.machines)
    )
    text = svg(shop_sheet(renamed, None, None, width=328.0, at='/shop/"><b>'))
    assert "<script" not in text
    assert "<b>" not in text


def test_words_are_measured_in_the_font_that_is_shipped():
    assert width_of("mm", 12.0) > width_of("ii", 12.0)


@pytest.mark.whole
@pytest.mark.parametrize("width", WIDTHS.values(), ids=WIDTHS)
def test_every_figure_of_the_study_in_the_drawing_leads_to_where_it_stands(shop, width):
    study = study_of(shop)
    plan = study.plans[0]
    drawn = shop_sheet(shop, study, plan, width=width, at="/shop/x")
    led = {}
    for one in all_marks(drawn):
        of = dict(one.attributes)
        if of.get("class") == "figure":
            pointer = unquote(of["href"].partition("?at=")[2])
            heard = of["aria-label"].removesuffix(", where it comes from")
            led.setdefault(pointer, []).append(heard.rpartition(": ")[2])
            assert working(study, shop, pointer).at == pointer
    if plan.supply_current_a.running is not None:
        assert led["/plans/0/supply_current_a/running"] == [
            amount(plan.supply_current_a.running.number, "A")
        ]
    for seat, motor in enumerate(plan.motors):
        if motor.overload_setting_a is not None and motor.way is not None:
            told = led[f"/plans/0/motors/{seat}/overload_setting_a"]
            assert set(told) == {amount(motor.overload_setting_a.number, "A")}
    for pointer in led:
        if pointer.startswith("/findings/"):
            assert study.findings[int(pointer.split("/")[2])].severity in ("stop", "condition")


@pytest.mark.whole
def test_room_over_a_figure_lies_over_its_words(shop):
    study = study_of(shop)
    drawn = shop_sheet(shop, study, study.plans[0], width=736.0, at="/shop/x")
    rows = list(boxes(drawn))
    seen = 0
    for one in all_marks(drawn):
        of = dict(one.attributes)
        if of.get("class") != "figure":
            continue
        heard = of["aria-label"].removesuffix(", where it comes from").rpartition(": ")[2]
        room = dict(one.holds[0].attributes)
        left, top = float(room["x"]), float(room["y"])
        wide, high = float(room["width"]), float(room["height"])
        under = [
            row for row in rows
            if heard in row.words and row.left <= left + 1.5 and left + wide <= row.right + 1.5
            and row.top < top + 0.5 * high < row.bottom
        ]  # fmt: skip
        assert under, of["aria-label"]
        words = under[0].words
        size = 12.0 * (under[0].right - under[0].left) / width_of(words, 12.0)
        before = width_of(words.partition(heard)[0], size)
        assert under[0].words.count(heard) > 1 or left + 1.0 == pytest.approx(
            under[0].left + before, abs=0.6
        )
        seen += 1
    assert seen >= len(study.plans[0].motors)
