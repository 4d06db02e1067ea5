"""A table as CSV (RFC 4180): UTF-8 with a byte order mark, commas, lines that end in CR LF; same rows, same bytes.

The mark is there for the spreadsheet of an office: without it a file that is opened with a double click is read in the
code page of the machine, and "ft²" or "°F" is damaged. A cell of words that a spreadsheet would take for a formula begins
with an apostrophe, for CSV has no other way to call it text; the database holds the words as they are.
"""

from __future__ import annotations

import csv
import io

from specgen.model.tables import FilledTable, TableCell
from specgen.render.workbook import NOT_SHOWN

BEGINNINGS = tuple(
    "=+-@＝＋－＠"
)  # of a formula, also as wide letters, which some spreadsheets take for the same
BLANKS = ("\t", "\r", "\n")  # behind which a formula may hide


def csv_bytes(filled: FilledTable) -> bytes:
    """The file of a table, its first line the names of the columns."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(filled.table.names)
    writer.writerows([csv_cell(one) for one in row] for row in filled.rows)
    return out.getvalue().encode("utf-8-sig")


def csv_cell(value: TableCell) -> str | int | float:
    """A cell as it is written: nothing as nothing, yes and no as 1 and 0, words never as a formula.

    >>> csv_cell("=1+1"), csv_cell(" -20 °F"), csv_cell(-20.5), csv_cell(True), csv_cell(None), csv_cell("P-1")
    ("'=1+1", "' -20 °F", -20.5, 1, '', 'P-1')
    """
    if value is None:
        return ""
    if not isinstance(value, str):
        return int(value) if isinstance(value, bool) else value
    words = value.translate(NOT_SHOWN)
    return f"'{words}" if words.startswith(BLANKS) or words.lstrip().startswith(BEGINNINGS) else words
