"""The register as a workbook, its rounds, and its history."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from datetime import date

from specgen.model.document import properties_of
from specgen.model.project import Project
from specgen.model.sheet import Cell, Column, SheetRow, Workbook, WorkbookSheet
from specgen.model.submission import Recommendation
from specgen.register.columns import (
    ASKED,
    COLUMNS,
    COMPUTED,
    CONFLICT_COLUMNS,
    CONFLICTS,
    HISTORY,
    HISTORY_COLUMNS,
    ID,
    ITEM,
    OF_A_ROUND,
    REGISTER,
    ROUND,
    SCHEDULE,
    SCHEDULE_COLUMNS,
    STANDING,
    STATE,
    TITLES,
)
from specgen.register.dates import WorkDates
from specgen.register.entries import RegisterEntry
from specgen.register.merge import Conflict, Register, Row, unused
from specgen.register.rounds import FIRST_ROUND, round_after, round_cell
from specgen.register.standing import IN_REVIEW, TO_RETURN, Today
from specgen.units.counted import many

TITLE = "Submittal Register"
GONE, BY_HAND = "no longer asked for", "added by hand"
AGAIN = tuple(one.value for one in Recommendation if one.again)


def brought_up_to_date(
    register: Register, due: Iterable[RegisterEntry], today: Today | None = None
) -> Register:
    """The register with its rows made anew from the specification, and its closed rounds moved into the history.

    What people filled stays in its row. Words that somebody typed over a computed cell stay until the specification
    itself says something new there; then the new words stand, and those typed are told as a conflict. A row that the
    specification no longer asks for stays and says so; so does one that was added by hand.

    Args:
        register: as it stands; empty for a new one.
        due: what the specification asks for now.
        today: for how each row stands; without it, the state says only whether it is asked for.
    """
    made = {one.id: _computed(one) for one in due}
    rows, history, conflicts = {}, list(register.history), list(register.conflicts)
    for name in dict.fromkeys((*made, *register.rows)):
        row: dict[str, Cell] = {**dict.fromkeys(TITLES), **register.rows.get(name, {})}
        for column, words in made.get(name, {}).items():
            before, shown = register.made.get(name, {}).get(column), row.get(column)
            if shown not in (before, words, None) and before == words:
                continue  # typed over, and nothing new to say
            if shown not in (before, words, None) and name in register.made:
                conflicts.append(Conflict(name, TITLES[column], before, words, shown))
            row[column] = words
        state = ASKED if name in made else (BY_HAND if row.get(STATE) in (None, BY_HAND) else GONE)
        current, closed = _next_round({**row, STATE: state, ID: name}, history)
        standing = today.standing(current) if today and state != GONE else {}
        if state == BY_HAND:
            standing.pop(STATE, None)
        rows[name] = {**current, **dict.fromkeys(STANDING), **standing}
        history += [closed] if closed else []
    kept = {**register.made, **made}
    return Register(rows, tuple(history), tuple(conflicts), kept)


def _computed(one: RegisterEntry) -> Row:
    """The cells of a row as a workbook gives them back."""
    found = {key: getattr(one, key) for key in COMPUTED}
    return {key: (value.strip() or None) if isinstance(value, str) else value for key, value in found.items()}


def _next_round(row: dict[str, Cell], history: Iterable[Row]) -> tuple[Row, Row | None]:
    """The row with an open round; a round returned for resubmission is closed, and the next one opened."""
    taken = {str(one.get(ROUND)) for one in history if one.get(ID) == row[ID]}
    label = row[ROUND] = unused(str(row.get(ROUND) or FIRST_ROUND), taken)
    if row.get("result") not in AGAIN or row.get("returned") is None:
        return row, None
    closed = {key: row.get(key) for key in (ITEM, ROUND, *OF_A_ROUND, ID)}
    opened = unused(round_after(label), {*taken, label})
    return {**row, **dict.fromkeys(OF_A_ROUND), ROUND: opened}, closed


def lines(register: Register, project: Project, today: Today) -> tuple[str, ...]:
    """What stands above the rows."""
    late = sum(bool(row.get("late")) for row in register.rows.values())
    reviewed = sum(row.get(STATE) in (IN_REVIEW, TO_RETURN) for row in register.rows.values())
    counts = f"{many(len(register.rows), 'row')}, {reviewed} in review, {late} late"
    return (
        f"{TITLE}: {project.title}",
        f"{project.issued} | {project.state} | {counts} on {today.day.isoformat()}",
        "Fill the white columns. Leave the row id as it is. A row without an id is taken up as added by hand.",
    )


def register_workbook(
    register: Register, project: Project, dates: WorkDates, today: Today, carried: Mapping[str, str]
) -> Workbook:
    """The register as a workbook: rows, closed rounds, conflicts if there are any, and the schedule it counts from.

    Args:
        register: brought up to date.
        project: for the words above the rows and the properties.
        dates: the work on the calendar.
        today: the day for which the rows stand as they do.
        carried: custom properties: the state that the workbook shows.
    """
    tables: tuple[tuple[str, tuple[str, ...], tuple[Column, ...], Collection[Row]], ...] = (
        (REGISTER, lines(register, project, today), COLUMNS, register.rows.values()),
        (CONFLICTS, ("Cells that two copies filled differently",), CONFLICT_COLUMNS, conflict_rows(register)),
        (HISTORY, ("Closed rounds",), HISTORY_COLUMNS, register.history),
        (
            SCHEDULE,
            ("Dates are counted from these, in working days",),
            SCHEDULE_COLUMNS,
            [{"what": what, "value": value} for what, value in _schedule(dates)],
        ),
    )
    sheets = tuple(
        WorkbookSheet(name, heading, columns, tuple(_sheet_row(row, columns) for row in rows))
        for name, heading, columns, rows in tables
        if rows or name != CONFLICTS
    )
    about = properties_of(project, TITLE, "Submittals due, by date")
    return Workbook(about, sheets, carried)


def _sheet_row(row: Row, columns: Sequence[Column]) -> SheetRow:
    cells = {column.key: row.get(column.key) for column in columns}
    return SheetRow({key: round_cell(value) if key == ROUND else value for key, value in cells.items()})


def conflict_rows(register: Register) -> list[Row]:
    """The conflicts as the cells of their rows."""
    return [
        {
            ID: one.row,
            "column": one.column,
            "was": _shown(one.was),
            "kept": _shown(one.kept),
            "other": _shown(one.other),
        }
        for one in register.conflicts
    ]


def _shown(value: Cell) -> str | None:
    return None if value is None else str(value)


def _schedule(dates: WorkDates) -> Iterator[tuple[str, str]]:
    if not dates.begins:
        yield "Start of the work", "not stated: no dates are counted"
    yield "Working days", ", ".join(dates.calendar.week)
    yield "Days without work", ", ".join(one.isoformat() for one in dates.calendar.holidays) or "none stated"
    yield "Review of a submittal", f"{dates.review} working days"
    yield "Allowance for one more round", f"{dates.resubmission} working days"
    for role, part in dates.parts.items():
        day: date | None = dates.begins.get(role)
        begins = f"begins {day.isoformat()}; " if day else ""
        yield (
            part if part == role else f"{part} ({role})",
            f"{begins}lead time {dates.leads.get(role, 0)} working days",
        )
