"""specgen register: the submittals due, with dates, in a workbook that people fill and the tool keeps up to date."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from specgen.commands.common import CLEAN, FAILED, OPEN, echo_json, exits, folder_lines
from specgen.commands.options import ALLOW_CODE, CLAUSES, FORMAT, OFFICE, OTHER_PROJECT, OUTPUT, PROJECT
from specgen.commands.terminal import print_text
from specgen.design.progress import tell
from specgen.files.withdrawn import REGISTER
from specgen.units.counted import many
from specgen.work.inputs import read_inputs

if TYPE_CHECKING:
    from specgen.files.marks import InputProblem
    from specgen.files.writing import Written
    from specgen.register.merge import Row
    from specgen.work.register_run import Done

PAGE = "state-of-submittals.docx"  # as specgen.work.registering writes it


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
    from specgen.specification import specify
    from specgen.work.register_run import Sources
    from specgen.work.registering import keep_register, wanted
    from specgen.work.reviews import load_reviews

    inputs = read_inputs(project, office, allow_code, clauses=clauses)
    tell(0.2)
    asked = wanted(specify(inputs.assessed()), schedule)
    tell(0.6)
    entered = load_reviews(reviews, asked.spec.assessment.practice) if reviews else ()

    def moved(papers: Written) -> None:
        for line in folder_lines(papers):
            print_text(line, err=True)

    done, written = keep_register(
        Sources(output, REGISTER, copies, back_to, entered),
        asked,
        inputs.practice,
        as_of.date() if as_of else date.today(),
        other_project=other_project,
        page=page,
        moved=moved,
    )
    tell(1.0)
    _tell(done, asked.too_near, output, form)
    for line in folder_lines(written):
        print_text(line, err=form == "json")
    for note in done.notes:
        print_text(f"note: {note}", err=form == "json")
    for one in asked.stated.asked:
        print_text(f"{one.mark}: {one.message} {one.fix}", err=form == "json")
    if done.problems or done.register.conflicts:
        return FAILED
    return OPEN if asked.stated.asked else CLEAN


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
    print_text(
        f"{output / (REGISTER + '.xlsx')}: {many(len(register.rows), 'submittal')}, "
        f"{many(len(register.history), 'closed round')}, "
        f"state {done.number}"
    )
    for line in problem_lines(done.problems):
        print_text(f"not read: {line}")
    for cells in conflicts:
        print_text(
            f"conflict: {cells['id']}, {cells['column']}: kept `{cells['kept'] or ''}`, "
            f"the other copy says `{cells['other'] or ''}`"
        )
    for name in gone:
        print_text(f"no longer asked for, kept: {name}")
    for line in due_letters(register):
        print_text(line)
    if late:
        print_text(
            f"{many(len(late), 'submittal')} {'is' if len(late) == 1 else 'are'} due before the issue date of the "
            "project: the start of the work is too near"
        )
