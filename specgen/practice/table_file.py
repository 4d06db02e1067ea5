"""One file of the tables folder to a table.

A cell may name its own source after a bar, ``0.72 W/(m·K) | din``, by a key of the file's ``cited``; a column may
have such a key for all its cells; what has neither has the source of the table. A table with
``from: {table: T, by: C}`` fills its blank cells: its column C names a row of T by T's column C, and a column with
``from: X`` takes that row's X with X's source. So each number is written once.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from specgen.model.project import Value
from specgen.model.source import Source
from specgen.practice.entries import PracticeError, PracticeTable, Row
from specgen.practice.written import citation, needed, source
from specgen.units.quantity import QuantityError, dimensions, parse

BAR = " | "
ANY = "quantity"  # a column of quantities of any dimension


@dataclass(frozen=True)
class _Head:
    """What a table says before its rows."""

    name: str
    types: Mapping[str, str]
    sources: Mapping[str, Source]
    column_source: Mapping[str, str]

    def source(self, key: str) -> Source:
        if key not in self.sources:
            raise PracticeError(f"{self.name}: no source {key!r}")
        return self.sources[key]


def read_table(path: Path, content: Mapping[str, Any], others: Mapping[str, PracticeTable]) -> PracticeTable:
    """A table from its file.

    Args:
        path: for its name and messages.
        content: the file as read.
        others: the tables it may take cells from.

    Raises:
        PracticeError: no source, a value that does not parse, a column, source, table or row that is not there.
    """
    head = _head(path.name, content)
    rows, sources = [], []
    for written in needed(content, "rows", path.name):
        row, cited = _row(written, head)
        if "from" in content:
            _fill(row, cited, content, others, path.name)
        rows.append(row)
        sources.append(cited)
    title = needed(content, "title", path.name)
    own = source(content, path.name)
    return PracticeTable(path.stem, title, own, head.types, tuple(rows), tuple(sources))


def _head(name: str, content: Mapping[str, Any]) -> _Head:
    columns = needed(content, "columns", name)
    types = {key: needed(column, "is", f"{name}: column {key}") for key, column in columns.items()}
    for key, kind in types.items():
        if kind not in ("word", ANY) and kind not in dimensions():
            raise PracticeError(f"{name}: column {key} is of unknown type {kind!r}")
    cited = {key: citation(node, f"{name}: {key}") for key, node in content.get("cited", {}).items()}
    return _Head(
        name, types, cited, {key: node["source"] for key, node in columns.items() if "source" in node}
    )


def _row(written: Mapping[str, Any], head: _Head) -> tuple[dict[str, Value | None], dict[str, Source]]:
    unknown = set(written) - set(head.types)
    if unknown:
        raise PracticeError(f"{head.name}: unknown column {sorted(unknown)}")
    row: dict[str, Value | None] = {}
    cited: dict[str, Source] = {}
    for name, kind in head.types.items():
        value = written.get(name)
        key = head.column_source.get(name) if value is not None and kind != "word" else None
        if isinstance(value, str) and BAR in value:
            value, key = value.split(BAR, 1)
        try:
            row[name] = (
                value if value is None or kind == "word" else parse(value, None if kind == ANY else {kind})
            )
        except QuantityError as error:
            raise PracticeError(f"{head.name}: {name}: {error}") from error
        if key is not None:
            cited[name] = head.source(key)
    return row, cited


def _fill(
    row: dict[str, Value | None],
    cited: dict[str, Source],
    content: Mapping[str, Any],
    others: Mapping[str, PracticeTable],
    name: str,
) -> None:
    """Fill the blank cells of a row from the table it refers to."""
    other, by = content["from"]["table"], content["from"]["by"]
    if other not in others:
        raise PracticeError(f"{name}: no table {other!r} to take cells from")
    table = others[other]
    found: tuple[Row, ...] = table.where(**{by: row[by]})
    if len(found) != 1:
        raise PracticeError(f"{name}: {len(found)} rows of {other} have {by} {row[by]!r}, one is wanted")
    for column, definition in content["columns"].items():
        if "from" not in definition or row[column] is not None:
            continue
        taken = definition["from"]
        if taken not in table.columns:
            raise PracticeError(f"{name}: {other} has no column {taken!r}")
        row[column] = found[0][taken]
        if row[column] is not None:
            cited[column] = table.source_of(found[0], taken)
