"""What people and their programs do to a register beside typing: merged cells, words in bold, pictures, newer parts."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook
from openpyxl.cell.rich_text import CellRichText, TextBlock
from openpyxl.cell.text import InlineFont
from openpyxl.drawing.image import Image
from PIL import Image as Picture

from specgen.register.columns import COLUMNS, HISTORY, REGISTER
from tests.chain.runs import CONFORMING, Done, contents, copied, run
from tests.register.test_nothing_lost import KEYS, book, fill, out, register

__all__ = ["out"]
SHEET = "xl/worksheets/sheet1.xml"
LATER = ("issue_date: 2026-11-02", "issue_date: 2026-12-01")
NEWER = (
    b'<extLst><ext uri="{CCE6A557-97BC-4b89-ADB6-D9C93CAAB3DF}" '
    b'xmlns:x14="http://schemas.microsoft.com/office/spreadsheetml/2009/9/main"><x14:dataValidations '
    b'xmlns:xm="http://schemas.microsoft.com/office/excel/2006/main" count="1"><x14:dataValidation type="list">'
    b"<x14:formula1><xm:f>Sheet3!$A$1:$A$3</xm:f></x14:formula1><xm:sqref>R6:R63</xm:sqref></x14:dataValidation>"
    b"</x14:dataValidations></ext></extLst></worksheet>"
)


def changed(path: Path, change: Callable[[Any, int], None]) -> None:
    """A workbook changed in its register's sheet, which is handed over with the number of the row of titles."""
    made = load_workbook(path)
    tab = made[REGISTER]
    change(tab, next(number for number in range(1, 12) if tab.cell(number, 1).value == COLUMNS[0].title))
    made.save(path)


def repacked(path: Path, change: Callable[[dict[str, bytes]], None]) -> None:
    """A workbook with parts changed, as another program may write it."""
    with zipfile.ZipFile(path) as package:
        parts = {name: package.read(name) for name in package.namelist()}
    change(parts)
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as package:
        for name, content in parts.items():
            package.writestr(name, content)


def later(out: Path) -> Done:
    """A run of a project that changed, so that the workbook is written anew."""
    return run("register", copied(CONFORMING, out.parent / "later", LATER), "-o", out)


@pytest.mark.parametrize(
    ("rows", "columns"),
    [((1, 3), ("state", "state")), ((4, 7), ("remarks", "remarks")), ((0, 0), ("section", "paragraph"))],
    ids=["rows of a computed column", "rows of a white column", "two titles"],
)
def test_merged_cells_are_told_with_their_place_and_nothing_is_written(
    out: Path, rows: tuple[int, int], columns: tuple[str, str]
) -> None:
    """Whether the second row of "returned" is empty or means the same, only the person who merged them knows."""

    def merge(tab: Any, head: int) -> None:
        (top, bottom), (first, last) = (head + one for one in rows), (KEYS.index(one) + 1 for one in columns)
        tab.merge_cells(start_row=top, end_row=bottom, start_column=first, end_column=last)
        tab.merge_cells("A1:D1")  # above the table nobody minds

    changed(book(out), merge)
    before = contents(out)
    for done in (later(out), register(out, "--merge", book(out))):
        assert done.status == 2 and "are merged: only the first can be read" in done.err
        assert done.err.count("error: ") == 1 and "unmerge them" in done.err
    assert contents(out) == before


def test_a_word_in_bold_stays_in_bold(out: Path) -> None:
    words = CellRichText("call ", TextBlock(InlineFont(b=True), "before"), " cutting")
    fill(book(out), {(2, "remarks"): words})
    assert later(out).status == 0
    tab = load_workbook(book(out), rich_text=True)[REGISTER]
    found = [
        cell
        for (cell,) in tab.iter_rows(min_col=KEYS.index("remarks") + 1, max_col=KEYS.index("remarks") + 1)
    ]
    assert [one.value for one in found if isinstance(one.value, CellRichText)] == [words]


def picture() -> Image:
    data = io.BytesIO()
    Picture.new("RGB", (4, 4)).save(data, "PNG")
    return Image(data)


def with_newer_choices(parts: dict[str, bytes]) -> None:
    parts[SHEET] = parts[SHEET].replace(b"</worksheet>", NEWER)


def with_a_shape(parts: dict[str, bytes]) -> None:
    drawing = "xl/drawings/drawing1.xml"
    end = parts[drawing].rindex(b"</")
    shape = (
        b'<xdr:absoluteAnchor xmlns:xdr="http://schemas.openxmlformats.org/drawingml/2006/spreadsheetDrawing">'
        b'<xdr:pos x="0" y="0"/><xdr:ext cx="9" cy="9"/><xdr:sp/><xdr:clientData/></xdr:absoluteAnchor>'
    )
    parts[drawing] = parts[drawing][:end] + shape + parts[drawing][end:]


def with_a_connection(parts: dict[str, bytes]) -> None:
    parts["xl/connections.xml"] = b"<connections/>"


@pytest.mark.parametrize(
    ("change", "lost"),
    [
        (with_newer_choices, "data validation of a newer Excel"),
        (with_a_shape, "part `xl/drawings`"),
        (with_a_connection, "part `xl/connections.xml`"),
    ],
)
def test_what_the_library_drops_is_told_and_kept_with_the_states(
    out: Path, change: Callable[[dict[str, bytes]], None], lost: str
) -> None:
    changed(book(out), lambda tab, _: tab.add_image(picture(), "T2"))
    repacked(book(out), change)
    saved = book(out).read_bytes()
    done = later(out)
    assert done.status == 1
    assert f"not everything in it could be carried over: {lost}\n" in done.out
    assert "Warning" not in done.err
    name = done.out.partition("take it from ")[2].partition(",")[0]
    assert (out / name).read_bytes() == saved


def test_a_picture_stays_and_nothing_is_told(out: Path) -> None:
    changed(book(out), lambda tab, _: tab.add_image(picture(), "T2"))
    done = later(out)
    assert (done.status, done.err) == (0, "")
    assert len(load_workbook(book(out))[REGISTER]._images) == 1
    assert HISTORY in load_workbook(book(out)).sheetnames
