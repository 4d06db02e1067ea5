"""Written files as LibreOffice reads them: a second implementation of the file format and its numbering.

Source: LibreOffice Writer, any version from 7.4, run without a display and with a profile of its own.
Obtained: run here; the counts of the lists and the reference fields are LibreOffice's own.
"""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path

import pytest

from specgen.model.document import Document, Style, Table, numbered
from specgen.render.word import word_bytes
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
    subprocess.run(
        [str(SOFFICE), f"-env:UserInstallation={profile.as_uri()}", "--headless", "--convert-to", form,
         "--outdir", str(folder), str(path)],
        check=True, capture_output=True, timeout=180,
    )  # fmt: skip
    return path.with_suffix("." + form.partition(":")[0])


def visible(tree: Document) -> list[str]:
    """Every line of the tree with its number, table cells one by one."""
    labels = {id(line.para): line.label for line in numbered(tree.blocks)}
    out = []
    for block in tree.blocks:
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


@pytest.mark.skipif(shutil.which("pdftotext") is None, reason="pages not read: pdftotext is not installed")
def test_pages_carry_header_footer_and_repeated_table_heads(tmp_path: Path, profile: Path) -> None:
    for tree, ends in (
        (samples.SECTION, ["07 27 00 - 1", "07 27 00 - 2", "07 27 00 - 3"]),
        (samples.REPORT, ["Page 1 of 2", "Page 2 of 2"]),
    ):
        pdf = converted(tree, "pdf", tmp_path, profile)
        done = subprocess.run(["pdftotext", "-layout", pdf, "-"], check=True, capture_output=True, timeout=60)
        pages = done.stdout.decode().split("\f")[:-1]
        assert [page.rstrip().endswith(end) for page, end in zip(pages, ends, strict=True)] == [True] * len(
            ends
        )
        assert all(tree.header_left in page and tree.header_right in page for page in pages)
    assert all(re.search(r"No\.\s+Item", page) for page in pages)
