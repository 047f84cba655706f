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
from phasewright.files.report_file import report
from phasewright.files.result_file import study_text
from phasewright.job.papers import papers, sheets, wiring, zipped
from phasewright.papers.report.blocks import (
    Bullets,
    Column,
    Heading,
    Picture,
    Step,
    Table,
    Words,
    written,
)
from phasewright.papers.report.calculations import calculations, first_sentence
from phasewright.papers.report.document import CALCULATIONS, Document, document
from phasewright.papers.report.pdf import TEMPLATE, pdf
from phasewright.papers.report.sheets import sheet_blocks
from phasewright.papers.sheets import sheet as of
from phasewright.papers.wiring.check import faults
from phasewright.quantities.plain import figures
from phasewright.quantities.told import amount, money

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
        self.pages = pages_of(self.bytes)
        self.text = squeezed(" ".join(self.pages))

    def report(self):
        return report(self.shop, self.study, self.wiring, self.plan, self.sheets)


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


def test_the_first_page_is_the_answer_and_the_second_the_shop(made):
    first = squeezed(made.pages[0])
    assert squeezed(made.study.answer.headline) in first
    for caution in made.study.answer.cautions:
        assert squeezed(caution.words) in first
    for motor in made.plan.motors:
        assert squeezed(motor.motor) in first
    assert made.pages[1].strip().startswith("The shop")


def test_it_holds_the_figures_of_the_result_file(made):
    told = json.loads(study_text(made.study))
    plan = next(each for each in told["plans"] if each["id"] == told["answer"]["plan"])
    wanted = [money(plan["purchase"], None), money(plan["lifetime_cost"]["expected"], None)]
    wanted += [amount(each["overload_setting_a"], "A")
               for each in plan["motors"] if "overload_setting_a" in each]  # fmt: skip
    for other in told["plans"]:
        wanted += [other["title"], money(other["purchase"], None)]
    for circuit in plan.get("circuits", []):
        wanted += [
            amount(circuit[key], "A")
            for key in ("design_current_a", "ampacity_a")
            if key in circuit
        ]
        wanted += [amount(circuit["loop_ohm"], "ohm")] if "loop_ohm" in circuit else []
    for start in plan["starts"]:
        wanted += [f"{start['dip']:.1%}", amount(start["supply_peak_a"], "A")]
    for case in plan["cases"]:
        wanted.append(amount(case["supply_current_a"], "A"))
    wanted += [money(buy["price"], None) for buy in plan["buys"]]
    wanted += [source["title"] for source in told["sources"]]
    wanted += [entry["words"] for entry in plan.get("to_confirm", [])]
    assert len(wanted) > 20
    missing = [each for each in wanted if squeezed(each) not in made.text]
    assert not missing


def test_a_figure_that_is_not_there_would_be_missed(made):
    assert squeezed(money(made.plan.purchase.number + 1234.5, None)) not in made.text


def test_every_motor_stands_there_with_every_way(made):
    for motor in made.study.motors:
        assert squeezed(motor.id) in made.text
        for way in motor.ways:
            if way.verdict == "refused":
                for reason in way.reasons:
                    assert squeezed(reason.words)[1:].rstrip(".") in made.text


def test_every_drawing_of_a_sound_wiring_is_in_it(made):
    assert not faults(made.wiring)
    for unit in made.wiring.units:
        assert squeezed(unit.title) in made.text
    for device in made.wiring.devices:
        assert squeezed(device.id) in made.text


def as_said(between):
    """Ids of equipment as an owner says them: `drive_per_motor Saw/arbor` is the drive of it."""

    def words(found):
        return "drive of " if found[1] == "drive_per_motor" else f"{found[1].replace('_', ' ')} of "

    return re.sub(r"([a-z]+_[a-z_]+) ", words, between)


def test_every_sheet_but_the_calculations_is_in_it(made):
    for sheet in made.sheets.sheets:
        if sheet.name != CALCULATIONS:
            assert squeezed(sheet.title) in made.text
    for each in made.sheets.left_out:
        assert squeezed(each.title) in made.text
        assert squeezed(each.words) in made.text
    for reading in made.plan.readings_expected or ():
        assert squeezed(as_said(reading.between)) in made.text


def test_the_archive_holds_the_files_that_the_study_writes(made):
    files = papers(made.shop, made.study)
    assert files["report.pdf"] == made.bytes
    with zipfile.ZipFile(io.BytesIO(zipped(files, "all"))) as archive:
        assert archive.read("all/report.pdf") == made.bytes


