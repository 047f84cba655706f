"""Every number with a unit that a shop's pages show leads to a working, or is of a named kind.

Walks over every view of three demo shops in a real browser; what is left over is printed.
"""

import re
import sys

import pytest

pytestmark = pytest.mark.whole
SHOPS = ["cider-barn", "furniture-shop", "bakery"]
LEAST_SHARE = 0.97
NUMBERS = """() => {
  const unit = new RegExp(String.raw`(?<![\\w.,/-])[-−]?\\d+(?:[.,]\\d+)*[\\s\\u00a0]?` +
    "(?:%|kWh|kW|kVA|kV|kA|VA|W|V|mA|A|Hz|rpm|kohm|milliohm|ohm|µF|mH|ms|s|min|h|N m|dB\\\\(A\\\\)|" +
    "mm²|m|kJ|J|hp|°C|GBP|EUR|USD)(?![\\\\w²])", "g");
  const found = [];
  const shown = (node) => node.checkVisibility({ visibilityProperty: true });
  const walker = document.createTreeWalker(document.querySelector("main"), NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const node = walker.currentNode, holder = node.parentElement;
    if (!shown(holder) || holder.closest("script, style, option, input, textarea")) continue;
    for (const [text] of node.textContent.matchAll(unit)) {
      const svg = holder.closest("svg");
      const fold = holder.closest("summary")?.parentElement;
      let kind = "";
      if (holder.closest("a.figure")) kind = "leads";
      else if (svg && [...svg.querySelectorAll("a.figure")].some((a) =>
        (a.getAttribute("aria-label") ?? "").includes(text) && over(a, holder))) kind = "leads";
      else if (fold && [...fold.querySelectorAll(":scope > :not(summary) a.figure")]
        .some((a) => a.textContent.includes(text))) kind = "leads";
      else if (holder.closest(".put-in li, .put-in ~ summary")) kind = "in the name of a figure";
      else if (holder.closest("figure.chart, .curves")) kind = "chart with its own working";
      else if (svg?.matches(".costs")) kind = "picture of figures that lead on beside it";
      else if (holder.closest("form, .look, .caution")) kind = "asked of the owner";
      found.push([text, kind, (holder.closest("p, li, td, th, dd, text, h1, h2") ?? holder)
        .textContent.trim().slice(0, 160), !!svg]);
    }
  }
  function over(a, text) {
    const one = a.getBoundingClientRect(), other = text.getBoundingClientRect();
    return one.left >= other.left - 3 && one.right <= other.right + 3
      && one.top < other.bottom && other.top < one.bottom;
  }
  return found;
}"""
"""What is visible: numbers with a unit, whether they lead on, and the words around them."""


def typed(shop_text):
    """Numbers as the owner typed them, without their unit: sizes, lengths, volts, chances."""
    return set(re.findall(r"\d+(?:\.\d+)?", shop_text))


@pytest.mark.parametrize("key", SHOPS)
def test_every_number_with_a_unit_leads_to_its_working(look, studied, key):
    seen = look(1120)
    at = studied(key)
    mine = typed(seen.request.get(at + "/shop.yaml").text())
    motor = seen.request.get(at + "/study.json").json()["motors"][0]["id"]
    views = ["", "/workings", "/figures", "/years", f"/way?motor={motor}&way=drive_per_motor"]
    numbers, left = [], []
    for view in views:
        seen.goto(at + view)
        seen.evaluate("for (const each of document.querySelectorAll('main details')) each.open = 1")
        seen.wait_for_load_state("networkidle")
        for text, kind, around, drawn in seen.evaluate(NUMBERS):
            number = re.search(r"\d+(?:[.,]\d+)*", text)[0]
            if not kind and drawn and number in mine:
                kind = "as the owner typed it"
            numbers.append(kind)
            if not kind:
                left.append(f"{view or '/'}: {text!r} in {around!r}")
    leads = numbers.count("leads") / len([kind for kind in numbers if kind in ("leads", "")])
    kinds = {kind: numbers.count(kind) for kind in sorted(set(numbers))}
    told = [f"{key}: {len(numbers)} numbers, {leads:.1%} lead to a working; {kinds}"]
    sys.stdout.write("\n".join(("", *told, *dict.fromkeys(left), "")))
    assert len(numbers) > 300
    assert leads >= LEAST_SHARE
