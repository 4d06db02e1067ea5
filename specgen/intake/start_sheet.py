"""A workbook to fill in, and the project file that a filled one makes.

What is read becomes the text of a project file, line by line, and each line keeps the cell it is from. The reader of
project files then reads the text: it alone knows what may stand where, and what it tells of a line is told of the cell.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from specgen.files.marks import InputError, InputProblem, Mark, refuse
from specgen.files.yaml_reader import read_yaml_text
from specgen.files.yaml_scalars import bad_characters, why_bad
from specgen.intake.project import FILE_NAME, OWN, ProjectReader
from specgen.intake.sheet_cells import (
    TO_APART,
    Line,
    at_cell,
    column_of,
    listed,
    stated,
    to_write,
    with_reasons,
    words_of,
)
from specgen.intake.sheet_lists import LIST_SHEETS, Listed, list_sheets
from specgen.intake.start import HEAD, scalar
from specgen.intake.workbook import ReturnedBook, Table, TableRow, returned_book
from specgen.model.document import Properties
from specgen.model.sheet import Cell, Column, SheetRow, Workbook, WorkbookSheet
from specgen.practice.entries import Field, Practice, Role

PROJECT, PARAPETS, TYPES = "Project", "Parapets", "Types"
_MOST_TYPES = 6
_BLANK_ROWS = 40
_PARAPET = "parapet"
_AGAIN = {"framing": "sheathing"}  # what a wall often has a second time, and behind which role
_LOWEST = "blocking"  # of the top
_OVER = " / "  # between the two parts of a lap
_LAPS = (
    ("barrier", "weep screed"),
    ("top flashing", "barrier"),
    ("top flashing", "drainage layer"),
    ("top flashing", "roof turn-up"),
)
_NAME = Column("name", "name", 14, filled=True)
_TYPE = Column("type", "type", 16, filled=True)
_KEYS = (
    Column("part", "part", 24),
    Column("key", "key", 24),
    Column("meaning", "meaning", 44),
    Column("write", "what to write", 44),
)
_VALUE = Column("value", "value", 34, filled=True)
_TYPES = tuple(Column(f"type {n}", f"type {n}", 24, filled=True) for n in range(1, _MOST_TYPES + 1))


# The blank workbook


def start_sheet(practice: Practice) -> Workbook:
    """The workbook that a person fills in: the project, a row a parapet, and the types they are built like."""
    known = practice.vocabulary
    project = [
        _key_row(practice, section, section, field, ("value",))
        for section in OWN
        for field in known.records[section].fields.values()
    ]
    fields = known.records[_PARAPET].fields
    columns = (_NAME, _TYPE, *(column_of(practice, _PARAPET, field) for field in fields.values()))
    sheets = (
        WorkbookSheet(
            PROJECT,
            (
                "Project, site, building, quality, and trades",
                f"Fill in the column `value`. Leave open what is not known. {TO_APART}",
            ),
            (*_KEYS, _VALUE),
            tuple(project),
        ),
        WorkbookSheet(
            PARAPETS,
            (
                "Parapets, one a row",
                f"`type` names a column of the sheet {TYPES}. A value here takes the place of its type's.",
                "Corners, ends, steps, joints, scuppers, penetrations, and a standing wall have sheets of their own.",
            ),
            columns,
            (SheetRow({}),) * _BLANK_ROWS,
        ),
        WorkbookSheet(
            TYPES,
            (
                "Types, one a column",
                "The rows of a part make a component where one is filled. Their order is that of the layers, outside"
                " first: move the rows of a part to move its layer. A part that is there twice has a number behind it.",
            ),
            (*_KEYS, *_TYPES),
            tuple(_type_rows(practice)),
        ),
        *list_sheets(practice),
    )
    return Workbook(Properties("Stucco parapets", "Sheet to fill in", "", "", ""), sheets)


def _type_rows(practice: Practice) -> Iterator[SheetRow]:
    known, every = practice.vocabulary, tuple(column.key for column in _TYPES)
    yield SheetRow(
        {"part": "type", "key": "name", "meaning": "name of the type", "write": "a name, as parapet A"}
    )
    for field in known.records[_PARAPET].fields.values():
        yield _key_row(practice, _PARAPET, _PARAPET, field, every)
    for role in sorted(
        known.roles.values(), key=lambda one: one.where == "top" and 1 + (one.name != _LOWEST)
    ):
        if role.where == "place":
            continue
        yield from _part_rows(practice, role.name, role, every)
        if again := _AGAIN.get(role.name):
            yield from _part_rows(practice, f"{again} 2", known.roles[again], every)
    for one, other in _LAPS:
        for field in known.records["transition"].fields.values():
            yield _key_row(practice, f"{one}{_OVER}{other}", "transition", field, every)


def _part_rows(practice: Practice, part: str, role: Role, filled: tuple[str, ...]) -> Iterator[SheetRow]:
    kind = Field("kind", "generic kind", "word", choices=tuple(role.kinds))
    for field in (kind, *role.fields.values()):
        yield _key_row(practice, part, role.name, field, filled)


def _key_row(practice: Practice, part: str, what: str, field: Field, filled: tuple[str, ...]) -> SheetRow:
    choices = listed(field)
    cells: dict[str, Cell] = {
        "part": part,
        "key": field.name,
        "meaning": f"{field.title} ({field.note})" if field.note else field.title,
        "write": to_write(practice, what, field),
    }
    return SheetRow(cells, dict.fromkeys(filled, choices) if choices else {})


# A filled workbook


def read_sheet(path: Path, practice: Practice) -> str:
    """The project file that a filled workbook states.

    Raises:
        InputError: the file is no such workbook, or a cell cannot be used; each problem names its cell.
    """
    book = returned_book(path)
    filled = _Filled(book, practice)
    lines = list(with_reasons(filled.lines()))
    refuse([*filled.problems, *filled.strangers] if filled.problems else [])
    text = "\n".join([*HEAD, *(line.text for line in lines), ""])
    try:
        root = read_yaml_text(text, FILE_NAME, want=dict)
        reader = ProjectReader(practice, root, str(path.with_suffix("") / FILE_NAME))
        reader.read()
        problems = reader.problems
    except InputError as error:
        problems = list(error.problems)
    refuse([*filled.strangers, *(_of_cell(str(path), problem, lines) for problem in problems)])
    return text


def _of_cell(path: str, problem: InputProblem, lines: list[Line]) -> InputProblem:
    """A problem of a line as one of the cell that the line is from."""
    at = lines[min(max(problem.mark.line - len(HEAD) - 1, 0), len(lines) - 1)]
    fix = "fill it in" if problem.fix.startswith(("add a line", "write a value")) else problem.fix
    return at_cell(path, at.sheet, at.row, at.column, problem.message, fix)


class _Filled:
    """A filled workbook as lines of a project file."""

    def __init__(self, book: ReturnedBook, practice: Practice) -> None:
        self.path, self.practice = str(book.path), practice
        self.problems: list[InputProblem] = []
        self.strangers: list[InputProblem] = []  # rows of lists that belong to nothing, and are left out
        fields = practice.vocabulary.records[_PARAPET].fields
        for name in book.sheets:
            if name not in (PROJECT, PARAPETS, TYPES, *LIST_SHEETS):
                what, fix = (
                    f"the sheet `{name}` is not read",
                    "move what it states to the others, and delete it",
                )
                self.problems.append(InputProblem(Mark(self.path, 1, 1), what, fix))
        self.fields = {name: column_of(practice, _PARAPET, field) for name, field in fields.items()}
        self.project = self._table(book, PROJECT, (*_KEYS, _VALUE), "key")
        self.parapets = self._table(book, PARAPETS, (_NAME, _TYPE, *self.fields.values()), "name")
        self.types = self._table(book, TYPES, (*_KEYS, *_TYPES), "key")
        self.listed = Listed(book, practice, self._table)

    def _table(self, book: ReturnedBook, sheet: str, columns: tuple[Column, ...], must: str) -> Table:
        table = book.table(sheet, columns, must)
        head = table.head
        for column in columns:
            if column.key in ("part", "key", "value", "name", "parapet") and column.key not in table.places:
                raise InputError(
                    [at_cell(self.path, sheet, head, 1, f"no column `{column.key}`", "put it back")]
                )
        for one in table.rows:
            for key, cell in one.cells.items():
                if wrong := bad_characters(str(cell)):
                    what = f"the character {wrong} is not accepted: {why_bad(wrong)}"
                    self.problems.append(
                        at_cell(self.path, sheet, one.number, table.places[key], what, "remove it")
                    )
        for place, row in table.others.items():
            what, fix = (
                "no column that is read has this title",
                "leave the titles as they are, or delete the column",
            )
            self.problems.append(at_cell(self.path, sheet, row, place, what, fix))
        for problem in table.problems:
            mark = problem.mark
            fix = "write the value itself"
            self.problems.append(at_cell(self.path, sheet, mark.line, mark.column, problem.message, fix))
        return table

    def lines(self) -> Iterator[Line]:
        """The lines behind the head; what a section must state has one where nothing is filled in as well."""
        fields = {name: self.practice.vocabulary.records[name].fields for name in OWN}
        for section in OWN:
            head = self.project.head
            yield Line(f"{section}:", PROJECT, head, self.project.places["part"])
            for row in self.project.rows:
                if row.cells.get("part") != section:
                    continue
                words, key = words_of(row, "value"), words_of(row, "key")
                needed = key in fields[section] and fields[section][key].required
                if words or needed:
                    yield self._stated("  ", PROJECT, self.project, row, "value", section)
        self._strange_parts(self.project, PROJECT, set(OWN), ("value",))
        named = {
            column: self._type_name(column) for column in self.types.places if column.startswith("type ")
        }
        if any(named.values()):
            yield Line("types:", TYPES, self.types.head, 1)
        for column, heading in named.items():
            if heading is not None:
                yield from self._type(column, heading)
        yield Line("parapets:", PARAPETS, self.parapets.head, 1)
        for row in self.parapets.rows:
            yield from self._parapet(row)
        parapets = [words_of(row, "name") for row in self.parapets.rows]
        types = [words_of(row, column) for column, row in named.items() if row is not None]
        self.strangers = list(self.listed.strangers(self.path, parapets, types))

    def _stated(
        self, indent: str, sheet: str, table: Table, row: TableRow, column: str, what: str, key: str = ""
    ) -> Line:
        return stated(self.practice, indent, sheet, table, row, column, what, key)

    def _parapet(self, row: TableRow) -> Iterator[Line]:
        start = self.parapets.places["name"]
        yield Line(f"  - name: {scalar(words_of(row, 'name'))}", PARAPETS, row.number, start)
        if words := words_of(row, "type"):
            yield Line(
                f"    type: {scalar(words)}", PARAPETS, row.number, self.parapets.places.get("type", 1)
            )
        for name in self.fields:
            if words := words_of(row, name):
                yield self._stated("    ", PARAPETS, self.parapets, row, name, _PARAPET, name)
        yield from self.listed.places(words_of(row, "name"))
        yield from self.listed.standing(words_of(row, "name"))

    def _type_name(self, column: str) -> TableRow | None:
        """The row that names the type of a column, or the first that is filled where none does."""
        filled = [row for row in self.types.rows if words_of(row, column)]
        named = [row for row in filled if (row.cells.get("part"), row.cells.get("key")) == ("type", "name")]
        if filled and not named:
            at = self.types.places[column]
            what = "the type has values and no name"
            self.problems.append(
                at_cell(
                    self.path, TYPES, filled[0].number, at, what, "write its name in the row `type`, `name`"
                )
            )
        return named[0] if named else None

    def _type(self, column: str, named: TableRow) -> Iterator[Line]:
        at = self.types.places[column]
        parts: dict[str, list[TableRow]] = {}
        for row in self.types.rows:
            if row is not named and words_of(row, column):
                parts.setdefault(words_of(row, "part"), []).append(row)
        yield Line(f"  {scalar(words_of(named, column))}:", TYPES, named.number, at)
        for row in parts.pop(_PARAPET, []):
            yield self._stated("    ", TYPES, self.types, row, column, _PARAPET)
        roles = self.practice.vocabulary.roles
        laps = {part: rows for part, rows in parts.items() if _OVER in part}
        top = {
            part: rows
            for part, rows in parts.items()
            if (one := roles.get(_role(part))) and one.where == "top"
        }
        wall = {part: rows for part, rows in parts.items() if part not in laps and part not in top}
        for key, held in (("build_up", wall), ("top", top)):
            if held:
                first = next(iter(held.values()))[0]
                yield Line(f"    {key}:", TYPES, first.number, at)
            for part, rows in held.items():
                yield from self._component(part, rows, column)
        if laps:
            yield Line("    transitions:", TYPES, next(iter(laps.values()))[0].number, at)
        for part, rows in laps.items():
            ends = ", ".join(scalar(one) for one in part.split(_OVER))
            yield Line(f"      - between: [{ends}]", TYPES, rows[0].number, self.types.places["part"])
            for row in rows:
                yield self._stated("        ", TYPES, self.types, row, column, "transition")
        yield from self.listed.places(words_of(named, column))

    def _component(self, part: str, rows: list[TableRow], column: str) -> Iterator[Line]:
        role = _role(part)
        yield Line(f"      - role: {scalar(role)}", TYPES, rows[0].number, self.types.places["part"])
        if role != part:
            yield Line(f"        id: {scalar(part)}", TYPES, rows[0].number, self.types.places["part"])
        for row in rows:
            yield self._stated("        ", TYPES, self.types, row, column, role)

    def _strange_parts(self, table: Table, sheet: str, known: set[str], columns: tuple[str, ...]) -> None:
        for row in table.rows:
            part = words_of(row, "part")
            if part not in known and any(words_of(row, column) for column in columns):
                what = f"`{part}` is no part of this sheet"
                fix = f"write one of: {', '.join(sorted(known))}"
                self.problems.append(
                    at_cell(self.path, sheet, row.number, table.places.get("part", 1), what, fix)
                )


def _role(part: str) -> str:
    """The role of a part, whose name may have a number behind it."""
    name, _, number = part.rpartition(" ")
    return name if name and number.isdecimal() else part
