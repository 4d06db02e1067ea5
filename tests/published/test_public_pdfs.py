"""Real PDF files that are no data sheets: they are read without a crash, and no value is read from them.

Source: the icons that matplotlib carries; and the PDF files of any folder that SPECGEN_PDFS names, such as the
unpacked source archive of pypdf 7.1.1, whose ``resources`` hold 72, some damaged or locked. Obtained: installed with
the test packages; the archive from the Python package index, not kept here.
"""

from __future__ import annotations

import os
from pathlib import Path

import matplotlib
import pytest
from click.testing import CliRunner

from specgen.commands import main
from specgen.intake.datasheet.pdf import read_pages
from specgen.intake.datasheet.read import read_product, sheet_of
from specgen.model.datasheet import Standing
from specgen.practice.load import load_practice

INSTALLED = sorted(Path(matplotlib.get_data_path()).rglob("*.pdf"))
NAMED = sorted(Path(os.environ["SPECGEN_PDFS"]).rglob("*.pdf")) if os.environ.get("SPECGEN_PDFS") else []


@pytest.mark.skipif(len(INSTALLED) < 10, reason="the PDF icons of matplotlib are not installed")
def test_icons_are_read_and_say_nothing() -> None:
    for path in INSTALLED:
        sheet = sheet_of(path.name, {"pages": read_pages(path.read_bytes())})
        reading = read_product([sheet], "barrier", load_practice())
        assert all(value.standing is Standing.NOT_FOUND for value in reading.values)
        assert any("holds no text" in note for note in reading.notes) or sheet.pages[0].lines


@pytest.mark.skipif(not NAMED, reason="SPECGEN_PDFS names no folder with PDF files")
@pytest.mark.parametrize("path", NAMED, ids=lambda path: path.name)
def test_a_real_file_is_read_or_refused(path: Path, tmp_path: Path) -> None:
    done = CliRunner().invoke(main, ["read", str(path), "--role", "barrier", "-o", str(tmp_path / "p.yaml")])
    assert done.exception is None or isinstance(done.exception, SystemExit), done.exception
    assert done.exit_code in (0, 2)
    assert ": read: " not in done.stdout
    assert done.exit_code == 0 or "fix: " in done.stderr
