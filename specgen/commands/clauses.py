"""The office's own clauses: a folder named on the command line, or ``clauses`` beside the office file."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from specgen.intake.office import office_file

if TYPE_CHECKING:
    from specgen.sections.clause import ClauseBook

FOLDER = "clauses"
CLAUSES = click.option(
    "--clauses",
    "clauses",
    type=click.Path(path_type=Path, file_okay=False, exists=True),
    metavar="DIRECTORY",
    help="The office's own clauses; without it, the folder `clauses` beside the office file if there is one.",
)


def clause_folder(named: Path | None, office: Path | None, project: Path) -> Path | None:
    """The folder of the office's clauses, or None."""
    if named is not None:
        return named
    file = office or office_file(project)
    folder = file.parent / FOLDER if file else None
    return folder if folder and folder.is_dir() else None


def clauses_read(book: ClauseBook) -> dict[str, object]:
    """What the manifest says of clauses: how many ship with specgen, and each that comes from the office."""
    if not book.changes:
        return {}
    own = sum(one.what != "suppressed" for one in book.changes)
    total = sum(1 for section in book.sections for _ in section.clauses())
    return {"clauses": {"shipped": total - own, "office": [one.as_json() for one in book.changes]}}
