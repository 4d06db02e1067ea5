"""The commands that write, with any one of their system calls failing or the run killed at it."""

from __future__ import annotations

import json
import os
import shutil
from collections.abc import Iterator, Mapping
from datetime import date
from pathlib import Path

import pytest
from click.testing import CliRunner

from specgen.audit.state import NAME
from specgen.commands import main
from specgen.files.withdrawn import REGISTER as STEM
from specgen.register.columns import ROUND
from specgen.register.merge import Row
from specgen.register.states import STATES
from specgen.work.register_run import read_copy
from tests.chain.runs import CONFORMING, FAULTY, SUBMITTAL, changed, copied
from tests.conftest import LONG
from tests.faults.disk import in_child
from tests.faults.steps import Act, Case
from tests.life.in_process import made_once
from tests.register.test_nothing_lost import RETURNED, fill

if not hasattr(os, "fork"):
    pytest.skip("no fork here, so no process can be killed at a call", allow_module_level=True)

LATER = ("issue_date: 2026-11-02", "issue_date: 2026-12-01")
SMALL = Path(__file__).parents[1] / "life" / "wall.yaml"  # few layers, few papers
SHEET = "Property,Test Method,Result\nVapor permeance,ASTM E96 Procedure B,14 perms\nPull adhesion,,42 psi\n"


def command(*words: object) -> tuple[int, str]:
    done = CliRunner().invoke(main, [str(one) for one in words])
    return done.exit_code, done.stderr


@pytest.fixture(scope="module", autouse=True)
def once() -> Iterator[None]:
    """What a run does before it touches the disk is done once, and the children of this process have it."""
    with made_once(due=None):
        yield


def held(act: Act, before: Path, work: Path, few: int, kind: type[Case] = Case) -> None:
    shutil.copytree(before, work)
    act(work)
    case = kind.of(act, before, work)
    for number, way in case.steps() if LONG else case.sample(few):
        case.disturbed(number, way)


def test_write_over_an_earlier_issue(tmp_path: Path) -> None:
    before, first, later = tmp_path / "before", tmp_path / "first", tmp_path / "later"
    for folder, changes in ((first, ()), (later, (LATER,))):
        folder.mkdir()
        shutil.copy(SMALL, folder / "project.yaml")
        changed(folder / "project.yaml", *changes)
    assert command("write", first, "-o", before)[0] == 3
    (before / "basis-of-design.html").write_bytes(b"edited by hand")
    held(lambda out: command("write", later, "-o", out), before, tmp_path / "out", 1)


def test_review_over_an_earlier_one(tmp_path: Path) -> None:
    before = tmp_path / "before"
    assert command("review", copied(CONFORMING, tmp_path / "later", LATER), SUBMITTAL, "-o", before)[0] == 0
    held(lambda out: command("review", CONFORMING, SUBMITTAL, "-o", out), before, tmp_path / "out", 2)


def test_read_over_an_earlier_reading(tmp_path: Path) -> None:
    before, sheet = tmp_path / "before", tmp_path / "sheet.csv"
    before.mkdir()
    sheet.write_text(SHEET, "utf-8")
    assert command("read", sheet, "--role", "barrier", "-o", before / "p.yaml")[0] == 0
    sheet.write_text(SHEET.replace("42", "43"), "utf-8")
    words = ("read", sheet, "--role", "barrier", "--force")
    held(lambda out: command(*words, "-o", out / "p.yaml"), before, tmp_path / "out", 2)


class Audited(Case):
    """The state of an audit is appended to; a line that was cut short is made again."""

    def right(self, found: dict[str, bytes], place: str) -> None:
        assert found.keys() == self.after.keys(), place
        differ = [name for name in found if name != NAME and found[name] != self.after[name]]
        assert differ == [], place
        assert sorted(found[NAME].splitlines()) == sorted(self.after[NAME].splitlines()), place

    def old_or_new(self, name: str, data: bytes, old: Mapping[str, bytes]) -> bool:
        return (name == NAME and self.after[name].startswith(data)) or super().old_or_new(name, data, old)


def test_audit_over_an_earlier_one(tmp_path: Path) -> None:
    before, jobs = tmp_path / "before", tmp_path / "jobs"
    copied(CONFORMING, jobs / "a")
    words = ("audit", jobs, "--jobs", 1)
    assert in_child(before, lambda: command(*words, "-o", before)).status in (0, 1, 3)  # pools are not forked
    copied(FAULTY, jobs / "b")
    held(lambda out: command(*words, "-o", out), before, tmp_path / "out", 2, Audited)


class Registered(Case):
    """A state that a disturbed run kept is one more; what people entered is what counts."""

    def right(self, found: dict[str, bytes], place: str) -> None:
        assert self._register(found[f"{STEM}.xlsx"]) == self._register(self.after[f"{STEM}.xlsx"]), place
        assert [name for name in found if "/.specgen-" in f"/{name}"] == [], place

    def old_or_new(self, name: str, data: bytes, old: Mapping[str, bytes]) -> bool:
        """A new workbook bears the time; a state names its bytes."""
        if data == old.get(name) or (name in old and name != f"{STEM}.xlsx"):
            return data == old[name]
        if name.endswith(".json"):
            return bool(json.loads(data)["state"])
        return bool(self._register(data)[0])

    def _register(self, data: bytes) -> tuple[Mapping[str, Row], tuple[Row, ...]]:
        path = self.work.with_name("read.xlsx")
        path.write_bytes(data)
        register = read_copy(path).register
        return register.rows, register.history


def test_register_with_a_copy_merged(tmp_path: Path) -> None:
    before, older = tmp_path / "before", tmp_path / "older.xlsx"
    assert command("register", CONFORMING, "-o", before)[0] == 0
    book = before / f"{STEM}.xlsx"
    shutil.copy(book, older)
    fill(older, {(4, "remarks"): "theirs"})
    fill(book, {**RETURNED, (3, "remarks"): "mine", (5, "agreed"): date(2027, 2, 1)})
    assert (before / STATES).is_dir() and read_copy(book).register.rows
    words = ("register", CONFORMING, "--merge", older)
    held(lambda out: command(*words, "-o", out), before, tmp_path / "out", 3, Registered)
    rows = list(read_copy(tmp_path / "out" / book.name).register.rows.values())
    assert [row["remarks"] for row in rows[3:5]] == ["mine", "theirs"] and rows[0][ROUND] == "2"
