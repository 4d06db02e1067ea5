"""What one issue said, kept as plain data, so that the next issue can tell what changed and why.

The record holds the documents block by block with their keys, the checklist rows, each requirement with the input
values it rests on, the input values with their places, and a hash of each drawing.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from specgen.assessment import Assessment
from specgen.files.marks import Mark
from specgen.model.document import (
    Block,
    CellLink,
    CrossRef,
    Document,
    Inline,
    Para,
    Properties,
    Span,
    Style,
    Table,
)
from specgen.model.finding import QUIET, Finding, Outcome, Severity
from specgen.model.plain import plain
from specgen.model.requirement import Requirement
from specgen.sections.checklist import ChecklistRow
from specgen.sections.clause import ClauseBook
from specgen.sections.conditions import conditions, shown
from specgen.sections.inputs import InputValue, inputs
from specgen.sections.words import requirement_words

FORMAT = 1
RECORDED = (
    "code",
    "name",
    "severity",
    "outcome",
    "message",
    "mark",
    "parapet",
    "layer",
    "attribute",
    "answer",
)
_PLACE = re.compile(r"([^/\\]+:\d+:\d+)")


@dataclass(frozen=True)
class IssueName:
    """By what an office tells one issue from another."""

    date: str
    state: str


@dataclass(frozen=True)
class Issue:
    """What one issue said."""

    project: str
    date: str
    state: str
    inputs: tuple[InputValue, ...]
    documents: Mapping[str, Document]  # by file name
    requirements: Mapping[
        str, tuple[str, tuple[str, ...]]
    ]  # id → limit in words, names of the inputs behind it
    rows: Mapping[str, str]  # checklist number → what it asks for
    drawings: Mapping[str, str]  # file name → hash
    conditions: Mapping[str, tuple[str, ...]]  # section, clause, requirement, drawing → inputs it stands on
    findings: tuple[Finding, ...] | None = (
        None  # that somebody must act on or has accepted; None: not recorded
    )

    @property
    def about(self) -> Properties:
        """What its documents say about themselves: whose it is, and on what paper."""
        nothing = Properties("", "", self.project, self.date, self.state)
        return next((one.properties for one in self.documents.values()), nothing)

    @property
    def name(self) -> IssueName:
        """By what an office tells it from another."""
        return IssueName(self.date, self.state)


def issue_of(
    assessment: Assessment,
    documents: Mapping[str, Document],
    rows: Iterable[ChecklistRow],
    drawings: Mapping[str, str],
    book: ClauseBook,
    of_parapet: Mapping[str, str],
) -> Issue:
    """The issue that is about to be written.

    Args:
        assessment: the project as assessed.
        documents: by file name.
        rows: of the checklist.
        drawings: hashes by file name.
        book: the clauses of the sections, with their conditions.
        of_parapet: the parapet of a drawing, by file name.
    """
    project = assessment.project
    values = tuple(inputs(project))
    by_place: dict[str, list[str]] = {}
    for one in values:
        by_place.setdefault(one.place, []).append(one.name)
    return Issue(
        project=project.title,
        date=project.issued,
        state=project.state.lower(),
        inputs=values,
        documents=documents,
        requirements={
            one.id: (
                requirement_words(one, assessment.practice, assessment.system),
                tuple(
                    dict.fromkeys(
                        name for place in _places(one, assessment) for name in by_place.get(place, ())
                    )
                ),
            )
            for one in assessment.requirements.by_id.values()
        },
        rows={
            row.number: f"{row.section} {row.paragraph}: {row.item}: {row.required}. {row.evidence}"
            for row in rows
        },
        drawings=drawings,
        conditions=conditions(assessment, book, {one.name for one in values})
        | {name: shown(values, parapet) for name, parapet in of_parapet.items()},
        findings=tuple(
            replace(one, mark=replace(one.mark, file=Path(one.mark.file).name))
            for one in assessment.findings
            if one.outcome not in QUIET
        ),
    )


def _places(requirement: Requirement, assessment: Assessment) -> Iterator[str]:
    """The places of the input file on which a requirement's limit rests."""
    if requirement.origin.kind == "choice":
        yield _short(requirement.origin.key)
    subjects = {requirement.because}
    if requirement.origin.kind == "calculation":
        subjects.add(requirement.origin.key.rpartition(".")[0])
    for parapet in requirement.parapets:
        if parapet not in assessment.calculations:
            continue
        made = assessment.calculations[parapet]
        for subject in sorted(subjects & set(made)):
            for calculation in made.behind(subject):
                yield from (_short(line.source) for line in calculation.inputs)


def _short(place: str) -> str:
    """``jobs/a b/project.yaml:4:9`` as ``project.yaml:4:9``; "" for what is no place in a file."""
    found = _PLACE.search(place)
    return found[1] if found else ""


