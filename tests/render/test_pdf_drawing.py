"""The PDF of all sheets: a page a sheet at its size, drawn lines at their length, the same bytes again."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from pathlib import Path

import pikepdf
import pypdfium2
import pytest

from specgen.drawing.shapes import Bubble, Drawing, Layer, Stroke, Text
from specgen.render.pdf_drawing import POINT, pdf_bytes
from tests.conftest import LONG
from tests.drawing.jobs import DEMOS, sheets_of


def drawn() -> list[Drawing]:
    return [one for folder in (DEMOS if LONG else DEMOS[1:3]) for one in sheets_of(folder)]


def contents(data: bytes) -> str:
    """What the pages draw, unpacked."""
    with opened(data) as pdf:
        return "\n".join(page.Contents.read_bytes().decode("latin-1") for page in pdf.pages)


def opened(data: bytes) -> pikepdf.Pdf:
    return pikepdf.open(io.BytesIO(data))


def words_of(data: bytes) -> str:
    """What is read on the pages."""
    pages = pypdfium2.PdfDocument(data)
    try:
        return "\n".join(page.get_textpage().get_text_range() for page in pages)
    finally:
        pages.close()


def one(*items: Stroke | Text) -> Drawing:
    layers = (Layer("note", "notes"), Layer("control-air", "path of air", on=False))
    return Drawing("t", "t", "t", (279.4, 215.9), "1:4", 4.0, layers, items)


def test_a_page_a_sheet_at_the_size_of_its_paper() -> None:
    data = pdf_bytes(drawn(), "2601 Demo")
    boxes = re.findall(rb"/MediaBox \[ 0 0 ([\d.]+) ([\d.]+) \]", data)
    assert [(float(w), float(h)) for w, h in boxes] == [
        (pytest.approx(d.size[0] * POINT, abs=0.01), pytest.approx(d.size[1] * POINT, abs=0.01))
        for d in drawn()
    ]
    assert (pytest.approx(215.9 * POINT), pytest.approx(279.4 * POINT)) == (612.0, 792.0)


def test_same_sheets_same_bytes() -> None:
    assert pdf_bytes(drawn(), "x") == pdf_bytes(drawn(), "x")


def test_lines_are_drawn_in_millimeters_of_the_sheet() -> None:
    drawn = contents(pdf_bytes([one(Stroke("note", ((10.0, 20.0), (110.0, 20.0))))], "x"))
    assert re.search(r"2\.83464\d* 0 0 2\.83464\d* 0 0 cm", drawn)
    assert "10 20 m 110 20 l" in drawn


def test_a_layer_that_is_off_is_left_out() -> None:
    drawn = contents(pdf_bytes([one(Stroke("control-air", ((10.0, 20.0), (110.0, 20.0))))], "x"))
    assert "10 20 m" not in drawn


def test_letters_the_typeface_does_not_hold_do_not_stop_it() -> None:
    assert "Süd ? wall (3)" in words_of(pdf_bytes([one(Text("note", (10.0, 20.0), "Süd 北 wall (3)"))], "北"))


PAINTS = frozenset(["S", "s", "f", "F", "f*", "B", "B*", "b", "b*", "Tj", "TJ", "'", '"', "sh", "Do"])


def marked(page: pikepdf.Page) -> Iterator[tuple[str, int | None]]:
    """The kind and the number of each piece of content; what is drawn outside of one fails."""
    open_now = 0
    for operands, operator in pikepdf.parse_content_stream(page):
        match str(operator):
            case "BDC":
                open_now += 1
                yield str(operands[0]).removeprefix("/"), int(operands[1]["/MCID"])
            case "BMC":
                open_now += 1
                yield str(operands[0]).removeprefix("/"), None
            case "EMC":
                open_now -= 1
            case paint if paint in PAINTS:
                assert open_now == 1, "drawn outside of what is tagged"
    assert open_now == 0


def elements(top: pikepdf.Object) -> Iterator[pikepdf.Object]:
    """The elements of a structure in the order they are read."""
    yield top
    below = top.get("/K", [])
    for one in below if isinstance(below, pikepdf.Array) else [below]:
        if isinstance(one, pikepdf.Dictionary):
            yield from elements(one)


@pytest.mark.parametrize("folder", DEMOS if LONG else DEMOS[1:2], ids=lambda one: one.name)
def test_a_reader_who_hears_it_is_given_every_sheet(folder: Path) -> None:
    sheets = sheets_of(folder)
    with opened(pdf_bytes(sheets, "2601 Demo", "Office <A>")) as pdf:
        root = pdf.Root
        assert (root.MarkInfo.Marked, str(root.Lang)) == (True, "en-US")
        assert root.ViewerPreferences.DisplayDocTitle is True
        assert (str(pdf.docinfo.Title), pdf.pdf_version) == ("2601 Demo", "1.7")
        with pdf.open_metadata() as spoken:
            assert (spoken["dc:title"], spoken["pdfuaid:part"]) == ("2601 Demo", "1")
            assert (spoken["dc:creator"], str(pdf.docinfo.Author)) == (["Office <A>"], "Office <A>")
        with pdf.open_outline() as outline:
            assert [one.title for one in outline.root] == [drawing.title for drawing in sheets]
        document = root.StructTreeRoot.K[0]
        assert [str(one.T) for one in document.K] == [drawing.title for drawing in sheets]
        numbers = list(root.StructTreeRoot.ParentTree.Nums)
        for page, drawing, section, number in zip(pdf.pages, sheets, document.K, numbers[::2], strict=True):
            assert (page.Tabs, page.StructParents) == ("/S", number)
            kinds = [str(one.S) for one in elements(section)]
            assert kinds[1] == "/H1" and kinds.count("/H1") == 1
            figures = [one for one in elements(section) if one.S == "/Figure"]
            assert [str(one.Alt) for one in figures] == [drawing.description][: len(figures)]
            assert figures or drawing.scale == "none"  # a sheet of notes alone
            owners = numbers[2 * int(number) + 1]
            found = [(kind, at) for kind, at in marked(page) if at is not None]
            assert [at for _, at in found] == list(range(len(owners)))
            assert [f"/{kind}" for kind, _ in found] == [str(one.S) for one in owners]
            held = [int(at) for one in elements(section) if one.S != "/Sect" for at in one.K]
            assert held == sorted(held), "read in another order than drawn"


def test_every_typeface_is_in_the_file() -> None:
    with opened(pdf_bytes(sheets_of(DEMOS[1]), "x")) as pdf:
        fonts = {str(key): value for page in pdf.pages for key, value in page.Resources.Font.items()}
        assert len(fonts) == 2
        for one in fonts.values():
            assert "/FontFile2" in one.FontDescriptor and "/ToUnicode" in one


def test_a_key_and_the_lines_of_its_note_are_one_paragraph() -> None:
    at = (20.0, 20.0)
    items = (
        Text("sheet", (5.0, 5.0), "Section", bold=True),
        Text("note", (20.0, 30.0), "Parts", bold=True),
        Bubble("note", at, "1", at),
        Text("note", (25.0, 20.0), "cement"),
        Text("note", (25.0, 17.0), "plaster", goes_on=True),
        Text("note", (25.0, 12.0), "Keep this sheet."),
    )
    layers = (Layer("sheet", "sheet"), Layer("note", "notes"))
    drawing = Drawing("t", "t", "t", (279.4, 215.9), "none", 1.0, layers, items)
    with opened(pdf_bytes([drawing], "x")) as pdf:
        (section,) = pdf.Root.StructTreeRoot.K[0].K
        assert [str(one.S) for one in section.K] == ["/H1", "/H2", "/P", "/P"]
        assert [kind for kind, _ in marked(pdf.pages[0])] == ["H1", "H2", "P", "P"]
