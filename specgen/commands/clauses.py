"""The office's own clauses: a folder named on the command line, or ``clauses`` beside the office file."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from specgen.intake.office import office_file

if TYPE_CHECKING:
    pass

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
