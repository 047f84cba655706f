"""The views of the page in a real browser: workings, figures, sliders, rooms, paper, every demo.

Accessibility is measured with the rules of WCAG 2.2 levels A and AA (W3C Recommendation).
"""

import io
import json

import pypdfium2
import pytest
from page.conftest import violations

from phasewright.page.demos import demos
from phasewright.papers.workings.places import input_words

pytestmark = pytest.mark.whole
PLATE = "3 HP 220/380V 8.4/4.9A 1430 RPM 50~ Δ/Y"


def answered(seen):
    seen.wait_for_selector(".headline", timeout=120_000)


def open_curves(seen, *places):
    for place in places:
        seen.locator(".sheet-of > summary").nth(place).click()
    seen.wait_for_function("() => !document.querySelector('.sheet-of[open] .working')")


@pytest.fixture
def barn(look, studied):
    """The cider barn in a window of its own, at a path below its address."""

    def at(path="", **more):
        seen = look(**more)
        seen.goto(studied("cider-barn") + path)
        return seen

    return at


@pytest.mark.parametrize("key", sorted(demos()))
def test_each_demo_shop_comes_to_an_answer_with_a_drawing_and_no_dead_end(look, studied, key):
    seen = look(width=360)
    seen.goto(studied(key))
    assert seen.inner_text(".headline")
    assert seen.evaluate("document.documentElement.scrollWidth") == 360
    links = seen.evaluate(
        "[...new Set([...document.querySelectorAll('a[href]')].map(a => a.href.baseVal ?? a.href))]"
    )
    for link in links:
        address = link.split("#")[0]
        if address.endswith((".zip", ".json", ".yaml")) or "/figure?" in address:
            continue
        assert seen.request.get(
            address if "://" in address else seen.url.split("/shop/")[0] + address
        ).ok, link


def test_every_chart_is_drawn_from_the_table_behind_it_and_tells_what_is_touched(barn):
    seen = barn("/workings")
    assert "uPlot" not in seen.content().split("<main")[1]
    open_curves(seen, 0)
    charts = seen.locator(".chart")
    assert charts.count() == 4
    chart = charts.nth(0)
    chart.locator(".plot").focus()
    seen.keyboard.press("ArrowRight")
    seen.keyboard.press("ArrowRight")
    told = chart.locator(".names").inner_text()
    rows = chart.locator("tbody tr")
    cells = rows.nth(1).locator("th, td").all_text_contents()
    assert all(cell in told for cell in cells)
    drawn = chart.locator("canvas").evaluate(
        "c => new Set(c.getContext('2d').getImageData(0, 0, c.width, c.height).data).size"
    )
    assert drawn > 20
    unit = chart.locator("thead th").all_text_contents()
    assert all("(" in head for head in unit)


@pytest.mark.parametrize("page", ["", "/figures"])
def test_no_figure_is_wider_than_a_phone(barn, page):
    seen = barn(page, width=360)
    seen.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")
    assert seen.evaluate("document.documentElement.scrollWidth") == 360


@pytest.mark.parametrize("width", [360, 1440])
def test_no_chart_is_wider_than_its_window(barn, width):
    seen = barn("/workings", width=width)
    open_curves(seen, 0, 2, 3)
    assert seen.evaluate("document.documentElement.scrollWidth") == width
    assert seen.locator(".uplot").count() == seen.locator(".chart").count() == 9


def test_the_start_in_time_says_what_happens_when(barn):
    seen = barn("/workings")
    open_curves(seen, 3)
    spots = seen.locator(".chart").first.locator(".spots li")
    assert spots.count() >= 3
    assert "start capacitor out" in " ".join(spots.all_text_contents())
    assert "holds" in seen.locator(".curves").nth(3).text_content()


def test_without_scripts_the_curves_are_tables(barn):
    seen = barn("/workings", java_script_enabled=False)
    seen.locator(".sheet-of > summary").first.click()
    seen.click("text=Show it >> visible=true")
    seen.get_by_text("The same as a table").first.click()
    assert seen.locator("tbody tr").count() > 40


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize(
    "page",
    [
        "/workings",
        "/figures",
        "/years",
        "/figure?at=/plans/0/purchase",
        "/curves/torque?motor=Press/oil pump",
    ],
)
def test_nobody_is_shut_out_of_the_workings(barn, scheme, page):
    seen = barn(page, scheme=scheme, width=360, bypass_csp=True)
    if page == "/workings":
        open_curves(seen, 3, 4)
        for words in (
            "The same as a table",
            "How it is computed",
            "Everything else that was judged",
        ):
            seen.get_by_text(words).first.click()
    assert violations(seen) == []


