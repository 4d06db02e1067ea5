"""The files of one issue: what each is called and what it holds."""

from __future__ import annotations

import json
import re
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, ClassVar

from specgen.assessment import Assessment
from specgen.design.run import everyday
from specgen.drawing.sheets import by_parapets
from specgen.field.papers import field_papers
from specgen.files.writing import OutputFolder
from specgen.model.document import Document, Volume
from specgen.model.plain import plain
from specgen.model.project import Project
from specgen.model.requirement import Requirement
from specgen.model.submission import ProductReview, Submission, SubmittalReview
from specgen.render.basis import basis_bytes
from specgen.render.drawings import drawings
from specgen.render.issues import add_record, drawing_hashes, read_record
from specgen.render.plain import in_plain_words, volume_in_plain_words
from specgen.render.word import fitting, volume_bytes, word_bytes
from specgen.render.word_template import Template
from specgen.render.workbook import workbook_bytes
from specgen.review import forms
from specgen.review.letter import review_letter
from specgen.review.package import Reviewed
from specgen.review.substitution import Substitution
from specgen.review.substitution_form import substitution_form
from specgen.sections.addendum import Addendum, compare
from specgen.sections.checklist import Checklist, ChecklistRow, checklist_document
from specgen.sections.checklist_sheet import checklist_workbook
from specgen.sections.clause import ClauseBook
from specgen.sections.issue import Issue, issue_of
from specgen.sections.manual import manual
from specgen.sections.trace import TracedParagraph
from specgen.sections.waivers import waiver_blocks
from specgen.sections.words import requirement_words
from specgen.specification import Specification

MANUAL = "project-manual"
CHECKLIST = "submittal-checklist"
TRACE = "trace.json"
BASIS = "basis-of-design.html"


def file_stem(number: str, title: str) -> str:
    """A file name that every system accepts.

    >>> file_stem("07 27 00", "Air and Water Barriers")
    '07-27-00-air-and-water-barriers'
    """
    return re.sub(r"[^a-z0-9]+", "-", f"{number} {title}".lower()).strip("-")[:80]


def json_bytes(found: object, *paths: str) -> bytes:
    """A record as JSON, the same bytes for the same data; each place in one of these files by the file's name alone."""
    return (json.dumps(_without_folders(plain(found), paths), indent=2, ensure_ascii=False) + "\n").encode()


def _without_folders(content: Any, paths: tuple[str, ...]) -> Any:
    """Plain data with each place in an input file named by the file alone: what is kept says nothing of a disk.

    >>> _without_folders({"key": "jobs/wall/project.yaml:4:9"}, ("jobs/wall/project.yaml",))
    {'key': 'project.yaml:4:9'}
    """
    if isinstance(content, dict):
        return {key: _without_folders(value, paths) for key, value in content.items()}
    if isinstance(content, list):
        return [_without_folders(value, paths) for value in content]
    if isinstance(content, str):
        for path in paths:
            if content == path or content.startswith(f"{path}:"):
                return Path(path).name + content[len(path) :]
    return content


def docx_bytes(document: Document, template: Template | None = None) -> bytes:
    """The Word file of a document; what it says about itself is cut to what the format allows."""
    return word_bytes(replace(document, properties=fitting(document.properties)), template)


def bound_bytes(volume: Volume, template: Template | None = None) -> bytes:
    """The Word file of a volume, under the same limits."""
    return volume_bytes(replace(volume, properties=fitting(volume.properties)), template)


def review_stem(number: str) -> str:
    """The name, without ending, of the letter for a submittal number.

    >>> review_stem("07 27 00-01")
    'review-07-27-00-01'
    """
    return "review-" + file_stem(number, "")


def add_issue(folder: OutputFolder, spec: Specification, template: Template | None = None) -> Addendum | None:
    """Add what ``specgen write`` makes: a Word file a section, all of them bound as the project manual, the
    checklist (Word, Excel, JSON), the trace of every number, the basis report, the drawings, the field papers, and
    what changed since an earlier issue in the folder.

    Returns:
        What changed; None where there is no earlier issue or nothing changed.
    """
    assessment, sections, rows = spec.assessment, spec.sections, spec.rows
    path, vocabulary = assessment.project.path, assessment.practice.vocabulary
    documents = _documents(spec)
    for name, document in documents.items():
        folder.add(name, docx_bytes(document, template))
    bound = volume_in_plain_words(manual(assessment, sections, spec.paragraphs), vocabulary)
    folder.add(f"{MANUAL}.docx", bound_bytes(bound, template))
    folder.add(f"{CHECKLIST}.json", json_bytes(Checklist(rows), path))
    folder.add(f"{CHECKLIST}.xlsx", workbook_bytes(checklist_workbook(rows, sections, assessment.project)))
    folder.add(TRACE, json_bytes(trace(spec), path))
    sheets = by_parapets(spec)
    folder.add(BASIS, basis_bytes(spec, everyday(), drawn=sheets))
    drawn = drawings([one for found in sheets.values() for one in found], assessment.project.title)
    for name, content in drawn.items():
        folder.add(name, content)
    issue = issue_of(assessment, documents, rows, drawing_hashes(drawn, assessment.project))
    return add_record(folder, read_record(folder.folder), issue, template)


