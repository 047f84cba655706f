"""In a real browser: strangers on one server, and what a change shows before its answer is there."""

import re

import pytest
from page.conftest import ROOT, served, violations

from phasewright.job.stages import Desk
from phasewright.job.texts import shop_of
from phasewright.page.server import page

pytestmark = pytest.mark.whole
TEXT = (ROOT / "examples" / "pottery.shop.yaml").read_text(encoding="utf-8")
PLATE = "3 HP 220/380V 8.4/4.9A 1430 RPM 50~ Δ/Y"


@pytest.fixture
def half_way():
    """A server on which every change stays where a look and the plans are known, and no more."""
    app, start = page(text=TEXT)
    shelf, desk, ranked = app.state.shelf, Desk(), []
    desk.study(shop_of(TEXT), TEXT, quick=True, ranked=ranked.append)

    def begin(one, before="", who=""):
        one.look, one.ranked = desk.look(shop_of(one.text), TEXT), ranked[0]

    shelf.studies.begin = begin
    with served(app) as address:
        yield address + start


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_what_a_change_does_is_told_before_the_answer_and_shuts_nobody_out(look, half_way, scheme):
    seen = look(width=360, scheme=scheme, bypass_csp=True)
    seen.goto(f"{half_way}/machine/0")
    line = seen.input_value("#line0")
    power = re.search(r"([\d.]+) (k?W)", line)
    seen.fill("#line0", line.replace(power[0], f"{1.1 * float(power[1]):.3g} {power[2]}"))
    seen.click("text=Keep and draw")
    seen.wait_for_selector("#line-now")
    told = seen.inner_text("main")
    assert re.search(r"The supply gives [\d.]+ A at the most; before it was [\d.]+ A", told)
    assert "Whether it still starts" in told
    assert "The rules of wiring have not been asked yet" in told
    assert seen.evaluate("document.documentElement.scrollWidth") == 360
    assert violations(seen) == []


def test_strangers_at_one_time_each_have_their_own_shop(look):
    with served(page(public=True)[0]) as address:
        one, other = look(), look()
        for seen, name in ((one, "Lathe of one"), (other, "Saw of the other")):
            seen.goto(address)
            seen.fill("#machine", name)
            seen.fill("#plate", PLATE)
            seen.click("text=Show the answer")
        for seen in (one, other):
            seen.wait_for_selector(".headline", timeout=240_000)
        assert one.url != other.url
        assert "Lathe of one" in one.content()
        assert "Saw of the other" not in one.content()
        assert "Saw of the other" in other.content()
        one.goto(address)
        assert "Lathe of one" not in one.content(), "a public server lists nobody's shop"
        one.set_input_files(
            "#shop", {"name": "<b>x</b>.yaml", "mimeType": "text/yaml", "buffer": b"&a [*a]\x00"}
        )
        one.click("text=Open it")
        one.wait_for_selector("text=was not opened")
        assert one.locator("main b > b").count() == 0, "a name became a part of the page"


def test_the_font_of_the_page_is_its_part_and_the_whole_comes_for_other_letters(look, address):
    seen = look()
    seen.goto(address)
    seen.wait_for_load_state("networkidle")
    fonts = [url.rsplit("/", 1)[1] for url in seen.asked if "/fonts/" in url]
    assert fonts == ["plain.ttf"]
    assert seen.evaluate("[...document.fonts].map(font => font.status)") == ["loaded", "unloaded"]
    seen.fill("#machine", "Токарный станок")
    seen.wait_for_function("() => [...document.fonts].every(font => font.status === 'loaded')")
