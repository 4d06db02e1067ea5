"""Runs of the commands inside the test process, and the worked examples they run on."""

from __future__ import annotations

import shutil
from dataclasses import dataclass
from pathlib import Path

from click.testing import CliRunner

from specgen.commands import main
from specgen.commands.common import FAULT

REPO = Path(__file__).parents[2]
CONFORMING = REPO / "tests" / "stated" / "mixed-humid-midrise"
FAULTY = REPO / "tests" / "stated" / "faulty-parapet"
SUBMITTAL = CONFORMING / "submittals" / "barrier-conforming.yaml"


@dataclass(frozen=True)
class Done:
    """What a command left behind."""

    status: int
    out: str
    err: str


def run(*words: object) -> Done:
    """Run a command; an exception that the command lets through, or tells as a fault, fails the test."""
    result = CliRunner().invoke(main, [str(word) for word in words])
    if result.exception is not None and not isinstance(result.exception, SystemExit):
        raise result.exception
    assert result.exit_code != FAULT, result.stderr
    return Done(result.exit_code, result.stdout, result.stderr)


def contents(folder: Path) -> dict[str, bytes]:
    """Every file of a folder by its name."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def copied(source: Path, target: Path, *changes: tuple[str, str]) -> Path:
    """A copy of a project's file in another folder, its text changed; each change must hit once."""
    target.mkdir(parents=True, exist_ok=True)
    shutil.copy(source / "project.yaml", target / "project.yaml")
    changed(target / "project.yaml", *changes)
    return target


def changed(path: Path, *changes: tuple[str, str]) -> Path:
    """The file with its text changed in place."""
    words = path.read_text("utf-8")
    for old, new in changes:
        assert words.count(old) == 1, f"{old!r} stands {words.count(old)} times in {path.name}"
        words = words.replace(old, new)
    path.write_text(words, "utf-8")
    return path
