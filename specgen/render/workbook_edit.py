"""Cells changed in a workbook that people keep: their columns, sheets, widths, filters and formulas stay as they are."""

from __future__ import annotations

import io
import re
import warnings
import zipfile
from collections import Counter
from collections.abc import Collection, Mapping, Sequence
from copy import copy
from dataclasses import dataclass, field, replace
from datetime import date
from typing import Any

from specgen.model.sheet import Cell, Column
from specgen.render.workbook import cell_text

# Parts that a program makes anew, or that say how one printer printed: nobody misses them.
_NOT_MISSED = ("_rels", "xl/_rels", "xl/printerSettings", "xl/worksheets", "docProps", "xl/theme", "")
_ANCHOR = re.compile(rb"</(?:\w+:)?(?:twoCell|oneCell|absolute)Anchor>")
_MADE_ANEW = ("xl/workbook.xml", "xl/styles.xml", "xl/sharedStrings.xml", "xl/calcChain.xml")


@dataclass(frozen=True)
class SheetChange:
    """What changes in one sheet.

    ``head`` is the number of the row of titles and ``places`` the number of each column that is there; without them the
    sheet is made. ``rows`` pairs the number of a row with the cells to change by column key; with None for the number,
    the cells become a new row below the others. ``lines`` pairs a line above the table as it was written with a new one.
    """

    name: str
    columns: Sequence[Column]
    rows: Sequence[tuple[int | None, Mapping[str, Cell]]]
    heading: Sequence[str]  # of a sheet that is made
    lines: Sequence[tuple[str, str]] = ()
    head: int = 0
    places: Mapping[str, int] = field(default_factory=dict)


def edited(
    data: bytes, changes: Sequence[SheetChange], carried: Mapping[str, str]
) -> tuple[bytes, tuple[str, ...]]:
    """A workbook with some cells changed.

    Args:
        data: the .xlsx file, opened and checked before.
        changes: by sheet; the rows of the first show how a cell of a new sheet looks.
        carried: custom properties by name, set anew.

    Returns:
        The new file, and what the library could not carry over, in words: "part `xl/slicers`".
    """
    from openpyxl import load_workbook
    from openpyxl.packaging.custom import StringProperty

    with warnings.catch_warnings(record=True) as caught:
        warnings.simplefilter("always")
        book: Any = load_workbook(io.BytesIO(data), rich_text=True)  # a word in bold among others stays
    lost = [_dropped(str(one.message)) for one in caught if issubclass(one.category, UserWarning)]
    for change in changes:
        _change(book, change if change.head else _made(book, change, changes[0]), changes[0])
    for name, value in carried.items():
        if name in book.custom_doc_props.names:
            del book.custom_doc_props[name]
        book.custom_doc_props.append(StringProperty(name=name, value=value))
    out = io.BytesIO()
    book.save(out)
    new = out.getvalue()
    lost += [f"part `{part}`" for part in sorted(_parts(data) - _parts(new))]
    return new, tuple(dict.fromkeys(lost))


def _dropped(warning: str) -> str:
    """What the library says that it drops, in a few words."""
    what, ends, _ = warning.partition(" extension is not supported")
    return f"{what.lower()} of a newer Excel" if ends else warning.rstrip(".")


def _parts(data: bytes) -> Counter[str]:
    """How much lies in each folder of a package; of drawings each picture, shape or chart counts."""
    found: Counter[str] = Counter()
    with zipfile.ZipFile(io.BytesIO(data)) as package:
        for name in package.namelist():
            folder = name.rpartition("/")[0]
            if folder == "xl" and name not in _MADE_ANEW:
                found[name] += 1
            elif folder == "xl/drawings":
                found[folder] += len(_ANCHOR.findall(package.read(name)))
            elif folder.removesuffix("/_rels") not in (*_NOT_MISSED, "xl", "xl/drawings"):
                found[folder] += 1
    return found


def _made(book: Any, change: SheetChange, like: SheetChange) -> SheetChange:
    """The change of a sheet that was missing and stands there now, with its lines and titles."""
    tab = book.create_sheet(change.name)
    for number, line in enumerate(change.heading, start=1):
        _set(tab, number, 1, line)
    made = replace(change, head=len(change.heading) + 2)
    title = book[like.name].cell(like.head, 1)
    for number, column in enumerate(change.columns, start=1):
        _title(tab, made.head, number, column, title)
    return replace(made, places={column.key: number for number, column in enumerate(change.columns, start=1)})


def _title(tab: Any, head: int, place: int, column: Column, like: Any) -> None:
    _set(tab, head, place, column.title)
    tab.cell(head, place)._style = copy(like._style)
    tab.column_dimensions[tab.cell(head, place).column_letter].width = column.width


def _change(book: Any, change: SheetChange, like: SheetChange) -> None:
    tab, head, places = book[change.name], change.head, dict(change.places)
    for old, new in change.lines:
        for number in range(1, head):
            if str(tab.cell(number, 1).value) == old:
                _set(tab, number, 1, new)
                break
    for column in change.columns:
        if column.key not in places:  # somebody deleted it
            last = max(one.column for one in tab[head] if one.value is not None)
            places[column.key] = last + 1
            _title(tab, head, last + 1, column, tab.cell(head, last))
    last = _last(tab, head, places.values())
    for here, cells in change.rows:
        if here is None:
            last += 1
            _follow(book, tab, last, replace(change, places=places), like)
        for key, value in cells.items():
            _set(tab, here or last, places[key], value)


def _last(tab: Any, head: int, places: Collection[int]) -> int:
    """The last row of the table. Only cells that are there are looked at: one note may stand a million rows below."""
    used = (at for (at, place), one in tab._cells.items() if place in places and one.value is not None)
    return max((at for at in used if at > head), default=head)


def _follow(book: Any, tab: Any, row: int, change: SheetChange, like: SheetChange) -> None:
    """A new row looks like the one above, and filter, table and lists of choices reach down to it."""
    above, places = row - 1, change.places
    pattern, source, columns = tab, above, places
    if above == change.head:
        pattern, source, columns = book[like.name], like.head + 1, like.places
    for key, place in places.items():
        if key in columns:
            tab.cell(row, place)._style = copy(pattern.cell(source, columns[key])._style)
    for rule in tab.data_validations.dataValidation:
        for place in places.values():
            if above > change.head and tab.cell(above, place).coordinate in rule:
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
