"""specgen upgrade: dry run, rewriting in place, and what this program changes in an issue of another."""

from __future__ import annotations

import json
import os
import shutil
from pathlib import Path
from typing import Any

import pytest

from tests.chain.runs import CONFORMING, FAULTY, contents, run

OLD_ISSUE = Path(__file__).with_name(
    "old_issue"
)  # written by the program before formats, one section and its rows


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """The worked example as it was before files bore a number, with an office file and what was accepted."""
    folder = tmp_path / "my job"
    shutil.copytree(CONFORMING, folder)
    (folder / "office.yaml").write_text("office: {name: A, document: B, edition: C}\n")
    (folder / "accepted.yaml").write_text("format: 1\naccepted: []\n")
    for path in folder.rglob("*.yaml"):
        path.write_bytes(path.read_bytes().replace(b"format: 2\n", b"").replace(b"\n", b"\r\n"))
    return folder


def test_a_dry_run_shows_the_lines_and_writes_nothing(job: Path) -> None:
    before = contents(job)
    done = run("upgrade", job)
    assert done.status == 0 and contents(job) == before
    assert done.out.count("+format: 2\n") == 9 and "-format: 1\n" in done.out and "\r" not in done.out
    assert f"--- {job / 'project.yaml'}\n+++ {job / 'project.yaml'}\n@@ " in done.out
    assert done.out.endswith(
        f"9 of 9 files are of an older format; nothing was written. To rewrite: specgen upgrade '{job}' --write\n"
    )
    assert done.err == f"left aside: {job / 'expected.yaml'} (no file of specgen's)\n"


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no pipes here")
def test_what_is_no_regular_file_is_named(job: Path) -> None:
    """A request that is a link into another folder is not upgraded with this one, and nobody may think that it was."""
    os.mkfifo(job / "late.yaml")
    (job / "request.yaml").symlink_to(job / "project.yaml")
    (job / "gone.yml").symlink_to(job / "nowhere.yml")
    done = run("upgrade", job)
    assert done.status == 0
    assert [line.partition(": ")[2].replace(str(job), "") for line in done.err.splitlines()] == [
        "/expected.yaml (no file of specgen's)",
        "/gone.yml (a link; name the file itself)",
        "/late.yaml (no regular file)",
        "/request.yaml (a link; name the file itself)",
    ]


def test_write_rewrites_in_place_once(job: Path) -> None:
    before = contents(job)
    done = run("upgrade", job, "--write")
    assert done.status == 0
    assert f"{job / 'project.yaml'}: project file rewritten from format 1 to format 2\n" in done.out
    after = contents(job)
    assert after.keys() == before.keys() and after["expected.yaml"] == before["expected.yaml"]
    for name in before.keys() - {"expected.yaml", "accepted.yaml"}:
        assert after[name].replace(b"format: 2\r\n", b"") == before[name] != after[name]
    assert after["accepted.yaml"] == b"format: 2\r\naccepted: []\r\n"
    again = run("upgrade", job, "--write")
    assert again.status == 0 and again.out == "9 files in the current format: nothing to do.\n"
    assert contents(job) == after
    (job / "office.yaml").unlink()
    assert run("check", job).out == run("check", CONFORMING).out.replace(str(CONFORMING), str(job))


def test_the_rights_of_a_file_stay(job: Path) -> None:
    path = job / "office.yaml"
    path.chmod(0o640)
    assert run("upgrade", path, "--write").status == 0
    assert path.stat().st_mode & 0o777 == 0o640


def test_json_tells_each_file_and_whether_it_was_written(job: Path) -> None:
    path = job / "office.yaml"
    data = json.loads(run("upgrade", path, "--format", "json").out)
    (one,) = data["files"]
    assert (data["command"], data["written"], data["aside"]) == ("upgrade", False, [])
    assert (one["file"], one["kind"], one["number"], one["current"]) == (str(path), "office", 1, 2)
    assert "+format: 2" in one["diff"]
    assert json.loads(run("upgrade", path, "--write", "--format", "json").out)["written"] is True
    data = json.loads(run("upgrade", path, "--write", "--format", "json").out)
    assert data["written"] is False and data["files"][0]["diff"] == []


@pytest.mark.parametrize(
    ("name", "text", "message"),
    [
        ("submittals/bad.yaml", "a: [\n", "2:1"),
        ("accepted.yaml", "format: 7\naccepted: []\n", "1:9: error: format 7 is written for a newer specgen"),
        ("accepted.yaml", "format: x\naccepted: []\n", "1:9: error: `format`"),
    ],
)
def test_with_one_file_that_cannot_be_used_nothing_is_written(
    job: Path, name: str, text: str, message: str
) -> None:
    (job / name).write_text(text)
    before = contents(job)
    done = run("upgrade", job, "--write")
    assert done.status == 2 and f"{job / name}:{message}" in done.err and contents(job) == before
    assert json.loads(run("upgrade", job, "--format", "json").out)["status"] == 2


