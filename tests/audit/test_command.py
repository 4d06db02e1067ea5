"""specgen audit from the command line: what it writes, that it goes on after any end, and that nothing leaks."""

from __future__ import annotations

import contextlib
import json
import os
import random
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import openpyxl
import pytest

from specgen.audit.state import NAME
from specgen.files.lock import LOCK
from tests.audit.conftest import COUNT
from tests.audit.portfolio import MIXED, portfolio
from tests.chain.runs import REPO, contents, run
from tests.conftest import LONG

KILLS = 50 if LONG else 2
PAPERS = ("audit.html", "audit.json", "audit.xlsx")


def whole(out: Path) -> dict:
    return json.loads((out / "audit.json").read_text("utf-8"))


def start(folder: Path, out: Path) -> subprocess.Popen:
    words = ["-m", "specgen", "audit", folder, "-o", out, "--jobs", "2", "--bad", "wrap w"]
    return subprocess.Popen(
        [sys.executable, *words], cwd=REPO, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True
    )


def test_a_row_for_every_project_and_its_problems_where_it_cannot_be_used(projects, audited):
    out, done = audited
    rows = whole(out)["projects"]
    assert done.status == 1
    assert len(rows) == COUNT
    broken = [one for one in rows if one["problems"]]
    assert len(broken) == COUNT // 12
    for one in broken:
        assert one["problems"][0]["place"].startswith(f"{one['path']}/project.yaml:")
    for one in rows:
        assert f"{one['path']}  " in done.out
    assert str(projects) not in (out / NAME).read_text("ascii")  # the same on every machine


def test_a_row_says_what_check_says(projects, audited):
    """The findings as designed are those of ``specgen check``: a second way to the same."""
    out, _ = audited
    usable = [one for one in whole(out)["projects"] if not one["problems"]]
    for one in random.Random(1).sample(usable, 3):
        alone = json.loads(run("check", projects / one["path"], "--format", "json").out)
        checked = {
            (row["code"], row["message"])
            for row in alone["findings"]
            if row["outcome"] in ("fail", "unknown")
        }
        assert {(row["code"], row["message"]) for row in one["designed"]} == checked


def test_findings_as_accepted_are_those_of_the_wall_with_the_paper_in_it(projects, audited):
    """One substitution alone: what came with it is what ``specgen substitute`` says it breaks."""
    out, _ = audited
    alone = [
        one
        for one in whole(out)["projects"]
        if [p["paper"] for p in one.get("papers") or ()] == ["substitution"]
    ]
    assert alone
    one = alone[0]
    request = projects / one["path"] / one["papers"][0]["file"]
    data = json.loads(
        run("substitute", projects / one["path"], request, "-o", out / "s", "--format", "json").out
    )
    shutil.rmtree(out / "s")
    printed = {point["code"] for point in data["requests"][0]["points"]}
    assert {row["code"] for row in one["papers"][0]["brings"]} == printed


def test_killed_at_random_moments_it_goes_on_and_ends_with_the_same_bytes(projects, audited, tmp_path):
    out, _ = audited
    chance = random.Random(20261125)
    known: set[str] = set()
    inside = 0
    for number in range(KILLS):
        process = start(projects, tmp_path)
        begun = time.monotonic()
        wanted = len(known) + 1 + chance.randrange(3)
        while process.poll() is None and time.monotonic() - begun < 60:
            if lines(tmp_path) > wanted:
                break
            time.sleep(0.02)
        time.sleep(chance.uniform(0, 0.05))
        inside += process.poll() is None
        below = children(process.pid)
        process.send_signal(signal.SIGINT if number % 3 == 2 else signal.SIGKILL)
        _, err = process.communicate(timeout=60)  # returns when every worker has let go of the pipe
        assert not [pid for pid in below if running(pid)]  # nothing is left behind
        if number % 3 == 2 and process.returncode != -signal.SIGINT:
            assert process.returncode in (1, 2)
            assert process.returncode == 1 or "start it again to go on" in err
        now = finished(tmp_path)
        assert known <= now  # nothing that was done is lost
        known = now
    assert inside >= KILLS // 2
    process = start(projects, tmp_path)
    _, err = process.communicate(timeout=600)
    assert process.returncode == 1, err
    assert "done already: " in err
    assert {name: (tmp_path / name).read_bytes() for name in PAPERS} == {
        name: (out / name).read_bytes() for name in PAPERS
    }  # one process uninterrupted, two processes killed: the same


