"""A project started in an empty folder: from answers, a worked example, a filled workbook, or a file that is brought.

Every text is judged as a project before anything is written; a folder that holds something is left as it is.
"""

from __future__ import annotations

import json
import re
import tempfile
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path

from specgen.audit.folders import find_projects, visible
from specgen.files.atomic import write_together
from specgen.files.faults import OutputError
from specgen.files.foreign import foreign_bytes, refused
from specgen.files.lock import locked
from specgen.files.marks import InputError, Mark, suggestion
from specgen.files.names import check_name
from specgen.files.yaml_edit import set_value
from specgen.files.yaml_reader import Limits, read_yaml, read_yaml_text
from specgen.intake.json_schema import project_schema
from specgen.intake.project import FILE_NAME, ProjectReader, load_project
from specgen.intake.start import HEAD, QUESTIONS, SCHEMA_FILE, read_words, scalar, start_lines, start_text
from specgen.intake.start_sheet import read_sheet
from specgen.intake.values import UNKNOWN, UnusableValueError
from specgen.intake.worked import worked_examples
from specgen.practice.entries import Practice
from specgen.units.echo import echo
from specgen.units.quantity import Quantity

SHEET, TEXTS = ".xlsx", (".yaml", ".yml")
OWN = ("name", "number")  # what a copy of a worked example is called anew
MOST_NAMED = 40  # projects whose files are opened for their names
LARGEST = 20_000_000  # bytes of a file that is brought
_LONGEST_SHOWN = 80  # characters of its name
_NO_LETTER = re.compile(r"[^a-z0-9]+")
_LONGEST_FOLDER = 60


def wrong_answers(answers: Mapping[str, str], practice: Practice) -> dict[str, str]:
    """Why answers cannot be used, by the option of the question; all of them at once.

    Each is held against its field; the reader of project files then reads what is right.
    """
    found, given = {}, stated(answers)
    for one in QUESTIONS:
        if one.option in given:
            try:
                read_words(one.field(practice), given[one.option], practice)
            except UnusableValueError as error:
                found[one.option] = f"{error.message}; {error.fix}" if error.fix else error.message
    right = {option: words for option, words in given.items() if option not in found}
    lines = list(start_lines({"name": "project", **right}, practice))
    try:
        root = read_yaml_text("\n".join(text for text, _ in lines), FILE_NAME, want=dict)
        reader = ProjectReader(practice, root, FILE_NAME)
        reader.read()
        problems = reader.problems
    except InputError as error:
        problems = list(error.problems)
    for problem in problems:
        question = lines[min(problem.mark.line, len(lines)) - 1][1]
        option = question.option if question else "name"
        found.setdefault(option, f"{problem.message}; {problem.fix}" if problem.fix else problem.message)
    return found


def echoes(answers: Mapping[str, str], practice: Practice) -> dict[str, str]:
    """What was understood of answers that are quantities, by the option of the question: 76 ft = 23.2 m."""
    found = {}
    for one in QUESTIONS:
        if one.option in stated(answers):
            try:
                value = read_words(one.field(practice), answers[one.option], practice)
            except UnusableValueError:
                continue
            if isinstance(value, Quantity) and (words := echo(value)):
                found[one.option] = words
    return found


def stated(answers: Mapping[str, str]) -> dict[str, str]:
    """The answers that say something; what is not known yet is no answer."""
    return {option: words for option, words in answers.items() if words != UNKNOWN}


def answered_text(answers: Mapping[str, str], practice: Practice) -> str:
    """The project file that answers make; what is not known yet is a line to fill in."""
    return start_text(stated(answers), practice)


def example_text(name: str, practice: Practice, own: Mapping[str, str]) -> str:
    """The project file of a worked example, under another name and number where they are given.

    Args:
        name: of the example.
        practice: holds the vocabulary.
        own: of `OWN`, what somebody answered; what is absent stays as the example has it.

    Raises:
        LookupError: there is no such example; the message names the nearest.
    """
    examples = worked_examples()
    if name not in examples:
        hint = suggestion(name, examples, f"worked examples: {', '.join(examples)}")
        raise LookupError(f"no worked example `{visible(name)[:_LONGEST_SHOWN]}`; {hint}")
    text = examples[name].read_text("utf-8")
    for key, words in stated(own).items():
        text = set_value(text, ("project", key), scalar(words), FILE_NAME)
    return f"{HEAD[0]}\n{text}"


