"""Atomic writing, the output folder and its manifest, and archives with fixed bytes."""

import hashlib
import io
import json
import os
import random
import shutil
import subprocess
import sys
import textwrap
import zipfile
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from specgen.files.archive import zip_deterministic
from specgen.files.atomic import Batch, write_together
from specgen.files.faults import OutputError
from specgen.files.names import check_name
from specgen.files.writing import OutputFolder, Written
from tests.commands.test_odd_files import alarm


def commit(folder: Path, files: dict[str, bytes], force: bool = False) -> Written:
    out = OutputFolder(folder)
    for name, data in files.items():
        out.add(name, data)
    return out.commit(force=force)


def contents(folder: Path) -> dict[str, bytes]:
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*") if p.is_file()}


def test_a_file_is_replaced_and_leaves_nothing_else(tmp_path: Path) -> None:
    write_together({tmp_path / "a.txt": b"old"})
    write_together({tmp_path / "a.txt": b"new"})
    assert contents(tmp_path) == {"a.txt": b"new"}


@pytest.mark.parametrize("step", ["fsync", "replace"])
def test_a_failed_write_keeps_the_old_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, step: str
) -> None:
    write_together({tmp_path / "a.txt": b"old"})

    def fail(*_: object) -> None:
        raise PermissionError(13, "Permission denied")

    if step == "fsync":
        monkeypatch.setattr(os, "fsync", fail)
    else:
        monkeypatch.setattr(Path, "replace", fail)
    with pytest.raises(OutputError, match=r"cannot write .*a\.txt: Permission denied; close it"):
        write_together({tmp_path / "a.txt": b"new"})
    assert contents(tmp_path) == {"a.txt": b"old"}


@pytest.mark.parametrize(
    ("step", "state"),
    [
        (1, "nothing was written"),
        (2, "every paper is as it was; run this again to finish"),
        (3, "already done: a.txt; all others are as they were; run this again to finish"),
        (
            6,
            "already done: a.txt, b.txt, c.txt and 1 more; all others are as they were; run this again to finish",
        ),
        (
            7,
            "already done: a.txt, b.txt, c.txt and 2 more; all others are as they were; run this again to finish",
        ),
    ],
)
def test_a_commit_that_fails_on_its_way_says_what_is_done(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, step: int, state: str
) -> None:
    """The record is replaced first and last: it is neither done nor undone for who reads the message."""
    replace, count = Path.replace, 0

    def counted(path: Path, target: Path) -> Path:
        nonlocal count
        count += 1
        if count == step:
            raise PermissionError(13, "Permission denied")
        return replace(path, target)

    papers = {f"{name}.txt": b"new" for name in "abcde"}
    monkeypatch.setattr(Path, "replace", counted)
    with pytest.raises(OutputError) as caught:
        commit(tmp_path, papers)
    assert state in str(caught.value)
    assert commit(tmp_path, papers).beside == ()
    assert {name: data for name, data in contents(tmp_path).items() if name != "manifest.json"} == papers


def test_a_file_in_place_of_the_folder_that_a_paper_moves_to_is_told(tmp_path: Path) -> None:
    (tmp_path / "a.txt").write_bytes(b"a")
    (tmp_path / "withdrawn").write_bytes(b"a note")
    with Batch(tmp_path) as batch, pytest.raises(OutputError, match=r"cannot write .*withdrawn.*a\.txt"):
        batch.move(tmp_path / "a.txt", tmp_path / "withdrawn" / "2027" / "a.txt")
    assert contents(tmp_path) == {"a.txt": b"a", "withdrawn": b"a note"}


