"""One run on a register: copies read and merged, a state kept, the workbook people use changed in place."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from specgen.files.atomic import Batch, sweep
from specgen.files.faults import OutputError
from specgen.files.foreign import present_bytes, refused
from specgen.files.marks import InputProblem, Mark, of_file
from specgen.intake.formats import checked, current, tell_older
from specgen.intake.workbook import LIMITS, ReturnedBook, Table, TableRow, returned_book
from specgen.model.project import Project
from specgen.model.sheet import Cell, Workbook
from specgen.register import states
from specgen.register.book import BY_HAND, brought_up_to_date, lines, register_workbook
from specgen.register.columns import (
    COLUMNS,
    CONFLICT_COLUMNS,
    CONFLICTS,
    HISTORY,
    HISTORY_COLUMNS,
    ID,
    ITEM,
    REGISTER,
    ROUND,
    SCHEDULE,
    SCHEDULE_COLUMNS,
    STATE,
    TITLES,
)
from specgen.register.dates import WorkDates
from specgen.register.entries import RegisterEntry
from specgen.register.merge import Register, Row, merge
from specgen.register.results import RESULT, fault_of, result_of
from specgen.register.reviewed import Review, with_reviews
from specgen.register.rounds import round_of
from specgen.register.standing import Today
from specgen.register.typed import Decided, TypedRow, with_decisions, with_typed
from specgen.render.workbook import workbook_bytes
from specgen.render.workbook_edit import SheetChange, edited

KIND = "register"  # of file
PROPERTY = "Register format"  # of a workbook
ATTEMPTS = 5  # to write before somebody saves the workbook again
_KEYS = {
    REGISTER: (ID,),
    HISTORY: (ID, ROUND),
    SCHEDULE: ("what",),
    CONFLICTS: tuple(one.key for one in CONFLICT_COLUMNS),
}
_OTHERS = (
    (HISTORY, HISTORY_COLUMNS, ID),
    (CONFLICTS, CONFLICT_COLUMNS, ID),
    (SCHEDULE, SCHEDULE_COLUMNS, "what"),
)


@dataclass(frozen=True)
class Sources:
    """Where the register stands, whose copies are merged into it, and which state is to be brought back, if any."""

    folder: Path
    stem: str
    copies: tuple[Path, ...] = ()
    back_to: int | None = None
    reviews: tuple[Review, ...] = ()
    typed: tuple[TypedRow, ...] = ()
    decided: tuple[Decided, ...] = ()

    @property
    def book(self) -> Path:
        """The workbook that people use."""
        return self.folder / f"{self.stem}.xlsx"


@dataclass(frozen=True)
class Done:
    """The register after a run, the number of its state, and what could not be read or carried over."""

    register: Register
    number: int
    problems: tuple[InputProblem, ...]
    notes: tuple[str, ...] = ()  # what of the reviews, decisions, and typed rows does not fit


@dataclass(frozen=True)
class RegisterCopy:
    """One workbook as read: the register in it, and the tables of its sheets."""

    book: ReturnedBook
    register: Register
    tables: Mapping[str, Table]
    problems: tuple[InputProblem, ...]
    format: int


def brought_on(
    sources: Sources, due: Iterable[RegisterEntry], project: Project, dates: WorkDates, day: date
) -> Done:
    """Read the register and the copies, merge them, keep the state, and write the workbook; the folder is held.

    Raises:
        InputError: a workbook or a record cannot be used; nothing was written.
        OutputError: a file cannot be written, or the workbook is saved again and again.
    """
    wanted = tuple(due)
    today = Today(day, dates.calendar, dates.review)
    for folder in (sources.folder, sources.folder / states.STATES):
        sweep(folder)
    for _ in range(ATTEMPTS):
        done = _attempt(sources, wanted, project, dates, today)
        if done is not None:
            return done
    raise OutputError(f"{sources.book} is being saved by another program; close it there and run this again")


@dataclass(frozen=True)
class _Read:
    """What stands there before a run, and the register that follows of it and of the copies.

    ``basis`` is the workbook that is changed, with the lines that stood above its rows; ``saved`` are the workbooks as
    people saved them, by a word for the file name.
    """

    former: states.State | None
    present: RegisterCopy | None
    basis: RegisterCopy | None
    lines: tuple[str, ...]
    register: Register
    saved: Mapping[str, bytes]
    problems: tuple[InputProblem, ...]


def _attempt(
    sources: Sources, due: tuple[RegisterEntry, ...], project: Project, dates: WorkDates, today: Today
) -> Done | None:
    """One attempt; None if the workbook was saved by somebody while it was at work."""
    read = _read(sources)
    former, basis = read.former, read.basis
    register, notes = _entered(read.register, sources, due, today)
    number = former.number + 1 if former else 1
    new = states.made(number, former, register, lines(register, project, today))
    carried = {states.PROPERTY: new.chain, PROPERTY: str(current(KIND))}
    workbook = register_workbook(register, project, dates, today, carried)
    problems = [*read.problems, *(_hidden(basis, register) if basis else ())]
    if basis is None:
        data = workbook_bytes(workbook)
    else:
        changes = list(_changes(basis, workbook, read.lines))
        held = states.hold(sources.folder, read.saved.values())
        if former and held and _nothing_new(former, replace(read, register=register), basis, changes):
            return Done(register, former.number, tuple(problems), notes)
        data, lost = edited(basis.book.data, changes, carried)
        problems += [_lost(sources.book, one, number) for one in lost]
    with Batch() as batch:
        states.keep(batch, sources.folder, replace(new, workbook=data), read.saved)
        batch.write(sources.book, data)
        if present_bytes(sources.book, LIMITS.file) != (read.present.book.data if read.present else None):
            return None
        batch.place()
    return Done(register, number, tuple(problems), notes)


def _entered(
    register: Register, sources: Sources, due: tuple[RegisterEntry, ...], today: Today
) -> tuple[Register, tuple[str, ...]]:
    """The register as read, brought up to date, with what reviews, decisions and people on a page enter in it."""
    register = brought_up_to_date(register, due, today)
    notes: list[str] = []
    if sources.typed:
        register, lines_ = with_typed(register, sources.typed)
        notes += lines_
    if sources.reviews:
        register, lines_ = with_reviews(register, sources.reviews, BY_HAND)
        notes += lines_
    if sources.decided:
        register, lines_ = with_decisions(register, sources.decided)
        notes += lines_
    if sources.typed or sources.reviews or sources.decided:
        register = brought_up_to_date(register, due, today)
    return register, tuple(notes)


def shown(sources: Sources, due: Iterable[RegisterEntry], dates: WorkDates, day: date) -> Done:
    """The register as a run would leave it, without the run: nothing is written.

    Raises:
        InputError: a workbook or a record cannot be used.
    """
    wanted, today = tuple(due), Today(day, dates.calendar, dates.review)
    read = _read(sources)
    register, notes = _entered(read.register, sources, wanted, today)
    return Done(register, read.former.number if read.former else 0, read.problems, notes)


def _read(sources: Sources) -> _Read:
    folder = sources.folder
    kept = states.numbers(folder)
    former = states.state(folder, kept[-1]) if kept else None
    mine = replace(former.register, conflicts=()) if former else Register()
    basis = present = read_copy(sources.book) if sources.book.exists() else None
    above = former.lines if former else ()
    problems: list[InputProblem] = []
    saved = {}
    if present is not None:
        tell_older(sources.book, KIND, present.format, f"it is kept in {states.STATES} and written anew")
        saved["as-saved"] = present.book.data
    if sources.back_to is not None:
        if sources.back_to not in kept:
            what = f"it holds no state {sources.back_to}"
            raise refused(folder / states.STATES, what, f"states: {_range(kept)}")
        old = states.state(folder, sources.back_to)
        mine, above = replace(old.register, conflicts=()), old.lines
        basis = read_copy(folder / states.STATES / f"{sources.back_to:04}.xlsx")
    elif present is not None:
        problems += present.problems
        mine = _with(folder, mine, present, problems)
    for number, path in enumerate(sources.copies, start=1):
        theirs = read_copy(path)
        tell_older(path, KIND, theirs.format, "its rows are merged into the register")
        problems += theirs.problems
        mine = _with(folder, mine, theirs, problems)
        saved[f"copy-{number}"] = theirs.book.data
    return _Read(former, present, basis, above, mine, saved, tuple(problems))


def _hidden(basis: RegisterCopy, register: Register) -> Iterator[InputProblem]:
    """What the register holds where a cell of the workbook shows a formula or what else could not be read."""
    closed = {_key(row, (ID, ROUND)): row for row in register.history}
    rows = zip(basis.register.rows, basis.tables[REGISTER].rows, strict=True)
    found = [(REGISTER, one, register.rows[name]) for name, one in rows]
    for one in basis.tables[HISTORY].rows if HISTORY in basis.tables else ():
        found.append((HISTORY, one, closed.get(_key(one.cells, (ID, ROUND)), {})))
    for sheet, one, row in found:
        for key in sorted(one.unread):
            if row.get(key) is not None:
                place = Mark(str(basis.book.path), one.number, basis.tables[sheet].places[key])
                what = f"`{TITLES[key]}`: the register holds `{row[key]}`, which the cell does not show"
                yield InputProblem(
                    place, what, "type it into the cell, or what is to stand there in its place"
                )


def _nothing_new(
    former: states.State, read: _Read, basis: RegisterCopy, changes: Iterable[SheetChange]
) -> bool:
    """Whether the workbook is the one that was written, and shows what it should; conflicts were told by their run."""
    here = {one.book.data if one else b"" for one in (basis, read.present)}
    same = here == {former.workbook} and basis.format == current(KIND)
    kept = replace(former.register, conflicts=()) == replace(read.register, conflicts=())
    return same and kept and not any(one.rows or one.lines for one in changes)


def _range(kept: list[int]) -> str:
    return f"{kept[0]} to {kept[-1]}" if kept else "none yet"


def _lost(path: Path, lost: str, number: int) -> InputProblem:
    saved = f"{states.STATES}/{number:04}-as-saved.xlsx"
    what = f"not everything in it could be carried over: {lost}"
    return of_file(path, what, f"take it from {saved}, the workbook as it was saved")


def _with(folder: Path, mine: Register, copy: RegisterCopy, problems: list[InputProblem]) -> Register:
    """The register with a copy merged into it, from the state that the copy was made from."""
    base = states.base(folder, copy.book.carried(states.PROPERTY))
    if base is None and mine.rows:
        what = (
            "it does not say which state of this register it was made from: cells that differ are conflicts"
        )
        problems.append(of_file(copy.book.path, what, "send copies of the workbook in this folder"))
    return merge(base or Register(), mine, copy.register)


def read_copy(path: Path) -> RegisterCopy:
    """A workbook's rows by id, closed rounds, and what could not be read. A row without an id is named by its item.

    Raises:
        InputError: the file is no workbook, holds no register, or one of a format that this program does not know.
    """
    book = returned_book(path)
    written = book.carried(PROPERTY) or "1"
    known = checked(
        int(written) if len(written) < 10 and written.isdecimal() else written, KIND, Mark(str(path), 1, 1)
    )
    tables = {REGISTER: book.table(REGISTER, COLUMNS, ID)}
    problems = tables[REGISTER].problems
    tables[REGISTER], wrong = _with_results(path, tables[REGISTER])
    problems += wrong
    rows: dict[str, Row] = {}
    for one in tables[REGISTER].rows:
        name = str(one.cells.get(ID) or "").strip()
        cells = _meant(one.cells)
        if not name:
            name = f"by hand: {str(cells.get(ITEM) or 'row')[:60]}"
            cells[STATE] = BY_HAND
        if name in rows:
            number = sum(other.startswith(f"{name}, copy") for other in rows) + 2
            name = f"{name}, copy {number}"
            cells[STATE] = BY_HAND
        rows[name] = {**cells, ID: name}
    for sheet, columns, must in _OTHERS:
        if book.has(sheet):
            tables[sheet] = book.table(sheet, columns, must)
        if sheet == HISTORY and sheet in tables:
            tables[sheet], wrong = _with_results(path, tables[sheet])
            problems += (*tables[sheet].problems, *wrong)
    history = tuple(_meant(one.cells) for one in tables[HISTORY].rows) if HISTORY in tables else ()
    return RegisterCopy(book, Register(rows, history), tables, problems, known)


def _with_results(path: Path, table: Table) -> tuple[Table, tuple[InputProblem, ...]]:
    """The table without results that nobody understands, and what is wrong with them and with dates that cannot be."""
    rows, problems = [], []
    for one in table.rows:
        written, received, returned = (one.cells.get(key) for key in (RESULT, "received", "returned"))
        kept = one
        if isinstance(written, str) and not result_of(written):
            cells = {key: value for key, value in one.cells.items() if key != RESULT}
            kept = replace(one, cells=cells, unread=one.unread | {RESULT})
            what = f"`{TITLES[RESULT]}`: {fault_of(written)}"
            place = Mark(str(path), one.number, table.places[RESULT])
            problems.append(InputProblem(place, what, "the cell is left as it was"))
        if isinstance(received, date) and isinstance(returned, date) and returned < received:
            what = f"it was returned on {returned}, before it was received on {received}"
            place = Mark(str(path), one.number, table.places["returned"])
            problems.append(InputProblem(place, what, "correct one of the two dates"))
        rows.append(kept)
    return replace(table, rows=tuple(rows)), tuple(problems)


def _meant(cells: Row) -> dict[str, Cell]:
    """The cells with the result and the round that were meant: the register says them in its own words."""
    meant = dict(cells)
    written = cells.get(RESULT)
    if isinstance(written, str):
        meant[RESULT] = result_of(written)
    if ROUND in cells:
        meant[ROUND] = round_of(cells[ROUND])
    return meant


def _key(cells: Row, columns: Iterable[str]) -> tuple[Cell, ...]:
    """By what a row of a sheet is known: its round whatever way it is written."""
    meant = _meant({key: cells[key] for key in columns if key in cells})
    return tuple(meant.get(key) for key in columns)


def _changes(present: RegisterCopy, wanted: Workbook, old_lines: tuple[str, ...]) -> Iterable[SheetChange]:
    """Which cells of a workbook differ from what is wanted. Cells that could not be read stay."""
    names = [str(row.get(ID)) for row in present.register.rows.values()]
    for sheet in wanted.sheets:
        keys, table = _KEYS[sheet.name], present.tables.get(sheet.name)
        places: dict[tuple[Cell, ...], TableRow] = {}
        for place, one in enumerate(table.rows if table else ()):
            own = (names[place],) if sheet.name == REGISTER else _key(one.cells, keys)
            places[own] = one
        rows: list[tuple[int | None, Mapping[str, Cell]]] = []
        for row in sheet.rows:
            cells = {key: value if value != "" else None for key, value in row.cells.items()}
            here = places.pop(_key(cells, keys), None)
            if here is None:
                rows.append((None, {key: value for key, value in cells.items() if value is not None}))
                continue
            differing = {
                key: value
                for key, value in cells.items()
                if key not in here.unread and here.cells.get(key) != value
            }
            if differing:
                rows.append((here.number, differing))
        if sheet.name == SCHEDULE:  # nobody's work stands there: what no longer holds goes
            rows += [(one.number, dict.fromkeys(one.cells)) for one in places.values()]
        change = SheetChange(sheet.name, sheet.columns, rows, sheet.heading)
        if table:
            change = replace(change, head=table.head, places=table.places)
        if sheet.name == REGISTER:
            pairs = zip(old_lines, sheet.heading, strict=False)
            change = replace(change, lines=tuple((old, new) for old, new in pairs if old != new))
        yield change
