"""A commit of papers at every one of its system calls, failing in every way."""

from __future__ import annotations

import os
import shutil
from pathlib import Path

import pytest

from specgen.files.faults import OutputError
from specgen.files.lock import LOCK
from specgen.files.writing import OutputFolder
from tests.chain.runs import contents
from tests.conftest import LONG
from tests.faults.disk import Disk, in_child
from tests.faults.steps import Case

if not hasattr(os, "fork"):
    pytest.skip("no fork here, so no process can be killed at a call", allow_module_level=True)


def commit(word: str, folder: Path) -> tuple[int, str]:
    """Papers in the folder and in two below it, one of them new, one that is as it was."""
    out = OutputFolder(folder)
    out.add("same.txt", b"same")
    out.add("a.txt", f"{word} a".encode() * 2000)
    out.add("sub/b.txt", f"{word} b".encode() * 2000)
    out.add("edited.txt", f"{word} c".encode())
    if word == "new":
        out.add("other/deep/d.txt", b"new d")
    try:
        out.commit()
    except OutputError as error:
        return 2, str(error)
    return 0, ""


@pytest.mark.parametrize("first", [True, False], ids=["first", "second"])
def test_at_every_call_of_a_commit_files_are_old_or_new_and_the_next_run_is_right(
    tmp_path: Path, first: bool
) -> None:
    before = tmp_path / "before"
    if not first:
        commit("old", before)
        (before / "edited.txt").write_bytes(b"by hand")
    case = Case.of(lambda folder: commit("new", folder), before, tmp_path / "work")
    assert len(case.calls) > 30
    for number, kind in case.steps() if LONG else case.sample(15 if first else 12):
        case.disturbed(number, kind)


def test_what_a_killed_run_wrote_is_known_as_ours_by_a_run_that_writes_something_else(tmp_path: Path) -> None:
    before, work = tmp_path / "before", tmp_path / "work"
    commit("old", before)
    case = Case.of(lambda folder: commit("new", folder), before, work)
    commit("third", tmp_path / "third")
    want = set(contents(tmp_path / "third"))
    for number, kind in case.each():
        if kind == "kill":
            shutil.rmtree(work)
            shutil.copytree(before, work)
            in_child(work, lambda: commit("new", work), number, kind)
            assert commit("third", work) == (0, "")
            found = contents(work)
            assert {name for name in found if name != "other/deep/d.txt"} == want, number
            assert found["a.txt"] == b"third a" * 2000, number


def test_a_full_disk_changes_nothing(tmp_path: Path) -> None:
    """Until the first file is replaced, any error leaves the folder as it was and says so."""
    before = tmp_path / "before"
    commit("old", before)
    case = Case.of(lambda folder: commit("new", folder), before, tmp_path / "work")
    writes = [number for number, call in enumerate(case.calls, start=1) if call == "write"]
    ended = [case.disturbed(number, "full") for number in writes]
    assert [one.status for one in ended].count(
        2
    ) >= 5  # the papers and both records; the lock's words may fail
    assert all("nothing was written" in one.err for one in ended if one.status)


def test_parts_of_a_killed_run_go_also_from_folders_that_the_next_does_not_write(tmp_path: Path) -> None:
    commit("old", tmp_path)
    for place in (tmp_path, tmp_path / "sub"):
        (place / ".specgen-0123456789abcdef.part").write_bytes(b"half")
    (tmp_path / "theirs").mkdir()
    (tmp_path / "theirs" / ".specgen-0123456789abcdef.part").write_bytes(b"of another folder")
    out = OutputFolder(tmp_path)
    out.add("same.txt", b"same")
    out.commit()
    assert [name for name in contents(tmp_path) if name.endswith(".part")] == [
        "theirs/.specgen-0123456789abcdef.part"
    ]


def test_the_failing_disk_itself(tmp_path: Path) -> None:
    """The layer counts, and does what it says."""

    def act() -> tuple[int, str]:
        with (tmp_path / "x").open("wb"):
            pass
        handle = os.open(tmp_path / "y", os.O_WRONLY | os.O_CREAT | os.O_TRUNC)
        return os.write(handle, b"12345"), ""

    assert in_child(tmp_path, act).calls == ("open", "write")
    assert in_child(tmp_path, act, 2, "short").status == 3
    assert "No space left" in in_child(tmp_path, act, 2, "full").err
    assert in_child(tmp_path, act, 2, "torn").status == 9 and (tmp_path / "y").read_bytes() == b"123"
    assert Disk(tmp_path)._below(tmp_path / "z") and not Disk(tmp_path)._below(f"{tmp_path}z")
    assert not (tmp_path / LOCK).exists()
