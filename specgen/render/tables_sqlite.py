"""Tables as one SQLite database, the same bytes for the same rows whatever library writes it.

Beside the tables stand ``about`` (what the file is), ``tables`` and ``columns`` (what each table and column means).
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import closing

from specgen.model.tables import ColumnKind, DataTable, FilledTable, TableCell, TableColumn, counted, text

PAGE_BYTES = 4096
APPLICATION = 0x53504743  # of the file, as its head names it
TYPES: Mapping[ColumnKind, str] = {
    "text": "TEXT",
    "date": "TEXT",
    "integer": "INTEGER",
    "flag": "INTEGER",
    "number": "REAL",
}
_CHANGES = (slice(24, 28), slice(92, 96))  # of the head of the file: how often it was changed, twice
_LIBRARY = slice(96, 100)  # the number of the library that wrote it
_FILE_HEAD = 100  # bytes before the head of the first page
_PAGE_HEADS = {
    2: 12,
    5: 12,
    10: 8,
    13: 8,
}  # length of the head of a page by its first byte: inner ones, then leaves
_ONCE = (1).to_bytes(4, "big")
_ANY_LIBRARY = (3_040_000).to_bytes(4, "big")
_ABOUT = DataTable(
    "about",
    "What the file is",
    ("name",),
    (text("name", "Name of the fact"), text("value", "The fact")),
)
_TABLES = DataTable(
    "tables",
    "The tables of the file",
    ("table_name",),
    (
        text("table_name", "Name of the table"),
        text("meaning", "What a row is"),
        text("key_columns", "Columns that together name a row"),
    ),
)
_COLUMNS = DataTable(
    "columns",
    "The columns of the tables",
    ("table_name", "column_name"),
    (
        text("table_name", "Name of the table", of="tables.table_name"),
        text("column_name", "Name of the column"),
        counted("the table"),
        text("kind", "Text, date (YYYY-MM-DD), integer, flag (0 or 1), or number"),
        text("unit", "Unit of the number; empty where it has none, or another column names it"),
        text("meaning", "What the value is"),
        text("refers_to", "Column of another table whose values it takes; empty for none"),
    ),
)


def documented(filled: Sequence[FilledTable], about: Mapping[str, str]) -> tuple[FilledTable, ...]:
    """The tables with those that tell what the file, its tables, and its columns are.

    Args:
        filled: the tables.
        about: facts on the file by name.
    """
    tables = [one.table for one in filled]
    every = (_ABOUT, _TABLES, _COLUMNS, *tables)
    named = tuple((one.name, one.meaning, ", ".join(one.key)) for one in every)
    columns = tuple(
        (one.name, column.name, place, column.kind, column.unit, column.meaning, column.of)
        for one in every
        for place, column in enumerate(one.columns, start=1)
    )
    facts = tuple(about.items())
    return (
        FilledTable(_ABOUT, facts),
        FilledTable(_TABLES, named),
        FilledTable(_COLUMNS, columns),
        *filled,
    )


def sqlite_bytes(filled: Iterable[FilledTable], number: int) -> bytes:
    """The database file.

    Args:
        filled: the tables, each behind those that it refers to.
        number: of the format, as ``PRAGMA user_version`` tells it.

    Raises:
        sqlite3.IntegrityError: two rows with one key, or a row that refers to nothing.
    """
    with closing(sqlite3.connect(":memory:", isolation_level=None)) as made:
        for name, value in _settings(number):
            made.execute(f"PRAGMA {name} = {value}")
        made.execute("BEGIN")
        for one in filled:
            made.execute(_created(one.table))
            holes = ", ".join("?" * len(one.table.columns))
            words = f'INSERT INTO "{one.table.name}" VALUES ({holes})'  # noqa: S608 - names are declared by us
            made.executemany(words, map(_stored, one.rows))
        made.execute("COMMIT")
        made.execute("VACUUM")
        data = bytearray(made.serialize())
    data[_LIBRARY] = _ANY_LIBRARY
    for place in _CHANGES:
        data[place] = _ONCE
    _clear_unused(data)
    return bytes(data)


def _clear_unused(data: bytearray) -> None:
    """Write zeros between the cells of each page and their list, where libraries leave what they moved from there."""
    for page in range(0, len(data), PAGE_BYTES):
        head = page + (_FILE_HEAD if page == 0 else 0)
        length = _PAGE_HEADS.get(data[head])
        if length is None:  # a page of a long text
            continue
        cells, content = (int.from_bytes(data[head + at : head + at + 2], "big") for at in (3, 5))
        first, last = head + length + 2 * cells, page + content
        data[first:last] = bytes(max(0, last - first))


def _settings(number: int) -> Iterator[tuple[str, object]]:
    yield "page_size", PAGE_BYTES
    yield "encoding", "'UTF-8'"
    yield "auto_vacuum", 0
    yield "secure_delete", 1  # zeros where cells were moved from: some libraries leave what stood there
    yield "foreign_keys", 1
    yield "application_id", APPLICATION
    yield "user_version", number


def _stored(row: Sequence[TableCell]) -> list[TableCell]:
    return [int(one) if isinstance(one, bool) else one for one in row]


def _created(table: DataTable) -> str:
    """The statement that makes a table, as a reader of the file finds it."""
    lines = [_column(one) for one in table.columns]
    lines.append(f"PRIMARY KEY ({', '.join(table.key)})")
    lines += [
        f"FOREIGN KEY ({', '.join(names)}) REFERENCES {other} ({', '.join(names)})"
        for names, other in table.refers
    ]
    return f'CREATE TABLE "{table.name}" (\n  ' + ",\n  ".join(lines) + "\n)"


def _column(one: TableColumn) -> str:
    words = [f'"{one.name}"', TYPES[one.kind]]
    if not one.empty:
        words.append("NOT NULL")
    if one.kind == "flag":
        words.append(f'CHECK ("{one.name}" IN (0, 1))')
    if one.of:
        table, _, column = one.of.partition(".")
        words.append(f'REFERENCES "{table}" ("{column}")')
    return " ".join(words)
