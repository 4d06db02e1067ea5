"""The folder of a project's papers: refused where the project lacks what every paper of an issue bears."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from specgen.files.marks import InputError, InputProblem
from specgen.intake.start import question_of
from specgen.model.project import Project
from specgen.practice.entries import Field, Practice

if TYPE_CHECKING:  # what writes Word is loaded when a paper is written
    from specgen.files.writing import OutputFolder
    from specgen.render.issues import Record

PARTS = {"project": "info", "site": "site", "building": "building"}


def papers_folder(
    folder: Path,
    project: Project,
    practice: Practice,
    record: Record | None = None,
    *,
    other_project: bool,
) -> OutputFolder:
    """The folder as one of a project, as :func:`specgen.render.issues.project_folder` makes it.

    Raises:
        InputError: the project lacks what its papers bear; each is asked for.
        OutputError: as ``project_folder`` says.
    """
    from specgen.render.issues import project_folder

    refuse_unready(project, practice)
    return project_folder(folder, project, record, other_project=other_project)


def refuse_unready(project: Project, practice: Practice, more: tuple[InputProblem, ...] = ()) -> None:
    """Stop where papers cannot be issued yet.

    Args:
        project: whose papers are to be written.
        practice: its vocabulary tells what papers bear.
        more: what else stands in the way.

    Raises:
        InputError: carries a problem for each value that is wanted.
    """
    problems = [*wanted_to_issue(project, practice), *more]
    if problems:
        raise InputError(problems)


def wanted_to_issue(project: Project, practice: Practice, only: str = "") -> Iterator[InputProblem]:
    """A problem for each value that papers bear and nobody has stated, or for one of them alone."""
    for part, field in fields_to_issue(project, practice):
        if only in ("", field.name):
            mark = getattr(project, PARTS[part]).at(field.name)
            message = f"`{field.name}` is not known, and papers bear it: {question_of(part, field)}?"
            yield InputProblem(mark, message, f"add `{field.name}: …` below `{part}:`")


def fields_to_issue(project: Project, practice: Practice) -> Iterator[tuple[str, Field]]:
    """The values that papers bear and nobody has stated, each with the section of the file that it belongs to."""
    for part, name in PARTS.items():
        record = getattr(project, name)
        for field in practice.vocabulary.records[part].fields.values():
            if field.to_issue and not record.has(field.name):
                yield part, field
