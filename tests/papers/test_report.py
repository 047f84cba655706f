"""The report as PDF: read back by another program, it holds the figures of the result file, nothing
is cut, nothing is coloured, and what an owner typed is text and nothing else."""

import io
import json
import re
import zipfile
from dataclasses import replace
from pathlib import Path

import numpy as np
import pypdfium2
import pypdfium2.raw as raw
import pytest

import phasewright
from phasewright.files.report_file import report, sheets_pdf
from phasewright.files.result_file import study_text
from phasewright.job.papers import papers, sheets, wiring, zipped
from phasewright.papers.algebra import first_sentence
from phasewright.papers.plan_words import sentence
from phasewright.papers.report.balance import halves
from phasewright.papers.report.blocks import (
    Bullets,
    Column,
    Halves,
    Heading,
    Measured,
    Picture,
    Step,
    Table,
    Words,
    written,
)
from phasewright.papers.report.comparison import motors
from phasewright.papers.report.document import Document, document
from phasewright.papers.report.pdf import TEMPLATE, pdf
from phasewright.papers.report.sheets import AT_HAND, sheet_blocks
from phasewright.papers.sheets import sheet as of
from phasewright.papers.sheets.paper import Paper
from phasewright.papers.sheets.reading_marks import marks_of
from phasewright.papers.wiring.check import faults
from phasewright.quantities.told import amount, money
from phasewright.quantities.words import WAY_SHORT

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
SHOPS = ("cider-barn", "furniture-shop", "tight-shop", "pottery")
POINTS = {"IEC": (595.28, 841.89), "NEC": (612.0, 792.0)}
NASTY = '#panic("x") *b* $x^2$ @a <b> `c` \\ "q" // /* ] } #eval'


class Made:
    """A shop with its study and its report."""

    def __init__(self, name):
        self.shop = phasewright.read(EXAMPLES / f"{name}.shop.yaml")
        self.study = phasewright.study(self.shop, quick=True)
        self.wiring, self.plan = wiring(self.shop, self.study)
        self.sheets = sheets(self.shop, self.study)
        self.bytes = self.report()
        self.handouts = sheets_pdf(self.study, self.wiring, self.sheets)
        self.pages = pages_of(self.bytes)
        foot = re.compile(rf"{re.escape(self.shop.shop)}\s+\d+ / \d+")
        self.text, self.apart = (
            squeezed(" ".join(foot.sub("", page) for page in pages))
            for pages in (self.pages, pages_of(self.handouts))
        )

    def report(self, paper=None):
        return report(self.shop, self.study, self.wiring, self.sheets, paper)


def squeezed(text):
    """Text without spaces, hyphens (one at a line's end is lost) and marks where a word may break."""
    return re.sub(r"[\s\x02\u200b\ufffe\u00ad-]", "", text)


def pages_of(made):
    with pypdfium2.PdfDocument(made) as whole:
        return [page.get_textpage().get_text_bounded() for page in whole]


def rendered(made, scale=1.0):
    with pypdfium2.PdfDocument(made) as whole:
        return [page.render(scale=scale).to_numpy()[:, :, :3].copy() for page in whole]


def small(*blocks, first=(), title="A title", shop="A shop"):
    return Document(title, shop, "a4", tuple(first), tuple(blocks))


@pytest.fixture(scope="module", params=SHOPS)
def made(request):
    return Made(request.param)


def test_the_same_study_gives_the_same_bytes(made):
    assert made.report() == made.bytes


def test_it_has_its_title_its_language_and_its_tags(made):
    with pypdfium2.PdfDocument(made.bytes) as whole:
        assert whole.get_metadata_dict()["Title"].startswith(made.shop.shop)
        assert raw.FPDFCatalog_IsTagged(whole)
        assert not whole.get_metadata_dict()["CreationDate"]
    assert b"/Lang(en)" in made.bytes
    fonts = set(re.findall(rb"/FontName/[A-Z]+\+([A-Za-z-]+)", made.bytes))
    assert fonts == {b"DejaVuSans", b"DejaVuSans-Bold"}


