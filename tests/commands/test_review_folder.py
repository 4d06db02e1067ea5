"""specgen review on a folder of mixed paper: the submittals in it are reviewed, the rest is named."""

from __future__ import annotations

import shutil
from pathlib import Path

from tests.chain.runs import CONFORMING, contents, run


def mixed(folder: Path) -> Path:
    paper = folder / "in"
    paper.mkdir()
    for path in (*(CONFORMING / "submittals").glob("*.yaml"), *(CONFORMING / "substitutions").glob("*.yaml")):
        shutil.copy(path, paper)
    shutil.copy(CONFORMING / "project.yaml", paper / "old-project.yaml")
    (paper / "sheet.pdf").write_bytes(b"%PDF-1.7")
    (paper / "notes.txt").write_text("call the roofer", encoding="utf-8")
    return paper


def test_the_submittals_of_a_folder_are_reviewed_and_the_rest_is_named(tmp_path: Path) -> None:
    paper = mixed(tmp_path)
    done = run("review", CONFORMING, paper, "-o", tmp_path / "out")
    assert done.status == 1
    letters = {name for name in contents(tmp_path / "out") if name.endswith(".docx")}
    assert len(letters) == len(list((CONFORMING / "submittals").glob("*.yaml")))
    for name, kind in (
        ("mesh.yaml", "a request file"),
        ("old-project.yaml", "a project file"),
        ("sheet.pdf", "a data sheet: specgen read"),
        ("notes.txt", "no submittal file"),
    ):
        assert f"left aside: {paper / name} ({kind})" in done.err


def test_a_damaged_file_of_the_folder_is_told_with_its_line(tmp_path: Path) -> None:
    paper = mixed(tmp_path)
    (paper / "torn.yaml").write_text("submittal: [", encoding="utf-8")
    done = run("review", CONFORMING, paper, "-o", tmp_path / "out")
    assert done.status == 2 and f"{paper / 'torn.yaml'}:1:" in done.err
    assert not (tmp_path / "out").exists()


def test_a_folder_without_a_submittal_is_told(tmp_path: Path) -> None:
    (tmp_path / "in").mkdir()
    done = run("review", CONFORMING, tmp_path / "in", "-o", tmp_path / "out")
    assert done.status == 2 and "holds no submittal file" in done.err
