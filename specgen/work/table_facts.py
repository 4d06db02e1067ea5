"""What the tables of a project are made of, and the cells that several of them share."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from pathlib import Path

from specgen.files.marks import InputError
from specgen.files.withdrawn import REGISTER
from specgen.model.source import Source
from specgen.model.tables import TableCell
from specgen.register.merge import Register
from specgen.review.package import Reviewed
from specgen.specification import Specification
from specgen.units.quantity import Quantity
from specgen.work.filed import submittals_of
from specgen.work.inputs import Inputs
from specgen.work.register_run import Sources, read_copy, shown
from specgen.work.registering import register_folder, schedule_beside, wanted
from specgen.work.replying import judged

Cells = dict[str, TableCell]


@dataclass(frozen=True)
class TableFacts:
    """What the tables are made of: the project as written, its register, its reviewed submittals."""

    inputs: Inputs
    spec: Specification
    register: Register
    reviewed: tuple[Reviewed, ...]


def project_facts(inputs: Inputs, spec: Specification, day: date | None = None) -> TableFacts:
    """Read what lies beside a project: its register and submittals.

    Args:
        inputs: what was read of the project.
        spec: the project as written.
        day: for which the register tells what is late; None: as its workbook shows it, and without a workbook of no day.

    Raises:
        InputError: a submittal, a schedule, or a register cannot be used, or a cell of the register cannot be read.
    """
    project = inputs.project
    asked = wanted(spec, schedule_beside(project))
    sources = Sources(register_folder(project), REGISTER)
    if day is None and sources.book.exists():
        copy = read_copy(sources.book)
        register, problems = copy.register, copy.problems
    else:
        done = shown(sources, asked.due, asked.dates, day or date.min)
        register, problems = done.register, done.problems
    if problems:
        raise InputError(problems)
    papers = submittals_of(Path(project.path).parent)
    return TableFacts(inputs, spec, register, judged(papers, inputs, spec) if papers else ())


def quantity_cells(prefix: str, value: object) -> Cells:
    """A quantity as a number beside its unit, and in SI; empty for what is no quantity."""
    if not isinstance(value, Quantity):
        return dict.fromkeys([f"{prefix}_{one}" for one in ("number", "unit", "si", "dimension")])
    return {
        f"{prefix}_number": value.number,
        f"{prefix}_unit": value.unit,
        f"{prefix}_si": value.value,
        f"{prefix}_dimension": value.dimension,
    }


def source_cells(one: Source) -> Cells:
    """A source with its status."""
    return {
        "source_document": one.document,
        "source_edition": one.edition,
        "source_place": one.place,
        "source_status": one.status.value,
        "source_status_words": one.status_words,
        "source_office": one.office,
    }


def by_name(place: str, facts: TableFacts) -> str:
    """A place in the project file by the file's name alone: a table says nothing of a disk."""
    path = facts.inputs.project.path
    return Path(path).name + place[len(path) :] if place.startswith(f"{path}:") else place


def clean(cells: Cells) -> Cells:
    """Cells that every file can hold: half a character, as in some file names, as its escape."""
    return {
        name: value.encode("utf-8", "backslashreplace").decode("utf-8") if isinstance(value, str) else value
        for name, value in cells.items()
    }
