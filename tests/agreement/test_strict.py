"""``write --strict`` writes nothing where two of the finished documents differ."""

from __future__ import annotations

import shutil

from specgen.agreement.reader import contradictions
from tests.chain.runs import CONFORMING, changed, contents, run
from tests.render.test_word_office import office_file

LATE = """section: 06 10 00
replace:
  anchor_blocking: {text: Anchor the blocking to the wall after the top flashing covers it.}
"""


def test_documents_that_agree_are_written(tmp_path):
    done = run("write", CONFORMING, "-o", tmp_path / "out", "--strict")
    assert done.status == 0 and not done.err
    assert (tmp_path / "out" / "manifest.json").is_file()


def test_an_office_clause_against_the_order_of_work_is_refused(tmp_path):
    folder = tmp_path / "clauses"
    folder.mkdir()
    (folder / "late.yaml").write_text(LATE)
    done = run("write", CONFORMING, "-o", tmp_path / "out", "--clauses", folder, "--strict")
    assert done.status == 1
    assert "after the top flashing covers it" in done.err and "06 10 00, 3.2.A" in done.err
    assert "between the documents; nothing was written." in done.err
    assert not (tmp_path / "out").exists()
    assert run("write", CONFORMING, "-o", tmp_path / "out", "--clauses", folder).status == 0


def test_a_second_issue_in_an_offices_look_agrees_with_itself(tmp_path):
    office, job, out = tmp_path / "office.docx", tmp_path / "job", tmp_path / "out"
    office.write_bytes(office_file())
    shutil.copytree(CONFORMING, job)
    assert run("write", job, "-o", out, "--template", office, "--state", "draft", "--strict").status == 0
    changed(job / "project.yaml", ("piece_length: 10 ft", "piece_length: 8 ft"))
    done = run("write", job, "-o", out, "--template", office, "--strict")
    assert done.status == 0, done.err
    files = contents(out)
    assert any(name.startswith("marked-") for name in files) and any("addendum" in name for name in files)
    assert contradictions(files) == ()
