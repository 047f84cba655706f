"""In a real browser: what makes three phases is touched, owned, and need not be bought any more."""

import pytest
from page.conftest import violations

pytestmark = pytest.mark.whole


def test_what_is_touched_and_owned_need_not_be_bought(look, address):
    seen = look(width=1200)
    seen.goto(address)
    seen.click('form[action="/demo/cider-barn"] button')
    seen.wait_for_selector(".headline", timeout=120_000)
    before = seen.inner_text("section[aria-labelledby=buy]")
    assert "already yours" not in before
    thing = seen.locator(".for-desk a[href*='/source?']").first
    box = thing.bounding_box()
    thing.click(position={"x": box["width"] / 2.0, "y": 12.0})  # its picture; figures stand below
    seen.wait_for_selector("text=Its amps and volts")
    assert seen.inner_text("h1").startswith("Rotary converter")
    seen.click("text=I own this one")
    assert seen.input_value("#power").endswith("kW")
    seen.click("text=Keep and draw")
    seen.wait_for_selector(".headline", timeout=120_000)
    assert "already yours" in seen.inner_text("section[aria-labelledby=buy]")
    seen.click("nav >> text=On your shelf")
    assert "A rotary converter" in seen.inner_text("main")


def test_a_plate_is_read_back_while_it_is_typed_at_the_first_visit(look, address):
    seen = look(width=360)
    seen.goto(address)
    seen.fill("#plate", "2,2 kW 230/400 V 8,6/5 A 1430/min 6 leads")
    told = seen.locator("#plate-told")
    told.locator("svg").wait_for()
    assert "linked in delta for 230 V" in told.inner_text()
    seen.fill("#plate", "2,2")
    told.locator(".refused").wait_for()
    assert seen.evaluate("document.documentElement.scrollWidth") == 360


@pytest.mark.parametrize("page", ["/source?id=converter", "/machine/0", "/supply", "/converter"])
def test_forms_all_open_fit_a_phone_and_shut_nobody_out(look, studied, page):
    seen = look(width=360, bypass_csp=True)
    seen.goto(studied("cider-barn") + page)
    seen.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")
    assert seen.evaluate("document.documentElement.scrollWidth") == 360
    assert violations(seen) == []
