"""A project as tables: what sheets, workbooks, and papers print, row by row, for those who query."""

from __future__ import annotations

from specgen.model.tables import FilledTable
from specgen.work.table_facts import TableFacts, clean
from specgen.work.table_list import TABLES
from specgen.work.table_papers import PAPER_ROWS
from specgen.work.table_wall import WALL_ROWS


def project_tables(facts: TableFacts) -> tuple[FilledTable, ...]:
    """Every table of a project, in the order of their list; the same rows for the same files.

    Args:
        facts: of :func:`project_facts`.

    Raises:
        InputError: the record of accepted papers cannot be used.
    """
    rows = {**WALL_ROWS, **PAPER_ROWS}
    return tuple(
        FilledTable(table, tuple(table.row(clean(cells)) for cells in rows[table.name](facts)))
        for table in TABLES
    )
