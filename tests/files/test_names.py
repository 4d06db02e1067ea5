"""Names and paths as Windows takes them, and what is told where it takes none or another program has a file open."""

from __future__ import annotations

from pathlib import Path, PurePosixPath, PureWindowsPath

import pytest

from specgen.files import atomic
from specgen.files.faults import OutputError
from specgen.files.marks import Mark
from specgen.files.names import check_name, too_long_for_windows, unusable_on_windows
from specgen.files.writing import OutputFolder
from tests.chain.runs import contents
from tests.commands.windows import Windows

RESERVED = ("con", "PRN", "aux.txt", "NUL.", "com1", "Com9.old.docx", "lpt3", "CONIN$", "com¹", "nul .txt")


@pytest.mark.parametrize("name", RESERVED)
def test_a_reserved_name_is_refused_in_any_case_and_with_any_ending(name):
    with pytest.raises(ValueError, match=r"reserves|ends with a dot"):
        check_name(f"drawings/{name}")
    assert unusable_on_windows(PureWindowsPath("C:/jobs", name, "out"))


@pytest.mark.parametrize("name", ["a.", "a ", " a", "a?b", 'a"b', "a|b", "a\tb", "x" * 201])
def test_what_windows_drops_or_cannot_write_is_refused(name):
    assert unusable_on_windows(PureWindowsPath("jobs") / name)
    with pytest.raises(ValueError, match="is refused"):
        check_name(name)


@pytest.mark.parametrize(
    "path",
    ["C:/jobs/my wall/out", "//server/share/jobs", "../out", ".", "console", "com10", "lpt", "out.d/v1.2"],
)
def test_sound_folders_are_taken(path):
    assert unusable_on_windows(PureWindowsPath(path)) == ""


def test_the_longest_path_that_windows_takes():
    there = PureWindowsPath("C:/") / ("a" * 100) / ("b" * 100)
    assert len(str(there / ("c" * 54))) == 259
    assert too_long_for_windows(there / ("c" * 54)) == ""
    assert "260 characters" in too_long_for_windows(there / ("c" * 55))
    assert "261 characters" in too_long_for_windows(
        there / "c", beside=56
    )  # of the part that waits beside it
    assert too_long_for_windows(PurePosixPath("/a")) == ""


def test_a_path_that_is_too_long_is_told_as_that(tmp_path, monkeypatch):
    monkeypatch.setattr(atomic, "os", Windows())
    monkeypatch.setattr(
        atomic, "_write", lambda *_: (_ for _ in ()).throw(FileNotFoundError(2, "No such file"))
    )
    deep = tmp_path / ("a" * 120) / ("b" * 120)
    with pytest.raises(
        OutputError, match=r"characters, and Windows takes 259 .*nearer to the drive; nothing was"
    ):
        atomic.write_together({deep / "paper.docx": b"x"})
    assert contents(tmp_path) == {}


def test_a_place_with_a_drive_keeps_its_drive():
    assert str(Mark(r"C:\jobs\project.yaml", 41, 9)) == r"C:\jobs\project.yaml:41:9"


def test_a_paper_that_another_program_has_open_is_named_and_nothing_is_lost(tmp_path, monkeypatch):
    def commit(word: str) -> None:
        out = OutputFolder(tmp_path)
        for name in ("a.docx", "b.xlsx"):
            out.add(name, f"{word} {name}".encode())
        out.commit()

    commit("old")
    before, replace = contents(tmp_path), Path.replace

    def held(self: Path, target: Path) -> Path:
        if Path(target).name == "b.xlsx":  # as Windows does while a spreadsheet program shows it
            raise PermissionError(13, "The process cannot access the file", str(target))
        return replace(self, target)

    monkeypatch.setattr(Path, "replace", held)
    with pytest.raises(OutputError) as raised:
        commit("new")
    words = str(raised.value)
    assert f"cannot write {tmp_path / 'b.xlsx'}: The process cannot access the file" in words
    assert "close it if another program has it open" in words and "run this again to finish" in words
    assert contents(tmp_path)["b.xlsx"] == before["b.xlsx"]
    assert not [name for name in contents(tmp_path) if name.startswith(".specgen-")]
    monkeypatch.undo()
    commit("new")
    assert contents(tmp_path)["b.xlsx"] == b"new b.xlsx" and not list(tmp_path.glob("*.new.*"))
