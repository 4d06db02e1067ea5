"""Tables written into a folder: a CSV file each, and one database with all of them."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path

from specgen.files.writing import OutputFolder, Written
from specgen.model.tables import FilledTable
from specgen.render.tables_csv import csv_bytes
from specgen.render.tables_sqlite import documented, sqlite_bytes
from specgen.specification import Specification
from specgen.work.inputs import Inputs
from specgen.work.papers import papers_folder
from specgen.work.table_audit import audit_tables
from specgen.work.table_facts import project_facts
from specgen.work.table_list import FORMAT
from specgen.work.tables import project_tables

PROJECT_FILE, AUDIT_FILE = "project.sqlite", "audit.sqlite"
NOTE = "The program recommends; a person decides. Local codes govern."


def write_project_tables(
    inputs: Inputs,
    spec: Specification,
    output: Path,
    day: date | None = None,
    *,
    force: bool = False,
    other_project: bool = False,
) -> Written:
    """Write the tables of a project.

    Args:
        inputs: what was read of the project.
        spec: the project as written.
        output: the folder, made if absent.
        day: for which the register tells what is late; None: as its workbook shows it.
        force: overwrite files that were edited by hand.
        other_project: the folder may be of another project, whose papers are withdrawn.

    Raises:
        InputError: a file beside the project cannot be used, or the project lacks what papers bear.
        OutputError: a file cannot be written.
    """
    folder = papers_folder(output, inputs.project, inputs.practice, other_project=other_project)
    about = {"project": spec.assessment.project.title, "register as of": day.isoformat() if day else ""}
    return _written(folder, PROJECT_FILE, project_tables(project_facts(inputs, spec, day)), about, force)


def write_audit_tables(path: Path, output: Path, *, force: bool = False) -> Written:
    """Write the tables of an audit, from the data that it wrote.

    Raises:
        InputError: the data cannot be used.
        OutputError: a file cannot be written.
    """
    audited, made = audit_tables(path)
    return _written(OutputFolder(output), AUDIT_FILE, made, {"audit": audited}, force)


def _written(
    folder: OutputFolder, database: str, made: Sequence[FilledTable], about: dict[str, str], force: bool
) -> Written:
    every = documented(made, {"format": str(FORMAT), **about, "note": NOTE})
    for one in every:
        folder.add(f"{one.table.name}.csv", csv_bytes(one))
    folder.add(database, sqlite_bytes(every, FORMAT))
    return folder.commit(force=force)
