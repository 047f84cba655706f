"""The colours of the page: read easily in light and dark (WCAG 2.2, 1.4.3 and 1.4.11), on paper."""

import re

import pytest
from page.conftest import ROOT

STYLE = (ROOT / "src/phasewright/page/static/page.css").read_text("utf-8")
READ = ("ink", "soft", "pencil", "red", "amber", *(f"ink{n}" for n in range(6)))
"""What words are written in."""
SEEN = ("made", "hatch")
"""What lines are drawn in."""
LAID_ON = ("paper", "sheet")


def colours(block):
    return dict(re.findall(r"--(\w+): (#[0-9a-f]{3,6})", block))


def schemes():
    roots = re.findall(r":root \{(.*?)\}", STYLE, flags=re.DOTALL)
    light, dark, paper = (roots[0], roots[1], roots[-1])
    return {"light": colours(light), "dark": colours(dark), "print": colours(paper)}


def luminance(colour):
    """Relative luminance, WCAG 2.2."""
    letters = colour[1:] if len(colour) == 7 else "".join(2 * c for c in colour[1:])
    parts = [int(letters[at : at + 2], 16) / 255.0 for at in (0, 2, 4)]
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one, other):
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def test_contrast_is_that_of_the_recommendation():
    assert contrast("#000", "#fff") == pytest.approx(21.0)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.01)


@pytest.mark.parametrize("scheme", ["light", "dark", "print"])
@pytest.mark.parametrize("below", LAID_ON)
def test_every_word_stands_out_from_what_it_is_written_on(scheme, below):
    known = schemes()[scheme]
    for name in READ:
        assert contrast(known[name], known[below]) >= 4.5, name
    for name in SEEN:
        assert contrast(known[name], known[below]) >= 3.0, name


def test_paper_and_the_dark_name_every_colour_that_the_light_names():
    found = schemes()
    assert set(found["light"]) == set(found["dark"]) == set(found["print"])
    assert all(luminance(found["print"][name]) > 0.7 for name in ("paper", "sheet", "grid"))
