"""Format numbers: what each kind of file may say of itself, and the steps from an older format to the current one."""

from __future__ import annotations

import logging
import shutil
import subprocess
import sys
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from openpyxl.packaging.custom import StringProperty

from specgen.files.marks import InputError
from specgen.files.yaml_reader import read_yaml_text
from specgen.files.yaml_scalars import plain_value
from specgen.intake import formats
from specgen.intake.accepted import load_accepted
from specgen.intake.comments import load_comments
from specgen.intake.formats import STEPS, Renamed, brought_up, current
from specgen.intake.office import load_office
from specgen.intake.project import load_project
from specgen.intake.schedule import load_schedule
from specgen.intake.submittal import load_submission
from specgen.intake.substitution import load_request
from specgen.model.project import Project
from specgen.practice.load import load_practice
from specgen.rules.office import changeable
from tests.chain.runs import run

DEMO = Path("tests/stated/mixed-humid-midrise")
PRACTICE = load_practice()

# By kind: a file that is read, and its reader.
KINDS: dict[str, tuple[str, Callable[[Path], Any]]] = {
    "project": ((DEMO / "project.yaml").read_text(), lambda path: load_project(path, PRACTICE)),
    "submittal": (
        (DEMO / "submittals/barrier-conforming.yaml").read_text(),
        lambda path: load_submission(path, PRACTICE),
    ),
    "request": ((DEMO / "substitutions/mesh.yaml").read_text(), lambda path: load_request(path, PRACTICE)),
    "office": (
        "format: 2\noffice: {name: Sample Office, document: Wall Standards, edition: A}\n",
        lambda path: load_office(path, PRACTICE, changeable(PRACTICE)),
    ),
    "schedule": ((DEMO / "schedule.yaml").read_text(), lambda path: load_schedule(path, PRACTICE)),
    "acceptance": ("format: 2\naccepted: []\n", lambda path: load_accepted(path, PRACTICE)),
    "comments": ("format: 2\ncomments: []\n", lambda path: load_comments(path, PRACTICE)),
}


@pytest.fixture
def made_up(monkeypatch: pytest.MonkeyPatch) -> None:
    """Steps to a format 3 that rename a key and two words."""
    steps = (
        (),
        (
            Renamed("*/build_up/*/frame", "framing"),
            Renamed("*/kind", "framed", word="framed wall"),
            Renamed("*/wanted/*", "louver", word="louvre"),
        ),
    )
    monkeypatch.setattr(formats, "STEPS", {**STEPS, "project": steps})


def problem(kind: str, text: str, tmp_path: Path) -> str:
    path = tmp_path / "file.yaml"
    path.write_text(text)
    with pytest.raises(InputError) as caught:
        KINDS[kind][1](path)
    (one,) = caught.value.problems
    return f"{one.mark.line}:{one.mark.column} {one.message} | {one.fix}"


def test_every_kind_of_file_has_its_steps() -> None:
    assert STEPS.keys() == {*KINDS, "register"}
    assert not any(STEPS["register"]), "nothing renames the words of a register's states yet"
    for steps in STEPS.values():
        for one in (change for step in steps for change in step):
            assert plain_value(one.to) == one.to, "a new name needs quotes in YAML: the rewriter writes none"


@pytest.mark.parametrize("kind", KINDS)
def test_a_newer_format_is_refused_at_the_number(kind: str, tmp_path: Path) -> None:
    text = KINDS[kind][0].replace("format: 2\n", f"format: {current(kind) + 1}\n")
    assert "format" in text
    line = text.splitlines().index("format: 3") + 1
    assert f"{line}:9 format 3 is written for a newer specgen" in problem(kind, text, tmp_path)


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("number", ["0", "-1", "2.0", '"2"', "yes", "[2]", "", "two"])
def test_what_is_no_format_number_is_refused_at_its_place(kind: str, number: str, tmp_path: Path) -> None:
    message = problem(kind, KINDS[kind][0].replace("format: 2\n", f"format: {number}\n"), tmp_path)
    assert "stands where a whole number of at least 1 is wanted | write `format: 2`" in message
    assert ("`format`: nothing stands" in message) == (number == "")


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("older", ["", "format: 1\n"])
def test_an_older_file_says_the_same_and_is_told_once(
    kind: str, older: str, tmp_path: Path, caplog: pytest.LogCaptureFixture
) -> None:
    text, load = KINDS[kind]
    path = tmp_path / "it's.yaml"
    path.write_text(text)
    with caplog.at_level(logging.WARNING):
        now = load(path)
        assert not caplog.messages
        path.write_text(text.replace("format: 2\n", older or "# no number\n"))
        again = load(path)
        if isinstance(
            now, Project
        ):  # what a file does not hold stands at its first line, which is another one now
            again = replace(again, quality=now.quality, trades=now.trades, contacts=now.contacts)
        assert again == now
    (warning,) = caplog.messages
    assert warning.startswith(f"{path}: format 1, read as format 2; to rewrite it: specgen upgrade ")
    assert warning.endswith("""it'"'"'s.yaml' --write""")