def test_its_paper_is_that_of_the_region(made):
    wide, high = POINTS[made.shop.region]
    with pypdfium2.PdfDocument(made.bytes) as whole:
        sizes = {tuple(round(side) for side in page.get_size()) for page in whole}
    assert (round(wide), round(high)) in sizes
    assert sizes <= {(round(wide), round(high)), (round(high), round(wide))}


@pytest.mark.parametrize(("paper", "points"), [("a4", POINTS["IEC"]), ("letter", POINTS["NEC"])])
def test_the_paper_that_is_named_is_used_and_holds_the_same(paper, points):
    made = Made("pottery")
    other = made.report(paper)
    with pypdfium2.PdfDocument(other) as whole:
        sizes = {tuple(sorted(round(side) for side in page.get_size())) for page in whole}
    assert sizes == {tuple(sorted(round(side) for side in points))}
    assert squeezed(made.study.answer.headline) in squeezed(" ".join(pages_of(other)))


def letters(page):
    """Every letter of a page with the size it is set in [pt]."""
    text = page.get_textpage()
    for place in range(text.count_chars()):
        letter = text.get_text_range(place, 1)
        if letter.strip():
            yield letter, raw.FPDFText_GetFontSize(text.raw, place)


def least_letters(made):
    """Of each page the smallest size of a letter [pt]."""
    with pypdfium2.PdfDocument(made) as whole:
        return [min(size for _, size in letters(page)) for page in whole]


def test_no_letter_is_smaller_than_7_pt_and_beside_drawings_none_than_8(made):
    pictures = ("The shop", "Plans compared", "Drawings", "=")
    for words, least in zip(made.pages, least_letters(made.bytes), strict=True):
        drawn = any(mark in words for mark in pictures)
        assert least > (6.99 if drawn else 7.99), words[:60]
    assert min(least_letters(made.handouts)) > 7.99


def test_it_is_short(made):
    """About 15 pages for five motors on two ways; what is longer stands in the sheets beside it."""
    assert len(made.pages) <= 18


def test_the_first_page_is_the_answer_and_the_second_the_shop(made):
    first = squeezed(made.pages[0])
    assert squeezed(made.study.answer.headline) in first
    for caution in made.study.answer.cautions:
        assert squeezed(caution.words) in first
    for motor in made.plan.motors:
        assert squeezed(motor.motor) in first
    assert made.pages[1].strip().startswith("The shop")


def told_of(plan):
    """Figures of a plan of the result file as the report writes them, by where they stand."""
    for key in ("purchase", "energy_per_year"):
        yield f"/{key}", money(plan[key], None)
    yield "/lifetime_cost/expected", money(plan["lifetime_cost"]["expected"], None)
    for key, units in (("motors", {"overload_setting_a": "A"}),
                       ("circuits", {"design_current_a": "A", "ampacity_a": "A", "loop_ohm": "ohm",
                                     "earth_fault_a": "A"}),
                       ("starts", {"supply_peak_a": "A"}),
                       ("cases", {"supply_current_a": "A", "supply_power_w": "W", "room_left_a": "A",
                                  "room_left_starting_a": "A"})):  # fmt: skip
        for place, each in enumerate(plan.get(key, [])):
            inside = each.get("role") not in ("capacitor_branch", "control")
            for name, unit in units.items():
                if name in each and (inside or name in ("design_current_a", "ampacity_a")):
                    yield f"/{key}/{place}/{name}", amount(each[name], unit)
    for place, start in enumerate(plan["starts"]):
        yield f"/starts/{place}/dip", f"{start['dip']:.1%}"
    for place, case in enumerate(plan["cases"]):
        for line, volts in enumerate(case.get("line_voltages_v", [])):
            yield f"/cases/{place}/line_voltages_v/{line}", f"{volts:.0f}"
        if "unbalance" in case:
            yield f"/cases/{place}/unbalance/vuf", f"{case['unbalance']['vuf']:.1%}"
    for place, buy in enumerate(plan["buys"]):
        yield f"/buys/{place}/price", money(buy["price"], None)
        for seat, part in enumerate(buy["parts"]):
            yield f"/buys/{place}/parts/{seat}/price", money(part["price"], None)
    for place, motor in enumerate(plan["motors"]):
        for seat, setting in enumerate(motor["figures"].get("settings", [])):
            if isinstance(value := setting["value"], float):
                whole = f"{value:.0f}" if abs(value) >= 1000.0 else f"{value:.3g}"
                yield (
                    f"/motors/{place}/figures/settings/{seat}",
                    f"{whole} {setting['unit']}".strip(),
                )


