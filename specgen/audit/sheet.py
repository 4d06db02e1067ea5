"""The workbook of an audit: findings by rule, severity, climate, use and project, and what was accepted."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from specgen.audit.totals import Audit, FindingRow, PaperRow, ProjectRow
from specgen.model.document import Properties
from specgen.model.folded import OPEN_WORDS
from specgen.model.sheet import Cell, Column, SheetRow, Workbook, WorkbookSheet
from specgen.units.counted import many

TITLE = "Audit of Projects"
MOST_ROWS = 500_000  # a sheet of the file format ends at 1,048,576 rows
_PROJECT = (Column("path", "Project folder", 30),)
_PLACE = (Column("climate", "Climate zone", 9), Column("use", "Building use", 16))
_RULE = (Column("code", "Rule", 8), Column("name", "Name", 26), Column("severity", "Severity", 13))
_BROUGHT = tuple(Column(name, f"Brought: {name}", 13, "count") for name in OPEN_WORDS)
PROJECTS = (
    *_PROJECT,
    Column("title", "Number and name", 30),
    *_PLACE,
    *(
        Column(f"{state} {severity}", f"{severity.capitalize()}, as {state}", 13, "count")
        for state in ("designed", "accepted")
        for severity in OPEN_WORDS
    ),
    Column("papers", "Accepted papers", 9, "count"),
    Column("brought", "Findings brought", 9, "count"),
    Column("against", "Against requirements", 12, "count"),
    Column("bad", "Bad products", 9, "count"),
    Column("problems", "Problems of the files", 60),
)
FINDINGS = (
    *_PROJECT,
    *_RULE,
    *_PLACE,
    Column("designed", "As designed", 9),
    Column("accepted", "As accepted", 9),
    Column("parapets", "Parapets", 14),
    Column("message", "Finding", 60),
    Column("place", "Place in the file", 34),
)
GROUPS = (
    *_RULE,
    *_PLACE,
    Column("designed", "Projects, as designed", 11, "count"),
    Column("accepted", "Projects, as accepted", 11, "count"),
)
PAPERS = (
    *_PROJECT,
    Column("date", "Accepted", 11, "date"),
    Column("by", "By", 20),
    Column("paper", "Paper", 12),
    Column("number", "Number", 12),
    Column("file", "File", 28),
    Column("products", "What", 34),
    Column("result", "Result", 22),
    Column("brings", "Findings brought", 26),
    Column("unproven", "Rows unproven", 9, "count"),
    Column("note", "Note", 30),
)
AGAINST = (
    *_PROJECT,
    Column("product", "Product", 18),
    Column("title", "Requirement", 22),
    Column("reason", "Submitted and wanted", 60),
    Column("by", "Accepted by", 20),
    Column("date", "Accepted", 11, "date"),
    Column("file", "File", 28),
    Column("note", "Note", 30),
)
BAD = (
    *_PROJECT,
    Column("what", "Bad product", 26),
    Column("reason", "Reason", 34),
    Column("part", "Part of the wall", 26),
    Column("product", "Product", 18),
    Column("parapets", "Parapets", 14),
    Column("by", "Accepted by", 20),
    Column("date", "Accepted", 11, "date"),
    Column("file", "File", 28),
)
MONTHS = (
    Column("month", "Month", 9),
    Column("submittals", "Submittals", 11, "count"),
    Column("substitutions", "Substitutions", 12, "count"),
    Column("projects", "Projects", 9, "count"),
    *_BROUGHT,
    Column("against", "Against requirements", 12, "count"),
)
PEOPLE = (
    Column("by", "By", 30),
    Column("papers", "Accepted papers", 9, "count"),
    Column("against", "Against requirements", 12, "count"),
    Column("brought", "Findings brought", 9, "count"),
)


def audit_workbook(audit: Audit) -> Workbook:
    """The workbook: one tab a question."""
    months = (
        SheetRow({**_cells(one, MONTHS), **{name: one.brought[name] for name in OPEN_WORDS}})
        for one in audit.months
    )
    tabs = (
        ("Projects", PROJECTS, (_project(one) for one in audit.projects)),
        ("By rule", GROUPS, (SheetRow(_cells(one, GROUPS)) for one in audit.groups)),
        ("Findings", FINDINGS, (_finding(one) for one in audit.findings)),
        ("Accepted", PAPERS, (_paper(one) for one in audit.papers)),
        ("Against requirements", AGAINST, _against(audit.papers)),
        ("By whom", PEOPLE, (SheetRow(_cells(one, PEOPLE)) for one in audit.people)),
        ("Bad products", BAD, (SheetRow(_cells(one, BAD)) for one in audit.bad)),
        ("By month", MONTHS, months),
    )
    return Workbook(
        Properties(TITLE, "Findings and accepted products of many projects", audit.folder, "", ""),
        tuple(_sheet(audit, name, columns, tuple(rows)) for name, columns, rows in tabs),
    )


def _sheet(audit: Audit, name: str, columns: tuple[Column, ...], rows: tuple[SheetRow, ...]) -> WorkbookSheet:
    heading = [
        f"{TITLE}: {name}",
        f"{audit.folder} | {many(len(audit.projects), 'project')} | {many(len(rows), 'row')}",
    ]
    if len(rows) > MOST_ROWS:
        heading.append(f"Only the first {MOST_ROWS} rows are here; the JSON file has all.")
    return WorkbookSheet(name, tuple(heading), columns, rows[:MOST_ROWS])


def _cells(one: object, columns: Iterable[Column]) -> dict[str, Cell]:
    return {column.key: getattr(one, column.key) for column in columns if hasattr(one, column.key)}


def _project(one: ProjectRow) -> SheetRow:
    cells = _cells(one, PROJECTS)
    for state, counts in (("designed", one.designed), ("accepted", one.accepted)):
        if counts is not None:
            cells.update({f"{state} {name}": counts.get(name, 0) for name in OPEN_WORDS})
    return SheetRow({**cells, "problems": "\n".join(one.problems)})


def _finding(one: FindingRow) -> SheetRow:
    answers = {True: "yes", False: "no", None: ""}
    stands = {"designed": answers[one.designed], "accepted": answers[one.accepted]}
    return SheetRow({**_cells(one, FINDINGS), **stands})


def _paper(one: PaperRow) -> SheetRow:
    return SheetRow({**_cells(one, PAPERS), "brings": "; ".join(one.brings)})


def _against(papers: Iterable[PaperRow]) -> Iterator[SheetRow]:
    for one in papers:
        for product, title, reason in one.against:
            yield SheetRow({**_cells(one, AGAINST), "product": product, "title": title, "reason": reason})