def issue_json(issue: Issue) -> dict[str, Any]:
    """The record as plain data; conditions name an input value by its place in the list of them."""
    place = {one.name: number for number, one in enumerate(issue.inputs)}
    return {
        "project": issue.project,
        "date": issue.date,
        "state": issue.state,
        "inputs": [[one.name, one.value, one.place] for one in issue.inputs],
        "requirements": {
            name: {"limit": limit, "rests_on": list(names)}
            for name, (limit, names) in issue.requirements.items()
        },
        "rows": dict(issue.rows),
        "drawings": dict(issue.drawings),
        "conditions": {key: [place[name] for name in names] for key, names in issue.conditions.items()},
        "documents": {name: document_json(one) for name, one in issue.documents.items()},
        "findings": None
        if issue.findings is None
        else [{name: plain(getattr(one, name)) for name in RECORDED} for one in issue.findings],
    }


def issue_from(data: Mapping[str, Any]) -> Issue:
    """The record read back.

    Raises:
        LookupError, TypeError, ValueError: it is not one.
    """
    return Issue(
        project=str(data["project"]),
        date=str(data["date"]),
        state=str(data["state"]),
        inputs=tuple(InputValue(str(name), str(value), str(place)) for name, value, place in data["inputs"]),
        documents={str(name): document_from(one) for name, one in data["documents"].items()},
        requirements={
            str(name): (str(one["limit"]), tuple(str(word) for word in one["rests_on"]))
            for name, one in data["requirements"].items()
        },
        rows={str(name): str(words) for name, words in data["rows"].items()},
        drawings={str(name): str(words) for name, words in data["drawings"].items()},
        conditions={
            str(key): tuple(str(data["inputs"][int(place)][0]) for place in places)
            for key, places in data.get("conditions", {}).items()
        },
        findings=None if data.get("findings") is None else tuple(map(_finding_from, data["findings"])),
    )


def _finding_from(data: Mapping[str, Any]) -> Finding:
    """A finding as far as it is recorded."""
    kept: dict[str, Any] = {name: str(data[name]) for name in RECORDED}
    mark = data["mark"]
    kept["mark"] = Mark(str(mark["file"]), int(mark["line"]), int(mark["column"]))
    kept |= {"severity": Severity(data["severity"]), "outcome": Outcome(data["outcome"])}
    return Finding(**kept, reason="", remedy="", sources=())


def document_json(document: Document) -> dict[str, Any]:
    """A document as plain data; pictures are left out, their files are kept by themselves."""
    properties = document.properties
    return {
        "title": properties.title,
        "subject": properties.subject,
        "project": properties.project,
        "date": properties.issue_date,
        "state": properties.state,
        "margins": [document.header_left, document.header_right, document.footer_left, document.page_prefix],
        "landscape": document.landscape,
        "blocks": [_block_json(one) for one in document.blocks if isinstance(one, Para | Table)],
    }


def _block_json(block: Para | Table) -> dict[str, Any]:
    if isinstance(block, Table):
        return {
            "table": [list(block.header), *(list(row) for row in block.rows)],
            "widths": list(block.widths),
            "caption": block.caption,
            "links": [[link.row, link.column, link.key] for link in block.links],
        }
    content = [
        {"reference": part.key, "number": part.text}
        if isinstance(part, CrossRef)
        else (part.text if part.emphasis == "none" else {part.emphasis: part.text})
        for part in block.content
    ]
    out: dict[str, Any] = {"style": block.style.value, "content": content}
    if block.key:
        out["key"] = block.key
    if block.requirements:
        out["requirements"] = list(block.requirements)
    if block.sources:
        out["sources"] = list(block.sources)
    return out


def document_from(data: Mapping[str, Any]) -> Document:
    """A document read back.

    Raises:
        KeyError, TypeError, ValueError: it is not one.
    """
    left, right, foot, prefix = (str(words) for words in data["margins"])
    title, subject, project, date, state = (
        str(data[name]) for name in ("title", "subject", "project", "date", "state")
    )
    properties = Properties(title, subject, project, date, state)
    blocks = tuple(_block_from(one) for one in data["blocks"])
    return Document(properties, left, right, foot, prefix, blocks, bool(data["landscape"]))


def _block_from(data: Mapping[str, Any]) -> Block:
    if "table" in data:
        header, *rows = (tuple(str(cell) for cell in row) for row in data["table"])
        links = tuple(CellLink(int(row), int(column), str(key)) for row, column, key in data["links"])
        widths = tuple(float(width) for width in data["widths"])
        return Table(header, tuple(rows), widths, str(data["caption"]), (), links)
    return Para(
        style=Style(data["style"]),
        content=tuple(_inline_from(one) for one in data["content"]),
        key=str(data.get("key", "")),
        requirements=tuple(str(one) for one in data.get("requirements", ())),
        sources=tuple(str(one) for one in data.get("sources", ())),
    )


def _inline_from(data: Any) -> Inline:
    if isinstance(data, str):
        return Span(data)
    if "reference" in data:
        return CrossRef(str(data["reference"]), str(data["number"]))
    emphasis = "strong" if "strong" in data else "soft"
    return Span(str(data[emphasis]), "strong" if emphasis == "strong" else "soft")
