"""What is read before anything else: the project, and the office's standards, rules and clauses."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

from specgen.assessment import Assessment, assess
from specgen.files.foreign import refused
from specgen.intake.office import load_office, office_file
from specgen.intake.project import load_project
from specgen.model.paper import Issuer
from specgen.model.project import Project
from specgen.practice.entries import Practice
from specgen.practice.load import load_practice
from specgen.practice.office import Office, overlay
from specgen.rules.book import BookEntry, book_of, load_book
from specgen.rules.office import changeable, office_modules, under_office

CLAUSES = "clauses"  # the folder beside the office file


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
        """The practice with local amendments and the office's standards laid over it."""
        return under_office(self.practice, self.office, self.project)[0]


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
    over = _clause_folder(clauses, office, project)
    path = office or office_file(project)
    book = load_book(practice)
    if path is None:
        return Inputs(described, practice, None, book, over)
    standards = load_office(path, practice, changeable(practice, book), allow_code)
    if standards.sections:
        from specgen.sections.clause_file import load_clauses

        load_clauses(
            overlay(practice, standards), over=over
        )  # a number that another section has is told here
    if standards.rules:
        book = book_of(office_modules(standards.rules), overlay(practice, standards), book)
    issued_by = replace(described, issuer=Issuer(standards.name, standards.paper))
    return Inputs(issued_by, practice, standards, book, over)


def _clause_folder(named: Path | None, office: Path | None, project: Path) -> Path | None:
    """The folder of the office's clauses, or None."""
    if named is not None:
        if not named.is_dir():  # a pipe or a device, which is no file either
            raise refused(named, "this is no folder", "name a folder with files NN-NN-NN.yaml")
        return named
    file = office or office_file(project)
    folder = file.parent / CLAUSES if file else None
    return folder if folder and folder.is_dir() else None
