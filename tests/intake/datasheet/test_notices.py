"""What a paper says against itself: nothing of a paper that takes itself back is taken as it stands.

Source: common practice; the words stand in specgen/practice/datasheets/notices.yaml.
"""

from __future__ import annotations

import ctypes
import io
import json
import re
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pypdfium2
import pypdfium2.raw as raw
import pytest
from click.testing import CliRunner, Result
from openpyxl import Workbook
from openpyxl.styles import Font
from PIL import Image, ImageDraw
from reportlab.lib.colors import black, lightgrey
from reportlab.lib.pagesizes import letter
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen import canvas

from specgen.commands import main
from specgen.intake.datasheet.days import days_in
from specgen.intake.datasheet.pdf import read_pages
from specgen.intake.datasheet.read import read_product, sheet_of
from specgen.intake.datasheet.tables import read_workbook
from specgen.model.datasheet import Reading, Standing
from specgen.practice.datasheet_notices import load_notices
from specgen.practice.load import load_practice

PROJECT = Path(__file__).parents[3] / "tests" / "stated" / "mixed-humid-midrise"
TODAY = date(2026, 11, 29)
ROWS = (
    ("Vapor permeance", "ASTM E96 Procedure B", "14 perms"),
    ("Dry film thickness", "", "40 mils"),
    ("Pull adhesion", "ASTM D4541", "42 psi"),
)
TAKEN = {"vapor_permeance": "14 perms", "thickness": "40 mils", "pull_adhesion": "42 psi"}
Draw = Callable[[canvas.Canvas], None]


def sheet(over: Draw = lambda page: None, lines: tuple[str, ...] = (), foot: str = "") -> bytes:
    """A data sheet of one page, with something drawn over it."""
    out = io.BytesIO()
    page = canvas.Canvas(out, pagesize=letter, invariant=1)
    page.setFont("Helvetica-Bold", 18)
    page.drawString(72, 720, "Air and water barrier WB-1")
    page.setFont("Helvetica", 10)
    for at, line in enumerate(lines):
        page.drawString(72, 690 - 20 * at, line)
    page.setFont("Helvetica-Bold", 12)
    page.drawString(72, 600, "Technical data")
    page.setFont("Helvetica", 10)
    for at, row in enumerate((("Property", "Test method", "Result"), *ROWS)):
        for column, text in enumerate(row):
            page.drawString(72 + 170 * column, 570 - 20 * at, text)
    page.drawString(72, 60, foot)
    over(page)
    page.save()
    return out.getvalue()


def reading(data: bytes, name: str = "sheet.pdf", product: str = "") -> Reading:
    found = sheet_of(name, {"pages": read_pages(data)})
    return read_product([found], "barrier", load_practice(), product, TODAY)


def taken(found: Reading) -> dict[str, str]:
    """The values that nobody has to confirm."""
    return {one.attribute: one.value for one in found.values if one.standing is Standing.READ}


def test_the_sheet_itself_is_taken() -> None:
    assert taken(reading(sheet(foot="Edition 3, May 2025"))) == TAKEN


@pytest.mark.parametrize(
    "line",
    [
        "SUPERSEDED", "Superseded by edition 4 of May 2026", "This data sheet is superseded.", "PRELIMINARY",
        "Preliminary data, subject to final testing", "WITHDRAWN", "This product was withdrawn in 2024.", "DRAFT",
        "Draft 2, not for distribution", "Confidential - DRAFT - printed 4 May 2025", "SAMPLE", "Sample data sheet",
        "Do not use", "DO NOT USE THIS SHEET", "Do not use for new projects", "For reference only",
        "for reference", "Not for construction", "Obsolete", "VOID", "No longer manufactured", "Status: withdrawn",
        "Valid until 31 March 2025", "Expires 12/31/2025", "D R A F T", "Provisional values", "Target values",
        "Colors may vary. Specimen only.", "Values are not to be used for specification.", "Dated 3 May 2027",
        "This sheet is no longer valid; use the current edition.",
    ],
)  # fmt: skip
def test_a_notice_leaves_everything_to_a_person(line: str) -> None:
    found = reading(sheet(lines=(line,)))
    assert taken(found) == {}
    assert {one.value for one in found.values if one.value} >= set(TAKEN.values())  # shown all the same
    assert found.sheets[0].notices
    assert taken(reading(sheet(foot=line))) == {}