def test_a_figure_opens_where_it_comes_from_and_closes_again(barn, studied):
    seen = barn(bypass_csp=True)
    figure = seen.locator(".sums a.figure").first
    shown = figure.inner_text()
    figure.focus()
    seen.keyboard.press("Enter")
    told = seen.locator("#working[open]")
    told.wait_for()
    seen.wait_for_selector("#working[open] h2")
    assert shown.split()[0] in told.inner_text()
    assert violations(seen) == []
    pointer = told.locator("code").first.inner_text()
    workings = seen.request.get(studied("cider-barn") + "/workings.json").json()
    for each in workings[pointer]["inputs"]:
        assert input_words(each["name"]).lower() in told.inner_text().lower()
    seen.keyboard.press("Escape")
    assert seen.locator("#working[open]").count() == 0
    assert seen.evaluate("document.activeElement.className") == "figure"
    assert seen.evaluate("document.activeElement.textContent") == shown


def test_every_figure_of_the_page_has_its_place_in_the_result_file(barn, studied):
    seen = barn()
    study = seen.request.get(studied("cider-barn") + "/study.json").json()
    at_of = "a => new URL(a.getAttribute('href'), location).searchParams.get('at')"
    places = seen.evaluate(f"[...document.querySelectorAll('a.figure')].map({at_of})")
    assert len(places) > 15
    seen.click(".motor-ways a >> nth=1")
    seen.wait_for_selector("#working[open] a.figure")
    of_a_way = seen.locator("#working a.figure").evaluate_all(f"links => links.map({at_of})")
    assert len(of_a_way) >= 3
    places += of_a_way
    seen.click("#working a.figure >> nth=0")
    seen.wait_for_selector("#working[open] >> text=In the result file")
    seen.click("#working-back")
    seen.wait_for_selector("#working[open] h3 >> text=Why")
    for place in places:
        found = study
        for name in place.split("/")[1:]:
            found = found[int(name)] if isinstance(found, list) else found[name.replace("~1", "/")]
        assert found != "", place


def test_the_list_of_every_figure_is_whole_and_each_leads_to_its_working(barn, studied):
    seen = barn("/figures", bypass_csp=True)
    workings = seen.request.get(studied("cider-barn") + "/workings.json").json()
    places = seen.evaluate(
        "[...document.querySelectorAll('.put-in a.figure')].map(a => new URL(a.getAttribute('href'), location).searchParams.get('at'))"
    )
    study = seen.request.get(studied("cider-barn") + "/study.json").json()
    best = [plan["id"] for plan in study["plans"]].index(study["answer"]["plan"])
    told = {
        pointer for pointer in workings
        if pointer.startswith(("/supply/", f"/plans/{best}/")) and "/settings/" not in pointer
    }  # fmt: skip
    assert set(places) == told
    assert len(places) == len(told) > 200
    seen.locator("a.figure").first.click()
    seen.wait_for_selector("#working[open] h2")
    assert violations(seen) == []


def other_headline(seen, was):
    seen.wait_for_function(
        """was => { const told = document.querySelector(".headline");
            return told && told.textContent.trim() !== was; }""",
        arg=was.strip(), timeout=120_000,
    )  # fmt: skip


def test_where_a_slider_says_another_plan_takes_over_it_does(look, address):
    seen = look()
    seen.goto(address)
    seen.click('form[action="/demo/cider-barn"] button')
    answered(seen)
    before = seen.inner_text(".headline")
    turn = seen.locator(".turn").first
    zone = turn.locator(".zones li").first
    assert "is-now" not in (zone.get_attribute("class") or "")
    other = zone.inner_text().partition(": ")[2].partition(" drawn")[0].strip()
    turn.locator("input[type=range]").focus()
    seen.keyboard.press("Home")
    assert zone.get_attribute("class") == "under"
    turn.locator("button").click()
    other_headline(seen, before)
    there = seen.inner_text(".headline")
    study = seen.request.get(seen.url.split("?")[0] + "/study.json").json()
    best = next(plan for plan in study["plans"] if plan["id"] == study["answer"]["plan"])
    assert best["title"] == other
    seen.click("text=Take the last change back")
    other_headline(seen, there)
    seen.reload()
    answered(seen)
    assert seen.inner_text(".headline") == before


