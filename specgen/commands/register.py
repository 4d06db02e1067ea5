"""specgen register: the submittals due, with dates, in a workbook that people fill and the tool keeps up to date."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from specgen.commands.common import CLEAN, FAILED, OPEN, echo_json, exits, folder_lines
from specgen.commands.options import ALLOW_CODE, CLAUSES, FORMAT, OFFICE, OTHER_PROJECT, OUTPUT, PROJECT
from specgen.files.withdrawn import REGISTER
from specgen.model.project import Project
from specgen.units.counted import many
from specgen.work.inputs import read_inputs

if TYPE_CHECKING:
    from specgen.commands.register_run import Done
    from specgen.files.marks import InputProblem
    from specgen.register.merge import Row


PAGE = "state-of-submittals.docx"


@dataclass(frozen=True)
class RegisterRun:
    """What is printed as data of a register."""

    register: str  # the file
    state: int
    rows: tuple[Row, ...]
    history: tuple[Row, ...]
    conflicts: tuple[Row, ...]
    not_read: tuple[InputProblem, ...]
    no_longer_asked_for: tuple[str, ...]
    due_before_issue: tuple[
        str, ...
    ]  # submittals due before the issue date: the start of the work is too near


@click.command()
@PROJECT
@OUTPUT
@click.option(
    "--schedule",
    type=click.Path(path_type=Path, dir_okay=False),
    help="Start of the work, days without work, durations and lead times (YAML). Without it no dates are counted.",
)
@click.option(
    "--merge",
    "copies",
    multiple=True,
    type=click.Path(path_type=Path, dir_okay=False),
    metavar="XLSX",
    help="Another person's copy of the register, merged into the one in the output folder; repeatable.",
)
@click.option(
    "--back-to",
    type=click.IntRange(1),
    metavar="NUMBER",
    help=f"Bring a state back: the number of a file in `{REGISTER}-states`. What was filled in since is kept there.",
)
@click.option(
    "--reviews",
    type=click.Path(path_type=Path, exists=True, file_okay=False),
    metavar="DIR",
    help="The folder into which `specgen review` wrote: number, dates, recommendation, and open comments are entered.",
)
@click.option(
    "--page",
    is_flag=True,
    help=f"Write `{PAGE}` as well: what is in, out, and late, and where the plasterer can start.",
)
@click.option(
    "--as-of",
    type=click.DateTime(["%Y-%m-%d"]),
    metavar="DATE",
    help="The day for which the register says who is waited for and what is late; without it, today.",
)
@OFFICE
@ALLOW_CODE
@CLAUSES
@OTHER_PROJECT
@FORMAT
@exits
def command(
    project: Path,
    output: Path,
    schedule: Path | None,
    copies: tuple[Path, ...],
    back_to: int | None,
    reviews: Path | None,
    page: bool,
    as_of: datetime | None,
    office: Path | None,
    allow_code: bool,
    clauses: Path | None,
    other_project: bool,
    form: str,
) -> int:
    """Write the submittal register of PROJECT, or bring the one in the output folder up to date.

    What people filled in stays: results, dates, remarks, rows, columns and sheets of their own. New submittals are
    added, and those the specification no longer asks for say so. A returned round with "revise and resubmit" opens
    the next one. Every state is kept in `submittal-register-states`, with the workbooks as people saved them.

    Exit status: 0 written, 1 written, but copies are in conflict or cells could not be read, 2 unusable input, 3 written,
    but a time of the schedule is not expected, and the usual one counts.
    """
    from specgen.commands.register_run import Sources, brought_on, read_copy
    from specgen.files.lock import locked
    from specgen.intake.schedule import load_schedule
    from specgen.model.schedule import Schedule
    from specgen.register.dates import work_dates
    from specgen.register.entries import entries
    from specgen.register.package import package_page
    from specgen.render.files import docx_bytes
    from specgen.render.plain import in_plain_words
    from specgen.specification import specify
    from specgen.work.papers import papers_folder
    from specgen.work.reviews import load_reviews

    inputs = read_inputs(project, office, allow_code, clauses=clauses)
    stated = load_schedule(schedule, inputs.practice) if schedule else Schedule()
    assessment = inputs.assessed()
    dates = work_dates(assessment, stated)
    due = entries(specify(assessment), dates)
    entered = load_reviews(reviews, assessment.practice) if reviews else ()
    folder = papers_folder(output, inputs.project, inputs.practice, other_project=other_project)
    with locked(output):
        if folder.former_owner():
            if back_to is not None:
                raise click.UsageError(
                    "--back-to brings back a state of the same project, not with --other-project"
                )
            for path in copies:
                read_copy(path)  # what cannot be read is refused before the other project's papers move
            for line in folder_lines(folder.commit()):
                click.echo(line, err=True)
        day = as_of.date() if as_of else date.today()
        done = brought_on(
            Sources(output, REGISTER, copies, back_to, entered), due, assessment.project, dates, day
        )
        if page:
            state = package_page(done.register, assessment, dates, day)
            folder.add(PAGE, docx_bytes(in_plain_words(state, assessment.paper_words())))
        written = folder.commit()  # from now on the folder is known as this project's
    late = [one.id for one in due if one.submit and stated.start and one.submit < _issued(inputs.project)]
    _tell(done, late, output, form)
    for line in folder_lines(written):
        click.echo(line, err=form == "json")
    for note in done.notes:
        click.echo(f"note: {note}", err=form == "json")
    for asked in stated.asked:
        click.echo(f"{asked.mark}: {asked.message} {asked.fix}", err=form == "json")
    if done.problems or done.register.conflicts:
        return FAILED
    return OPEN if stated.asked else CLEAN


def _issued(project: Project) -> date:
    issued = project.info.values["issue_date"]  # papers bear one
    return issued if isinstance(issued, date) else date.min


def _tell(done: Done, late: list[str], output: Path, form: str) -> None:
    from specgen.files.marks import problem_lines
    from specgen.register.book import GONE, conflict_rows
    from specgen.register.reviewed import due_letters

    register = done.register
    gone = [name for name, row in register.rows.items() if row.get("state") == GONE]
    conflicts = tuple(conflict_rows(register))
    if form == "json":
        rows = tuple(register.rows.values())
        file = f"{REGISTER}.xlsx"
        echo_json(
            RegisterRun(
                file, done.number, rows, register.history, conflicts, done.problems, tuple(gone), tuple(late)
            )
        )
        return
    click.echo(
        f"{output / (REGISTER + '.xlsx')}: {many(len(register.rows), 'submittal')}, "
        f"{many(len(register.history), 'closed round')}, "
        f"state {done.number}"
    )
    for line in problem_lines(done.problems):
        click.echo(f"not read: {line}")
    for cells in conflicts:
        click.echo(
            f"conflict: {cells['id']}, {cells['column']}: kept `{cells['kept'] or ''}`, "
            f"the other copy says `{cells['other'] or ''}`"
        )
    for name in gone:
        click.echo(f"no longer asked for, kept: {name}")
    for line in due_letters(register):
        click.echo(line)
    if late:
        click.echo(
            f"{many(len(late), 'submittal')} {'is' if len(late) == 1 else 'are'} due before the issue date of the "
            "project: the start of the work is too near"
        )
