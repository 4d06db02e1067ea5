"""``docs/tables.md``: the tables of ``specgen exchange tables``, column by column, and queries with what they answer.

``python -m tests.docs.tables_page`` writes it anew.
"""

from __future__ import annotations

import sqlite3
import sys
from contextlib import closing
from dataclasses import dataclass
from datetime import date
from functools import cache
from pathlib import Path

from specgen.model.tables import DataTable
from specgen.render.tables_sqlite import documented, sqlite_bytes
from specgen.specification import specify
from specgen.work.inputs import read_inputs
from specgen.work.table_audit import AUDIT_TABLES
from specgen.work.table_facts import TableFacts, project_facts
from specgen.work.table_list import FORMAT, TABLES
from specgen.work.tables import project_tables

ROOT = Path(__file__).parents[2]
PAGE = ROOT / "docs" / "tables.md"
EXAMPLE = ROOT / "projects" / "mixed-humid-midrise"
DAY = date(2027, 2, 8)
MOST_ROWS = 6
KEPT = Path(__file__).with_name("table_formats")
RAISE = (
    "These columns are gone or changed. Raise FORMAT in specgen/work/table_list.py, say in CHANGELOG.md what changed and"
    " name the number (`tables, format N`), and run `make docs`."
)
_INTRODUCTION = f"""# Tables

Written by `python -m tests.docs.tables_page`.

    specgen exchange tables PROJECT -o FOLDER
    specgen exchange tables AUDIT/audit.json -o FOLDER

The first writes a project as CSV files and as one SQLite database, `project.sqlite`; the second writes the data of
`specgen audit`, many projects, as `audit.sqlite` and CSV. Both hold the same rows. Nothing in them is calculated anew:
each cell is what the checklist, the register, the calculation sheets, the reviews, and `check` print.

- Names of tables and columns stay. `PRAGMA user_version`, and the row `format` of the table `about`, is the number of the
  format, now {FORMAT}. It rises when a name or a meaning changes or is gone; a column that is added does not raise it.
- The tables `tables` and `columns` hold the lists below, so that a database explains itself.
- A quantity has `…_number` beside its `…_unit`, `…_si` in the SI base of `…_dimension`, and the text as it is printed.
  What is not known is empty: NULL in the database where a column may hold nothing, else "".
- Days are `YYYY-MM-DD`; a flag is 0 or 1. The same project gives the same bytes on every day: `--as-of` names the day for
  which the register tells what is late; without it the register stands as its workbook shows it.
- CSV is UTF-8 with a byte order mark, so that a spreadsheet that opens it with a double click reads "ft²" and "°F" right;
  in Python it is `encoding="utf-8-sig"`. Lines end in CR LF, cells are quoted as RFC 4180 says. A cell of words that
  begins with `=`, `+`, `-`, or `@` has an apostrophe in front, so that no spreadsheet runs it as a formula; the database
  has none.
- A file that somebody edited is kept, and the new one is written beside it, as `specgen write` does.

## Queries

Each is run by a test on the worked example `{EXAMPLE.name}`, with `--as-of {DAY}`.
"""


@dataclass(frozen=True)
class Query:
    """One question and the statement that answers it."""

    question: str
    sql: str


QUERIES = (
    Query(
        "What is late, and who is waited for?",
        """SELECT submit_by, days_late, waiting_for, section, item
FROM register
WHERE days_late > 0
ORDER BY days_late DESC, row_id;""",
    ),
    Query(
        "Which limits come from memory, and are to be confirmed against their source?",
        """SELECT requirement, limit_text, source_document, source_place
FROM requirements
WHERE source_status = 'M'
ORDER BY requirement;""",
    ),
    Query(
        "Which requirement governs where?",
        """SELECT parapet, title, limit_text, section || ' ' || paragraph AS stated_in, origin
FROM requirement_places JOIN requirements USING (requirement)
WHERE role = 'coping' AND attribute = 'thickness'
ORDER BY parapet;""",
    ),
    Query(
        "What was weighed for a requirement, and what governs?",
        """SELECT parapet, what, statement, source_document, governs
FROM weighed
WHERE requirement LIKE 'coping.thickness%' AND parapet = 'P-1'
ORDER BY position;""",
    ),
    Query(
        "What must somebody act on?",
        """SELECT severity, outcome, code, name, count(*) AS places
FROM findings
WHERE outcome IN ('fail', 'unknown') OR (outcome = 'not covered' AND answer = '')
GROUP BY severity, outcome, code, name
ORDER BY severity, code;""",
    ),
    Query(
        "Which requirement does a submitted product fail?",
        """SELECT products.name, limit_text, submitted, section || ' ' || paragraph AS stated_in
FROM verdicts JOIN products USING (file, product)
WHERE result = 'fails'
ORDER BY products.name, position;""",
    ),
    Query(
        "How thick must a coping be in millimeters, from the number in SI?",
        """SELECT requirement, round(limit_si * 1000, 2) AS millimeters, limit_text
FROM requirements
WHERE attribute = 'thickness' AND limit_dimension = 'length'
ORDER BY requirement;""",
    ),
)