def test_a_change_of_a_plate_and_a_machine_to_come_change_amps_verdicts_and_plan(look, address):
    seen = look()
    seen.goto(address)
    seen.fill("#machine", "Lathe")
    seen.fill("#plate", PLATE)
    seen.click("text=Show the answer")
    answered(seen)
    place = seen.url.split("?")[0]

    def study():
        answered(seen)
        return seen.request.get(f"{place}/study.json").json()

    first = study()
    seen.goto(f"{place}/machine/0")
    seen.fill("#line0", "10 HP 220/380V 26/15A 1430 RPM 50~ Δ/Y")
    seen.click("text=Keep and draw")
    strong = study()
    amps = [told["motors"][0]["full_load_current_a"] for told in (first, strong)]
    assert amps[1] > 2.5 * amps[0]
    verdicts = [[way["verdict"] for way in told["motors"][0]["ways"]] for told in (first, strong)]
    assert verdicts[0] != verdicts[1]
    assert "26 A" in seen.locator(".for-tablet svg").text_content()
    seen.goto(f"{place}/machine/0")
    seen.fill("#line0", PLATE)
    seen.click("text=Keep and draw")
    assert study()["answer"] == first["answer"]
    seen.goto(f"{place}/machine/new")
    seen.fill("#name", "Planer")
    seen.fill("#plate", "4 kW 230/400V 14.5/8.4A 1440 rpm 50 Hz Δ/Y")
    seen.click("text=Set it on the floor")
    answered(seen)
    seen.goto(f"{place}/machine/1")
    seen.select_option("#have", label="it may come")
    seen.select_option("#chance", label="likely")
    seen.fill("#year", "2")
    seen.click("text=Keep and draw")
    come = study()
    assert come["answer"]["headline"] != first["answer"]["headline"]
    later = {
        motor
        for plan in come["plans"]
        for buy in plan["buys"]
        if buy["year"]
        for motor in buy["serves"]
    }
    assert any(name.startswith("Planer") for name in later)
    drawing = seen.locator(".for-tablet svg").text_content()
    assert "year 2, 70%" in drawing


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_printed_the_drawing_is_first_and_what_is_folded_is_there(barn, paper):
    seen = barn(scheme="dark")
    pages = pypdfium2.PdfDocument(io.BytesIO(seen.pdf(format=paper)))
    texts = [page.get_textpage().get_text_range() for page in pages]
    pages.close()
    assert all(word in texts[0] for word in ("Supply", "Rotary converter", "Bottle washer"))
    whole = " ".join(texts)
    for word in ("idler motor", "How:", "Running torque", "Take care"):
        assert word in whole
    for word in ("Work the answer out", "Another machine", "to step through", "Make a link"):
        assert word not in whole
    assert seen.locator("details.on-paper[open]").count() == 0


def test_the_money_of_the_years_is_that_of_the_result_file(barn, studied):
    seen = barn("/years")
    study = json.loads(seen.request.get(studied("cider-barn") + "/study.json").text())
    best = next(plan for plan in study["plans"] if plan["id"] == study["answer"]["plan"])
    column = (
        seen.locator("figure.chart")
        .first.locator("tbody tr td:nth-child(2)")
        .evaluate_all("cells => cells.map(c => Number(c.dataset.n))")
    )
    assert column == pytest.approx([year["paid_so_far"]["expected"] for year in best["years"]])


def test_what_is_worth_finding_out_leads_to_its_field_which_is_open_and_ready_to_type(barn):
    seen = barn()
    seen.locator("section[aria-labelledby=asks] summary", has_text="No-load current").click()
    link = seen.locator("section[aria-labelledby=asks] a:visible", has_text="Press")
    link.click()
    seen.wait_for_selector("#motor0-plate-no-load-current:focus")
    assert seen.locator("#motor0-plate-no-load-current").is_visible()


def test_a_plan_that_is_switched_to_is_drawn_counted_and_told_as_another_than_the_answer(
    barn, studied
):
    seen = barn()
    study = seen.request.get(studied("cider-barn") + "/study.json").json()
    other = next(p for p in study["plans"] if p["feasible"] and p["id"] != study["answer"]["plan"]
                 and p["motors"][0]["way"] != study["plans"][0]["motors"][0]["way"])  # fmt: skip
    assert seen.locator("p.told[role=status]").count() == 0
    seen.select_option("#plan", other["id"])
    seen.wait_for_selector("p.told[role=status]")
    assert other["title"] in seen.locator("p.told[role=status]").inner_text()
    assert other["title"] in seen.locator(".for-tablet svg").text_content()
    to_buy = seen.locator(".sums dd").first.inner_text()
    assert to_buy.startswith(f"{other['purchase']:,.0f}")
    row = seen.locator("table.beside tbody tr").first.locator("td").first
    assert row.inner_text().startswith(f"{other['purchase']:,.0f}")
    assert other["id"] in seen.locator("a", has_text="The workings").first.get_attribute("href")
    seen.click("text=Draw the answer")
    seen.wait_for_selector("p.told[role=status]", state="detached")
