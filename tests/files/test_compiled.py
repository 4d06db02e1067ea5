"""What ships is kept in compiled form: never stale, never trusted when damaged, never needed."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from specgen.files import compiled as room
from specgen.files.compiled import compiled, shipped_yaml
from specgen.files.yaml_reader import read_yaml

Made = Callable[[bytes], list[str]]


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Where compiled forms are kept, empty."""
    monkeypatch.setattr(sys, "pycache_prefix", str(tmp_path / "kept"))
    monkeypatch.setattr(sys, "dont_write_bytecode", False)
    return tmp_path / "kept"


@pytest.fixture
def made() -> Made:
    """Makes the words of some bytes, and tells in its list when it had to."""
    calls: list[str] = []

    def make(content: bytes) -> list[str]:
        assert compiled("words", [content], lambda: calls.append("made") or content.decode().split()) == (
            content.decode().split()
        )
        return calls

    return make


def test_the_same_bytes_are_made_once(folder: Path, made: Made) -> None:
    made(b"one two")
    assert made(b"one two") == ["made"]
    assert [path.name for path in folder.rglob("*.kept")] == [f"words.{sys.implementation.cache_tag}.kept"]


def test_other_bytes_are_made_anew(folder: Path, made: Made) -> None:
    made(b"one two")
    assert made(b"one three") == ["made", "made"]


def test_another_program_makes_it_anew(folder: Path, made: Made, monkeypatch: pytest.MonkeyPatch) -> None:
    made(b"one two")
    monkeypatch.setattr(room, "_program", lambda: b"another")
    assert made(b"one two") == ["made", "made"]


@pytest.mark.parametrize("keep", [0, 5, 8, 16, 20, -1])
def test_a_damaged_form_is_made_anew(folder: Path, made: Made, keep: int) -> None:
    made(b"one two")
    (kept,) = folder.rglob("*.kept")
    whole = kept.read_bytes()
    kept.write_bytes(whole[:keep] + b"x" * (len(whole) - len(whole[:keep])))
    assert made(b"one two") == ["made", "made"]


def test_nothing_is_kept_where_python_may_not_write(
    folder: Path, made: Made, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "dont_write_bytecode", True)
    made(b"one two")
    assert made(b"one two") == ["made", "made"]
    assert not folder.exists()


def test_a_folder_that_cannot_be_made_is_done_without(folder: Path, made: Made) -> None:
    folder.write_text("a file in its place")
    made(b"one two")
    assert made(b"one two") == ["made", "made"]


def test_what_cannot_be_kept_is_made_each_time(folder: Path) -> None:
    assert [compiled("odd", [b""], lambda: {Path("a")}) for _ in range(2)] == [{Path("a")}] * 2


def test_every_shipped_file_reads_the_same_with_and_without(folder: Path) -> None:
    files = sorted(room.PACKAGE.rglob("*.yaml"))
    assert len(files) > 40
    for path in files:
        first, again, plain = shipped_yaml(path), shipped_yaml(path), read_yaml(path)
        assert first == again == plain
        assert repr(first) == repr(again) == repr(plain)


def test_a_file_outside_the_package_is_never_kept(folder: Path, tmp_path: Path) -> None:
    (tmp_path / "project.yaml").write_text("a: 1\n")
    assert shipped_yaml(tmp_path / "project.yaml") == {"a": 1}
    assert not folder.exists()
