"""One word of the project file changed: the finding, the section, the checklist and the verdict all follow."""

from __future__ import annotations

import io
import json
from pathlib import Path

import docx
import pytest

from tests.chain.runs import CONFORMING, SUBMITTAL, Done, copied, run

OLD, NEW = "kind: fluid-applied", "kind: mechanically fastened"
SECTION = "07-27-00-air-and-water-barriers-at-parapets.docx"
LETTER = "review-07-27-00-01"


@pytest.fixture(scope="module")
def before(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return issued(tmp_path_factory.mktemp("before"))


@pytest.fixture(scope="module")
def after(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return issued(tmp_path_factory.mktemp("after"), (OLD, NEW))


def issued(folder: Path, *changes: tuple[str, str]) -> Path:
    """The folder of a project, with what `write` and `review` make of it in `out`."""
    copied(CONFORMING, folder, *changes)
    assert run("write", folder, "-o", folder / "out", "--state", "draft").status == (1 if changes else 0)
    assert reviewed(folder).status == (1 if changes else 0)
    return folder


def reviewed(folder: Path) -> Done:
    return run("review", folder, SUBMITTAL, "-o", folder / "letters")


def findings(folder: Path) -> list[dict[str, object]]:
    return json.loads(run("check", folder, "--format", "json").out)["findings"]


def words(path: Path) -> list[str]:
    return [paragraph.text for paragraph in docx.Document(io.BytesIO(path.read_bytes())).paragraphs]


def kind_row(folder: Path) -> dict[str, object]:
    rows = json.loads((folder / "out" / "submittal-checklist.json").read_text("utf-8"))["rows"]
    (row,) = (row for row in rows if row["number"] == "barrier.kind")
    return row


def product(folder: Path) -> dict[str, object]:
    (one,) = json.loads((folder / "letters" / f"{LETTER}.json").read_text("utf-8"))["products"]
    return one


def test_the_finding_stands_at_the_word(before, after):
    assert "WB01" not in {one["code"] for one in findings(before)}
    found = [one for one in findings(after) if one["code"] == "WB01"]
    lines = (after / "project.yaml").read_text("utf-8").splitlines()
    line = next(number for number, text in enumerate(lines, 1) if NEW in text)
    assert {(one["mark"]["line"], one["mark"]["column"]) for one in found} == {
        (line, lines[line - 1].index(NEW) + 7)
    }
    assert {one["message"] for one in found} == {"wall barrier is mechanically fastened"}
    assert [one["parapets"] for one in found] == [["P-1", "P-2", "P-3"]]


def test_the_section_is_written_for_the_other_kind(before, after):
    old, new = words(before / "out" / SECTION), words(after / "out" / SECTION)
    assert any("fluid-applied" in text.lower() for text in old)
    assert not any("mechanically fastened" in text.lower() for text in old)
    stated = kind_row(after)["required"]
    assert "fastened" in stated
    assert any(stated.lower() in text.lower() for text in new)


def test_the_checklist_row_follows(before, after):
    assert kind_row(before)["required"] == "fluid-applied membrane"
    assert kind_row(after)["required"] != kind_row(before)["required"]


def test_the_verdict_on_the_same_product_turns(before, after):
    good, bad = product(before), product(after)
    assert good["recommendation"] == "no exceptions taken"
    assert bad["recommendation"] == "rejected"
    verdicts = {one["requirement"]["id"]: one["result"] for one in bad["verdicts"]}
    assert verdicts["barrier.kind"] == "fails"
    letter = docx.Document(io.BytesIO((after / "letters" / f"{LETTER}.docx").read_bytes()))
    assert [cell.text for cell in letter.tables[1].rows[1].cells][1] == "Rejected"


def test_other_sections_keep_their_text(before, after):
    for name in ("07-71-00-copings.docx",):
        assert (before / "out" / name).read_bytes() == (after / "out" / name).read_bytes()
