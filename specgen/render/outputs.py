"""The files of one issue: what each is called and what it holds."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property, partial
from typing import ClassVar

from specgen.design.progress import in_turn
from specgen.design.run import reported
from specgen.drawing.shapes import Drawing
from specgen.drawing.sheets import by_parapets
from specgen.field.papers import field_papers
from specgen.files.writing import OutputFolder
from specgen.model.accepted import Acceptance
from specgen.model.comment import Comment
from specgen.model.document import Document
from specgen.model.plain import plain
from specgen.model.project import Project
from specgen.model.requirement import Requirement
from specgen.render.basis import basis_bytes
from specgen.render.drawings import drawing_files, named_sheets
from specgen.render.files import bound_bytes, docx_bytes, file_stem, json_bytes, without_folders
from specgen.render.issues import Record, add_record, drawing_hashes
from specgen.render.pdf_document import document_pdf
from specgen.render.plain import in_plain_words, volume_in_plain_words
from specgen.render.word_template import Template
from specgen.render.workbook import workbook_bytes
from specgen.sections.addendum import Addendum, NotFollowed, compare
from specgen.sections.checklist import Checklist, ChecklistRow, checklist_document
from specgen.sections.checklist_sheet import checklist_workbook
from specgen.sections.clause import ClauseBook
from specgen.sections.inputs import accepted_inputs
from specgen.sections.issue import Issue, issue_of
from specgen.sections.manual import manual
from specgen.sections.trace import TracedParagraph
from specgen.sections.waivers import waiver_blocks
from specgen.sections.words import joined, requirement_words
from specgen.specification import Specification
from specgen.wall.place import part_of

MANUAL = "project-manual"
CHECKLIST = "submittal-checklist"
TRACE = "trace.json"
BASIS = "basis-of-design.html"


def add_issue(
    folder: OutputFolder,
    spec: Specification,
    record: Record,
    template: Template | None = None,
    accepted: tuple[Acceptance, ...] = (),
    not_followed: tuple[NotFollowed, ...] = (),
    comments: tuple[Comment, ...] = (),
    pdf: bool = False,
) -> Addendum | None:
    """Add what ``specgen write`` makes: a Word file a section, all of them bound as the project manual, the
    checklist (Word, Excel, JSON), the trace of every number, the basis report, the drawings, the field papers, and
    what changed since the earlier issue in the folder, as its record says; with ``pdf`` each Word file but the bound
    one as PDF too.

    Returns:
        What changed; None where there is no earlier issue or nothing changed.
    """
    papers = Papers(spec, template, lambda: comments, pdf=pdf)
    contents = {name: papers.content(name) for name in in_turn(papers.names)}
    for name, content in contents.items():
        folder.add(name, content)
    issue = _issue(papers, contents)
    issue = replace(issue, inputs=(*issue.inputs, *accepted_inputs(accepted)))
    return add_record(folder, record, issue, template, absent(spec), not_followed)


class Papers:
    """Every paper of an issue but its record and its addendum, each made when it is asked for."""

    def __init__(
        self,
        spec: Specification,
        template: Template | None = None,
        comments: Callable[[], tuple[Comment, ...]] = tuple,
        *,
        pdf: bool = False,
    ) -> None:
        """Prepare the papers of an issue.

        Args:
            spec: the project as written.
            template: the office's own look.
            comments: reads those that the basis report shows, when it is made.
            pdf: whether the documents are papers as PDF too, which needs the extra.
        """
        self.spec, self._template, self._comments = spec, template, comments
        self._pdf = pdf

    @property
    def names(self) -> tuple[str, ...]:
        """The names of the files, in the order in which an issue lists them; the sheets are drawn for it."""
        return (*self._written, *self._drawn)

    @property
    def written(self) -> tuple[str, ...]:
        """The names of the files that are no drawings."""
        return tuple(self._written)

    def content(self, name: str) -> bytes:
        """The bytes of one of them.

        Raises:
            KeyError: the issue has no such paper.
        """
        return (self._written[name] if name in self._written else self._drawn[name])()

    @cached_property
    def documents(self) -> Mapping[str, Document]:
        """The sections, the checklist and the field papers by the names of their Word files."""
        return documents(self.spec)

    @cached_property
    def sheets(self) -> Mapping[str, tuple[Drawing, ...]]:
        """The drawings by parapet."""
        return by_parapets(self.spec)

    @cached_property
    def drawings(self) -> Mapping[str, Drawing]:
        """The drawings by the names of their SVG files."""
        return {f"{stem}.svg": one for stem, one in named_sheets(self._every_sheet).items()}

    @property
    def _every_sheet(self) -> list[Drawing]:
        return [one for found in self.sheets.values() for one in found]

    @cached_property
    def _drawn(self) -> Mapping[str, Callable[[], bytes]]:
        project = self.spec.assessment.project
        return drawing_files(self._every_sheet, project.title, project.author)

    @cached_property
    def _written(self) -> Mapping[str, Callable[[], bytes]]:
        spec, one, path = self.spec, self.spec.assessment, self.spec.assessment.project.path
        makers: dict[str, Callable[[], bytes]] = {
            name: partial(docx_bytes, document, self._template) for name, document in self.documents.items()
        }
        if self._pdf:
            makers |= {
                f"{name.removesuffix('.docx')}.pdf": partial(document_pdf, document, self._template)
                for name, document in self.documents.items()
            }
        makers[f"{MANUAL}.docx"] = self._manual
        makers[f"{CHECKLIST}.json"] = lambda: json_bytes(Checklist(spec.rows), path)
        makers[f"{CHECKLIST}.xlsx"] = lambda: workbook_bytes(
            checklist_workbook(spec.rows, spec.sections, one.project)
        )
        makers[TRACE] = lambda: json_bytes(trace(spec), path)
        makers[BASIS] = self._basis
        return makers

    def _manual(self) -> bytes:
        spec, one = self.spec, self.spec.assessment
        bound = volume_in_plain_words(manual(one, spec.sections, spec.paragraphs), one.paper_words())
        return bound_bytes(bound, self._template)

    def _basis(self) -> bytes:
        subjects = reported(self.spec.assessment.project)
        return basis_bytes(self.spec, subjects, drawn=self.sheets, comments=self._comments())


def absent(spec: Specification) -> dict[str, str]:
    """Why the project has no section of a number, where that can be told: no parapet has what it covers."""
    made, parapets = {one.number for one in spec.sections}, spec.assessment.project.parapets
    roles = spec.assessment.practice.vocabulary.roles
    found = {}
    for one in spec.clauses.sections:
        if one.number in made:
            continue
        none = [role for role in one.roles if not any(part_of(parapet, role) for parapet in parapets)]
        if none and none[0] == one.roles[0]:  # the first is what a section is about
            found[one.number] = f"no parapet has {joined((roles[role].title for role in none), 'or')}"
    return found


def documents(spec: Specification) -> dict[str, Document]:
    """The sections, the checklist and the field papers by the names of their files."""
    assessment, sections = spec.assessment, spec.sections
    found = {f"{file_stem(section.number, section.title)}.docx": section.document for section in sections}
    found[f"{CHECKLIST}.docx"] = checklist_document(
        spec.rows, sections, assessment.project, waiver_blocks(assessment)
    )
    found |= {f"field/{stem}.docx": paper for stem, paper in field_papers(spec).items()}
    plain = assessment.paper_words()
    return {name: in_plain_words(document, plain) for name, document in found.items()}


def changes_in(old: Issue, spec: Specification) -> Addendum:
    """What differs from an earlier issue in what would be written now."""
    papers = Papers(spec)
    return compare(
        old, _issue(papers, {name: papers.content(name) for name in papers.drawings}), absent(spec)
    )


def _issue(papers: Papers, contents: Mapping[str, bytes]) -> Issue:
    """The record of an issue, of its documents and of the drawings among its contents."""
    spec = papers.spec
    drawn = {name: contents[name] for name in papers.drawings}
    hashes = drawing_hashes(drawn, spec.assessment.project)
    owners = [parapet for parapet, found in papers.sheets.items() for _ in found]
    of_parapet = dict(zip(hashes, owners, strict=True))
    return issue_of(spec.assessment, papers.documents, spec.rows, hashes, spec.clauses, of_parapet)


def inputs_read(project: Project) -> dict[str, object]:
    """What the manifest says of the files read beside the project file: the weather files by name and hash."""
    weather = project.weather
    if weather is None:
        return {}
    first, *further = (
        {"file": one.name, "format": one.format, "sha256": one.sha256} for one in (weather, *weather.further)
    )
    return {"weather": first, **({"weather_years": further} if further else {})}


def clauses_read(book: ClauseBook) -> dict[str, object]:
    """What the manifest says of clauses: how many ship with specgen, and each that comes from the office."""
    if not book.changes:
        return {}
    own = sum(one.what != "suppressed" for one in book.changes)
    total = sum(1 for section in book.sections for _ in section.clauses())
    office = without_folders(plain(book.changes), tuple(one.mark.file for one in book.changes))
    return {"clauses": {"shipped": total - own, "office": office}}


@dataclass(frozen=True)
class TracedRequirement:
    """A requirement with its limit as printed and the paragraph that states it."""

    requirement: Requirement
    limit: str
    section: str
    paragraph: str  # "" where no section states it
    SPREAD_PLAIN: ClassVar = ("requirement",)


@dataclass(frozen=True)
class TracedSection:
    """The paragraphs of one section with their numbers."""

    section: str
    title: str
    paragraphs: tuple[TracedParagraph, ...]


@dataclass(frozen=True)
class Trace:
    """Every number of the documents with the requirement or practice value it comes from, and its source."""

    project: str
    requirements: tuple[TracedRequirement, ...]
    sections: tuple[TracedSection, ...]
    checklist: tuple[ChecklistRow, ...]


def trace(spec: Specification) -> Trace:
    """The trace of an issue."""
    one, where = spec.assessment, spec.paragraphs
    return Trace(
        one.project.title,
        tuple(
            TracedRequirement(
                asked,
                requirement_words(asked, one.practice, one.system),
                where[asked.id].section if asked.id in where else asked.section,
                where[asked.id].number if asked.id in where else "",
            )
            for asked in one.requirements.by_id.values()
        ),
        tuple(TracedSection(each.number, each.title, each.trace) for each in spec.sections),
        spec.rows,
    )
