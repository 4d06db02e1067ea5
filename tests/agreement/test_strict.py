"""``write --strict`` writes nothing where two of the finished documents differ."""

from __future__ import annotations

from tests.chain.runs import CONFORMING, run

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
