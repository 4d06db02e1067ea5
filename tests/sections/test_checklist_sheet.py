"""The checklist as a workbook says what the checklist says, row by row."""

from __future__ import annotations

import io

from openpyxl import load_workbook
from openpyxl.utils import get_column_letter

from specgen.render.workbook import workbook_bytes
from specgen.sections.checklist_sheet import COLUMNS, DECISIONS, RESULTS, checklist_workbook
from specgen.specification import specify
from specgen.work.inputs import read_inputs
from tests.chain.runs import CONFORMING


def test_every_row_stands_in_the_workbook_with_its_id_and_empty_columns_for_a_person() -> None:
    spec = specify(read_inputs(CONFORMING, None, False).assessed())
    rows = spec.rows
    data = workbook_bytes(checklist_workbook(rows, spec.sections, spec.assessment.project))
    tab = load_workbook(io.BytesIO(data))["Checklist"]
    head = next(row for row in range(1, 10) if tab.cell(row, len(COLUMNS)).value == COLUMNS[-1].title)
    table = {
        str(values[-1]): dict(zip((column.key for column in COLUMNS), values, strict=True))
        for values in tab.iter_rows(min_row=head + 1, values_only=True)
    }
    assert list(table) == [row.number for row in rows]
    for row in rows:
        read = table[row.number]
        assert (read["section"], read["paragraph"]) == (row.section, row.paragraph)
        assert (read["required"], read["item"], read["trade"]) == (row.required, row.item, row.trade)
        assert all(read[column.key] is None for column in COLUMNS if column.filled)
    lists = {
        f"{get_column_letter(column)}{row}": rule.formula1.strip('"')
        for rule in tab.data_validations.dataValidation
        for area in rule.sqref.ranges
        for row, column in ((cell[0], cell[1]) for line in area.rows for cell in line)
    }
    result = next(n for n, column in enumerate(COLUMNS, start=1) if column.key == "result")
    for number, row in enumerate(rows, start=head + 1):
        wanted = RESULTS if row.requirement else DECISIONS
        assert lists[tab.cell(number, result).coordinate] == ",".join(wanted)