def lines(out: Path) -> int:
    return (out / NAME).read_bytes().count(b"\n") if (out / NAME).exists() else 0


def finished(out: Path) -> set[str]:
    if not (out / NAME).exists():
        return set()
    text = (out / NAME).read_bytes()
    return {json.loads(one)["path"] for one in text.split(b"\n")[1:-1]}


@pytest.mark.skipif(not LONG, reason="two processes without a kill: tried by make test-long")
def test_two_processes_without_a_kill_write_the_same_bytes(projects, audited, tmp_path):
    out, _ = audited
    run("audit", projects, "-o", tmp_path, "--jobs", 2, "--bad", "wrap w")
    assert all((tmp_path / name).read_bytes() == (out / name).read_bytes() for name in PAPERS)


def test_the_workbook_has_a_row_a_finding(audited):
    out, _ = audited
    book = openpyxl.load_workbook(out / "audit.xlsx", read_only=True)
    rows = {sheet.title: [[cell.value for cell in row] for row in sheet.iter_rows()] for sheet in book}
    usable = [one for one in whole(out)["projects"] if not one["problems"]]
    keys = {
        (one["path"], row["code"], row["severity"], row["layer"], row["message"])
        for one in usable
        for row in (*one["designed"], *(one["accepted"] or ()))
    }
    assert len(rows["Findings"]) - 4 == len(keys)
    assert rows["Findings"][3][:6] == [
        "Project folder",
        "Rule",
        "Name",
        "Severity",
        "Climate zone",
        "Building use",
    ]
    assert len(rows["Projects"]) - 4 == COUNT


def test_only_what_changed_is_assessed_again(tmp_path):
    folder, out = portfolio(tmp_path / "p", 3), tmp_path / "out"
    run("audit", folder, "-o", out, "--jobs", 1)
    before = (out / NAME).read_bytes()
    assert "done already: 3 of 3 projects." in run("audit", folder, "-o", out).err
    assert (out / NAME).read_bytes() == before
    place = folder / "region 0" / "p0000" / "project.yaml"
    place.write_text(place.read_text("utf-8").replace('number: "G0000"', 'number: "X9"'), "utf-8")
    (folder / "region 0" / "p0000" / "accepted.yaml").unlink(missing_ok=True)
    assert "2 of 3" in run("audit", folder, "-o", out, "--jobs", 1).err
    assert whole(out)["projects"][0]["number"] == "X9"
    shutil.rmtree(folder / "region 1")
    run("audit", folder, "-o", out)
    assert len(whole(out)["projects"]) == 2


def test_hostile_names_stay_in_the_output_folder_and_steer_no_terminal(tmp_path):
    root = tmp_path / "root"
    names = ["a\x1b[2J", "b\nc", "=1+1", "<script>", "d'\"&", "-o", "e;rm", "…ü", os.fsdecode(b"\xff\xfe")]
    for name in names:
        (root / name).mkdir(parents=True)
        (root / name / "project.yaml").write_text("nothing\n", "utf-8")
    (root / "loop").symlink_to(root)
    outside = tmp_path / "secret.yaml"
    outside.write_text("a secret\n", "utf-8")
    (root / "linked").mkdir()
    (root / "linked" / "project.yaml").symlink_to(outside)
    done = run("audit", root, "-o", tmp_path / "out", "--jobs", 1)
    assert done.status == 1
    assert "\x1b" not in done.out and "b\\nc" in done.out
    assert sorted(path.name for path in tmp_path.iterdir()) == ["out", "root", "secret.yaml"]
    assert sorted(contents(tmp_path / "out")) == sorted([*PAPERS, NAME, "manifest.json"])
    rows = {one["path"]: one for one in whole(tmp_path / "out")["projects"]}
    assert set(rows) == {*names, "linked"}
    assert "leaves the audited folder" in rows["linked"]["problems"][0]["message"]
    everything = b"".join(contents(tmp_path / "out").values())
    assert b"a secret" not in everything and str(tmp_path).encode() not in everything
    page = (tmp_path / "out" / "audit.html").read_text("utf-8")
    assert "<script" not in page


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        (("--since", "2026-05-01", "--until", "2026-04-01"), "lies after"),
        (("--engine", "dask"), "--engine dask and --scheduler ADDRESS go together"),
        (("--scheduler", "tcp://x:1"), "--engine dask and --scheduler ADDRESS go together"),
        (("--bad", " "), "--bad names no product"),
        (("--bad", "nowhere.yaml"), "there is no such file"),
        ((), "no folder below"),
    ],
)
def test_unusable_words_are_told_and_nothing_is_written(tmp_path, words, expected):
    (tmp_path / "empty").mkdir()
    done = run("audit", tmp_path / "empty", "-o", tmp_path / "out", *words)
    assert done.status == 2 and expected in done.err
    assert not (tmp_path / "out").exists()


