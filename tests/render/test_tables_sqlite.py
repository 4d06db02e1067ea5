"""A database that explains itself, keeps its keys, and has the same bytes for the same rows."""

from __future__ import annotations

import hashlib
import sqlite3
from contextlib import closing

import pytest

from specgen.model.tables import DataTable, FilledTable, TableCell, TableColumn
from specgen.render.tables_sqlite import APPLICATION, PAGE_BYTES, documented, sqlite_bytes

WALLS = DataTable(
    "walls",
    "A wall",
    ("name",),
    (
        TableColumn("name", "text", "Its name"),
        TableColumn("height", "number", "Its height", "m", empty=True),
        TableColumn("curved", "flag", "It is curved"),
    ),
)
LAYERS = DataTable(
    "layers",
    "A layer",
    ("name", "layer"),
    (TableColumn("name", "text", "The wall", of="walls.name"), TableColumn("layer", "text", "Its id")),
)


def filled(
    walls: tuple[tuple[TableCell, ...], ...], layers: tuple[tuple[TableCell, ...], ...] = ()
) -> tuple[FilledTable, ...]:
    return documented((FilledTable(WALLS, walls), FilledTable(LAYERS, layers)), {"format": "7"})


MANY = filled(tuple((f"wall {one * 7919 % 997}", one / 8, one % 2 == 0) for one in range(600)))
# A digest of our own output (regression): the same by the libraries 3.40.1 and 3.51.1.
AS_ELSEWHERE = "15aef74b53702355"


def test_the_file_is_whole_and_tells_what_it_is() -> None:
    data = sqlite_bytes(filled((("=1+1", 1.5, True), ("°F", None, False)), (("=1+1", "a"),)), 7)
    with closing(sqlite3.connect(":memory:")) as made:
        made.deserialize(data)
        assert made.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        assert made.execute("PRAGMA foreign_key_check").fetchall() == []
        pragmas = [made.execute(f"PRAGMA {one}").fetchone()[0] for one in ("user_version", "application_id")]
        assert pragmas == [7, APPLICATION]
        assert made.execute("SELECT * FROM walls").fetchall() == [("=1+1", 1.5, 1), ("°F", None, 0)]
        assert made.execute("SELECT unit, kind FROM columns WHERE column_name = 'height'").fetchall() == [
            ("m", "number")
        ]
        assert made.execute("SELECT value FROM about").fetchall() == [("7",)]
        named = {name for (name,) in made.execute("SELECT table_name FROM tables")}
        assert named == {
            name for (name,) in made.execute("SELECT name FROM sqlite_schema WHERE type = 'table'")
        }
        refers = made.execute("SELECT refers_to FROM columns WHERE table_name = 'layers' AND position = 1")
        assert refers.fetchone() == ("walls.name",)


def test_the_same_rows_give_the_same_bytes_whatever_the_library() -> None:
    first = sqlite_bytes(filled((("a", 1.0, True),)), 1)
    assert first == sqlite_bytes(filled((("a", 1.0, True),)), 1)
    assert first != sqlite_bytes(filled((("b", 1.0, True),)), 1)
    assert len(first) % PAGE_BYTES == 0 and first.startswith(b"SQLite format 3\x00")
    assert int.from_bytes(first[96:100], "big") == 3_040_000
    assert hashlib.sha256(sqlite_bytes(MANY, 1)).hexdigest()[:16] == AS_ELSEWHERE


@pytest.mark.parametrize(
    ("walls", "layers"),
    [
        ((("a", 1.0, True), ("a", 2.0, True)), ()),
        ((("a", 1.0, True),), (("b", "x"),)),
        (((None, 1.0, True),), ()),
        ((("a", 1.0, 2),), ()),
    ],
    ids=["a key twice", "a reference to nothing", "nothing where something must stand", "a flag of two"],
)
def test_rows_that_break_a_rule_of_their_table_stop(
    walls: tuple[tuple[TableCell, ...], ...], layers: tuple[tuple[TableCell, ...], ...]
) -> None:
    with pytest.raises(sqlite3.IntegrityError):
        sqlite_bytes(filled(walls, layers), 1)


def test_a_row_has_a_cell_for_each_column_and_no_other() -> None:
    assert WALLS.row({"curved": True, "name": "a", "height": None}) == ("a", None, True)
    with pytest.raises(KeyError, match=r"walls.*height"):
        WALLS.row({"name": "a", "curved": True})