def test_a_file_that_was_saved_meanwhile_is_left(job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = job / "project.yaml"

    def saved_by_an_editor(older: Any) -> None:
        path.write_bytes(path.read_bytes() + b"# mine\r\n")
        write(older)

    from specgen.commands import upgrade

    write = upgrade._write
    monkeypatch.setattr(upgrade, "_write", saved_by_an_editor)
    done = run("upgrade", path, "--write")
    assert done.status == 2 and "was saved by somebody meanwhile" in done.err
    assert path.read_bytes().endswith(b"# mine\r\n") and b"format" not in path.read_bytes()


def test_a_disk_that_fails_leaves_the_file_as_it_was(job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(_handle: int) -> None:
        raise OSError(28, "No space left on device")

    before = contents(job)
    monkeypatch.setattr(os, "fsync", full)
    done = run("upgrade", job, "--write")
    assert done.status == 2 and "No space left on device" in done.err and contents(job) == before


def test_an_issue_of_the_program_before_is_compared(tmp_path: Path) -> None:
    before = contents(OLD_ISSUE)
    done = run("upgrade", FAULTY, "--issued", OLD_ISSUE)
    assert done.status == 0 and contents(OLD_ISSUE) == before
    assert done.out.startswith("2602 Quarry Lane Clinic: issue of 2026-11-02, draft, in ")
    assert "Findings: not recorded by the program that wrote the issue.\n" in done.out
    assert (
        "  06 10 00 2.2.B\n    - Fasteners into treated wood: hot-dip galvanized steel, the galvanizing by ASTM A153.\n"
        "    + Fasteners into preservative-treated blocking: hot-dip galvanized steel.\n" in done.out
    )
    data = json.loads(run("upgrade", FAULTY, "--issued", OLD_ISSUE, "--format", "json").out)
    assert data["findings"] is None and data["old"] == {"date": "2026-11-02", "state": "draft"}
    changed = data["paragraphs"]["06-10-00-rough-carpentry.docx"]
    products = [(one["where"], one["kind"]) for one in changed if one["where"].startswith("06 10 00 2.2")]
    assert products == [
        ("06 10 00 2.2.B", "changed"),
        ("06 10 00 2.2.C", "added"),
    ]
    rows = {one["where"]: one["kind"] for one in data["rows"] if one["where"].startswith("blocking")}
    assert rows.pop("blocking.use_category") == "added"  # a requirement that the earlier program did not make
    assert set(rows.values()) == {"changed"}


@pytest.fixture(scope="module")
def issued(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("issued")
    assert run("write", FAULTY, "-o", folder).status == 1
    return folder


def record(folder: Path) -> Any:
    return json.loads((folder / "issue.json").read_text("utf-8"))


def test_an_issue_of_this_program_differs_in_nothing(issued: Path) -> None:
    done = run("upgrade", FAULTY, "--issued", issued)
    assert done.status == 0 and done.out.endswith("by this program:\nNothing differs.\n")


def test_write_records_the_findings_that_check_prints(issued: Path) -> None:
    recorded = record(issued)["current"]["findings"]
    printed = json.loads(run("check", FAULTY, "--format", "json").out)["findings"]
    assert {(one["code"], one["outcome"], one["message"]) for one in recorded} == {
        (one["code"], one["outcome"], one["message"]) for one in printed
    }
    assert all(one["mark"]["file"] == "project.yaml" for one in recorded)


def test_findings_that_come_go_and_say_something_else_are_told(issued: Path, tmp_path: Path) -> None:
    shutil.copytree(issued, tmp_path / "out")
    content = record(issued)
    found = content["current"]["findings"]
    defects = [one for one in found if (one["outcome"], one["severity"]) == ("fail", "defect")]
    found.remove(defects[0])
    defects[1]["message"] = "said otherwise"
    found.append({**defects[2], "code": "ZZ99", "message": "no longer found"})
    content["current"]["rows"]["blocking.gone"] = "a row that was"
    (tmp_path / "out/issue.json").write_text(json.dumps(content), "utf-8")
    done = run("upgrade", FAULTY, "--issued", tmp_path / "out")
    assert done.status == 1
    assert f": defect {defects[0]['code']} {defects[0]['message']} (parapet" in done.out
    assert "    before: said otherwise\n" in done.out
    assert "gone: ZZ99 no longer found (parapet P-1)\n" in done.out
    assert "Checklist rows (1)\n  blocking.gone\n    - a row that was\n" in done.out
    data = json.loads(run("upgrade", FAULTY, "--issued", tmp_path / "out", "--format", "json").out)
    assert len(data["findings"]) == 3 and data["open_points"] == 0


def test_an_issue_that_would_not_be_issued_any_more_says_so(issued: Path, tmp_path: Path) -> None:
    shutil.copytree(issued, tmp_path / "out")
    content = record(issued)
    content["current"]["state"] = "issued for bid"
    (tmp_path / "out/issue.json").write_text(json.dumps(content), "utf-8")
    done = run("upgrade", FAULTY, "--issued", tmp_path / "out")
    assert "It would not be issued in this state: " in done.out and "points are open" in done.out


def test_a_changed_project_is_told_beside(issued: Path, tmp_path: Path) -> None:
    folder = tmp_path / "job"
    shutil.copytree(FAULTY, folder)
    path = folder / "project.yaml"
    text = path.read_text("utf-8")
    assert text.count("name: Quarry Lane Clinic") == 1
    path.write_text(text.replace("name: Quarry Lane Clinic", "name: Quarry Lane Studio"), "utf-8")
    out = run("upgrade", folder, "--issued", issued).out
    assert "The project file has changed since (1); what follows is of both:\n  project.yaml:" in out
    assert "name: Quarry Lane Studio, was Quarry Lane Clinic" in out


@pytest.mark.parametrize("content", [None, "{", '{"format": 9}'])
def test_a_folder_without_an_issue_is_refused(content: str | None, tmp_path: Path) -> None:
    if content is not None:
        (tmp_path / "issue.json").write_text(content)
    done = run("upgrade", FAULTY, "--issued", tmp_path)
    assert done.status == 2 and ("no issue lies" in done.err or "is not a record of an issue" in done.err)


def test_issued_goes_with_one_project_and_without_write() -> None:
    for words in ((FAULTY, CONFORMING), (FAULTY, "--write")):
        assert run("upgrade", *words, "--issued", OLD_ISSUE).status == 2
