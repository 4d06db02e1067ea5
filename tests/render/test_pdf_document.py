"""Documents as tagged PDF: headings, tables, bookmarks, paper, typefaces, and the same bytes again."""

from __future__ import annotations

import importlib
import io
import os
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import replace

import pikepdf
import pypdfium2
import pytest
from PIL import Image

from specgen.files.extras import missing
from specgen.model.document import Picture, Style, Table
from specgen.model.paper import A4
from specgen.render.outputs import documents
from specgen.render.pdf_document import document_pdf
from tests.chain.runs import CONFORMING, run
from tests.conftest import LONG
from tests.drawing.jobs import DEMOS, demo
from tests.render.word_samples import document, line


@pytest.fixture(autouse=True)
def library() -> None:
    """What sets the pages; it needs Pango, a library of the system."""
    if why := missing("pdf"):
        pytest.skip(f"documents as PDF are not tried: {why}")
    try:
        importlib.import_module("weasyprint")
    except OSError as error:
        pytest.skip(f"documents as PDF are not tried: Pango is not installed ({error})")


def dot() -> bytes:
    out = io.BytesIO()
    Image.new("L", (1, 1)).save(out, format="PNG")
    return out.getvalue()


SMALL = document(
    line(Style.SECTION_TITLE, "Copings"),
    line(Style.PART, "General"),
    line(Style.ARTICLE, "Scope"),
    line(Style.PARAGRAPH, "Section includes: copings <img src='file:///etc/hostname' alt='x'>.", "scope"),
    Table(("Item", "Limit"), (("slope <&>", "1/4 in/ft"),), (0.5, 0.5), "Limits"),
    Picture(dot(), "A wall in section", 1.0, 1.0),
)


def elements(top: pikepdf.Object) -> Iterator[pikepdf.Object]:
    """The elements of a structure in the order they are read."""
    yield top
    below = top.get("/K", [])
    for one in below if isinstance(below, pikepdf.Array) else [below]:
        if isinstance(one, pikepdf.Dictionary) and "/S" in one:
            yield from elements(one)


def held(data: bytes) -> list[str]:
    """The kinds of the elements of a file, after what every file must say of itself."""
    with pikepdf.open(io.BytesIO(data)) as pdf:
        root = pdf.Root
        assert root.MarkInfo.Marked is True and str(root.Lang) == "en-US"
        assert root.ViewerPreferences.DisplayDocTitle is True
        with pdf.open_metadata() as about:
            assert about["pdfuaid:part"] == "1" and about["dc:title"]
        for page in pdf.pages:
            assert page.Tabs == "/S"
            for font in page.Resources.get("/Font", {}).values():
                (own,) = font.DescendantFonts
                assert "/FontFile2" in own.FontDescriptor or "/FontFile3" in own.FontDescriptor
        kinds = []
        for one in elements(root.StructTreeRoot.K[0]):
            kinds.append(str(one.S))
            assert one.S != "/Figure" or str(one.Alt)
        return kinds


def test_a_document_is_read_by_its_headings_and_tables() -> None:
    data = document_pdf(SMALL)
    kinds = held(data)
    assert [kind for kind in kinds if kind[1] == "H"] == ["/H1", "/H2", "/H3"]
    assert kinds.count("/TH") == 2 and kinds.count("/TD") == 2 and kinds.count("/Figure") == 1
    with pikepdf.open(io.BytesIO(data)) as pdf, pdf.open_outline() as outline:
        (title,) = outline.root
        assert "COPINGS" in title.title.upper()
        assert [one.title.upper() for one in title.children] == ["PART 1 GENERAL"]


def test_words_stay_words_and_nothing_is_fetched() -> None:
    book = pypdfium2.PdfDocument(document_pdf(SMALL))
    words = " ".join(book[0].get_textpage().get_text_range().split())
    book.close()
    assert "<img src='file:///etc/hostname' alt='x'>." in words and "slope <&>" in words


def test_the_paper_is_that_of_the_word_file() -> None:
    on_a4 = replace(SMALL, properties=replace(SMALL.properties, paper=A4))
    for made, size in (
        (SMALL, (612, 792)),
        (on_a4, (595, 842)),
        (replace(on_a4, landscape=True), (842, 595)),
    ):
        with pikepdf.open(io.BytesIO(document_pdf(made))) as pdf:
            assert [round(float(edge)) for edge in pdf.pages[0].MediaBox[2:]] == list(size)


def test_the_same_bytes_again() -> None:
    assert document_pdf(SMALL) == document_pdf(SMALL)


@pytest.mark.skipif(not LONG, reason="another process")
def test_the_same_bytes_in_another_process() -> None:
    ask = (
        "import sys; from tests.render.test_pdf_document import SMALL, document_pdf; "
        "sys.stdout.buffer.write(document_pdf(SMALL))"
    )
    world = {**os.environ, "PYTHONHASHSEED": "7", "TZ": "Asia/Tokyo", "LC_ALL": "C"}
    found = subprocess.run(
        [sys.executable, "-c", ask], env=world, capture_output=True, check=True, timeout=120
    )
    assert found.stdout == document_pdf(SMALL)


def test_libraries_that_are_missing_are_told_before_any_work(tmp_path, monkeypatch) -> None:
    def without_pango(name: str) -> None:
        raise OSError("cannot load library 'libgobject-2.0-0'")

    monkeypatch.setattr("specgen.render.pdf_document.import_module", without_pango)
    monkeypatch.chdir(tmp_path)
    done = run("write", CONFORMING, "-o", "out", "--pdf")
    assert (done.status, done.out) == (2, "")
    assert "Pango" in done.err and "libgobject" in done.err
    assert not list(tmp_path.iterdir())


@pytest.mark.skipif(not LONG, reason="a whole issue, twice")
def test_an_issue_has_each_word_file_as_pdf_and_withdraws_them_when_nobody_asks(tmp_path) -> None:
    out = tmp_path / "out"
    assert run("write", CONFORMING, "-o", out, "--pdf", "--strict").status in (0, 3)
    words = {path.relative_to(out).with_suffix("") for path in out.rglob("*.docx")}
    printed = {path.relative_to(out).with_suffix("") for path in out.rglob("*.pdf")}
    assert {str(one) for one in words ^ printed} == {"project-manual", "drawings"}
    run("write", CONFORMING, "-o", out)
    assert [path.name for path in out.glob("*.pdf")] == ["drawings.pdf"]


@pytest.mark.skipif(not LONG, reason="every document of every example")
@pytest.mark.parametrize("folder", DEMOS, ids=lambda one: one.name)
def test_every_document_of_the_examples(folder) -> None:
    for name, found in documents(demo(folder)).items():
        kinds = held(document_pdf(found))
        assert kinds.count("/H1") == 1, name