def test_a_command_tells_an_older_file_on_standard_error_and_nothing_else_changes(tmp_path: Path) -> None:
    shutil.copytree("tests/stated/faulty-parapet", tmp_path / "job")
    path = tmp_path / "job/project.yaml"

    def checked() -> tuple[int, str, str]:
        words = [sys.executable, "-m", "specgen", "check", str(path), "--format", "json"]
        done = subprocess.run(words, capture_output=True, text=True, check=False)
        return done.returncode, done.stdout, done.stderr

    now = checked()
    path.write_text(path.read_text().replace("format: 2\n", "# no number\n"))
    status, printed, warned = checked()
    assert (status, printed) == now[:2] and now[2] == ""
    assert warned.count("\n") == 1 and "format 1, read as format 2" in warned


def test_a_misspelt_format_is_told(tmp_path: Path) -> None:
    text = KINDS["project"][0].replace("format: 2\n", "fromat: 2\n")
    assert "unknown key `fromat` | did you mean `format`?" in problem("project", text, tmp_path)


def test_a_step_renames_keys_and_words_in_their_place_and_keeps_the_marks(made_up: None) -> None:
    text = (
        "parapets:\n- kind: framed wall\n  build_up:\n"
        "  - {a: 1, frame: x, kind: framed wall, wanted: [louvre, z]}\n"
        "frame: louvre\n"
    )
    root = read_yaml_text(text, "p.yaml", want=dict)
    number, splices = brought_up(root, "project")
    assert number == 1 and root["format"] == 3 and root["frame"] == "louvre"
    wall = root["parapets"][0]
    assert wall["kind"] == "framed"
    part = wall["build_up"][0]
    assert list(part.items()) == [("a", 1), ("framing", "x"), ("kind", "framed"), ("wanted", ["louver", "z"])]
    assert (part.keys_at["framing"].column, part.values_at["framing"].column) == (12, 19)
    assert sorted((one.mark.line, one.mark.column, one.now) for one in splices) == [
        (2, 9, "framed"), (4, 12, "framing"), (4, 28, "framed"), (4, 50, "louver"),
    ]  # fmt: skip


def test_a_file_of_the_current_format_is_left_as_it_is(made_up: None) -> None:
    root = read_yaml_text("format: 3\nparapets: [{kind: framed wall}]\n", "p.yaml", want=dict)
    assert brought_up(root, "project") == (3, [])
    assert root["parapets"][0]["kind"] == "framed wall"


def test_a_key_under_both_its_names_is_refused(made_up: None) -> None:
    text = "parapets:\n- build_up:\n  - frame: x\n    framing: y\n"
    with pytest.raises(InputError, match=r"p\.yaml:4:5: .*`framing` stands here, and `frame`.* in line 3"):
        brought_up(read_yaml_text(text, "p.yaml", want=dict), "project")


def registered(out: Path, *more: object) -> Any:
    return run("register", DEMO, "-o", out, "--schedule", DEMO / "schedule.yaml", *more)


def saved_as(path: Path, number: str) -> None:
    """The register with another number, or, with "", with none: as written before registers had numbers."""
    book = openpyxl.load_workbook(path)
    del book.custom_doc_props["Register format"]
    if number:
        book.custom_doc_props.append(StringProperty(name="Register format", value=number))
    book.save(path)


def number_of(path: Path) -> str:
    return str(openpyxl.load_workbook(path).custom_doc_props["Register format"].value)


@pytest.mark.parametrize(
    ("number", "expected"),
    [("3", "is written for a newer specgen"), ("x", "a whole number"), ("9" * 5000, "a whole number")],
)
def test_a_register_bears_its_number_and_another_is_refused(
    number: str, expected: str, tmp_path: Path
) -> None:
    assert registered(tmp_path).status == 0
    path = tmp_path / "submittal-register.xlsx"
    assert number_of(path) == "2"
    saved_as(path, number)
    before = {one: one.read_bytes() for one in tmp_path.rglob("*") if one.is_file()}
    done = registered(tmp_path)
    assert done.status == 2 and expected in done.err
    assert {one: one.read_bytes() for one in tmp_path.rglob("*") if one.is_file()} == before
    copy = path.rename(tmp_path / "copy.xlsx")
    done = registered(tmp_path / "out", "--merge", copy)
    assert done.status == 2 and expected in done.err


def test_an_older_register_is_told_and_written_anew_with_what_people_filled(
    tmp_path: Path, caplog: pytest.LogCaptureFixture
) -> None:
    assert registered(tmp_path).status == 0
    path = tmp_path / "submittal-register.xlsx"
    book = openpyxl.load_workbook(path)
    tab = book["Register"]
    (head,) = (row for row in tab.iter_rows() if any(cell.value == "Remarks" for cell in row))
    (column,) = (cell.column for cell in head if cell.value == "Remarks")
    tab.cell(head[0].row + 1, column).value = "see letter"
    book.save(path)
    saved_as(path, "")
    with caplog.at_level(logging.WARNING):
        assert registered(tmp_path).status == 0
    (warning,) = caplog.messages
    assert warning.startswith(
        f"{path}: format 1, read as format 2; it is kept in submittal-register-states and"
    )
    assert number_of(path) == "2"
    assert openpyxl.load_workbook(path)["Register"].cell(head[0].row + 1, column).value == "see letter"
