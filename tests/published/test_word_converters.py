"""What a converter and an office program make of written Word files: headings, and contents whose pages are right.

Sources: pandoc from 2.17; LibreOffice Writer from 7.4 with pdftotext. Obtained: run here. The samples by default, the
manual of each demo with ``SPECGEN_LONG=1``; a program that is not installed skips its tests and says so.
"""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from pathlib import Path

import docx
import pytest

from specgen.render.word import word_bytes
from tests.published.issues import CONFORMING, LONG, issued
from tests.published.test_word_libreoffice import SOFFICE, pdf_text, saved_as
from tests.render import word_samples as samples
from tests.render.test_word_headings import heading_of

PANDOC = shutil.which("pandoc")
NO_PANDOC = pytest.mark.skipif(PANDOC is None, reason="pandoc not run: it is not installed")
NO_OFFICE = pytest.mark.skipif(SOFFICE is None, reason="LibreOffice not run: soffice is not installed")
pytestmark = pytest.mark.word


def pandoc_headings(path: Path) -> list[tuple[int, str]]:
    """Level and words of each heading that pandoc finds."""
    done = subprocess.run(
        [str(PANDOC), str(path), "-t", "json"], check=True, capture_output=True, timeout=120
    )
    blocks = json.loads(done.stdout)["blocks"]
    return [(one["c"][0], words(one["c"][2])) for one in blocks if one["t"] == "Header"]


def words(node: object) -> str:
    """The letters of a piece of pandoc's tree, without blanks."""
    if isinstance(node, dict):
        return node["c"] if node["t"] == "Str" else words(node.get("c"))
    return "".join(words(one) for one in node) if isinstance(node, list) else ""


def our_headings(path: Path) -> list[tuple[int, str]]:
    word = docx.Document(str(path))
    found = ((heading_of(word, one.style.name)[0], one.text) for one in word.paragraphs)
    return [(int(name.rpartition(" ")[2]), "".join(text.split())) for name, text in found if name]


@NO_PANDOC
def test_pandoc_finds_each_heading_of_a_section(tmp_path: Path) -> None:
    path = tmp_path / "section.docx"
    path.write_bytes(word_bytes(samples.SECTION))
    assert pandoc_headings(path) == our_headings(path)
    assert [level for level, _ in pandoc_headings(path)] == [1, 2, 3, 3, 2, 3, 3, 2, 3]


@NO_PANDOC
@pytest.mark.skipif(not LONG, reason="the manuals of the demos are converted by SPECGEN_LONG=1 alone")
@pytest.mark.parametrize("demo", CONFORMING)
def test_pandoc_finds_each_heading_of_every_paper(demo: str) -> None:
    files = sorted(issued(demo).rglob("*.docx"))
    assert len(files) > 10
    for path in files:
        assert pandoc_headings(path) == our_headings(path), path.name
    assert len(pandoc_headings(issued(demo) / "project-manual.docx")) > 100


@NO_OFFICE
@pytest.mark.skipif(not LONG, reason="the manuals of the demos are laid out by SPECGEN_LONG=1 alone")
@pytest.mark.parametrize("demo", CONFORMING)
def test_each_page_that_the_contents_name_bears_the_heading(demo: str, tmp_path: Path) -> None:
    path = tmp_path / "project-manual.docx"
    shutil.copy(issued(demo) / path.name, path)
    pages = pdf_text(saved_as("pdf", path, tmp_path / "profile")).split("\f")[:-1]
    found = re.findall(r"^\s*(\S.*?\S)\s*\.{5,}\s*(\S.*\S)$", pages[1], re.MULTILINE)
    assert len(found) > 8
    by_foot = {" ".join(page.split())[-40:]: " ".join(page.split()) for page in pages}
    for heading, number in found:
        page = next(text for foot, text in by_foot.items() if foot.endswith(f" {number}"))
        assert heading.casefold() in page.casefold(), number
    assert any(foot.endswith("-3") for foot in by_foot)