def changed(tree):
    """The same tree with every figure three tenths larger."""
    if isinstance(tree, dict):
        return {key: changed(value) for key, value in tree.items()}
    if isinstance(tree, list):
        return [changed(value) for value in tree]
    return tree * 1.3 if isinstance(tree, float) else tree


def test_it_holds_the_figures_of_the_result_file(made):
    told = json.loads(study_text(made.study))
    plan = next(each for each in told["plans"] if each["id"] == told["answer"]["plan"])
    wanted = dict(told_of(plan))
    for place, other in enumerate(told["plans"]):
        wanted[f"plans {place}"] = other["title"]
        wanted[f"plans {place} to buy"] = money(other["purchase"], None)
        wanted[f"plans {place} in all"] = money(other["lifetime_cost"]["expected"], None)
    wanted |= {f"source {k}": source["title"] for k, source in enumerate(told["sources"])}
    wanted |= {f"confirm {k}": each["words"] for k, each in enumerate(plan.get("to_confirm", []))}
    assert len(wanted) > 100
    missing = {where: each for where, each in wanted.items() if squeezed(each) not in made.text}
    assert not missing


def test_other_figures_would_be_missed(made):
    told = json.loads(study_text(made.study))
    plan = next(each for each in told["plans"] if each["id"] == told["answer"]["plan"])
    true, false = dict(told_of(plan)), dict(told_of(changed(plan)))
    moved = [where for where in true if false[where] != true[where]]
    long = [where for where in moved if len(false[where]) > 3]  # a short one stands by chance
    absent = [where for where in long if squeezed(false[where]) not in made.text]
    assert len(long) > 20
    assert len(absent) > 0.7 * len(long)


def test_every_motor_stands_there_with_every_refused_way(made):
    tables = [block for block in motors(made.study) if isinstance(block, Table)]
    why = next(each for each in tables if each.columns[0].head == "Way").rows
    for motor in made.study.motors:
        assert squeezed(motor.id) in made.text
        for way in motor.ways:
            told = [row for row in why if row[0] == WAY_SHORT[way.way]]
            for reason in way.reasons if way.verdict == "refused" else ():
                words = sentence(reason.words)
                assert any(
                    words in row[2] or motor.id in row[2].partition("With other figures")[2]
                    for row in told
                )
                assert any(
                    motor.id in f"{row[1]}{row[2]}" or row[1] == "every motor" for row in told
                )
    for row in why:
        assert squeezed(row[2]) in made.text


def test_every_drawing_of_a_sound_wiring_is_in_it(made):
    assert not faults(made.wiring)
    for unit in made.wiring.units:
        assert squeezed(unit.title) in made.text
    for device in made.wiring.devices:
        assert squeezed(device.id) in made.text


def test_every_sheet_is_in_it_or_named_in_it_and_whole_beside_it(made):
    for sheet in made.sheets.sheets:
        assert squeezed(sheet.title) in made.text
        assert sheet.name in AT_HAND or squeezed(f"sheets/{sheet.name}.txt") in made.text
        assert (squeezed(sheet.title) in made.apart) == (sheet.name not in AT_HAND)
    for each in made.sheets.left_out:
        assert squeezed(each.title) in made.text
        assert squeezed(each.words) in made.text