@cache
def facts() -> TableFacts:
    """The worked example, read and assessed once."""
    inputs = read_inputs(EXAMPLE, None, False)
    return project_facts(inputs, specify(inputs.assessed()), DAY)


@cache
def database() -> bytes:
    """Its database."""
    about = {"format": str(FORMAT), "project": facts().inputs.project.title}
    return sqlite_bytes(documented(project_tables(facts()), about), FORMAT)


def answered(query: Query) -> tuple[list[str], list[tuple[object, ...]]]:
    """The names of the columns of an answer, and its rows."""
    with closing(sqlite3.connect(":memory:")) as made:
        made.deserialize(database())
        found = made.execute(query.sql)
        return [str(one[0]) for one in found.description], found.fetchall()


def _cell(value: object) -> str:
    return "" if value is None else str(value).replace("|", "\\|").replace("\n", " ")


def _answer(query: Query) -> list[str]:
    heads, rows = answered(query)
    out = [f"### {query.question}", "", "```sql", query.sql, "```", ""]
    out += [f"| {' | '.join(heads)} |", "|" + "---|" * len(heads)]
    out += [f"| {' | '.join(map(_cell, row))} |" for row in rows[:MOST_ROWS]]
    more = len(rows) - MOST_ROWS
    return [*out, "", *([f"And {more} more.", ""] if more > 0 else [])]


def _table(table: DataTable) -> list[str]:
    out = [
        f"### {table.name}",
        "",
        f"{table.meaning}. Key: {', '.join(f'`{one}`' for one in table.key)}.",
        "",
    ]
    out += ["| column | kind | unit | meaning |", "|---|---|---|---|"]
    for one in table.columns:
        kind = f"{one.kind}, may be empty" if one.empty else one.kind
        refers = f"; refers to `{one.of}`" if one.of else ""
        out.append(f"| `{one.name}` | {kind} | {one.unit} | {one.meaning}{refers} |")
    return [*out, ""]


def text() -> str:
    """The page."""
    out = [_INTRODUCTION]
    for query in QUERIES:
        out += _answer(query)
    out += ["## Tables of a project", ""]
    for table in TABLES:
        out += _table(table)
    out += ["## Tables of an audit", ""]
    for table in AUDIT_TABLES:
        out += _table(table)
    return "\n".join(out).rstrip() + "\n"


def lines() -> tuple[str, ...]:
    """Every column with its kind: what the number of the format stands for."""
    every = (one.table for one in documented((), {}))
    found = [(table, column) for table in (*every, *TABLES, *AUDIT_TABLES) for column in table.columns]
    return tuple(f"{table.name}.{column.name} {column.kind}" for table, column in found)


def kept_at(number: int) -> Path:
    """The file of the columns that stand under a number of the format."""
    return KEPT / f"{number}.txt"


def gone(number: int) -> list[str]:
    """Columns of a number of the format that are gone or have another kind now."""
    path = kept_at(number)
    return sorted(set(path.read_text("utf-8").splitlines()) - set(lines())) if path.exists() else []


def main() -> None:
    """Write the page, and keep the columns of the number."""
    lost = gone(FORMAT)
    if lost:
        sys.exit("\n".join([*lost, RAISE]))
    PAGE.write_text(text(), "utf-8", newline="\n")
    KEPT.mkdir(exist_ok=True)
    kept_at(FORMAT).write_text("\n".join(lines()) + "\n", "utf-8", newline="\n")


if __name__ == "__main__":
    main()