def test_an_interrupt_removes_the_temporary_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def interrupt(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(os, "fsync", interrupt)
    with pytest.raises(KeyboardInterrupt):
        write_together({tmp_path / "a.txt": b"new"})
    assert contents(tmp_path) == {}


@pytest.mark.parametrize(
    "name",
    ["", "/etc/x", "../x", "a/../x", "a//b", "./a", "C:/x", "C:x", "a\\b", "..\\x", "CON", "con.txt",
     "a/NUL.docx", "com1", "LPT9.x", "COM¹", "aux .txt", "a.", "a ", "a./b", " a", "a\0b", "a\nb", "a?b",
     "x" * 300, "a/", "..."],
)  # fmt: skip
def test_unsafe_names_are_refused(tmp_path: Path, name: str) -> None:
    with pytest.raises(ValueError, match="is refused"):
        OutputFolder(tmp_path).add(name, b"")


@pytest.mark.parametrize(
    "name", ["07 62 00.docx", "a/b/c.html", "console.txt", "COM10", ".keep", "Größe.svg", "a..b"]
)
def test_plain_names_are_accepted(name: str) -> None:
    assert check_name(name) == name


@given(st.text(max_size=20))
def test_no_accepted_name_leaves_the_folder(name: str) -> None:
    try:
        check_name(name)
    except ValueError:
        return
    root = Path("/root/of/output")
    assert Path(os.path.normpath(root / name)).is_relative_to(root)
    assert Path(os.path.normpath(root / name)) != root


@pytest.mark.parametrize(
    ("first", "second"),
    [("a", "a"), ("A.docx", "a.docx"), ("é", "e\u0301"), ("a", "a/b"), ("a/b/c", "a"), ("A/b", "a")],
)
def test_names_that_meet_on_some_disk_are_refused(tmp_path: Path, first: str, second: str) -> None:
    out = OutputFolder(tmp_path)
    out.add(first, b"")
    with pytest.raises(ValueError, match="is in its place"):
        out.add(second, b"")


@pytest.mark.parametrize(
    "name", ["manifest.json", "Manifest.JSON", "a.new.docx", "a.new2.docx", "x/a.new", ".specgen-1.part"]
)
def test_names_of_the_folder_itself_are_refused(tmp_path: Path, name: str) -> None:
    with pytest.raises(ValueError, match="uses it itself"):
        OutputFolder(tmp_path).add(name, b"")


def test_first_commit_writes_files_and_manifest(tmp_path: Path) -> None:
    out = OutputFolder(tmp_path / "deep" / "out")
    out.add("b/x.txt", b"x")
    out.add("a.txt", b"a")
    done = out.commit(manifest_extra={"version": "1", "inputs": {"p": "q"}})
    assert done == Written(tmp_path / "deep" / "out", ("a.txt", "b/x.txt"), (), (), ())
    found = contents(done.folder)
    text = found.pop("manifest.json").decode()
    assert found == {"a.txt": b"a", "b/x.txt": b"x"}
    assert json.loads(text) == {
        "version": "1",
        "inputs": {"p": "q"},
        "files": {"a.txt": hashlib.sha256(b"a").hexdigest(), "b/x.txt": hashlib.sha256(b"x").hexdigest()},
    }
    assert text.endswith("}\n")
    assert text.index("files") < text.index("inputs") < text.index("version")


def test_a_run_that_says_nothing_of_its_sources_leaves_what_the_manifest_said(tmp_path: Path) -> None:
    """A register written beside an issue does not take away which weather file and clauses the issue was made with."""
    out = OutputFolder(tmp_path)
    out.add("a.txt", b"a")
    out.commit(manifest_extra={"weather": "w.epw"})
    commit(tmp_path, {"b.txt": b"b"})
    assert json.loads((tmp_path / "manifest.json").read_bytes())["weather"] == "w.epw"
    out = OutputFolder(tmp_path)
    out.add("a.txt", b"a2")
    out.commit(manifest_extra={})
    assert "weather" not in json.loads((tmp_path / "manifest.json").read_bytes())


def test_the_same_again_touches_nothing(tmp_path: Path) -> None:
    commit(tmp_path, {"a.txt": b"a", "b.txt": b"b"})
    for path in tmp_path.iterdir():
        os.utime(path, ns=(1, 1))
    assert commit(tmp_path, {"a.txt": b"a", "b.txt": b"b"}).unchanged == ("a.txt", "b.txt")
    assert {path.stat().st_mtime_ns for path in tmp_path.iterdir()} == {1}


def test_new_content_replaces_what_an_earlier_run_wrote(tmp_path: Path) -> None:
    commit(tmp_path, {"a.txt": b"1"})
    assert commit(tmp_path, {"a.txt": b"2"}).written == ("a.txt",)
    assert (tmp_path / "a.txt").read_bytes() == b"2"


def test_an_edited_file_stays_and_the_new_one_lands_beside_it(tmp_path: Path) -> None:
    commit(tmp_path, {"s/a.docx": b"1", "b.txt": b"b"})
    (tmp_path / "s/a.docx").write_bytes(b"edited")
    done = commit(tmp_path, {"s/a.docx": b"2", "b.txt": b"b"})
    assert (done.written, done.unchanged, done.beside) == ((), ("b.txt",), (("s/a.docx", "s/a.new.docx"),))
    assert commit(tmp_path, {"s/a.docx": b"3", "b.txt": b"b"}).beside == (("s/a.docx", "s/a.new.docx"),)
    (tmp_path / "s/a.new.docx").write_bytes(b"edited too")
    assert commit(tmp_path, {"s/a.docx": b"4"}).beside == (("s/a.docx", "s/a.new2.docx"),)
    found = contents(tmp_path)
    found.pop("manifest.json")
    assert found == {
        "s/a.docx": b"edited", "s/a.new.docx": b"edited too", "s/a.new2.docx": b"4", "b.txt": b"b"
    }  # fmt: skip


def test_edits_taken_back_or_the_new_file_taken_over_make_it_ours_again(tmp_path: Path) -> None:
    commit(tmp_path, {"a.txt": b"1"})
    (tmp_path / "a.txt").write_bytes(b"edited")
    commit(tmp_path, {"a.txt": b"2"})
    (tmp_path / "a.txt").write_bytes(b"1")
    assert commit(tmp_path, {"a.txt": b"3"}).written == ("a.txt",)
    (tmp_path / "a.txt").write_bytes(b"edited")
    commit(tmp_path, {"a.txt": b"4"})
    (tmp_path / "a.new.txt").replace(tmp_path / "a.txt")
    assert commit(tmp_path, {"a.txt": b"5"}).written == ("a.txt",)


def test_a_file_of_somebody_else_is_not_overwritten_unless_forced(tmp_path: Path) -> None:
    (tmp_path / "a.txt").write_bytes(b"theirs")
    assert commit(tmp_path, {"a.txt": b"ours"}).beside == (("a.txt", "a.new.txt"),)
    assert (tmp_path / "a.txt").read_bytes() == b"theirs"
    done = commit(tmp_path, {"a.txt": b"ours"}, force=True)
    assert (done.written, done.beside) == (("a.txt",), ())
    assert (tmp_path / "a.txt").read_bytes() == b"ours"


def test_files_that_a_run_no_longer_makes_stay_known(tmp_path: Path) -> None:
    commit(tmp_path, {"a.txt": b"1", "b.txt": b"1"})
    assert commit(tmp_path, {"b.txt": b"2"}).left == ("a.txt",)
    assert list(json.loads((tmp_path / "manifest.json").read_bytes())["earlier"]) == ["a.txt"]
    done = commit(tmp_path, {"a.txt": b"3", "b.txt": b"2"})
    assert (done.written, done.left) == (("a.txt",), ())
    assert "earlier" not in json.loads((tmp_path / "manifest.json").read_bytes())


@pytest.mark.parametrize(
    "data", [b"", b"{", b"[]", b"{}", b'{"files": 1}', b'{"files": {"a": 1}}', b"\xff", b"[" * 99999]
)
def test_a_manifest_of_somebody_else_is_not_overwritten_unless_forced(tmp_path: Path, data: bytes) -> None:
    (tmp_path / "manifest.json").write_bytes(data)
    with pytest.raises(OutputError, match="is not a record of an earlier run"):
        commit(tmp_path, {"a.txt": b"a"})
    assert contents(tmp_path) == {"manifest.json": data}
    assert commit(tmp_path, {"a.txt": b"a"}, force=True).written == ("a.txt",)


def test_things_in_the_way_are_one_line_errors_and_nothing_is_written(tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(b"")
    (tmp_path / "dir" / "a.txt").mkdir(parents=True)
    with pytest.raises(OutputError, match="it is not a folder"):
        commit(tmp_path / "file", {"a.txt": b"a"})
    with pytest.raises(OutputError, match="a folder of that name is there"):
        commit(tmp_path / "dir", {"a.txt": b"a", "0.txt": b"0"}, force=True)
    with pytest.raises(OutputError, match="Not a directory"):
        commit(tmp_path, {"file/a.txt": b"a", "0.txt": b"0"})
    assert contents(tmp_path) == {"file": b""}


def test_links_do_not_lead_the_output_elsewhere(tmp_path: Path) -> None:
    out, other = tmp_path / "out", tmp_path / "other"
    out.mkdir()
    other.mkdir()
    (other / "a.txt").write_bytes(b"theirs")
    (out / "sub").symlink_to(other, target_is_directory=True)
    (out / "a.txt").symlink_to(other / "a.txt")
    with pytest.raises(OutputError, match="a link leads out of"):
        commit(out, {"sub/b.txt": b"b"}, force=True)
    assert commit(out, {"a.txt": b"ours"}).beside == (("a.txt", "a.new.txt"),)
    commit(out, {"a.txt": b"ours"}, force=True)
    assert contents(other) == {"a.txt": b"theirs"}
    assert not (out / "a.txt").is_symlink()


def test_manifest_extra_is_checked_before_anything_is_written(tmp_path: Path) -> None:
    out = OutputFolder(tmp_path / "out")
    with pytest.raises(ValueError, match="belong to the output folder"):
        out.commit(manifest_extra={"files": {}})
    with pytest.raises(ValueError, match="not JSON compliant"):
        out.commit(manifest_extra={"x": float("nan")})
    assert not (tmp_path / "out").exists()


# Kills the process just before or just after the n-th replacement of a file, or in the middle of a write.
KILLED = """
    import os, sys, pathlib
    from specgen.files.writing import OutputFolder
    folder, text, step, when = sys.argv[1], sys.argv[2], int(sys.argv[3]), sys.argv[4]
    replace, sync, count = pathlib.Path.replace, os.fsync, 0
    def counted(self, target):
        global count
        count += 1
        if count == step and when == "before":
            os._exit(9)
        replace(self, target)
        if count == step and when == "after":
            os._exit(9)
    pathlib.Path.replace = counted
    out = OutputFolder(pathlib.Path(folder))
    for n in range(4):
        out.add(f"s{n % 2}/f{n}.txt", f"{text} {n}".encode() * 1000)
    out.commit()
"""


def run_killed(folder: Path, text: str, step: int, when: str) -> int:
    arguments = [sys.executable, "-c", textwrap.dedent(KILLED), str(folder), text, str(step), when]
    return subprocess.run(arguments, check=False, timeout=60).returncode


def expected(text: str) -> dict[str, bytes]:
    return {f"s{n % 2}/f{n}.txt": f"{text} {n}".encode() * 1000 for n in range(4)}


@pytest.mark.parametrize("seed", range(6))
def test_a_kill_leaves_old_or_new_files_and_a_rerun_repairs(tmp_path: Path, seed: int) -> None:
    chance = random.Random(seed)
    folder = tmp_path / "out"
    versions = [expected("zero")]
    commit(folder, versions[0])
    edited = chance.choice(sorted(versions[0]))
    if seed % 2:
        (folder / edited).write_bytes(b"edited by hand")
    for text in ("one", "two"):
        versions.append(expected(text))
        assert run_killed(folder, text, chance.randint(1, 6), chance.choice(["before", "after"])) == 9
        for name, data in contents(folder).items():
            if name in versions[0] and data != b"edited by hand":
                assert data in [version[name] for version in versions]
    done = commit(folder, expected("three"))
    assert done.beside == (((edited, edited.replace(".txt", ".new.txt")),) if seed % 2 else ())
    found = contents(folder)
    want = expected("three")
    if seed % 2:
        want[edited.replace(".txt", ".new.txt")] = want[edited]
        want[edited] = b"edited by hand"
    manifest = json.loads(found.pop("manifest.json"))
    assert found == want
    assert "pending" not in manifest


@pytest.mark.parametrize("seed", range(2))
def test_a_kill_of_the_first_run_in_an_empty_folder_is_repaired(tmp_path: Path, seed: int) -> None:
    folder = tmp_path / "out"
    step = random.Random(seed).randint(2, 5)
    assert run_killed(folder, "one", step, "after") == 9
    done = commit(folder, expected("two"))
    assert done.beside == ()
    found = contents(folder)
    del found["manifest.json"]
    assert found == expected("two")


def test_two_folders_get_the_same_bytes(tmp_path: Path) -> None:
    commit(tmp_path / "a", {"x.txt": b"x", "y.txt": b"y"})
    commit(tmp_path / "b", {"y.txt": b"y", "x.txt": b"x"})
    assert contents(tmp_path / "a") == contents(tmp_path / "b")
    shutil.rmtree(tmp_path / "a")


@given(
    st.dictionaries(st.from_regex(r"[a-z]{1,8}(/[a-zé]{1,8})?\.xml", fullmatch=True), st.binary(max_size=200))
)
def test_zip_round_trip_in_the_given_order(parts: dict[str, bytes]) -> None:
    data = zip_deterministic(parts)
    assert data == zip_deterministic(dict(parts))
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        assert archive.testzip() is None
        assert [(info.filename, archive.read(info)) for info in archive.infolist()] == list(parts.items())
        for info in archive.infolist():
            assert info.date_time == (1980, 1, 1, 0, 0, 0)
            assert (info.create_system, info.external_attr >> 16) == (3, 0o100644)
            assert info.compress_type == zipfile.ZIP_DEFLATED


def test_zip_bytes_do_not_depend_on_the_platform(monkeypatch: pytest.MonkeyPatch) -> None:
    here = zip_deterministic({"a/b.xml": b"x" * 100})
    monkeypatch.setattr(sys, "platform", "win32")
    assert zip_deterministic({"a/b.xml": b"x" * 100}) == here
    with pytest.raises(ValueError, match="is refused"):
        zip_deterministic({"../x": b""})


def test_a_manifest_of_a_hundred_thousand_names_is_read_in_seconds(tmp_path: Path) -> None:
    """Only what is there is followed and hashed; 300,000 names took 38 s of processor time."""
    names = {f"paper {number}.docx": "0" * 64 for number in range(100_000)}
    (tmp_path / "manifest.json").write_text(json.dumps({"files": names}), "utf-8")
    with alarm(10):
        commit(tmp_path, {"a.txt": b"a"})
    assert list(json.loads((tmp_path / "manifest.json").read_bytes())["files"]) == ["a.txt"]