def test_a_folder_that_is_none_is_told(tmp_path):
    assert "there is no such folder" in run("audit", tmp_path / "no", "-o", tmp_path / "out").err


def test_json_on_the_terminal_is_the_file_and_what_the_run_did_in_the_folder(tmp_path):
    shutil.copytree(MIXED, tmp_path / "p" / "mixed")
    done = run("audit", tmp_path / "p", "-o", tmp_path / "out", "--format", "json", "--jobs", 1)
    printed, out = json.loads(done.out), tmp_path / "out"
    files = printed.pop("files")
    assert printed == json.loads((out / "audit.json").read_text("utf-8"))
    assert files["written"] == list(PAPERS) and files["beside"] == []
    assert done.status == 0 and done.err == ""
    assert [one["path"] for one in printed["projects"]] == ["mixed"]


def test_a_page_that_somebody_edited_is_told_in_json_too(tmp_path):
    shutil.copytree(MIXED, tmp_path / "p" / "mixed")
    words = ("audit", tmp_path / "p", "-o", tmp_path / "out", "--format", "json", "--jobs", 1)
    run(*words)
    with (tmp_path / "out" / "audit.html").open("a") as page:
        page.write("a remark")
    done = run(*words)
    assert json.loads(done.out)["files"]["beside"] == [["audit.html", "audit.new.html"]]


def test_a_folder_that_cannot_be_written_keeps_what_was_assessed_and_says_so(tmp_path):
    shutil.copytree(MIXED, tmp_path / "p" / "mixed")
    out = tmp_path / "out"
    (out / LOCK).mkdir(parents=True)
    done = run("audit", tmp_path / "p", "-o", out, "--jobs", 1)
    assert done.status == 2 and "nothing was written" not in done.err
    assert f"no paper was written; {NAME} keeps what was assessed" in done.err
    assert b'"path": "mixed"' in (out / NAME).read_bytes() or b'"path":"mixed"' in (out / NAME).read_bytes()


def test_what_was_not_looked_at_is_told_beside_json(tmp_path):
    shutil.copytree(MIXED, tmp_path / "p" / "mixed")
    (tmp_path / "p" / "link").symlink_to(MIXED, target_is_directory=True)
    done = run("audit", tmp_path / "p", "-o", tmp_path / "out", "--format", "json", "--jobs", 1)
    assert "links to folders, not followed: 1" in done.err and json.loads(done.out)["files"]


def children(pid: int) -> set[int]:
    """The processes below one, where the system tells; none otherwise."""
    found: set[int] = set()
    for stat in Path("/proc").glob("[0-9]*/stat"):
        with contextlib.suppress(OSError):
            number, rest = stat.read_text().split(" (", 1)
            if int(rest.rsplit(") ", 1)[1].split()[1]) == pid:
                found |= {int(number), *children(int(number))}
    return found


def running(pid: int) -> bool:
    """Whether a process runs on: it has some seconds to end."""
    for _ in range(200):
        try:
            if Path(f"/proc/{pid}/stat").read_text().rsplit(") ", 1)[1][0] == "Z":
                return False
        except OSError:
            return False
        time.sleep(0.05)
    return True
