"""What the commands read: the project, and the office file beside it or named on the command line."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import click

from specgen.assessment import Assessment, assess
from specgen.commands.clauses import clause_folder
from specgen.intake.office import load_office, office_file
from specgen.intake.project import load_project
from specgen.model.project import Project
from specgen.practice.entries import Practice
from specgen.practice.load import load_practice
from specgen.practice.office import Office, overlay
from specgen.rules.book import BookEntry, book_of, load_book
from specgen.rules.office import changeable, office_modules, under_office

OFFICE = click.option(
    "--office",
    "office",
    type=click.Path(path_type=Path, dir_okay=False),
    help="The office's own standards; without it, office.yaml beside the project file if there is one.",
)
ALLOW_CODE = click.option(
    "--allow-office-code", "allow_code", is_flag=True, help="Run the rule modules that the office file names."
)
WEATHER = click.option(
    "--weather",
    "weather",
    type=click.Path(path_type=Path, dir_okay=False),
    metavar="FILE",
    help="A year of hourly weather (EPW, TMY3, TM2) in place of the one that the project names.",
)


@dataclass(frozen=True)
class Inputs:
    """A project, the practice as shipped, the rules, and the office's standards and clauses if there are any."""

    project: Project
    practice: Practice
    office: Office | None
    book: tuple[BookEntry, ...]
    clauses: Path | None  # the office's own, laid over those that ship

    def assessed(self) -> Assessment:
        """Everything that follows of the project."""
        return assess(self.project, self.practice, self.office, self.book, self.clauses)

    def effective(self) -> Practice:
        """The practice with the office's standards laid over it."""
        if self.office:
            return under_office(self.practice, self.office, self.project)[0]
        return self.practice


def read_inputs(
    project: Path,
    office: Path | None,
    allow_code: bool,
    weather: Path | None = None,
    clauses: Path | None = None,
) -> Inputs:
    """Read a project and its office file.

    Args:
        project: the folder or the file.
        office: the office file; None: the one beside the project, if there is one.
        allow_code: whether rule modules of the office may be run.
        weather: a weather file that goes before the one the project names.
        clauses: a folder of the office's clauses that goes before the one beside the office file.

    Raises:
        InputError: carries every problem of the file that cannot be used.
        RuleBookError: a rule module of the office does not import.
    """
    practice = load_practice()
    described = load_project(project, practice, weather)
    over = clause_folder(clauses, office, project)
    path = office or office_file(project)
    book = load_book(practice)
    if path is None:
        return Inputs(described, practice, None, book, over)
    standards = load_office(path, practice, changeable(practice, book), allow_code)
    if standards.rules:
        book = book_of(office_modules(standards.rules), overlay(practice, standards), book)
    return Inputs(described, practice, standards, book, over)
