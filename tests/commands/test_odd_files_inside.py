"""Whatever kind of file stands inside a folder that is read: nothing waits, reads without end or passes it over."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from specgen.audit.state import NAME, State
from specgen.commands.review import sorted_paper
from specgen.files import lock
from specgen.files.faults import Fault, OutputError
from specgen.files.lock import LOCK, locked
from specgen.files.marks import InputError
from specgen.files.withdrawn import Owner
from specgen.files.writing import OutputFolder
from specgen.intake.accepted import load_accepted
from specgen.intake.comments import comments_beside
from specgen.intake.office import office_file
from specgen.intake.submittal import load_submission
from specgen.practice.load import load_practice
from specgen.register import states
from specgen.rules.office import office_modules
from specgen.sections.overlay import Overlay
from specgen.work.register_run import read_copy
from tests.commands.test_odd_files import ODD, alarm

SECONDS = 5.0  # for one reading; others may run beside it
WORKBOOK = b"kept"


def _issue(folder: Path) -> None:
    out = OutputFolder(folder, Owner("2601", "Offices"))
    out.add("paper.txt", b"new")
    out.commit()


def _audited(folder: Path) -> None:
    with State(folder) as state:
        state.add("a", '{"path":"a","inputs":{}}')


def _submittals(folder: Path) -> None:
    for one in sorted_paper((folder,))[0]:
        load_submission(one, load_practice())


def _office(folder: Path) -> None:
    assert office_file(folder) is not None  # and then read as any file that is named


def _overlay(folder: Path) -> None:
    (folder / "other.yaml").unlink()
    Overlay(Any, folder).roots()


# What reads a file inside a folder, by the file's name there; each gets the folder.
READERS: dict[str, Callable[[Path], object]] = {
    LOCK: _issue,
    "manifest.json": _issue,
    "issue.json": _issue,
    "paper.txt": _issue,
    f"{states.STATES}/0001.json": lambda folder: states.state(folder, 1),
    f"{states.STATES}/0001.xlsx": lambda folder: states.state(folder, 1),
    "submittal-register.xlsx": lambda folder: read_copy(folder / "submittal-register.xlsx"),
    NAME: _audited,
    "accepted.yaml": lambda folder: load_accepted(folder / "accepted.yaml", load_practice()),
    "comments.yaml": lambda folder: comments_beside(folder / "project.yaml", load_practice()),
    "office.yaml": _office,
    "sheet.yaml": _submittals,
    "01-33-00.yaml": _overlay,
    "ab01_rule.py": lambda folder: list(office_modules(folder)),
}
# What ends well: the kind of file and the name; a lock is the program's own, an empty file of its own a new one.
ENDS_WELL = {
    ("empty", LOCK),
    ("ten gigabytes", LOCK),
    ("empty", "issue.json"),
    ("empty", NAME),
    ("empty", "ab01_rule.py"),
    ("folder", "sheet.yaml"),  # a folder in a folder is none of its submittals
    *((kind, "paper.txt") for kind in ODD if kind != "folder"),
    *((kind, "office.yaml") for kind in ODD),
}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder with what is read before the odd file."""
    (tmp_path / "other.yaml").write_text("submittal: {number: 1, date: 2026-11-16}\nproducts: []\n", "utf-8")
    state = {"format": 1, "state": "a", "before": [], "lines": [], "rows": {}, "history": [], "conflicts": []}
    state |= {"made": {}, "workbook": hashlib.sha256(WORKBOOK).hexdigest()}
    (tmp_path / states.STATES).mkdir()
    (tmp_path / states.STATES / "0001.json").write_text(json.dumps(state), "utf-8")
    (tmp_path / states.STATES / "0001.xlsx").write_bytes(WORKBOOK)
    return tmp_path


def test_what_is_read_before_the_odd_file_is_sound(folder: Path) -> None:
    assert states.state(folder, 1).workbook == WORKBOOK
    _issue(folder)
    _audited(folder)


@pytest.mark.parametrize("name", READERS)
@pytest.mark.parametrize("kind", ODD)
def test_an_odd_file_inside_a_folder_is_told(kind: str, name: str, folder: Path) -> None:
    path = folder / name
    path.unlink(missing_ok=True)
    if name == "sheet.yaml":
        (folder / "other.yaml").rename(folder / "other.yaml.txt")
    ODD[kind](path)
    try:
        with alarm(SECONDS):
            READERS[name](folder)
    except (InputError, OutputError, Fault) as error:
        assert path.stem in str(error) or (kind, name) in ENDS_WELL
        assert str(folder) in str(error)
    else:
        assert (kind, name) in ENDS_WELL
    if name == "paper.txt" and kind != "folder":
        assert (folder / "paper.new.txt").read_bytes() == b"new"
    if name != LOCK:
        assert path.is_symlink() or path.exists()


@pytest.mark.parametrize("size", [0, 10_000_000_000])
def test_a_lock_that_another_run_holds_is_not_read_beyond_its_words(
    size: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    fcntl = pytest.importorskip("fcntl")
    monkeypatch.setattr(lock, "WAIT", 0.0)
    with (tmp_path / LOCK).open("wb") as other:
        other.write(b"anna on site (process 7)")
        other.truncate(size or other.tell())
        fcntl.flock(other, fcntl.LOCK_EX)
        with (
            alarm(SECONDS),
            pytest.raises(OutputError, match=r"in use by anna on site \(process 7\); nothing"),
        ):
            locked(tmp_path).__enter__()
