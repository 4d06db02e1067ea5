"""How many: what a document counts, against what can be counted in it and in the others."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from itertools import pairwise

from specgen.agreement.issue import Issue, quote, tables_with
from specgen.agreement.page import Page, PrintedTable
from specgen.agreement.sheets import notes_of
from specgen.agreement.statement import Statement

_ROWS = re.compile(r".* \| (\d+) rows? from (\d+) sections?")
_JOINTS = re.compile(r"(\d+) upright and (\d+) level control joints?")
_SUMMARY = re.compile(r"(\d+) (.+)")
_CAPTION = re.compile(r"(\d+) (rules that are met|paragraphs with a requirement or a number)\b.*")
_COUNTED = {
    "Rules that are met": "rules that are met",
    "Paragraph to origin": "paragraphs with a requirement or a number",
}
_AGENDA = re.compile(
    r"\b(\d+) (paragraph|hold point)s?[:.]|The trade changes (\d+) times?|The trade changes (once)"
)
_TRADES = re.compile(r"\(([^()]+)\)")
_SEVERITIES = {"defect": "defects", "risk": "risks", "query": "queries"}


def counts(issue: Issue) -> Iterator[Statement]:
    """What is counted, and what is there to be counted."""
    for page in issue.pages:
        yield from _checklist(page)
        for line in page.lines:
            if rows := _ROWS.fullmatch(line.text):
                yield quote(page, line.place, "number of checklist rows", rows[1], line.text)
                yield quote(page, line.place, "number of sections", rows[2], line.text)
            if caption := _CAPTION.fullmatch(line.text):
                yield quote(page, line.place, f"number of {caption[2]}", caption[1], line.text)
        for table in page.tables:
            if name := _COUNTED.get(table.heading):
                yield _rows(page, table.heading, f"number of {name}", len(table.rows))
            if table.has("Section", "Title") and not table.has("Limit"):
                yield _rows(page, table.heading, "number of sections", len(table.rows))
    written = [page for page in issue.pages if re.match(r"\d\d-\d\d-\d\d-.*docx", page.file)]
    if written:
        yield _rows(written[0], "the folder", "number of sections", len(written))
    yield from _findings(issue)
    yield from _papers(issue)
    yield from _panels(issue)


def _rows(page: Page, place: str, about: str, number: int) -> Statement:
    return quote(page, place, about, str(number), f"{number} are there")


def _checklist(page: Page) -> Iterator[Statement]:
    found = [table for table in page.tables if table.has("Paragraph", "Item", "Required")]
    if found:
        number = sum(1 for table in found for row in table.records() if row["Paragraph"])
        yield _rows(page, "the rows", "number of checklist rows", number)


def _findings(issue: Issue) -> Iterator[Statement]:
    """The findings by severity: as the report counts them, and the rows of those the manual lists."""
    for page in issue.pages:
        if page.file.endswith(".html"):
            for line in page.lines:
                found = _SUMMARY.fullmatch(line.text)
                for one, many in _SEVERITIES.items():
                    if found and found[2] in (one, many):
                        yield quote(page, "Summary", f"number of {many}", found[1], line.text)
    for page, table in tables_with(issue, "Requirement", "Severity", "Where"):
        held = Counter(row["Severity"] for row in table.records())
        for one, many in _SEVERITIES.items():
            yield _rows(page, "Appendix B", f"number of {many}", held[one])


def _papers(issue: Issue) -> Iterator[Statement]:
    """What the agenda counts in the other papers."""
    names = {"paragraph": "paragraphs of the test plan", "hold point": "hold points"}
    for page, table in tables_with(issue, "Item", "What to settle"):
        for row in table.records():
            text = row["What to settle"]
            for number, what, times, once in _AGENDA.findall(text):
                if what:
                    yield quote(page, row["Item"], f"number of {names[what]}", number, text)
                    continue
                about = f"changes of trade, {row['Item'].lower()}"
                trades = _TRADES.findall(text.partition(". ")[0])
                changes = sum(a != b for a, b in pairwise(trades))
                yield quote(page, row["Item"], about, "1" if once else times, text)
                yield _rows(page, row["Item"], about, changes)
    for columns, name in (
        (("Paragraph", "Test, frequency, and criterion"), "paragraphs of the test plan"),
        (("Step", "Before this work", "Inspect"), "hold points"),
    ):
        found: dict[str, list[PrintedTable]] = {}
        pages = {}
        for page, table in tables_with(issue, *columns):
            found.setdefault(page.file, []).append(table)
            pages[page.file] = page
        for file, tables in found.items():
            yield _rows(pages[file], "the rows", f"number of {name}", sum(len(one.rows) for one in tables))


def _panels(issue: Issue) -> Iterator[Statement]:
    """Control joints: on the sheet of panels, in what the sheet says of itself, and in the calculation."""
    for page in issue.pages:
        for sheet in page.sheets if page.file.endswith((".svg", ".html")) else ():
            for text in (sheet.about, *(words for _, words in notes_of(sheet))):
                if joints := _JOINTS.search(text):
                    yield quote(page, sheet.place, f"upright joints of {sheet.parapet}", joints[1], joints[0])
                    yield quote(page, sheet.place, f"level joints of {sheet.parapet}", joints[2], joints[0])
