"""The papers in a real browser: safety is asked first, each paper is named and comes as a file."""

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
