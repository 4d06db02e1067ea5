"""Data sheets in Word: tables and paragraphs are read, what is deleted or hidden is not, and a bomb is refused."""

from __future__ import annotations

import io
import zipfile
from pathlib import Path

import pytest
from docx import Document
from docx.oxml import OxmlElement

from specgen.files.marks import InputError
from specgen.intake.datasheet.pdf import UnusableFileError
from specgen.intake.datasheet.read import load_sheets, read_product
from specgen.intake.datasheet.word import read_word
from specgen.model.datasheet import Standing
from specgen.practice.load import load_practice

ROWS = (
    ("Property", "Test method", "Result"),
    ("Vapor permeance", "ASTM E96 Procedure B", "14 perms"),
    ("Pull adhesion", "ASTM D4541", "42 psi"),
)


def sheet(mark: str = "", hidden: str = "", deleted: str = "") -> bytes:
    made = Document()
    made.add_heading("Air and water barrier WB-1", 0)
    table = made.add_table(rows=0, cols=3)
    for row in ROWS:
        for cell, words in zip(table.add_row().cells, row, strict=True):
            cell.text = words
    last = table.rows[2].cells[2].paragraphs[0]
    if mark:
        last.add_run(mark).font.superscript = True
    if hidden:
        last.add_run(hidden).font.hidden = True
    if deleted:
        run = made.add_paragraph().add_run(deleted)
        around = OxmlElement("w:del")
        run._r.addprevious(around)
        around.append(run._r)
    out = io.BytesIO()
    made.save(out)
    return out.getvalue()


def with_document(part: bytes) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("word/document.xml", part)
    return out.getvalue()


def test_the_rows_of_a_table_are_read_with_their_words(tmp_path: Path) -> None:
    path = tmp_path / "wb.docx"
    path.write_bytes(sheet())
    sheets, pictured = load_sheets([path])
    reading = read_product(sheets, None, load_practice())
    found = {one.attribute: one for one in reading.values if one.standing is not Standing.NOT_FOUND}
    assert not pictured and reading.role == "barrier"
    assert (found["vapor_permeance"].value, found["vapor_permeance"].method) == (
        "14 perms",
        "ASTM E96 Procedure B",
    )
    assert found["pull_adhesion"].evidence[0].words == "Pull adhesion | ASTM D4541 | 42 psi"


def test_a_raised_mark_is_no_digit_of_the_value(tmp_path: Path) -> None:
    path = tmp_path / "wb.docx"
    path.write_bytes(sheet(mark="1"))
    reading = read_product(load_sheets([path])[0], None, load_practice())
    (adhesion,) = [one for one in reading.values if one.attribute == "pull_adhesion"]
    assert adhesion.value == "42 psi" and adhesion.standing is Standing.CONFIRM


def test_hidden_and_deleted_words_are_not_read() -> None:
    (found,) = read_word(sheet(hidden="9", deleted="Vapor permeance 99 perms"))
    assert found["rows"][-1] == list(ROWS[2])


@pytest.mark.parametrize(
    "part",
    [
        b"<x>" + b" " * 90_000_000,
        b"<!DOCTYPE l [<!ENTITY a 'ha'>]><w>&a;</w>",
        b"<w><p>",
        b"<a>" * 60_000,
        b"",
    ],
    ids=["bomb", "entities", "cut", "deep", "nothing"],
)
def test_a_document_made_to_do_harm_is_refused(part: bytes, tmp_path: Path) -> None:
    data = with_document(part)
    with pytest.raises(UnusableFileError):
        read_word(data)
    (tmp_path / "x.docx").write_bytes(data)
    with pytest.raises(InputError):
        load_sheets([tmp_path / "x.docx"])
