"""Sheets in a real browser: text outside its sheet, text on text, a line through a text."""

from __future__ import annotations

import base64

from phasewright.papers import font
from phasewright.papers.drawings.sheets import sheets_of
from phasewright.papers.svg import svg
from phasewright.papers.wiring.check import faults
from phasewright.papers.wiring.plan import wiring_of

LOOK = """
() => {
  const pen = document.createElement('canvas').getContext('2d'), wrong = [];
  let texts = 0, pieces = 0;
  const ink = (text) => {
    const style = getComputedStyle(text), size = parseFloat(text.getAttribute('font-size'));
    pen.font = `${style.fontWeight} ${size}px "DejaVu Sans"`;
    const m = pen.measureText(text.textContent), wide = text.getComputedTextLength();
    const anchor = text.getAttribute('text-anchor') || 'start';
    const x = +text.getAttribute('x') - (anchor === 'end' ? wide : anchor === 'middle' ? wide / 2 : 0);
    const y = +text.getAttribute('y');
    return {words: text.textContent, left: x, right: x + wide,
            top: y - m.actualBoundingBoxAscent, bottom: y + m.actualBoundingBoxDescent};
  };
  const strokes = function* (sheet) {
    const n = (e, k) => +e.getAttribute(k);
    for (const e of sheet.querySelectorAll('line')) yield [n(e,'x1'), n(e,'y1'), n(e,'x2'), n(e,'y2')];
    for (const e of sheet.querySelectorAll('polyline')) {
      const p = e.getAttribute('points').trim().split(/\\s+/).map(pair => pair.split(',').map(Number));
      for (let k = 1; k < p.length; k++) yield [...p[k - 1], ...p[k]];
    }
    for (const e of sheet.querySelectorAll('rect')) {
      const [x, y, w, h] = ['x', 'y', 'width', 'height'].map(k => n(e, k));
      yield [x, y, x + w, y]; yield [x + w, y, x + w, y + h];
      yield [x + w, y + h, x, y + h]; yield [x, y + h, x, y];
    }
    for (const e of sheet.querySelectorAll('circle')) {
      const [x, y, r] = ['cx', 'cy', 'r'].map(k => n(e, k)), at = k => Math.PI * k / 12;
      for (let k = 0; k < 24; k++)
        yield [x + r * Math.cos(at(k)), y + r * Math.sin(at(k)),
               x + r * Math.cos(at(k + 1)), y + r * Math.sin(at(k + 1))];
    }
  };
  const through = ([x1, y1, x2, y2], b) => {
    let first = 0, last = 1;
    for (const [run, low, high] of [[x2 - x1, b.left - x1, b.right - x1], [y2 - y1, b.top - y1, b.bottom - y1]]) {
      if (Math.abs(run) < 1e-9) { if (low >= 0 || high <= 0) return false; continue; }
      const [one, other] = [low / run, high / run].sort((a, b) => a - b);
      first = Math.max(first, one); last = Math.min(last, other);
    }
    return first < last;
  };
  for (const sheet of document.querySelectorAll('svg')) {
    const view = sheet.viewBox.baseVal, name = sheet.querySelector('title').textContent;
    const all = [...sheet.querySelectorAll('text')].map(ink);
    const lines = [...strokes(sheet)];
    texts += all.length; pieces += lines.length;
    for (const [k, one] of all.entries()) {
      if (one.left < 0 || one.top < 0 || one.right > view.width || one.bottom > view.height)
        wrong.push(`${name}: ${one.words} is outside its sheet`);
      for (const other of all.slice(k + 1))
        if (one.left < other.right && other.left < one.right && one.top < other.bottom && other.top < one.bottom)
          wrong.push(`${name}: ${one.words} lies on ${other.words}`);
      for (const piece of lines)
        if (through(piece, one)) { wrong.push(`${name}: a line goes through ${one.words}`); break; }
    }
  }
  return {wrong, texts, pieces, font: document.fonts.check('10px "DejaVu Sans"')};
}
"""
FACE = base64.b64encode((font.FOLDER / "DejaVuSans.ttf").read_bytes()).decode()
HEAD = (
    '<!doctype html><meta charset="utf-8"><style>@font-face{font-family:"DejaVu Sans";'
    f"src:url(data:font/ttf;base64,{FACE})}}</style>"
)


def seen(page, sheets) -> dict:
    """What the browser finds in these sheets, all in one load."""
    page.set_content(HEAD + "\n".join(svg(each.marks) for each in sheets))
    page.evaluate("document.fonts.load('10px \"DejaVu Sans\"')")
    return page.evaluate(LOOK)


def fullest(shop, study):
    """Wiring and plan of the answer, and of the plan with most devices; the electrical faults of
    every plan that is listed."""
    made = [(wiring_of(shop, study, plan), plan) for plan in study.plans]
    wrong = [
        f"{plan.title}: {each.words}" for wiring, plan in made for each in faults(wiring)
    ]  # fmt: skip
    most = max(made, key=lambda pair: len(pair[0].devices))
    chosen = next(pair for pair in made if pair[1].id == study.answer.plan)
    return list({id(pair): pair for pair in (chosen, most)}.values()), wrong


def wrong_with(page, shop, study) -> list[str]:
    """Everything that is wrong with the wirings and the drawings of a shop."""
    drawn, wrong = fullest(shop, study)
    if wrong:
        return wrong
    found = seen(page, [s for wiring, plan in drawn for s in sheets_of(wiring, plan.title)])
    assert found["font"]
    assert found["texts"] > 5
    return found["wrong"]