def test_every_reading_is_beside_it_with_what_to_expect_and_what_another_means(made):
    steps = next((each for each in made.sheets.sheets if each.name == "commissioning"), None)
    read = [
        each for section in steps.sections for part in section.parts
        if isinstance(part, of.Steps) for step in part.steps for each in step.measures
    ] if steps else []  # fmt: skip
    assert len(read) == len(made.plan.readings_expected or ())
    for each in read:
        between = squeezed(each.between) in made.apart
        assert between or (squeezed(each.points) in made.apart and squeezed(each.of) in made.apart)
        assert squeezed(each.expected) in made.apart
        assert squeezed(each.differs) in made.apart
    for reading in made.plan.readings_expected or ():
        assert squeezed(reading.words_if_not) in made.apart


UNMARKED = {"start_seconds", "ramp_seconds"}
"""Readings that are taken with a watch, at no device."""


def test_every_reading_names_the_device_at_which_it_is_taken(made):
    of_paper = Paper(made.shop, made.study, made.plan, made.wiring)
    known = {device.id: device for device in made.wiring.devices}
    unit_of = {unit.subject: unit.id for unit in made.wiring.units}
    for reading in made.plan.readings_expected or ():
        marks = marks_of(of_paper, reading).split()
        assert bool(marks) == (reading.code not in UNMARKED), reading
        assert set(marks) <= set(known), reading
        if reading.code in ("insulation", "winding_ohms", "no_load_amps"):
            assert [known[mark].kind for mark in marks] == ["motor"], reading
            assert {known[mark].unit for mark in marks} == {unit_of[reading.subject]}
        if reading.code == "line_volts":
            assert known[marks[0]].kind == "strip"
    assert marks_of(replace(of_paper, wiring=None), reading) == ""


def test_the_archive_holds_the_files_that_the_study_writes(made):
    files = papers(made.shop, made.study).files
    assert files["report.pdf"] == made.bytes
    assert files["sheets.pdf"] == made.handouts
    with zipfile.ZipFile(io.BytesIO(zipped(files, "all"))) as archive:
        assert archive.read("all/report.pdf") == made.bytes


def test_it_is_black_and_white_and_nothing_reaches_the_edge(made):
    for number, image in enumerate([*rendered(made.bytes), *rendered(made.handouts)], start=1):
        spread = image.max(axis=2).astype(int) - image.min(axis=2)
        assert spread.max() <= 1, f"page {number} is coloured"
        dark = image.min(axis=2) < 200
        assert dark.any(), f"page {number} is empty"
        for edge in (dark[:8], dark[-8:], dark[:, :8], dark[:, -8:]):
            assert not edge.any(), f"ink at the edge of page {number}"


@pytest.mark.parametrize("which", ["bytes", "handouts"])
def test_no_letter_leaves_its_page_and_every_letter_is_in_the_font(made, which):
    with pypdfium2.PdfDocument(getattr(made, which)) as whole:
        for page in whole:
            wide, high = page.get_size()
            text = page.get_textpage()
            for place in range(text.count_rects()):
                left, bottom, right, top = text.get_rect(place)
                assert 10 <= left <= right <= wide - 10
                assert 10 <= bottom <= top <= high - 10
    for text in (made.text, made.apart):
        assert "\ufffd" not in text
        assert "\x00" not in text


def test_every_formula_of_the_source_is_a_function_that_says_what_it_does():
    root = Path(phasewright.__file__).parent
    named = {
        name
        for path in root.rglob("*.py")
        for name in re.findall(r'"([a-z_]+(?:\.\w+){2,3})"', path.read_text(encoding="utf-8"))
        if (root / Path(*name.split(".")[:2])).with_suffix(".py").is_file()
    }
    assert len(named) > 60
    for name in named:
        assert not first_sentence(name).startswith(name), name
    assert first_sentence("no.such.thing") == "no.such.thing."