@pytest.mark.parametrize(
    "line",
    [
        "This edition supersedes all previous editions.", "All previous editions are superseded.",
        "Samples are available on request.", "Do not use below 40 °F.", "Do not use it below grade.",
        "Protect from drafts and direct sun.", "Preliminary cleaning is needed on dusty walls.",
        "For reference, see ASTM C926.", "Valid until 31 March 2031", "Tested by ASTM D1970 (withdrawn 2020).",
        "Damaged areas must be replaced by new membrane.", "Avoid voids below the membrane.", "Page 1 of 1",
        "Take a sample of each batch.", "Use a drafting pencil to mark lines.", "Discontinue work in rain.",
    ],
)  # fmt: skip
def test_words_that_are_no_notice_cost_nothing(line: str) -> None:
    found = reading(sheet(lines=(line,)))
    assert found.sheets[0].notices == ()
    assert taken(found) == TAKEN


def test_a_notice_is_seen_in_the_name_of_the_file() -> None:
    assert taken(reading(sheet(), "WB-1_superseded.pdf")) == {}


def _slanted(page: canvas.Canvas) -> None:
    page.saveState()
    page.setFillColor(lightgrey)
    page.translate(150, 300)
    page.rotate(40)
    page.setFont("Helvetica-Bold", 60)
    page.drawString(0, 0, "SUPERSEDED")
    page.restoreState()


def _upright(page: canvas.Canvas) -> None:
    page.saveState()
    page.translate(30, 300)
    page.rotate(90)
    page.drawString(0, 0, "PRELIMINARY")
    page.restoreState()


def _picture(page: canvas.Canvas) -> None:
    image = Image.new("RGBA", (600, 300), (0, 0, 0, 0))
    ImageDraw.Draw(image).line((0, 300, 600, 0), fill=(200, 0, 0, 120), width=30)
    page.drawImage(ImageReader(image), 72, 380, 420, 250, mask="auto")


def _crossed(page: canvas.Canvas) -> None:
    page.setStrokeColor(black)
    page.line(72, 480, 500, 600)


def _outlines(page: canvas.Canvas) -> None:
    """A watermark drawn as a figure: no letters are in the file."""
    path = page.beginPath()
    path.moveTo(100, 400)
    for at in range(12):
        path.curveTo(100 + 30 * at, 420, 110 + 30 * at, 560, 130 + 30 * at, 480)
    page.setFillColor(lightgrey, alpha=0.4)
    page.drawPath(path, stroke=0, fill=1)


def _outlines_below(page: canvas.Canvas) -> None:
    """A watermark as word processors draw it, where no text lies under it."""
    path = page.beginPath()
    path.moveTo(120, 120)
    for at in range(12):
        path.curveTo(120 + 30 * at, 140, 130 + 30 * at, 440, 150 + 30 * at, 200)
    page.setFillColor(lightgrey)
    page.drawPath(path, stroke=0, fill=1)


@pytest.mark.parametrize("over", [_outlines_below, _slanted, _upright, _picture, _crossed, _outlines])
def test_a_mark_across_the_page_leaves_everything_to_a_person(over: Draw) -> None:
    assert taken(reading(sheet(over))) == {}


def test_a_picture_beside_the_text_costs_nothing_and_is_counted() -> None:
    def logo(page: canvas.Canvas) -> None:
        page.drawImage(ImageReader(Image.new("RGB", (60, 60), (0, 90, 160))), 500, 700, 60, 60)

    found = reading(sheet(logo))
    assert taken(found) == TAKEN
    assert found.notes == ("sheet.pdf, page 1: not read: 1 picture or drawn figures",)


def test_a_value_that_is_crossed_out_is_left_to_a_person() -> None:
    def stroke(page: canvas.Canvas) -> None:
        page.line(408, 553.5, 470, 553.5)  # through the first value

    found = reading(sheet(stroke))
    assert taken(found) == {name: value for name, value in TAKEN.items() if name != "vapor_permeance"}
    (value,) = (one for one in found.values if one.attribute == "vapor_permeance")
    assert "crossed out" in value.confirm


