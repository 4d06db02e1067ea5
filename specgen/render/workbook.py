"""A workbook as an Excel file: words stay words, nothing in it is computed, the same bytes for the same rows."""

from __future__ import annotations

import io
from collections.abc import Mapping
from datetime import UTC, date, datetime
from typing import TYPE_CHECKING, Any

from specgen.model.document import Properties
from specgen.model.sheet import Cell, Column, Workbook, WorkbookSheet

if TYPE_CHECKING:
    from xlsxwriter import Workbook as Book
    from xlsxwriter.worksheet import Worksheet

LONGEST_CELL = 32_767  # characters, a limit of the file format
_LONGEST_LIST = 255  # characters of a list of choices, a limit of the file format
_LONGEST_TAB = 31
_MADE = datetime(1980, 1, 1, tzinfo=UTC).replace(tzinfo=None)  # the same bytes on every day
_INK, _LINE, _SHADE, _SOFT = "#1A1A1A", "#BFBFBF", "#F2F2F2", "#595959"
_FONT = {"font_name": "Arial", "font_size": 9, "font_color": _INK, "valign": "top"}
_ALARM = "#B00020"
_TABLE_GAP = 1  # empty rows between the heading and the table
# The sheet of twice the size, by the number the file format gives it: on a single one the words are too small.
_LARGE = {"Letter": 3, "A4": 8}
_POINTS_A_LINE = 12.0
NOT_SHOWN = dict.fromkeys([*range(9), 11, 12, *range(14, 32)])  # what the file format cannot hold


def workbook_bytes(book: Workbook) -> bytes:
    """The Excel file of a workbook.

    Every word is written as text, so that one which begins with ``=``, ``+`` or ``@`` is never a formula. Columns
    that a person fills are plain paper; the others are lightly shaded. Nothing is locked.

    Raises:
        ValueError: a tab's name, or the words of a list of choices, are longer than the file format allows.
    """
    from xlsxwriter import Workbook as Book

    out = io.BytesIO()
    options = {
        "in_memory": True,
        "strings_to_formulas": False,
        "strings_to_urls": False,
        "strings_to_numbers": False,
    }
    with Book(out, options) as made:
        properties = book.properties
        made.set_properties(
            {
                "title": properties.title,
                "subject": properties.subject,
                "author": properties.author,
                "keywords": properties.keywords,
                "category": properties.project,
                "status": properties.state,
                "created": _MADE,
            }
        )
        for name, value in book.carried.items():
            made.set_custom_property(name, value, "text")
        for sheet in book.sheets:
            _Tab(made, sheet).write(properties)
    return out.getvalue()