@pytest.mark.parametrize("place", ["title", "words", "table", "bullets", "step", "heading"])
def test_what_an_owner_typed_is_text_and_nothing_else(place):
    blocks = {
        "title": (), "words": (Words(NASTY, NASTY),), "heading": (Heading(NASTY),),
        "table": (Table((Column(NASTY, 1.0),), ((NASTY,),)),),
        "bullets": (Bullets(((NASTY, NASTY),)),), "step": (
            Step(1, NASTY, NASTY, (Measured(NASTY, NASTY, NASTY, 1),), ((1, NASTY),)),
        ),
    }[place]  # fmt: skip
    head = (Words("First"),)
    text = squeezed(" ".join(pages_of(pdf(small(*blocks, first=head, title=NASTY, shop=NASTY)))))
    wanted = 2 + {"title": 0, "words": 2, "heading": 1, "table": 2, "bullets": 2, "step": 6}[place]
    assert text.count(squeezed(NASTY)) >= wanted


def test_a_shop_name_that_is_code_is_only_a_name():
    made = Made("pottery")
    shop = replace(made.shop, shop=NASTY)
    study = replace(made.study, shop=NASTY)
    told = pages_of(report(shop, study, made.wiring, made.sheets))
    assert squeezed(NASTY) in squeezed(told[0])


def test_long_names_stay_on_their_page():
    long = "Averyverylongnamewithoutanyspaceinit" * 4
    made = pdf(small(Words(long), Heading(long), first=(Words(long, look="headline"),), shop=long))
    for image in rendered(made):
        assert not (image[:, -20:].min(axis=2) < 200).any()


def test_control_letters_are_shown_as_missing():
    assert written(Words("a\x00b\x1bc"))["words"] == "a\ufffdb\ufffdc"


def test_a_first_page_of_much_stays_one_page():
    lines = tuple(
        (f"{k}", "A motor with a rather long name hangs on the rotary converter.")
        for k in range(34)
    )
    told = pages_of(pdf(small(Heading("The next", 1, page=True), first=(Bullets(lines),))))
    assert len(told) == 2
    assert told[1].strip().startswith("The next")


def test_a_tall_drawing_is_made_smaller_not_cut():
    drawing = (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 400" width="100" height="400">'
        '<rect x="1" y="1" width="98" height="398" fill="none" stroke="black" stroke-width="2"/></svg>'
    )
    made = pdf(small(Heading("Tall", 1), Picture(drawing, "tall", fills=True), first=(Words("x"),)))
    images = rendered(made)
    assert len(images) <= 3
    dark = images[-1].min(axis=2) < 128
    rows = np.flatnonzero(dark.sum(axis=1) > 60)
    assert len(rows) >= 2, "top and bottom of the frame are there"


def test_a_sheet_is_set_with_its_steps_cautions_and_room_to_write():
    sheet = of.Sheet(
        "check", "Checking it", (
            of.Section("Before", (of.Paragraph("Wait for the shaft.", "caution"),)),
            of.Section("", (
                of.Steps((of.Step("Measure it.", "It is live.", (of.Measure("L1 and L3", "voltmeter", "225 V (210 to 240 V)", "A can is dead."),)),), first=4),
                of.Table(("Date", "Ohm"), (("", "x"), ("", "x")), blank=("Ohm",), title="Over the years"),
            )),
        ),
    )  # fmt: skip
    blocks = tuple(sheet_blocks(sheet))
    text = squeezed(" ".join(pages_of(pdf(small(*blocks, first=(Words("x"),))))))
    for words in ("Checking it", "Before", "Wait for the shaft.", "4.", "Measure it.", "It is live.",
                  "L1 and L3", "voltmeter", "225 V (210 to 240 V)", "A can is dead.", "Read",
                  "Over the years", "Date", "Ohm"):  # fmt: skip
        assert squeezed(words) in text, words
    inner = [each for block in blocks if isinstance(block, Halves) for each in block.blocks]
    tables = [block for block in inner if isinstance(block, Table)]
    assert tables
    assert all(row[1] == "" for block in tables for row in block.rows)


