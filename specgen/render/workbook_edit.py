"""Cells changed in a workbook that people keep: their columns, sheets, widths, filters and formulas stay as they are."""

from __future__ import annotations

import io
import zipfile
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from copy import copy
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from specgen.model.sheet import Cell, Column
from specgen.render.workbook import cell_text

_SEARCHED_FOR_HEAD = 20  # rows
# Parts that a program makes anew, or that say how one printer printed: nobody misses them.
_NOT_MISSED = ("_rels", "xl/_rels", "xl/printerSettings", "xl/worksheets", "xl", "docProps", "xl/theme", "")


@dataclass(frozen=True)
class SheetChange:
    """What changes in one sheet.

    ``rows`` pairs the number of a row with the cells to change by column key; with None for the number, the cells
    become a new row below the others. ``lines`` pairs a line above the table as it was written with the new one.
    """

    name: str
    columns: Sequence[Column]
    must: str  # the key of the column by whose title the table is found
    rows: Sequence[tuple[int | None, Mapping[str, Cell]]] = ()
    lines: Sequence[tuple[str, str]] = ()
    heading: Sequence[str] = field(default=())  # of the sheet, if it must be made


def edited(
    data: bytes, changes: Iterable[SheetChange], carried: Mapping[str, str], like: str
) -> tuple[bytes, tuple[str, ...]]:
    """A workbook with some cells changed.

    Args:
        data: the .xlsx file, opened and checked before.
        changes: by sheet; one that the workbook lacks is made.
        carried: custom properties by name, set anew.
        like: the sheet whose rows show how a cell of a new sheet looks.

    Returns:
        The new file, and the kinds of parts that the library could not carry over, as ``xl/slicers``.
    """
    from openpyxl import load_workbook
    from openpyxl.packaging.custom import StringProperty

    book: Any = load_workbook(io.BytesIO(data))
    for change in changes:
        if change.name not in book.sheetnames:
            _make(book, change, like)
        _change(book, book[change.name], change, like)
    for name, value in carried.items():
        if name in book.custom_doc_props.names:
            del book.custom_doc_props[name]
        book.custom_doc_props.append(StringProperty(name=name, value=value))
    out = io.BytesIO()
    book.save(out)
    new = out.getvalue()
    return new, tuple(sorted(folder for folder, count in (_parts(data) - _parts(new)).items() if count))


def _parts(data: bytes) -> Counter[str]:
    found: Counter[str] = Counter()
    with zipfile.ZipFile(io.BytesIO(data)) as package:
        for name in package.namelist():
            folder = name.rpartition("/")[0]
            empty = folder == "xl/drawings" and b"Anchor" not in package.read(name)  # as some programs add
            if folder.removesuffix("/_rels") not in _NOT_MISSED and not empty:
                found[folder] += 1
    return found


def _make(book: Any, change: SheetChange, like: str) -> None:
    tab = book.create_sheet(change.name)
    for number, line in enumerate(change.heading, start=1):
        _set(tab, number, 1, line)
    head = len(change.heading) + 2
    pattern = book[like]
    top = _head(pattern, None)
    for number, column in enumerate(change.columns, start=1):
        _set(tab, head, number, column.title)
        if top:
            tab.cell(head, number)._style = copy(pattern.cell(top, 1)._style)
        tab.column_dimensions[tab.cell(head, number).column_letter].width = column.width


def _head(tab: Any, title: str | None) -> int:
    """The number of the row of titles; without a title to look for, the first row with more than two cells."""
    for number, row in enumerate(tab.iter_rows(max_row=_SEARCHED_FOR_HEAD, values_only=True), start=1):
        words = [str(value).strip().lower() for value in row if value is not None]
        if (title.lower() in words) if title is not None else len(words) > 2:
            return number
    return 0


def _change(book: Any, tab: Any, change: SheetChange, like: str) -> None:
    titles = {column.key: column.title for column in change.columns}
    for old, new in change.lines:
        for number in range(1, _SEARCHED_FOR_HEAD + 1):
            if tab.cell(number, 1).value == old:
                _set(tab, number, 1, new)
                break
    head = _head(tab, titles[change.must])
    named = {str(one.value).strip().lower(): one.column for one in tab[head] if one.value is not None}
    places: dict[str, int] = {}
    for column in change.columns:
        place = named.get(column.title.lower())
        if place is None:  # somebody deleted it
            place = max(named.values()) + 1
            _set(tab, head, place, column.title)
            tab.cell(head, place)._style = copy(tab.cell(head, place - 1)._style)
            tab.column_dimensions[tab.cell(head, place).column_letter].width = column.width
            named[column.title.lower()] = place
        places[column.key] = place
    last = max((row for row in range(tab.max_row, head, -1) if _used(tab, row)), default=head)
    for here, cells in change.rows:
        if here is None:
            last += 1
            _follow(book, tab, last, head, places, titles, like)
        for key, value in cells.items():
            _set(tab, here or last, places[key], value)


def _used(tab: Any, row: int) -> bool:
    return any(one.value is not None for one in tab[row])


def _follow(
    book: Any,
    tab: Any,
    row: int,
    head: int,
    places: Mapping[str, int],
    titles: Mapping[str, str],
    like: str,
) -> None:
    """A new row looks like the one above, and filter, table and lists of choices reach down to it."""
    above = row - 1
    pattern, source, columns = tab, above, places
    if above == head:
        pattern = book[like]
        top = _head(pattern, None)
        source = top + 1
        by_title = {
            str(one.value).strip().lower(): one.column for one in pattern[top] if one.value is not None
        }
        columns = {key: by_title[title.lower()] for key, title in titles.items() if title.lower() in by_title}
    for key, place in places.items():
        if key in columns:
            tab.cell(row, place)._style = copy(pattern.cell(source, columns[key])._style)
    for rule in tab.data_validations.dataValidation:
        for place in places.values():
            if above > head and tab.cell(above, place).coordinate in rule:
                rule.add(tab.cell(row, place))
    for area in (tab.auto_filter, *tab.tables.values()):
        first, _, end = (area.ref or "").partition(":")
        letters, number = end.rstrip("0123456789"), end[len(end.rstrip("0123456789")) :]
        if number and int(number) == above:
            area.ref = f"{first}:{letters}{row}"


def _set(tab: Any, row: int, place: int, value: Cell) -> None:
    """Words are words, also where they begin with ``=``; the look of the cell stays."""
    cell: Any = tab.cell(row, place)
    shown = cell.number_format
    if isinstance(value, str):
        cell.value = cell_text(value)
        cell.data_type = "s"
    else:
        cell.value = value
    if shown != "General" or not isinstance(value, date):
        cell.number_format = shown
