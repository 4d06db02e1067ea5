"""The papers that leave the office, as lines of words, and what such a paper may not say."""

from __future__ import annotations

import html
import io
import re
import zipfile
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import openpyxl

from specgen.intake.project import load_project
from specgen.practice.load import load_practice
from specgen.rules.book import load_book
from specgen.rules.papers import PAPER_RULES
from tests.agreement.issues import written
from tests.agreement.walls import REPO
from tests.chain.runs import contents, run
from tests.conftest import LONG

NEVER = re.compile(
    r"\[[CSPM](?:\]|: )|\bfrom memory\b|\bdeg[FC]\b|`|\{\{|\}\}|\b(?:TBD|TODO|XXX)\b|\[(?:insert|select|fill)|\bnan\b"
)
_LETTERED = re.compile(r"<(?:text|tspan|title|desc)\b[^>]*>([^<]+)<")  # words of a drawing


@cache
def codes() -> frozenset[str]:
    """The codes of all rules."""
    book = load_book(load_practice())
    return frozenset((*(one.rule.code for one in book), *(rule.code for rule in PAPER_RULES)))


@cache
def answers(example: str) -> Mapping[str, bytes]:
    """The letters, forms and register of a worked example, with its submittals and requests where it has any."""
    project = REPO / "tests" / "stated" / example
    sheets, requests = (sorted((project / name).glob("*.yaml")) for name in ("submittals", "substitutions"))
    schedule = ["--schedule", project / "schedule.yaml"] if (project / "schedule.yaml").exists() else []
    with TemporaryDirectory() as folder:
        out = Path(folder)
        done = [run("letters", project, *sheets, "-o", out / "letters")]
        if schedule or LONG:
            done.append(run("register", project, *schedule, "-o", out / "register"))
        if sheets:
            done.append(run("review", project, *sheets, "-o", out / "review"))
        if requests:
            done.append(run("substitute", project, *requests, "-o", out / "substitute"))
        assert all(one.status in (0, 1, 3) for one in done), [one.err for one in done]
        return contents(out)


def papers(example: str) -> Mapping[str, bytes]:
    """Every paper for other people: the issue without its report, and what answers submittals and requests."""
    return {**written(example), **answers(example)}


def printed(files: Mapping[str, bytes]) -> Iterator[tuple[str, str]]:
    """Each line of the papers with the name of its file; of the manual without its Appendix A."""
    for name, content in files.items():
        if name.endswith(".docx"):
            lines = list(_word(content))
            if "project-manual" in name:
                first, last = (
                    max(
                        number for number, line in enumerate(lines) if line.startswith(f"Appendix {letter} –")
                    )
                    for letter in "AB"
                )
                lines = lines[:first] + lines[last:]
            yield from ((name, line) for line in lines)
        elif name.endswith(".xlsx"):
            yield from ((name, line) for line in _sheet(content))
        elif name.endswith(".svg"):
            yield from ((name, html.unescape(one)) for one in _LETTERED.findall(content.decode()))


def _word(content: bytes) -> Iterator[str]:
    with zipfile.ZipFile(io.BytesIO(content)) as package:
        for part in package.namelist():
            if re.fullmatch(r"word/(?:document|header\d*|footer\d*)\.xml", part):
                for one in re.findall(r"<w:p[ >].*?</w:p>", package.read(part).decode(), re.DOTALL):
                    yield html.unescape("".join(re.findall(r"<w:t(?: [^>]*)?>([^<]*)</w:t>", one)))


def _sheet(content: bytes) -> Iterator[str]:
    book = openpyxl.load_workbook(io.BytesIO(content), read_only=True)
    for sheet in book:
        if sheet.sheet_state == "visible":
            yield from (
                str(cell) for row in sheet.iter_rows(values_only=True) for cell in row if cell is not None
            )


def strange(example: str, lines: Iterator[tuple[str, str]]) -> Iterator[str]:
    """What stands on a paper and means nothing to its reader: rule codes, ids that are no words, marks of the file."""
    own = ids_that_are_no_words(example)
    no_words = re.compile(
        rf"(?<![\w-])(?:{'|'.join(map(re.escape, sorted(codes() | own)))})(?![\w-])", re.IGNORECASE
    )
    for name, line in lines:
        yield from (
            f"{name}: {found[0]!r} in {line!r}"
            for found in (no_words.search(line), NEVER.search(line))
            if found
        )


def ids_that_are_no_words(example: str) -> frozenset[str]:
    """The ids of a project's components that hold a word which no title of a role, kind or field has."""
    practice = load_practice()
    roles = practice.vocabulary.roles.values()
    titles = [
        title for role in roles for title in (role.name, role.title, *(f.title for f in role.fields.values()))
    ]
    titles += [kind.title for role in roles for kind in role.kinds.values()]
    known = set(re.findall(r"[\w-]+", " ".join(titles).lower()))
    project = load_project(REPO / "tests" / "stated" / example, practice)
    ids = {part.id for parapet in project.parapets for part in parapet.components()}
    return frozenset(one for one in ids if set(re.findall(r"[\w-]+", one.lower())) - known)