def test_it_is_black_and_white_and_nothing_reaches_the_edge(made):
    for number, image in enumerate(rendered(made.bytes), start=1):
        spread = image.max(axis=2).astype(int) - image.min(axis=2)
        assert spread.max() <= 1, f"page {number} is coloured"
        dark = image.min(axis=2) < 200
        assert dark.any(), f"page {number} is empty"
        for edge in (dark[:8], dark[-8:], dark[:, :8], dark[:, -8:]):
            assert not edge.any(), f"ink at the edge of page {number}"


def test_no_letter_leaves_its_page_and_every_letter_is_in_the_font(made):
    with pypdfium2.PdfDocument(made.bytes) as whole:
        for page in whole:
            wide, high = page.get_size()
            text = page.get_textpage()
            for place in range(text.count_rects()):
                left, bottom, right, top = text.get_rect(place)
                assert 10 <= left <= right <= wide - 10
                assert 10 <= bottom <= top <= high - 10
    assert "\ufffd" not in made.text
    assert "\x00" not in made.text


def test_every_formula_says_what_it_does(made):
    rows = [block for block in calculations(made.study, made.plan) if isinstance(block, Table)]
    numbers = {row[2] for row in rows[0].rows if len(row) == 3}
    hows = dict(rows[1].rows)
    assert numbers == set(hows)
    assert all(len(how) > 5 for how in hows.values())
    assert any(value.formula for _, value in figures(made.study))


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


def test_a_decisive_figure_moves_its_row(made):
    plan = made.plan
    dearer = replace(plan, purchase=replace(plan.purchase, number=plan.purchase.number + 777.0))
    assert list(calculations(made.study, dearer)) != list(calculations(made.study, plan))


@pytest.mark.parametrize("place", ["title", "words", "table", "bullets", "step", "heading"])
def test_what_an_owner_typed_is_text_and_nothing_else(place):
    blocks = {
        "title": (), "words": (Words(NASTY, NASTY),), "heading": (Heading(NASTY),),
        "table": (Table((Column(NASTY, 1.0),), ((NASTY,),)),),
        "bullets": (Bullets(((NASTY, NASTY),)),), "step": (Step(1, NASTY, NASTY, ((NASTY,) * 4,)),),
    }[place]  # fmt: skip
    head = (Words("First"),)
    text = squeezed(" ".join(pages_of(pdf(small(*blocks, first=head, title=NASTY, shop=NASTY)))))
    wanted = 2 + {"title": 0, "words": 2, "heading": 1, "table": 2, "bullets": 2, "step": 6}[place]
    assert text.count(squeezed(NASTY)) >= wanted


def test_a_shop_name_that_is_code_is_only_a_name():
    made = Made("pottery")
    shop = replace(made.shop, shop=NASTY)
    study = replace(made.study, shop=NASTY)
    told = pages_of(report(shop, study, made.wiring, made.plan, made.sheets))
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
        for k in range(40)
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
                  "L1 and L3", "voltmeter", "225 V (210 to 240 V)", "A can is dead.", "You read",
                  "Over the years", "Date", "Ohm"):  # fmt: skip
        assert squeezed(words) in text, words
    assert all(row[1] == "" for block in blocks if isinstance(block, Table) for row in block.rows)


def test_a_step_of_many_readings_goes_on_over_the_page():
    readings = tuple(
        (f"point {k}", "voltmeter", f"{k} V", "Something else is wrong.") for k in range(90)
    )
    told = pages_of(pdf(small(Step(1, "Measure.", "Live.", readings), first=(Words("x"),))))
    assert len(told) > 1
    assert all(squeezed(f"point {k}") in squeezed(" ".join(told)) for k in range(90))


def test_sheets_left_out_are_said():
    made = Made("pottery")
    sheets = of.Sheets((), (of.LeftOut("card", "Card for the wall", "Nothing idles here."),))
    whole = document(made.shop, made.study, made.wiring, (), sheets)
    told = squeezed(" ".join(pages_of(pdf(whole))))
    assert squeezed("Card for the wall") in told
    assert squeezed("Nothing idles here.") in told


def test_the_template_fetches_nothing():
    template = TEMPLATE.read_text(encoding="utf-8")
    assert "import" not in template
    assert "@" not in template
    assert "read(" not in template
