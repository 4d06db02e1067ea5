"""specgen exchange tables: a project, or an audit of many, as CSV files and one SQLite database."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import click

from specgen.commands.common import CLEAN, exits, folder_lines
from specgen.commands.options import ALLOW_CODE, CLAUSES, FORCE, OFFICE, OTHER_PROJECT, OUTPUT, PROJECT
from specgen.commands.terminal import print_text


@click.command()
@PROJECT
@OUTPUT
@click.option(
    "--as-of",
    type=click.DateTime(["%Y-%m-%d"]),
    metavar="DATE",
    help="The day for which the register tells what is late; without it, as its workbook shows it.",
)
@FORCE
@OTHER_PROJECT
@OFFICE
@ALLOW_CODE
@CLAUSES
@exits
def command(
    project: Path,
    output: Path,
    as_of: datetime | None,
    force: bool,
    other_project: bool,
    office: Path | None,
    allow_code: bool,
    clauses: Path | None,
) -> int:
    """Write PROJECT as tables for those who query: CSV files, and one SQLite database with the same rows.

    Checklist, register, requirements, findings, calculations, and the submittals beside the project, under names that
    stay; the table `columns` tells what each column means. Name the `audit.json` of an audit in place of PROJECT to
    have the tables of many projects.

    Exit status: 0 written, 2 unusable input, nothing was written.
    """
    from specgen.specification import specify
    from specgen.units.counted import many
    from specgen.work.inputs import read_inputs
    from specgen.work.table_files import (
        AUDIT_FILE,
        PROJECT_FILE,
        write_audit_tables,
        write_project_tables,
    )

    database = AUDIT_FILE if project.suffix == ".json" and not project.is_dir() else PROJECT_FILE
    if database == AUDIT_FILE:
        written = write_audit_tables(project, output, force=force)
    else:
        inputs = read_inputs(project, office, allow_code, clauses=clauses)
        spec = specify(inputs.assessed())
        day = as_of.date() if as_of else None
        written = write_project_tables(inputs, spec, output, day, force=force, other_project=other_project)
    for line in folder_lines(written):
        print_text(line)
    count = sum(name.endswith(".csv") for name in (*written.written, *written.unchanged))
    print_text(f"{output / database}, and {many(count, 'table')} as CSV")
    return CLEAN
