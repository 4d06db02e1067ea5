"""The findings, accepted papers, and bad products of many projects as tables, from the data of an audit."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

from specgen.audit.totals import Audit, FindingRow, PaperRow, ProjectRow, audit_of
from specgen.files.foreign import foreign_bytes, refused
from specgen.files.marks import InputError
from specgen.model.tables import DataTable, FilledTable, TableCell, column, counted, text
from specgen.work.table_facts import Cells, clean

AUDIT = "audit.json"
MOST_BYTES = 500_000_000
_PATH = text("project", "Folder of the project, from the audited one", "projects.project")


PROJECTS = DataTable(
    "projects",
    "The projects that were audited",
    ("project",),
    (
        text("project", "Folder of the project, from the audited one"),
        text("title", "Number and name of the project"),
        text("climate_zone", "Climate zone of the site"),
        text("building_use", "Use of the building"),
        column("status", "integer", "Exit status that `specgen check` of the wall as accepted leaves"),
        text("problems", "Why its files cannot be used; empty where they can"),
    ),
)
AUDIT_FINDINGS = DataTable(
    "audit_findings",
    "What someone must act on in each project, as designed and as accepted",
    ("finding",),
    (
        counted("the audit", "finding"),
        _PATH,
        text("code", "Code of the rule"),
        text("name", "Name of the rule"),
        text("severity", "Defect, risk, query, unknown, or not covered"),
        column("designed", "flag", "It stands in the wall as designed"),
        column(
            "accepted",
            "flag",
            "It stands in the wall as accepted; empty where the papers cannot be used",
            empty=True,
        ),
        text("parapets", "Parapets, joined"),
        text("message", "What was found, as a sentence"),
        text("place", "Place in the project file"),
    ),
)
AUDIT_PAPERS = DataTable(
    "audit_papers",
    "The papers that were accepted",
    ("paper",),
    (
        counted("the audit", "paper"),
        _PATH,
        text("sort", "Submittal or substitution"),
        text("file", "File of the paper, from the project folder"),
        text("number", "Number of the submittal or request"),
        column("accepted", "date", "Day of the acceptance"),
        text("accepted_by", "Who accepted it"),
        text("result", "Result under which it was accepted"),
        text("note", "Note of the person"),
        text("products", "What it brought, joined"),
        column("unproven", "integer", "Requirements that it leaves unproven"),
    ),
)
AUDIT_BROUGHT = DataTable(
    "audit_brought",
    "Findings that came with an accepted paper",
    ("paper", "position"),
    (
        column("paper", "integer", "The paper", of="audit_papers.paper"),
        counted("its list"),
        text("finding", "Code and severity"),
    ),
)
AUDIT_AGAINST = DataTable(
    "audit_against",
    "Requirements that an accepted product fails",
    ("paper", "position"),
    (
        column("paper", "integer", "The paper", of="audit_papers.paper"),
        counted("its list"),
        text("product", "The product"),
        text("requirement", "The requirement, by its title"),
        text("reason", "Why it fails"),
    ),
)
AUDIT_TABLES = (PROJECTS, AUDIT_FINDINGS, AUDIT_PAPERS, AUDIT_BROUGHT, AUDIT_AGAINST)


def audit_tables(path: Path) -> tuple[str, tuple[FilledTable, ...]]:
    """The tables of the data that ``specgen audit`` wrote.

    Args:
        path: ``audit.json``.

    Returns:
        The name of the audited folder, and the tables.

    Raises:
        InputError: the file cannot be read, or is not the data of an audit.
    """
    fix = "run `specgen audit` again"
    try:
        content: Mapping[str, Any] = json.loads(foreign_bytes(path, MOST_BYTES))
        audit = audit_of(str(content["folder"]), content["projects"])
        made = _tables(audit)
    except InputError:
        raise
    except (ValueError, LookupError, TypeError, AttributeError, RecursionError):
        raise refused(path, "it is not the data of an audit", fix) from None
    for one in made:
        keys = [tuple(row[one.table.names.index(name)] for name in one.table.key) for row in one.rows]
        if not all(map(one.table.holds, one.rows)) or len(set(keys)) < len(keys):
            raise refused(path, "it is not the data of an audit", fix)
    return audit.folder, made


def _tables(audit: Audit) -> tuple[FilledTable, ...]:
    rows: Mapping[str, Iterator[Cells]] = {
        "projects": map(_project, audit.projects),
        "audit_findings": (_finding(number, one) for number, one in enumerate(audit.findings, start=1)),
        "audit_papers": (_paper(number, one) for number, one in enumerate(audit.papers, start=1)),
        "audit_brought": _brought(audit.papers),
        "audit_against": _against(audit.papers),
    }
    return tuple(
        FilledTable(table, tuple(table.row(clean(cells)) for cells in rows[table.name]))
        for table in AUDIT_TABLES
    )


def _project(one: ProjectRow) -> Cells:
    return {
        "project": one.path,
        "title": one.title,
        "climate_zone": one.climate,
        "building_use": one.use,
        "status": one.status,
        "problems": "\n".join(one.problems),
    }


def _finding(number: int, one: FindingRow) -> Cells:
    return {
        "finding": number,
        "project": one.path,
        "code": one.code,
        "name": one.name,
        "severity": one.severity,
        "designed": one.designed,
        "accepted": one.accepted,
        "parapets": one.parapets,
        "message": one.message,
        "place": one.place,
    }


def _paper(number: int, one: PaperRow) -> Cells:
    return {
        "paper": number,
        "project": one.path,
        "sort": one.paper,
        "file": one.file,
        "number": one.number,
        "accepted": one.date.isoformat(),
        "accepted_by": one.by,
        "result": one.result,
        "note": one.note,
        "products": one.products,
        "unproven": one.unproven,
    }


def _brought(papers: Sequence[PaperRow]) -> Iterator[Cells]:
    for number, one in enumerate(papers, start=1):
        for position, words in enumerate(one.brings, start=1):
            yield {"paper": number, "position": position, "finding": words}


def _against(papers: Sequence[PaperRow]) -> Iterator[Cells]:
    for number, one in enumerate(papers, start=1):
        for position, (product, title, reason) in enumerate(one.against, start=1):
            cells: dict[str, TableCell] = {"product": product, "requirement": title, "reason": reason}
            yield {"paper": number, "position": position, **cells}
