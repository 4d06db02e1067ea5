"""The submittal checklist as a workbook: one row a requirement or document, room for what a person decides."""

from __future__ import annotations

from collections.abc import Iterable

from specgen.model.document import properties_of
from specgen.model.project import Project
from specgen.model.sheet import Column, SheetRow, Workbook, WorkbookSheet
from specgen.model.submission import Recommendation, Result
from specgen.sections.build import SectionText
from specgen.sections.checklist import ChecklistRow
from specgen.units.counted import many

TITLE = "Submittal Checklist"
RESULTS = tuple(one.value for one in Result)
DECISIONS = tuple(one.value for one in Recommendation)
COLUMNS = (
    Column("running", "No.", 5, "count"),
    Column("section", "Section", 9),
    Column("paragraph", "Paragraph", 10),
    Column("item", "Item", 30),
    Column("type", "Type", 12),
    Column("required", "Required", 24),
    Column("method", "Test method", 18),
    Column("evidence", "Evidence wanted", 34),
    Column("trade", "Trade", 16),
    Column("where", "Where", 12),
    Column("submittal", "Submittal no.", 12, filled=True),
    Column("received", "Received", 11, "date", filled=True),
    Column("result", "Result", 16, filled=True),
    Column("reviewed", "Reviewed", 11, "date", filled=True),
    Column("reviewer", "Reviewer", 14, filled=True),
    Column("remarks", "Remarks", 34, filled=True),
    Column("id", "Row id", 26),
)


def checklist_workbook(
    rows: Iterable[ChecklistRow], sections: Iterable[SectionText], project: Project
) -> Workbook:
    """The checklist with empty columns for receipt, result and remarks.

    The row id is the checklist row's own number, which stays between issues: a returned file is read by it.

    Args:
        rows: what :func:`specgen.sections.checklist.checklist` made.
        sections: as written of the project.
        project: heads the sheet.
    """
    issued, state = project.issued, project.state
    given = tuple(rows)
    heading = (
        f"{TITLE}: {project.title}",
        f"{issued} | {state} | {many(len(given), 'row')} from {many(len({one.section for one in given}), 'section')}",
        "Fill the white columns. Leave the row id as it is: a returned file is read by it.",
    )
    table = tuple(_row(number, one) for number, one in enumerate(given, start=1))
    titles = tuple(SheetRow({"section": one.number, "title": one.title}) for one in sections)
    return Workbook(
        properties_of(project, TITLE, "Submittals and required evidence"),
        (
            WorkbookSheet("Checklist", heading, COLUMNS, table),
            WorkbookSheet(
                "Sections",
                ("Sections",),
                (Column("section", "Section", 12), Column("title", "Title", 50)),
                titles,
            ),
        ),
    )


def _row(number: int, one: ChecklistRow) -> SheetRow:
    return SheetRow(
        {
            "running": number,
            "section": one.section,
            "paragraph": one.paragraph,
            "item": one.item,
            "type": one.type,
            "required": one.required,
            "method": one.method,
            "evidence": one.evidence,
            "trade": one.trade,
            "where": one.where,
            "id": one.number,
        },
        {"result": RESULTS if one.requirement else DECISIONS},
    )