def test_a_step_of_many_readings_goes_on_over_the_page():
    readings = tuple(Measured(f"point {k}", "voltmeter", f"{k} V", 1) for k in range(90))
    step = Step(1, "Measure.", "Live.", readings, ((1, "Something else is wrong."),))
    told = pages_of(pdf(small(step, first=(Words("x"),))))
    assert len(told) > 1
    assert all(squeezed(f"point {k}") in squeezed(" ".join(told)) for k in range(90))


def test_what_another_reading_means_is_told_once_and_found_by_its_number():
    one = of.Measure("L1 and L3", "voltmeter", "225 V", "A can is dead.")
    two = of.Measure("L2 and L3", "voltmeter", "226 V", "A can is dead.")
    sheet = of.Sheet("a", "A", (of.Section("", (of.Steps((of.Step("Now.", "", (one, two)),)),)),))
    steps = [each for block in sheet_blocks(sheet) if isinstance(block, Halves)
             for each in block.blocks if isinstance(each, Step)]  # fmt: skip
    assert steps[0].differs == ((1, "A can is dead."),)
    assert [each.differs for each in steps[0].measured] == [1, 1]
    assert [each.meter for each in steps[0].measured] == ["voltmeter", ""]


def test_like_steps_stand_in_one_table_with_room_to_write():
    def reads(name):
        return tuple(
            of.Measure(f"wire of line {k} to {name}", "clamp", f"{k} A", "Look.", name)
            for k in (1, 2, 3)
        )

    steps = of.Steps(
        (of.Step("Saw alone:", "", reads("Saw")), of.Step("Lathe alone:", "", reads("Lathe")))
    )
    blocks = list(sheet_blocks(of.Sheet("a", "A", (of.Section("", (steps,)),))))
    (table,) = [each for each in blocks if isinstance(each, Table)]
    assert [row[0] for row in table.rows] == ["☐ 1. Saw alone", "☐ 2. Lathe alone"]
    assert [row[1:] for row in table.rows] == [tuple(f"{k} A\nread:" for k in (1, 2, 3))] * 2
    assert [column.head for column in table.columns[1:]] == [
        f"wire of line {k} to each (if not: 1)" for k in (1, 2, 3)
    ]
    text = squeezed(" ".join(pages_of(pdf(small(*blocks, first=(Words("x"),))))))
    assert squeezed("1: if not: Look.") in text


def test_columns_are_about_as_long_as_each_other_and_end_with_no_heading():
    blocks = [each for k in range(9) for each in (Heading(f"Part {k}"), Words("Word. " * 30))]
    found = halves(blocks)
    assert found.blocks == tuple(blocks)
    assert 6 <= found.first <= 12
    assert not isinstance(blocks[found.first - 1], Heading)


def test_what_is_longer_than_a_page_flows_through_columns():
    assert halves([Words("Word. " * 200) for _ in range(20)]).first == 0


def test_sheets_left_out_are_said():
    made = Made("pottery")
    sheets = of.Sheets((), (of.LeftOut("card", "Card for the wall", "Nothing idles here."),))
    whole = document(made.shop, made.study, made.wiring, sheets, sound=False)
    told = squeezed(" ".join(pages_of(pdf(whole))))
    assert squeezed("Card for the wall") in told
    assert squeezed("Nothing idles here.") in told


def test_the_template_fetches_nothing():
    template = TEMPLATE.read_text(encoding="utf-8")
    assert "import" not in template
    assert "@" not in template
    assert "read(" not in template