def brought_text(name: str, data: bytes, practice: Practice) -> str:
    """The project file of a file that somebody brings: one of YAML as it stands, or a filled workbook.

    Args:
        name: of the file, whose ending tells which of the two it is.
        data: its content.
        practice: holds the vocabulary.

    Raises:
        InputError: it is neither, is too large, or cannot be read as a project.
    """
    shown = visible(name)[:_LONGEST_SHOWN] or "file"
    ending = Path(name).suffix.lower()
    if ending != SHEET and ending not in TEXTS:
        raise refused(
            shown, "this is neither a project file nor the workbook to fill in", "bring a .yaml or an .xlsx"
        )
    if len(data) > LARGEST:
        raise refused(
            shown, f"the file has {len(data)} bytes, limit {LARGEST}", "bring the project file alone"
        )
    with tempfile.TemporaryDirectory() as place, _shown_as(shown):
        if ending == SHEET:
            file = Path(place) / f"brought{SHEET}"
            file.write_bytes(data)
            return read_sheet(file, practice)
        file = Path(place) / FILE_NAME
        file.write_bytes(data)
        load_project(file, practice)
        return foreign_bytes(file, Limits().bytes).decode("utf-8-sig")


@contextmanager
def _shown_as(name: str) -> Iterator[None]:
    """The problems of a file that lies somewhere for a moment, told by the name that a person knows."""
    try:
        yield
    except InputError as error:
        raise InputError(
            [replace(one, mark=Mark(name, one.mark.line, one.mark.column)) for one in error.problems]
        ) from None


def refuse_full(folder: Path) -> None:
    """Stop where a folder holds something already; hidden entries, as those of version control, are nothing.

    Raises:
        OutputError: names what stands there.
    """
    held = sorted(one for one in folder.iterdir() if not one.name.startswith(".")) if folder.exists() else []
    if held:
        raise OutputError(f"{held[0]} exists; it was left as it is. Choose another folder.")


def start(folder: Path, text: str, practice: Practice) -> Path:
    """Write a project file, and beside it the schema for an editor, into a folder that is made or is empty.

    Args:
        folder: of the project.
        text: of its file, already judged.
        practice: the schema is made of its vocabulary.

    Returns:
        The project file.

    Raises:
        OutputError: the folder holds something, or cannot be written; nothing was.
    """
    refuse_full(folder)
    with locked(folder):
        refuse_full(folder)
        file = folder / FILE_NAME
        schema = json.dumps(project_schema(practice), ensure_ascii=False) + "\n"
        write_together({file: text.encode(), folder / SCHEMA_FILE: schema.encode()})
    return file


def is_free(folder: Path) -> bool:
    """Whether a project can be started in a folder."""
    try:
        refuse_full(folder)
    except OutputError:
        return False
    return True


def folder_for(root: Path, name: str) -> Path:
    """The folder of a new project below a folder, by the name that somebody gave it; "" for the folder itself.

    Raises:
        OutputError: the name is of no folder directly below it.
    """
    if not name:
        return root
    try:
        check_name(name)
    except ValueError as error:
        raise OutputError(str(error)) from None
    if "/" in name or name.startswith(".") or (root / name).is_symlink():
        raise OutputError(f"{visible(name)!r} is no name of a folder here; write one word, as library-roof")
    return root / name


def folder_name(project: str, root: Path) -> str:
    """A name for the folder of a project of this name, that nothing in the folder has yet.

    >>> folder_name("Mill Yard, Phase 2", Path("nowhere"))
    'mill-yard-phase-2'
    """
    plain = _NO_LETTER.sub("-", project.lower()).strip("-")[:_LONGEST_FOLDER].strip("-") or "project"
    number, name = 1, plain
    while (root / name).exists():
        number += 1
        name = f"{plain}-{number}"
    return name


@dataclass(frozen=True)
class FoundProject:
    """A project that lies below a folder: where, and what its file says that it is called."""

    path: str  # from that folder; "" for the folder itself
    name: str  # "" where the file cannot be read, or was not looked into
    number: str


def projects_below(root: Path) -> tuple[FoundProject, ...]:
    """The projects that lie below a folder, by their paths; the first of them with their names.

    Raises:
        OSError: the folder cannot be listed.
    """
    paths = find_projects(root, root).projects
    return tuple(
        FoundProject(path, *(_called(root / path / FILE_NAME) if place < MOST_NAMED else ("", "")))
        for place, path in enumerate(paths)
    )


def _called(file: Path) -> tuple[str, str]:
    """Name and number that a project file states, as far as it can be read."""
    try:
        info = read_yaml(file, want=dict).get("project")
    except InputError:
        return "", ""
    given = info if isinstance(info, dict) else {}
    return visible(str(given.get("name", ""))), visible(str(given.get("number", "")))
