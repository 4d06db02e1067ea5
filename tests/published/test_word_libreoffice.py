"""Written files as LibreOffice reads them: a second implementation of the file format and its numbering.

Source: LibreOffice Writer, any version from 7.4, run without a display and with a profile of its own.
Obtained: run here; the counts of the lists and the reference fields are LibreOffice's own.
"""

from __future__ import annotations

import io
import re
import shutil
import subprocess
import zipfile
from pathlib import Path

import docx
import pytest
from docx.enum.text import WD_BREAK

from specgen.model.document import (
    LIST_STYLES,
    CrossRef,
    Document,
    Para,
    Picture,
    Style,
    Table,
    Volume,
    numbered,
    text,
)
from specgen.render.word import volume_bytes, word_bytes
from tests.render import word_samples as samples

SOFFICE = shutil.which("soffice") or shutil.which("libreoffice")
pytestmark = [
    pytest.mark.word,
    pytest.mark.skipif(SOFFICE is None, reason="LibreOffice not run: soffice is not installed"),
]


@pytest.fixture(scope="module")
def profile(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("profile")


def converted(tree: Document, form: str, folder: Path, profile: Path) -> Path:
    """The written file, read by LibreOffice and saved in another form."""
    path = folder / "written.docx"
    path.write_bytes(word_bytes(tree))
    return saved_as(form, path, profile)


def saved_as(form: str, path: Path, profile: Path) -> Path:
    """A file read by LibreOffice and saved in another form beside it."""
    settings = [f"-env:UserInstallation={profile.as_uri()}", "--headless", "--convert-to", form]
    subprocess.run(
        [str(SOFFICE), *settings, "--outdir", str(path.parent), str(path)],
        check=True,
        capture_output=True,
        timeout=180,
    )
    return path.with_suffix("." + form.partition(":")[0])


def pdf_text(path: Path) -> str:
    """The words of a PDF file, pages divided by form feeds."""
    if shutil.which("pdftotext") is None:
        pytest.skip("pages of LibreOffice not read: pdftotext is not installed")
    done = subprocess.run(["pdftotext", "-layout", path, "-"], check=True, capture_output=True, timeout=60)
    return done.stdout.decode()


def visible(tree: Document) -> list[str]:
    """Every line of the tree with its number, table cells one by one."""
    labels = {id(line.para): line.label for line in numbered(tree.blocks)}
    out = []
    for block in tree.blocks:
        if isinstance(block, Picture):
            continue
        if isinstance(block, Table):
            out += [cell for row in (block.header, *block.rows) for cell in row if cell]
        else:
            label = labels.get(id(block), "•" if block.style is Style.BULLET else "")
            out.append(f"{label} {block.text}".strip())
    return out


@pytest.mark.parametrize("name", sorted(samples.ALL))
def test_texts_and_numbers_are_those_of_the_tree(name: str, tmp_path: Path, profile: Path) -> None:
    tree = samples.ALL[name]
    content = converted(tree, "txt:Text (encoded):UTF8", tmp_path, profile).read_text(encoding="utf-8-sig")
    found = [" ".join(line.split()) for line in re.split(r"[\n\t]", content) if line.strip()]
    assert found == visible(tree)


def test_reference_fields_are_live_and_point_at_numbers(tmp_path: Path, profile: Path) -> None:
    path = converted(samples.SECTION, "fodt", tmp_path, profile)
    found = re.findall(
        r'<text:bookmark-ref text:reference-format="([^"]+)" text:ref-name="([^"]+)">([^<]*)<',
        path.read_text("utf-8"),
    )
    assert [shown for _, _, shown in found] == ["2.1", "A", "1", "2.2"]
    assert {form for form, _, _ in found} == {"number-no-superior"}


def staled(fresh: bytes) -> bytes:
    """A file whose fields show something else than what they would show once updated."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(fresh)) as source, zipfile.ZipFile(out, "w") as target:
        for name in source.namelist():
            content = source.read(name)
            if name == "word/document.xml":
                content = content.replace(
                    b'"separate"/></w:r><w:r><w:t>', b'"separate"/></w:r><w:r><w:t>STALE'
                )
            target.writestr(name, content)
    return out.getvalue()


def test_stale_references_are_counted_anew(tmp_path: Path, profile: Path) -> None:
    outline = [samples.line(style, style.name, style.name) for style in LIST_STYLES]
    printed = [
        Para(Style.BODY, (*text("See "), CrossRef(line.para.key, line.number)))
        for line in numbered(tuple(outline))
    ]
    fresh = word_bytes(samples.document(*outline, *printed))
    path = tmp_path / "stale.docx"
    path.write_bytes(staled(fresh))
    # Laying out pages, LibreOffice prints its own count of each field, not the text stored in the file.
    found = re.findall("See .*", pdf_text(saved_as("pdf", path, profile)))
    # The last level keeps its bracket: the field leaves out a full stop at the end, and nothing else.
    assert found == ["See PART 1", "See 1.1", "See 1.1.A", "See 1.1.A.1", "See 1.1.A.1.a", "See 1.1.A.1.a.1)"]


def volume_lines(volume: Volume) -> list[str]:
    """Every line of a volume, each document numbered by itself, the entries of the contents in their place."""
    heads = [
        words
        for part in volume.parts
        if (head := next(part.paragraphs())).style in (Style.SECTION_TITLE, Style.HEADING)
        for words in (head.text, f"{part.page_prefix}-1")
    ]
    *above, note = visible(volume.contents)
    return [
        *visible(volume.cover),
        *above,
        *heads,
        note,
        *(one for part in volume.parts for one in visible(part)),
    ]


def test_a_volume_reads_as_its_documents_one_after_the_other(tmp_path: Path, profile: Path) -> None:
    path = tmp_path / "volume.docx"
    path.write_bytes(volume_bytes(samples.VOLUME))
    content = saved_as("txt:Text (encoded):UTF8", path, profile).read_text(encoding="utf-8-sig")
    found = [" ".join(line.split()) for line in re.split(r"[\n\t]", content) if line.strip()]
    assert found == volume_lines(samples.VOLUME)


def test_a_volume_counts_pages_and_references_of_each_section_anew(tmp_path: Path, profile: Path) -> None:
    path = tmp_path / "volume.docx"
    path.write_bytes(staled(volume_bytes(samples.VOLUME)))
    pages = pdf_text(saved_as("pdf", path, profile)).split("\f")[:-1]
    assert "January" not in pages[0]  # the cover bears no header
    for page, end in zip(pages[1:], ["Contents-1", "07 27 00-1", "07 71 00-1", "Appendix A-1"], strict=True):
        assert page.rstrip().endswith(end)
    assert "Meet 2.1.A of Section 07 71 00." in pages[2]
    assert "Meet 2.1.A of Section 07 27 00." in pages[3]
    assert re.search(r"^\s*1\s+2\.1\.A$", pages[2], re.MULTILINE)  # the cell, counted anew
    assert all(re.search(r"PART 1\s+GENERAL", page) for page in pages[2:4])


def test_the_contents_name_the_page_that_a_heading_stands_on(tmp_path: Path, profile: Path) -> None:
    path, second = tmp_path / "volume.docx", samples.VOLUME.parts[1].blocks[0].text
    path.write_bytes(staled(volume_bytes(samples.VOLUME)))
    assert entries(saved_as("pdf", path, profile)) == ["07 27 00-1", "07 71 00-1"]
    # Somebody puts a page above a heading.
    word = docx.Document(str(path))
    moved = [one for one in word.paragraphs if one.text == second and one.style.name == "Section Title"]
    moved[-1].insert_paragraph_before().add_run().add_break(WD_BREAK.PAGE)
    word.save(str(path))
    assert entries(saved_as("pdf", path, profile)) == ["07 27 00-1", "07 71 00-2"]


def entries(path: Path) -> list[str]:
    """The pages that the contents name."""
    return re.findall(r"\.{5,}\s*(\S.*\S)$", pdf_text(path).split("\f")[1], re.MULTILINE)


def test_pages_carry_header_footer_and_repeated_table_heads(tmp_path: Path, profile: Path) -> None:
    for tree, ends in (
        (samples.SECTION, ["07 27 00-1", "07 27 00-2", "07 27 00-3"]),
        (samples.REPORT, ["Page 1 of 2", "Page 2 of 2"]),
    ):
        pdf = converted(tree, "pdf", tmp_path, profile)
        pages = pdf_text(pdf).split("\f")[:-1]
        assert [page.rstrip().endswith(end) for page, end in zip(pages, ends, strict=True)] == [True] * len(
            ends
        )
        assert all(tree.header_left in page and tree.header_right in page for page in pages)
    assert all(re.search(r"No\.\s+Item", page) for page in pages)