def _documents(spec: Specification) -> dict[str, Document]:
    """The sections, the checklist and the field papers by the names of their files."""
    assessment, sections = spec.assessment, spec.sections
    found = {f"{file_stem(section.number, section.title)}.docx": section.document for section in sections}
    found[f"{CHECKLIST}.docx"] = checklist_document(
        spec.rows, sections, assessment.project, waiver_blocks(assessment)
    )
    found |= {f"field/{stem}.docx": paper for stem, paper in field_papers(spec).items()}
    return {
        name: in_plain_words(document, assessment.practice.vocabulary) for name, document in found.items()
    }


def changes_in(old: Issue, spec: Specification) -> Addendum:
    """What differs from an earlier issue in what would be written now."""
    project = spec.assessment.project
    drawn = drawings([one for found in by_parapets(spec).values() for one in found], project.title)
    new = issue_of(spec.assessment, _documents(spec), spec.rows, drawing_hashes(drawn, project))
    return compare(old, new)


def inputs_read(project: Project) -> dict[str, object]:
    """What the manifest says of the files read beside the project file: the weather file by name and hash."""
    weather = project.weather
    if weather is None:
        return {}
    return {"weather": {"file": Path(weather.path).name, "format": weather.format, "sha256": weather.sha256}}


def clauses_read(book: ClauseBook) -> dict[str, object]:
    """What the manifest says of clauses: how many ship with specgen, and each that comes from the office."""
    if not book.changes:
        return {}
    own = sum(one.what != "suppressed" for one in book.changes)
    total = sum(1 for section in book.sections for _ in section.clauses())
    office = _without_folders(plain(book.changes), tuple(one.mark.file for one in book.changes))
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


def add_review(
    folder: OutputFolder,
    assessment: Assessment,
    submission: Submission,
    reviews: tuple[ProductReview, ...],
    template: Template | None = None,
) -> tuple[str, Document]:
    """Add what ``specgen review`` makes of one submittal: the letter and its data. Returns the letter's name."""
    letter = in_plain_words(
        review_letter(
            assessment.project,
            submission,
            reviews,
            assessment.practice,
            waiver_blocks(assessment),
        ),
        assessment.practice.vocabulary,
    )
    stem = review_stem(submission.info.word("number") or "")
    folder.add(f"{stem}.docx", docx_bytes(letter, template))
    folder.add(
        f"{stem}.json",
        json_bytes(SubmittalReview.of(submission, reviews), submission.path, assessment.project.path),
    )
    return f"{stem}.docx", letter


def substitution_stem(number: str) -> str:
    """The name, without ending, of the form for a request number.

    >>> substitution_stem("S-1")
    'substitution-s-1'
    """
    return "substitution-" + file_stem(number, "")


def add_substitution(
    folder: OutputFolder,
    assessment: Assessment,
    one: Substitution,
    template: Template | None = None,
) -> str:
    """Add what ``specgen substitute`` makes of one request: the form and its data. Returns the form's name."""
    stem = substitution_stem(one.request.number)
    form = in_plain_words(substitution_form(one, assessment), assessment.practice.vocabulary)
    folder.add(f"{stem}.docx", docx_bytes(form, template))
    folder.add(f"{stem}.json", json_bytes(one, one.request.path, assessment.project.path))
    return f"{stem}.docx"


def add_letters(
    folder: OutputFolder,
    assessment: Assessment,
    reviewed: tuple[Reviewed, ...],
    template: Template | None = None,
) -> tuple[str, ...]:
    """Add what ``specgen letters`` makes. Returns the names of the files."""
    letters = {
        "request-for-information": forms.request_for_information(assessment),
        "deficiency-list": forms.deficiency_list(assessment, reviewed),
    }
    for pair, letter in forms.compatibility_letters(assessment).items():
        letters[file_stem("compatibility", pair)] = letter
    if reviewed:
        letters["transmittal"] = forms.transmittal(assessment.project, reviewed)
    for stem, letter in letters.items():
        read = in_plain_words(letter, assessment.practice.vocabulary)
        folder.add(f"{stem}.docx", docx_bytes(read, template))
    return tuple(f"{stem}.docx" for stem in letters)
