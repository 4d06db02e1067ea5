"""specgen compare: one word changed in a file, and all that follows from it."""

from __future__ import annotations

import json
from pathlib import Path

from tests.chain.runs import CONFORMING, FAULTY, copied, run


def test_one_word_tells_the_rule_the_paragraphs_and_the_submittals(tmp_path: Path) -> None:
    after = copied(CONFORMING, tmp_path / "after", ("kind: fluid-applied", "kind: mechanically fastened"))
    done = run("compare", CONFORMING, after)
    assert done.status == 1
    line = next(line for line in done.out.splitlines() if " WB01 " in line)
    lines = (after / "project.yaml").read_text("utf-8").splitlines()
    at = next(n for n, text in enumerate(lines, 1) if text.strip() == "kind: mechanically fastened")
    assert line.startswith(f"new: {after / 'project.yaml'}:{at}:15: defect WB01")
    assert "(parapet P-1, P-2, P-3)" in line
    assert "    - Barrier: fluid-applied membrane.\n    + Barrier: mechanically fastened sheet." in done.out
    assert "Section 07 27 00, 2.1.A" in done.out
    assert "Submittals (" in done.out and "Drawings (" in done.out


def test_the_way_back_tells_what_is_cured(tmp_path: Path) -> None:
    before = copied(CONFORMING, tmp_path / "before", ("kind: fluid-applied", "kind: mechanically fastened"))
    done = run("compare", before, CONFORMING)
    assert done.status == 0
    assert any(line.startswith("gone: WB01 ") for line in done.out.splitlines())
    assert "new: " not in done.out


def test_another_drainage_layer_moves_what_the_sun_drives(tmp_path: Path) -> None:
    old = "kind: dimpled sheet\n        depth: 7/16 in\n        vapor_permeance: 0.05 perm"
    new = "kind: dimpled sheet\n        depth: 7/16 in\n        vapor_permeance: 0.10 perm"
    after = copied(CONFORMING, tmp_path / "after", (old, new))
    done = run("compare", CONFORMING, after, "--format", "json")
    results = {(one["subject"], one["title"]): one for one in json.loads(done.out)["results"]}
    drive = [one for (subject, _), one in results.items() if subject == "vapor drive" and one["factor"]]
    assert drive and all(one["factor"] != 1 for one in drive)


def test_the_same_file_differs_in_nothing() -> None:
    done = run("compare", CONFORMING, CONFORMING)
    assert (done.status, done.out) == (0, "Nothing differs.\n")


def test_two_projects_with_other_parapets_are_compared_all_the_same() -> None:
    done = run("compare", CONFORMING, FAULTY, "--format", "json")
    assert done.status == 1
    content = json.loads(done.out)
    assert content["findings"] and content["paragraphs"]


def test_a_file_that_cannot_be_used_is_told(tmp_path: Path) -> None:
    done = run("compare", CONFORMING, tmp_path / "nothing")
    assert done.status == 2 and "nothing" in done.err
