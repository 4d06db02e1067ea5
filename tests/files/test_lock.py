"""Runs at the same time in one folder: one after the other, nothing mixed, nothing of the lock left."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import textwrap
import threading
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from specgen.audit.state import State
from specgen.files import lock
from specgen.files.faults import OutputError
from specgen.files.lock import LOCK, locked, make_folder
from specgen.files.writing import OutputFolder
from tests.chain.runs import contents
from tests.commands.windows import Windows, locks

# Each run reads what the one before left, as an issue reads its record, and writes papers that all say the same.
RUN = """
    import sys
    from pathlib import Path
    from specgen.files.lock import locked
    from specgen.files.writing import OutputFolder
    folder, who = Path(sys.argv[1]), sys.argv[2]
    for number in range(4):
        with locked(folder):
            before = folder / "n.txt"
            count = int(before.read_text()) + 1 if before.exists() else 1
            out = OutputFolder(folder)
            out.add("n.txt", str(count).encode())
            for paper in range(6):
                out.add(f"{paper}.txt", f"{who} {number} {count}".encode() * 5000)
            out.commit()
"""


def test_runs_at_once_do_not_mix_their_papers_and_each_sees_the_one_before(tmp_path: Path) -> None:
    out = tmp_path / "out"
    command = [sys.executable, "-c", textwrap.dedent(RUN), str(out)]
    runs = [subprocess.Popen([*command, str(who)]) for who in range(4)]
    assert [one.wait(120) for one in runs] == [0] * 4
    found = contents(out)
    manifest = json.loads(found.pop("manifest.json"))
    assert "pending" not in manifest and set(manifest["files"]) == set(found)
    assert found.pop("n.txt") == b"16"
    assert len(set(found.values())) == 1 and len(found) == 6


def test_commits_of_threads_do_not_mix(tmp_path: Path) -> None:
    def commit(word: int) -> None:
        out = OutputFolder(tmp_path)
        for paper in range(8):
            out.add(f"{paper}.txt", f"{word} ".encode() * 3000)
        out.commit()

    with ThreadPoolExecutor(8) as threads:
        list(threads.map(commit, range(40)))
    found = contents(tmp_path)
    assert "pending" not in json.loads(found.pop("manifest.json"))
    assert len(set(found.values())) == 1 and len(found) == 8


def test_the_same_thread_holds_a_folder_again_and_lets_go_at_the_end(tmp_path: Path) -> None:
    with locked(tmp_path):
        with locked(tmp_path / "." / "x" / ".."):
            assert (tmp_path / LOCK).exists()
        assert (tmp_path / LOCK).exists()
    assert contents(tmp_path) == {}


def test_another_thread_waits(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(lock, "WAIT", 0.1)
    problems: list[str] = []

    def other() -> None:
        try:
            with locked(tmp_path):
                pass
        except OutputError as error:
            problems.append(str(error))

    with locked(tmp_path):
        thread = threading.Thread(target=other)
        thread.start()
        thread.join()
    assert len(problems) == 1 and f"(process {os.getpid()})" in problems[0]
    other()
    assert len(problems) == 1


def test_a_folder_made_for_a_run_that_writes_nothing_goes_again(tmp_path: Path) -> None:
    with pytest.raises(ZeroDivisionError), locked(tmp_path / "a" / "b"):
        raise ZeroDivisionError
    assert list(tmp_path.iterdir()) == []


def test_a_lock_left_by_a_kill_holds_nobody_and_is_removed(tmp_path: Path) -> None:
    (tmp_path / LOCK).write_text("somebody (process 1)")
    with locked(tmp_path):
        assert f"process {os.getpid()}" in (tmp_path / LOCK).read_text()
    assert contents(tmp_path) == {}


@pytest.mark.skipif(os.name == "nt" or os.geteuid() == 0, reason="the superuser may write anywhere")
def test_a_folder_that_may_not_be_written_is_one_line(tmp_path: Path) -> None:
    tmp_path.chmod(0o500)
    try:
        with (
            pytest.raises(OutputError, match=r"cannot use .*Permission denied; nothing was written"),
            locked(tmp_path),
        ):
            pass
    finally:
        tmp_path.chmod(0o700)


def test_a_folder_that_cannot_be_locked_is_one_line(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    fcntl = pytest.importorskip("fcntl")

    def refuse(*_: object) -> None:
        raise OSError(37, "No locks available")

    monkeypatch.setattr(fcntl, "flock", refuse)
    with (
        pytest.raises(OutputError, match=r"cannot lock .*No locks available; nothing was written"),
        locked(tmp_path),
    ):
        pass
    assert contents(tmp_path) == {}


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no pipes here")
def test_what_is_no_file_in_place_of_the_lock_is_one_line(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / LOCK)
    with (
        pytest.raises(OutputError, match=r"is not a regular file; nothing was written; move it away"),
        locked(tmp_path),
    ):
        pass
    assert [path.name for path in tmp_path.iterdir()] == [LOCK]


@pytest.mark.parametrize("error", [KeyError("getpwuid(): uid not found"), ImportError("no module pwd")])
def test_who_has_no_name_on_this_machine_is_somebody(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, error: Exception
) -> None:
    def nobody() -> str:
        raise error

    monkeypatch.setattr(lock.getpass, "getuser", nobody)
    with locked(tmp_path):
        assert (tmp_path / LOCK).read_text().startswith("somebody on ")


def test_a_folder_that_goes_while_it_is_taken_is_made_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Another run that wrote nothing removes the folder that it made, between our making and our opening."""
    folder, made = tmp_path / "out", []

    def make(path: Path) -> list[Path]:
        new = make_folder(path)
        if not made:
            path.rmdir()
        made.append(path)
        return new

    monkeypatch.setattr(lock, "make_folder", make)
    with locked(folder):
        assert (folder / LOCK).is_file()
    assert len(made) == 2 and not folder.exists()


def test_on_windows_another_run_waits_and_the_file_goes_with_its_holder(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    pytest.importorskip("fcntl")  # by which the locks of Windows are put in place here
    monkeypatch.setitem(sys.modules, "msvcrt", locks())
    monkeypatch.setattr(lock, "os", Windows())
    test_another_thread_waits(tmp_path, monkeypatch)
    test_a_lock_left_by_a_kill_holds_nobody_and_is_removed(tmp_path)


def test_a_second_audit_is_kept_out_on_windows_too(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    pytest.importorskip("fcntl")
    monkeypatch.setitem(sys.modules, "msvcrt", locks())
    monkeypatch.setattr(lock, "os", Windows())
    with State(tmp_path), pytest.raises(OutputError, match="another audit writes into"), State(tmp_path):
        pass
    with State(tmp_path):
        pass