def test_a_mark_behind_thousands_of_strokes_is_seen() -> None:
    def crowded(page: canvas.Canvas) -> None:
        for at in range(4100):
            page.line(520, 40 + at / 10, 560, 40 + at / 10)
        _picture(page)

    assert taken(reading(sheet(crowded))) == {}


def test_a_value_that_is_underlined_is_taken() -> None:
    assert taken(reading(sheet(lambda page: page.line(408, 548.5, 470, 548.5)))) == TAKEN


def annotated(kind: int, words: str, box: tuple[float, float, float, float]) -> bytes:
    """The sheet with a remark on it, as a reader of PDF files sets one."""
    document = pypdfium2.PdfDocument(sheet())
    page = document[0]
    one = raw.FPDFPage_CreateAnnot(page.raw, kind)
    raw.FPDFAnnot_SetRect(one, raw.FS_RECTF(box[0], box[3], box[2], box[1]))
    text = ctypes.create_string_buffer((words + "\0").encode("utf-16-le"))
    raw.FPDFAnnot_SetStringValue(one, b"Contents", ctypes.cast(text, ctypes.POINTER(raw.FPDF_WCHAR)))
    raw.FPDFPage_CloseAnnot(one)
    out = io.BytesIO()
    document.save(out)
    return out.getvalue()


@pytest.mark.parametrize("kind", [raw.FPDF_ANNOT_STAMP, raw.FPDF_ANNOT_FREETEXT, raw.FPDF_ANNOT_TEXT])
def test_a_stamp_or_a_remark_is_read(kind: int) -> None:
    assert taken(reading(annotated(kind, "Superseded", (300, 640, 420, 670)))) == {}
    assert taken(reading(annotated(kind, "Seen, file it.", (300, 640, 420, 670)))) == TAKEN


def test_a_stroke_that_a_reader_of_pdf_files_sets_counts() -> None:
    found = reading(annotated(raw.FPDF_ANNOT_STRIKEOUT, "", (405, 545, 475, 562)))
    assert taken(found) == {name: value for name, value in TAKEN.items() if name != "vapor_permeance"}


def test_a_sheet_of_two_editions_is_left_to_a_person() -> None:
    found = reading(sheet(lines=("Edition 2, May 2024",), foot="Edition 3"))
    assert taken(found) == {}
    assert found.sheets[0].edition == ""


def test_product_edition_and_day_are_read() -> None:
    (head,) = reading(sheet(lines=("Grade: Summer",), foot="Edition 3, issued May 2025")).sheets
    assert (head.product, head.grade, head.edition, head.day) == (
        "Air and water barrier WB-1", "Summer", "3", "2025-05-31",
    )  # fmt: skip


@pytest.mark.parametrize(
    ("text", "days"),
    [
        ("2025-05-03", ["2025-05-03"]), ("May 3, 2025", ["2025-05-03"]), ("3 May 2025", ["2025-05-03"]),
        ("03.05.2025", ["2025-05-03"]), ("05/03/2025", ["2025-05-03"]), ("5/2025", ["2025-05-31"]),
        ("Sept. 2025", ["2025-09-30"]), ("31 June 2025", []), ("ASTM E96-22", []), ("2025-13-01", []),
    ],
)  # fmt: skip
def test_days(text: str, days: list[str]) -> None:
    assert [day.isoformat() for day in days_in(text)] == days


def workbook(
    rows: list[tuple[str, ...]], struck: tuple[int, int] | None = None, title: str = "Data"
) -> bytes:
    book = Workbook()
    book.active.title = title
    for row in rows:
        book.active.append(row)
    if struck:
        book.active.cell(*struck).font = Font(strike=True)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def of_workbook(data: bytes) -> Reading:
    found = sheet_of("sheet.xlsx", {"sheets": read_workbook(data)})
    return read_product([found], "barrier", load_practice(), "", TODAY)


