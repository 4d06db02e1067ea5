"""The office's Word file, the state of issue, and what a second issue tells on the command line."""

from __future__ import annotations

import json
import shutil

import pytest

from tests.chain.runs import CONFORMING, FAULTY, run
from tests.render.test_word_office import office_file
from tests.render.word_reading import opened


@pytest.fixture(scope="module")
def office(tmp_path_factory):
    path = tmp_path_factory.mktemp("office") / "office.docx"
    path.write_bytes(office_file())
    return path


def test_template_tells_what_it_found(office):
    done = run("template", office)
    assert done.status == 0
    assert "Page 8.27 by 11.69 in" in done.out
    assert "`Part Heading` of the office" in done.out and "specgen's own is put in" in done.out
    assert "Places in header and footer: header left, header right, footer left, page" in done.out
    data = json.loads(run("template", office, "--format", "json").out)
    assert {"wanted": "Article Heading", "used": "article heading"} in data["styles"]


@pytest.mark.parametrize("content", [b"", b"PK\x03\x04", b"<html>", office_file()[:2000]])
def test_a_file_that_is_none_ends_with_2_and_a_fix(content, tmp_path):
    path = tmp_path / "office.docx"
    path.write_bytes(content)
    done = run("template", path)
    assert done.status == 2 and done.out == ""
    assert done.err.startswith(f"{path}:1:1: error: ") and "fix: " in done.err
    out = tmp_path / "out"
    assert run("write", CONFORMING, "-o", out, "--template", path).status == 2
    assert not out.exists()


def test_two_issues_with_the_offices_look_and_a_state(office, tmp_path):
    job, out = tmp_path / "job", tmp_path / "out"
    shutil.copytree(CONFORMING, job)
    first = run("write", job, "-o", out, "--template", office, "--state", "draft")
    assert first.status == 0 and "Changed since" not in first.out
    word = opened((out / "07-71-00-copings.docx").read_bytes())
    assert word.sections[0].header.paragraphs[0].text.endswith("2026-11-02 | Draft")
    assert round(word.sections[0].page_width.inches, 2) == 8.27
    file = job / "project.yaml"
    file.write_text(file.read_text("utf-8").replace("piece_length: 10 ft", "piece_length: 8 ft"), "utf-8")
    second = json.loads(run("write", job, "-o", out, "--format", "json").out)
    printed = second["addendum"]
    assert printed["old"]["state"] == "draft" and printed["new"]["state"] == "issued for bid"
    assert [one["now"] for one in printed["inputs"]] == ["8 ft"]
    assert (out / "marked-2026-11-02" / "07-71-00-copings.docx").exists()


def test_an_unknown_state_is_refused(tmp_path):
    done = run("write", FAULTY, "-o", tmp_path / "out", "--state", "issued for bd")
    assert done.status == 2 and "did you mean `issued for bid`?" in done.err
    assert not (tmp_path / "out").exists()