class _Tab:
    """Writes one sheet."""

    def __init__(self, book: Book, sheet: WorkbookSheet) -> None:
        if len(sheet.name) > _LONGEST_TAB:
            raise ValueError(f"the name of a tab, {sheet.name!r}, is longer than {_LONGEST_TAB} characters")
        self.sheet = sheet
        self.tab: Worksheet = book.add_worksheet(sheet.name)
        self.title = book.add_format({**_FONT, "bold": True, "font_size": 13})
        self.note = book.add_format({**_FONT, "font_color": _SOFT})
        self.head = book.add_format(
            {**_FONT, "bold": True, "text_wrap": True, "top": 2, "bottom": 1, "valign": "bottom"}
        )
        self.over = book.add_format({"bold": True, "font_color": _ALARM})
        # "@" keeps what a person types as words: a section number or a fraction never turns into a date.
        cell = {**_FONT, "text_wrap": True, "bottom": 1, "bottom_color": _LINE, "num_format": "@"}
        formats = {"text": "@", "date": "yyyy-mm-dd", "count": "0"}
        self.formats = {
            (kind, filled): book.add_format(
                {**cell, "num_format": shown, "align": "left", **({} if filled else {"bg_color": _SHADE})}
            )
            for kind, shown in formats.items()
            for filled in (True, False)
        }

    def write(self, properties: Properties) -> None:
        """Heading, table, and how the sheet is seen and printed."""
        for row, words in enumerate(self.sheet.heading):
            self.tab.write_string(row, 0, cell_text(words), self.note if row else self.title)
        top = len(self.sheet.heading) + _TABLE_GAP
        lines = max(_lines_of(column.title, column) for column in self.sheet.columns)
        self.tab.set_row(top, _POINTS_A_LINE * lines + 3)
        for number, column in enumerate(self.sheet.columns):
            self.tab.set_column(number, number, column.width)
            self.tab.write_string(top, number, cell_text(column.title), self.head)
        for row, given in enumerate(self.sheet.rows, start=top + 1):
            self.tab.set_row(row, _POINTS_A_LINE * _lines(self.sheet.columns, given.cells) + 3)
            for number, column in enumerate(self.sheet.columns):
                self._cell(row, number, column, given.cells.get(column.key))
        for number, column in enumerate(self.sheet.columns):
            self._choices(top + 1, number, column)
        for number, column in enumerate(self.sheet.columns):
            if column.alarm and self.sheet.rows:
                over = {"type": "cell", "criteria": ">", "value": 0, "format": self.over}
                self.tab.conditional_format(top + 1, number, top + len(self.sheet.rows), number, over)
        self._view(top)
        self._print(top, properties)

    def _cell(self, row: int, number: int, column: Column, value: Cell) -> None:
        style = self.formats[column.is_, column.filled]
        match value:
            case None | "":
                self.tab.write_blank(row, number, None, style)
            case str():
                self.tab.write_string(row, number, cell_text(value), style)
            case date():
                self.tab.write_datetime(row, number, datetime(value.year, value.month, value.day), style)
            case _:
                self.tab.write_number(row, number, value, style)

    def _choices(self, first: int, number: int, column: Column) -> None:
        """One rule for all rows of a column that share their choices, over the stretches where they stand."""
        stretches: dict[tuple[str, ...], list[list[int]]] = {}
        for row, given in enumerate(self.sheet.rows, start=first):
            choices = given.choices.get(column.key, column.choices)
            if not choices:
                continue
            found = stretches.setdefault(choices, [])
            if found and found[-1][2] == row - 1:
                found[-1][2] = row
            else:
                found.append([row, number, row, number])
        for choices, (start, *others) in stretches.items():
            if len(",".join(choices)) > _LONGEST_LIST:
                raise ValueError(
                    f"a list of choices is longer than {_LONGEST_LIST} characters: {choices[0]} …"
                )
            rule: dict[str, Any] = {
                "validate": "list",
                "source": list(choices),
                "error_title": "Not a choice",
                "error_message": "Pick one of the list, or leave the cell empty.",
                "other_cells": others,
            }
            self.tab.data_validation(*start, rule)

    def _view(self, top: int) -> None:
        last = top + len(self.sheet.rows)
        self.tab.freeze_panes(top + 1, 2)
        self.tab.hide_gridlines(2)
        if self.sheet.rows:
            self.tab.autofilter(top, 0, last, len(self.sheet.columns) - 1)

    def _print(self, top: int, properties: Properties) -> None:
        self.tab.set_landscape()
        self.tab.fit_to_pages(1, 0)
        self.tab.repeat_rows(top)
        printed = [number for number, column in enumerate(self.sheet.columns) if column.printed]
        if len(printed) < len(self.sheet.columns):
            self.tab.print_area(0, 0, top + len(self.sheet.rows), printed[-1])
        self.tab.set_margins(left=0.4, right=0.4, top=0.7, bottom=0.7)
        self.tab.set_paper(_LARGE[properties.paper.name])
        # The blank ends the size: without it a project's number would be read as digits of the size.
        self.tab.set_header(
            f"&L&8 {_printed(properties.project)}&C&8 {_printed(properties.state)}&R&8 {_printed(self.sheet.name)}"
        )
        self.tab.set_footer(f"&L&8 {_printed(properties.title)}&R&8 Page &P of &N")


def _lines_of(title: str, column: Column) -> int:
    """How many lines a title takes: it is broken between words, and set in bold."""
    lines, left = 1, column.width
    for word in title.split():
        wide = 1.2 * len(word)
        if left < wide and left < column.width:
            lines, left = lines + 1, column.width
        left -= wide + 1
    return lines


def _lines(columns: tuple[Column, ...], cells: Mapping[str, Cell]) -> int:
    """How many lines the tallest cell of a row takes, by the width of its column."""
    most = 1
    for column in columns:
        words = cells.get(column.key)
        if isinstance(words, str) and (len(words) > column.width or "\n" in words):
            room = column.width * 1.05
            most = max(most, sum(1 + int(len(part) / room) for part in words.split("\n")))
    return most


def cell_text(words: str) -> str:
    """Words as the file format can hold them: without control signs, cut to what a cell holds."""
    return words.translate(NOT_SHOWN)[:LONGEST_CELL]


def _printed(words: str) -> str:
    """Words in a header or footer, where ``&`` begins a command; the format holds 255 characters in all."""
    return cell_text(words)[:60].replace("&", "&&")
