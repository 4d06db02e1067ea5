"""The finished files of an issue, opened, with what stands in which paragraph and which row asks for it."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from specgen.agreement.page import Page, PrintedLine, PrintedTable
from specgen.agreement.sheets import read_dxf, read_pdf, read_svg
from specgen.agreement.statement import Statement
from specgen.agreement.tables import read_record, read_report, read_workbook
from specgen.agreement.word import read_word
from specgen.practice.load import load_practice

_READERS: Mapping[str, Callable[[str, bytes], Page]] = {
    "docx": read_word,
    "xlsx": read_workbook,
    "html": read_report,
    "svg": read_svg,
    "dxf": read_dxf,
    "pdf": read_pdf,
}
_RECORDS = ("trace.json", "submittal-checklist.json")
_OTHER_ISSUE = re.compile(r"(?:marked-|addendum-)")  # these quote an earlier issue on purpose
SECTION = r"\d\d \d\d \d\d"
_HEADING = re.compile(rf"(?:Tests of )?Section ({SECTION}) .*")
_NAMES = re.compile(r"(?:.*\b(?:at|parapets?) )(.+)", re.IGNORECASE)


@dataclass(frozen=True)
class AskedRow:
    """One row that asks for something: what, of which part, how much, by which paragraph, and where."""

    section: str
    paragraph: str
    item: str
    required: str
    method: str
    where: str
    statement: Statement
    record: Mapping[str, str]

    @property
    def part(self) -> str:
        return self.item.partition(": ")[0].casefold()

    @property
    def attribute(self) -> str:
        return self.item.partition(": ")[2]


@dataclass(frozen=True)
class Issue:
    """The opened files; ``rows`` are those of the Word checklist, ``paragraphs`` those of the sections."""

    pages: tuple[Page, ...]
    paragraphs: Mapping[tuple[str, str], tuple[Statement, ...]]
    rows: tuple[AskedRow, ...]

    def rows_at(self, section: str, paragraph: str) -> list[AskedRow]:
        """What a paragraph is asked for."""
        return [row for row in self.rows if (row.section, row.paragraph) == (section, paragraph)]

    @cached_property
    def sections(self) -> frozenset[str]:
        return frozenset(section for section, _ in self.paragraphs)


def read_pages(files: Mapping[str, bytes]) -> tuple[Page, ...]:
    """What each file of an issue prints; but what quotes an earlier issue or is a Word file as PDF.

    Args:
        files: each file's bytes by its name in the folder.
    """
    pages = []
    for name in sorted(files):
        reader = read_record if name in _RECORDS else _READERS.get(name.rpartition(".")[2])
        again = name.endswith(".pdf") and f"{name.removesuffix('.pdf')}.docx" in files
        if reader is not None and not again and not _OTHER_ISSUE.match(name):
            pages.append(reader(name, files[name]))
    return tuple(pages)


def opened(pages: tuple[Page, ...]) -> Issue:
    """The issue that the pages of its files make."""
    paragraphs: dict[tuple[str, str], list[Statement]] = defaultdict(list)
    for page in pages:
        for line in page.lines if page.file.endswith(".docx") else ():
            if line.section and line.number:
                paragraphs[line.section, line.number].append(quote(page, line.place, line.place, line.text))
    asked = next((page for page in pages if page.file.startswith("submittal-checklist.docx")), None)
    rows = tuple(asked_rows(asked)) if asked else ()
    return Issue(pages, {key: tuple(found) for key, found in paragraphs.items()}, rows)


def quote(page: Page, place: str, about: str, value: str, text: str = "", many: bool = False) -> Statement:
    """A statement of a page; its text is the value unless more words stand there."""
    return Statement(about, value, page.file, place, text or value, many)


def asked_rows(page: Page) -> Iterator[AskedRow]:
    """The rows of a page's checklist tables, each with its words."""
    for table in page.tables:
        if not table.has("Paragraph", "Item") or table.heading == "History":
            continue
        heading = _HEADING.fullmatch(table.heading)
        for row in table.records():
            section = row.get("Section") or (heading[1] if heading else "")
            if not row["Paragraph"]:
                continue
            place = f"row {section}, {row['Paragraph']}, {row['Item']}"
            text = f"{row['Item']}: {row.get('Required', '')}"
            yield AskedRow(
                section,
                row["Paragraph"],
                row["Item"],
                row.get("Required", ""),
                row.get("Method", ""),
                where_key(row.get("Where", "")),
                quote(page, place, place, text),
                row,
            )


def where_key(words: str) -> str:
    """Parapets in one spelling, whatever joins their names.

    >>> where_key("P-1, P-2, and P-3"), where_key("everywhere")
    ('P-1, P-2, P-3', 'all')
    """
    names = re.split(r", and | and |, ", words.strip())
    return "all" if words.strip() in ("", "all", "everywhere") else ", ".join(sorted(names))


def parapets_in(heading: str) -> tuple[str, ...]:
    """The parapets that a heading names; empty where it names none.

    >>> parapets_in("Parts: parapets P-1 and P-2"), parapets_in("Order of work and owners at P-1")
    (('P-1', 'P-2'), ('P-1',))
    """
    found = _NAMES.fullmatch(heading)
    return tuple(re.split(r", and | and |, ", found[1])) if found else ()


def section_lines(issue: Issue) -> Iterator[tuple[Page, PrintedLine]]:
    """The paragraphs of the single sections."""
    for page in issue.pages:
        if re.match(r"\d\d-\d\d-\d\d-", page.file):
            yield from ((page, line) for line in page.lines)


def tables_with(issue: Issue, *columns: str) -> Iterator[tuple[Page, PrintedTable]]:
    """The tables that have these columns."""
    for page in issue.pages:
        yield from ((page, table) for table in page.tables if table.has(*columns))


def roles_of(issue: Issue) -> Mapping[str, str]:
    """The role of each part by the name that a project gives it, and by the title of the role."""
    titles = {role.title: name for name, role in load_practice().vocabulary.roles.items()}
    named = dict(titles)
    for _, table in tables_with(issue, "Part", "Stated values"):
        for row in table.records():
            title, _, name = row["Part"].removesuffix(")").partition(" (")
            if name and title in titles:
                named[name] = titles[title]
    return named
