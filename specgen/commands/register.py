"""specgen register: the submittals due, with dates, in a workbook that people fill and the tool keeps up to date."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from specgen.commands.clauses import CLAUSES
from specgen.commands.common import CLEAN, FAILED, FORMAT, OUTPUT, PROJECT, echo_json, exits
from specgen.commands.inputs import ALLOW_CODE, OFFICE, read_inputs
from specgen.files.marks import InputError, InputProblem, Mark
from specgen.files.writing import write_atomic

if TYPE_CHECKING:
    from specgen.register.book import Register
    from specgen.register.merge import Conflict, Row, Rows

STEM = "submittal-register"
KIND = "register"  # of file, by its format
MOST_BYTES = 50_000_000
DATES = ("submit", "needed", "agreed", "received", "returned")


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
@OFFICE
@ALLOW_CODE
@CLAUSES
@FORMAT
@exits
def command(
    project: Path,
    output: Path,
    schedule: Path | None,
    copies: tuple[Path, ...],
    office: Path | None,
    allow_code: bool,
    clauses: Path | None,
    form: str,
) -> int:
    """Write the submittal register of PROJECT, or bring the one in the output folder up to date.

    What people filled in stays: results, dates, remarks, rows of their own. New submittals are added, and those the
    specification no longer asks for say so. A returned round with "revise and resubmit" opens the next one. The
    workbook as it was is kept beside the new one.

    Exit status: 0 written, 1 written, but copies are in conflict or cells could not be read, 2 unusable input.
    """
    from specgen.intake.formats import current
    from specgen.intake.schedule import load_schedule
    from specgen.model.schedule import Schedule
    from specgen.register.book import brought_up_to_date, register_workbook
    from specgen.register.dates import work_dates
    from specgen.register.entries import entries
    from specgen.render.workbook import workbook_bytes
    from specgen.specification import specify

    inputs = read_inputs(project, office, allow_code, clauses=clauses)
    stated = load_schedule(schedule, inputs.practice) if schedule else Schedule()
    assessment = inputs.assessed()
    dates = work_dates(assessment, stated)
    due = entries(specify(assessment), dates)
    kept, problems = read_all(output, copies)
    register = brought_up_to_date(kept, due)
    workbook = register_workbook(register, assessment.project, dates)
    data = workbook_bytes(replace(workbook, format=current(KIND)))
    save(output, data, register)
    late = [one.item for one in due if one.submit and stated.start and one.submit < _issued(inputs.project)]
    _tell(register, problems, late, output, form)
    return FAILED if problems or register.conflicts else CLEAN


def _issued(project: Any) -> date:
    issued = project.info.values["issue_date"]
    return issued if isinstance(issued, date) else date.min


def _tell(register: Register, problems: list[InputProblem], late: list[str], output: Path, form: str) -> None:
    from specgen.register.book import GONE, conflict_cells

    gone = [name for name, row in register.rows.items() if row.get("state") == GONE]
    if form == "json":
        echo_json(
            {
                "register": f"{STEM}.xlsx",
                "rows": [_plain(row) for row in register.rows.values()],
                "history": [_plain(row) for row in register.history],
                "conflicts": [dict(conflict_cells(one)) for one in register.conflicts],
                "not_read": [str(one) for one in problems],
                "no_longer_asked_for": gone,
            }
        )
        return
    click.echo(
        f"{output / (STEM + '.xlsx')}: {len(register.rows)} submittals, {len(register.history)} closed rounds"
    )
    for one in problems:
        click.echo(f"not read: {one}")
    for conflict in register.conflicts:
        cells = conflict_cells(conflict)
        click.echo(
            f"conflict: {cells['id']}, {cells['column']}: kept `{cells['kept']}`, the other copy says `{cells['other']}`"
        )
    for name in gone:
        click.echo(f"no longer asked for, kept: {name}")
    if late:
        click.echo(
            f"{len(late)} submittals are due before the issue date of the project: the start of the work is too near"
        )


def read_all(folder: Path, copies: Iterable[Path]) -> tuple[Register, list[InputProblem]]:
    """The register in a folder with other people's copies merged into it; an empty one if there is none.

    Raises:
        InputError: a workbook cannot be used.
    """
    from specgen.register.book import FILLED, Register
    from specgen.register.merge import merge

    base, history = read_base(folder / f"{STEM}.json")
    mine = folder / f"{STEM}.xlsx"
    rows = base
    problems: list[InputProblem] = []
    conflicts: list[Conflict] = []
    if mine.exists():
        rows, more, problems = read_book(mine)
        history = _united(history, more)
        rows = merge(base, rows, base, FILLED).rows  # a row that somebody deleted is put back
    for path in copies:
        theirs, more, faults = read_book(path)
        merged = merge(base, rows, theirs, FILLED)
        rows, history = merged.rows, _united(history, more)
        conflicts += merged.conflicts
        problems += faults
    return Register(rows, history, tuple(conflicts)), problems


def _united(one: tuple[Row, ...], other: tuple[Row, ...]) -> tuple[Row, ...]:
    """Closed rounds of two copies, each once."""
    return tuple({(row.get("id"), row.get("round")): row for row in (*other, *one)}.values())


def read_book(path: Path) -> tuple[Rows, tuple[Row, ...], list[InputProblem]]:
    """Rows by id, closed rounds, and what could not be read. A row without an id is named by its item.

    Raises:
        InputError: the file is no workbook, or holds no register.
    """
    from specgen.intake.formats import steps_after, tell_older
    from specgen.intake.workbook import format_of, has_sheet, read_table
    from specgen.register.book import BY_HAND, COLUMNS, HISTORY, HISTORY_COLUMNS, ID, REGISTER

    number = format_of(path, KIND)
    tell_older(path, KIND, number, "this command writes the register anew")
    renames = tuple(steps_after(number, KIND))
    table, problems = read_table(path, REGISTER, COLUMNS, ID, renames)
    rows: dict[str, Row] = {}
    for one in table:
        name = str(one.cells.get(ID) or "").strip()
        cells = dict(one.cells)
        if not name:
            name = f"by hand: {str(cells.get('item') or 'row')[:60]}"
            cells["state"] = BY_HAND
        if name in rows:
            number = sum(other.startswith(f"{name}, copy") for other in rows) + 2
            name = f"{name}, copy {number}"
            cells["state"] = BY_HAND
        rows[name] = {**cells, ID: name}
    history: tuple[Row, ...] = ()
    if has_sheet(path, HISTORY):
        closed, faults = read_table(path, HISTORY, HISTORY_COLUMNS, ID, renames)
        history, problems = tuple(one.cells for one in closed), (*problems, *faults)
    return rows, history, list(problems)


def read_base(path: Path) -> tuple[Rows, tuple[Row, ...]]:
    """What the tool last wrote, from which copies are told apart; nothing if there is no such record.

    Raises:
        InputError: the record is not one of this tool.
    """
    from specgen.intake.formats import FORMAT, checked, steps_after
    from specgen.intake.workbook import reworded

    if not path.exists():
        return {}, ()
    try:
        if path.stat().st_size > MOST_BYTES:
            raise ValueError("too large")
        content = json.loads(path.read_text("utf-8"))
        number = checked(content.get(FORMAT), KIND, Mark(str(path), 1, 1))
        renames = tuple(steps_after(number, KIND))
        rows, history = (
            [reworded(_typed(row), renames) for row in content[key]] for key in ("rows", "history")
        )
        return {str(row["id"]): row for row in rows}, tuple(history)
    except (OSError, ValueError, KeyError, TypeError, AttributeError, RecursionError):
        what = "it is not the record of a register"
        fix = "delete it: the workbook alone is then read, and differences between copies become conflicts"
        raise InputError([InputProblem(Mark(str(path), 1, 1), what, fix)]) from None


def _typed(row: Any) -> Row:
    if not isinstance(row, dict):
        raise TypeError("no row")
    return {
        str(key): date.fromisoformat(value) if key in DATES and value else value for key, value in row.items()
    }


def _plain(row: Row) -> dict[str, Any]:
    return {key: value.isoformat() if isinstance(value, date) else value for key, value in row.items()}


def save(folder: Path, data: bytes, register: Register) -> None:
    """Write the workbook and the record of what was written, each whole or not at all; the former workbook is kept.

    Raises:
        OutputError: a file cannot be written.
    """
    from specgen.files.writing import OutputError
    from specgen.intake.formats import FORMAT, current

    try:
        folder.mkdir(parents=True, exist_ok=True)
        book = folder / f"{STEM}.xlsx"
        before = book.read_bytes() if book.exists() else b""
    except OSError as error:
        raise OutputError(f"cannot use {folder}: {error.strerror or error}") from None
    if before and before != data:
        write_atomic(folder / f"{STEM}-before.xlsx", before)
    if before != data:
        write_atomic(book, data)
    content = {
        FORMAT: current(KIND),
        "rows": [_plain(row) for row in register.rows.values()],
        "history": [_plain(row) for row in register.history],
    }
    write_atomic(folder / f"{STEM}.json", (json.dumps(content, indent=1, ensure_ascii=False) + "\n").encode())
