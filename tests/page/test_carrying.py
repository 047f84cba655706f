"""The papers in a real browser: safety is asked first, each paper is named and comes as a file."""

import io
import json
import zipfile

import pypdfium2
import pytest
from page.conftest import violations

pytestmark = pytest.mark.whole


@pytest.mark.parametrize("width", [360, 1440])
def test_papers_come_after_the_questions_of_safety_and_are_kept_by_a_touch(look, studied, width):
    seen = look(width=width)
    seen.goto(studied("cider-barn"))
    seen.get_by_role("link", name="The papers").click()
    heads = seen.locator("main h2").all_inner_texts()
    assert heads.index("Before the papers: what safety rests on") < heads.index("The papers")
    assert heads.index("Take care") < heads.index("The papers")
    assert seen.evaluate("document.documentElement.scrollWidth") == width
    assert violations(seen) == []
    for name, mark in (("The report", "report.pdf"), ("The sheets", "sheets.pdf")):
        with seen.expect_download() as told:
            seen.get_by_role("link", name=name, exact=True).click()
        assert told.value.suggested_filename.endswith(mark)
        with pypdfium2.PdfDocument(told.value.path()) as pages:
            assert len(pages) > 5
    seen.get_by_role("link", name="Scratter", exact=True).first.click()
    assert seen.locator("h1").inner_text() != "The papers of Three trees cider barn"


def test_the_papers_of_a_plan_that_is_drawn_instead_are_its_own(look, studied):
    seen = look()
    shop = studied("cider-barn")
    study = seen.request.get(shop + "/study.json").json()
    other = next(plan for plan in study["plans"]
                 if {motor["way"] for motor in plan["motors"]} == {"drive_per_motor"})  # fmt: skip
    seen.goto(f"{shop}?plan={other['id']}")
    seen.get_by_role("link", name="The papers").click()
    assert other["title"] in seen.locator("p.told").inner_text()
    whole = seen.get_by_role("link", name="Everything in one archive").get_attribute("href")
    made = seen.request.get(shop.rpartition("/shop/")[0] + whole, timeout=120_000).body()
    with zipfile.ZipFile(io.BytesIO(made)) as archive:
        name = next(each for each in archive.namelist() if each.endswith("/wiring.json"))
        assert json.loads(archive.read(name))["plan"] == other["id"]