def test_a_workbook_has_notices_strokes_and_names_of_sheets() -> None:
    rows = [("Air and water barrier WB-1",), ("Property", "Test method", "Result"), *ROWS]
    assert taken(of_workbook(workbook(rows))) == TAKEN
    assert taken(of_workbook(workbook([("Superseded",), *rows]))) == {}
    assert taken(of_workbook(workbook([*rows, ("Status", "", "Withdrawn")]))) == {}
    assert taken(of_workbook(workbook(rows, title="Draft"))) == {}
    assert "vapor_permeance" not in taken(of_workbook(workbook(rows, struck=(3, 3))))


def test_every_word_of_the_table_is_told() -> None:
    """Each phrase, alone on a line, is a notice: none is lost by a spelling or by another row."""
    for one in load_notices().notices:
        for phrase in (*one.anywhere, *one.alone):
            found = reading(sheet(lines=(phrase.capitalize(),)))
            assert any(notice.title == one.title for notice in found.sheets[0].notices), phrase


def run(*arguments: object) -> Result:
    return CliRunner().invoke(main, [str(one) for one in arguments])


def test_no_exceptions_taken_is_out_of_reach_until_a_person_answers_the_notice(tmp_path: Path) -> None:
    """A person deletes every line `confirm:`; the paper stays superseded until the notice has its answer."""
    outcome = {}
    for name, line in (("sound", "Edition 3"), ("taken back", "Superseded by edition 4")):
        source, target = tmp_path / f"{name}.pdf", tmp_path / f"{name}.yaml"
        source.write_bytes(sheet(lines=(line,)))
        assert run("read", source, "--role", "barrier", "-o", target).exit_code in (0, 3)
        text = re.sub(r"\n      confirm: .*", "", target.read_text())
        target.write_text(text)
        outcome[name] = _results(target, tmp_path / f"out {name}")
        answer = "answer: letter of the maker of 2026-11-02, edition 3 counts here"
        target.write_text(re.sub("# answer: .*", answer, text))
        outcome[f"{name}, answered"] = _results(target, tmp_path / f"again {name}")
    assert set(outcome["sound"].values()) >= {"meets"}
    assert "meets" not in outcome["taken back"].values()
    assert outcome["taken back, answered"] == outcome["sound, answered"] == outcome["sound"]


@pytest.mark.parametrize("answer", ["tbd", "?", "n/a"])
def test_a_notice_is_not_answered_by_a_placeholder(answer: str, tmp_path: Path) -> None:
    source, target = tmp_path / "sheet.pdf", tmp_path / "p.yaml"
    source.write_bytes(sheet(lines=("Superseded",)))
    run("read", source, "--role", "barrier", "-o", target)
    target.write_text(re.sub("# answer: .*", f'answer: "{answer}"', target.read_text()))
    done = run("review", PROJECT, target, "-o", tmp_path / "out")
    assert done.exit_code == 2 and "`answer`" in done.stderr


def test_a_paper_of_another_product_or_of_a_later_day_counts_for_nothing(tmp_path: Path) -> None:
    source, target = tmp_path / "sheet.pdf", tmp_path / "p.yaml"
    source.write_bytes(sheet(foot="Issued 2025-05-03"))
    run("read", source, "--role", "barrier", "-o", target)
    text = re.sub(r"\n      confirm: .*", "", target.read_text())
    target.write_text(text)
    assert "meets" in _results(target, tmp_path / "same").values()
    target.write_text(text.replace('name: "Air and water barrier WB-1"', 'name: "Barrier WB-2"'))
    assert "meets" not in _results(target, tmp_path / "other").values()
    target.write_text(text.replace('number: "not numbered"', 'number: "7"\n  date: 2025-05-01'))
    assert "meets" not in _results(target, tmp_path / "later").values()


def _results(submittal: Path, out: Path) -> dict[str, str]:
    done = run("review", PROJECT, submittal, "-o", out, "--format", "json")
    assert done.exit_code in (0, 1, 3), done.stderr
    (one,) = json.loads(done.stdout)["reviews"]
    (product,) = one["products"]
    return {row["requirement"]["id"]: row["result"] for row in product["verdicts"]}
