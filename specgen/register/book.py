"""The register as a workbook, its rounds, and its history."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from specgen.model.document import Properties
from specgen.model.project import Project
from specgen.model.sheet import Cell, Column, SheetRow, Workbook, WorkbookSheet
from specgen.model.submission import Recommendation
from specgen.register.dates import WorkDates
from specgen.register.entries import RegisterEntry
from specgen.register.merge import Conflict, Row, Rows, renewed

TITLE = "Submittal Register"
REGISTER, HISTORY, CONFLICTS, SCHEDULE = "Register", "History", "Conflicts", "Schedule"
ID = "id"
DECISIONS = tuple(one.value for one in Recommendation)
AGAIN = tuple(one.value for one in Recommendation if one.again)
ASKED, GONE, BY_HAND = "asked for", "no longer asked for", "added by hand"

COLUMNS = (
    Column("state", "State", 12),
    Column("section", "Section", 9),
    Column("paragraph", "Paragraph", 10),
    Column("item", "Item", 34),
    Column("type", "Type", 12),
    Column("trade", "Trade", 17),
    Column("where", "Where", 10),
    Column("before", "Before placing of", 16),
    Column("submit", "Submit by", 11, "date"),
    Column("needed", "Returned by", 11, "date"),
    Column("agreed", "Date agreed", 11, "date", filled=True),
    Column("round", "Round", 7, filled=True),
    Column("submittal", "Submittal no.", 13, filled=True),
    Column("received", "Received", 11, "date", filled=True),
    Column("returned", "Returned", 11, "date", filled=True),
    Column("result", "Result", 19, filled=True, choices=DECISIONS),
    Column("by", "Reviewed by", 14, filled=True),
    Column("remarks", "Remarks", 36, filled=True),
    Column(ID, "Row id", 30),
)
FILLED = tuple(column.key for column in COLUMNS if column.filled)
OF_A_ROUND = ("submittal", "received", "returned", "result", "by")
HISTORY_COLUMNS = tuple(
    Column(one.key, one.title, one.width, one.is_)
    for one in COLUMNS
    if one.key in ("item", "round", *OF_A_ROUND, ID)
)
CONFLICT_COLUMNS = (
    Column(ID, "Row id", 30),
    Column("column", "Column", 16),
    Column("was", "Before", 24),
    Column("kept", "Kept", 24),
    Column("other", "Other copy", 24),
)


@dataclass(frozen=True)
class Register:
    """A register as read or made: rows by id, the rounds that are closed, and what could not be merged."""

    rows: Rows
    history: tuple[Row, ...] = ()
    conflicts: tuple[Conflict, ...] = field(default=())


def brought_up_to_date(register: Register, due: Iterable[RegisterEntry]) -> Register:
    """The register with its rows made anew from the specification, and its closed rounds moved into the history.

    What people filled stays in its row. A row that the specification no longer asks for stays and says so; so does
    one that was added by hand.

    Args:
        register: as it stands; empty for a new one.
        due: what the specification asks for now.
    """
    made = [(one.id, _computed(one)) for one in due]
    asked = {name for name, _ in made}
    rows, history = {}, list(register.history)
    for name, row in renewed(register.rows, made, FILLED).items():
        state = ASKED if name in asked else (BY_HAND if row.get("state") in (None, BY_HAND) else GONE)
        current, closed = _next_round({**row, "state": state, ID: name})
        rows[name] = current
        history += [closed] if closed else []
    return Register(rows, tuple(history), register.conflicts)


def _computed(one: RegisterEntry) -> Row:
    return {
        "section": one.section,
        "paragraph": one.paragraph,
        "item": one.item,
        "type": one.type,
        "trade": one.trade,
        "where": one.where,
        "before": one.before,
        "submit": one.submit,
        "needed": one.needed,
    }


def _next_round(row: dict[str, Cell]) -> tuple[Row, Row | None]:
    """The row with an open round; a round returned for resubmission is closed, and the next one opened."""
    row["round"] = row.get("round") or "R0"
    if row.get("result") not in AGAIN or row.get("returned") is None:
        return row, None
    closed = {key: row.get(key) for key in ("item", "round", *OF_A_ROUND, ID)}
    number = str(row["round"]).lstrip("Rr")
    opened = {**row, **dict.fromkeys(OF_A_ROUND), "round": f"R{int(number) + 1 if number.isdigit() else 1}"}
    return opened, closed


def register_workbook(register: Register, project: Project, dates: WorkDates) -> Workbook:
    """The register as a workbook: rows, closed rounds, conflicts if there are any, and the schedule it counts from."""
    issued, state = project.issued, project.state
    head = (
        f"{TITLE}: {project.title}",
        f"{issued} | {state} | {len(register.rows)} rows",
        "Fill the white columns. Leave the row id as it is. A row without an id is taken up as added by hand.",
    )
    sheets = [
        WorkbookSheet(
            REGISTER, head, COLUMNS, tuple(_sheet_row(row, COLUMNS) for row in register.rows.values())
        ),
        WorkbookSheet(
            HISTORY,
            ("Closed rounds",),
            HISTORY_COLUMNS,
            tuple(_sheet_row(row, HISTORY_COLUMNS) for row in register.history),
        ),
        WorkbookSheet(
            SCHEDULE,
            ("Dates are counted from these, in working days",),
            (Column("what", "What", 44), Column("value", "Value", 40)),
            tuple(SheetRow({"what": what, "value": value}) for what, value in _schedule(dates)),
        ),
    ]
    if register.conflicts:
        rows = tuple(SheetRow(conflict_cells(one)) for one in register.conflicts)
        sheets.insert(
            1, WorkbookSheet(CONFLICTS, ("Cells that two copies filled differently",), CONFLICT_COLUMNS, rows)
        )
    return Workbook(Properties(TITLE, "Submittals due, by date", project.title, issued, state), tuple(sheets))


def _sheet_row(row: Row, columns: Sequence[Column]) -> SheetRow:
    return SheetRow({column.key: row.get(column.key) for column in columns})


def conflict_cells(one: Conflict) -> Mapping[str, Cell]:
    """A conflict as the cells of its row."""
    titles = {column.key: column.title for column in COLUMNS}
    return {
        ID: one.row,
        "column": titles.get(one.column, one.column),
        "was": _shown(one.was),
        "kept": _shown(one.kept),
        "other": _shown(one.other),
    }


def _shown(value: Cell) -> str:
    return "" if value is None else str(value)


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
        yield f"{part} ({role})", f"{begins}lead time {dates.leads.get(role, 0)} working days"
