"""The files of one issue: what each is called and what it holds."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from specgen.assessment import Assessment
from specgen.design.run import everyday
from specgen.drawing.sheets import by_parapets
from specgen.field.papers import field_papers
from specgen.files.writing import OutputFolder
from specgen.model.document import Document, Volume
from specgen.model.project import Project
from specgen.model.submission import ProductReview, Submission
from specgen.render.basis import basis_bytes
from specgen.render.drawings import drawings
from specgen.render.issues import add_record, drawing_hashes, read_record
from specgen.render.plain import in_plain_words, volume_in_plain_words
from specgen.render.word import fitting, volume_bytes, word_bytes
from specgen.render.word_template import Template
from specgen.render.workbook import workbook_bytes
from specgen.review import forms
from specgen.review.letter import review_json, review_letter
from specgen.review.package import Reviewed
from specgen.review.substitution import Substitution
from specgen.review.substitution_form import substitution_form, substitution_json
from specgen.review.wall import Combination
from specgen.sections.addendum import Addendum, compare
from specgen.sections.checklist import checklist_document, checklist_json
from specgen.sections.checklist_sheet import checklist_workbook
from specgen.sections.issue import Issue, issue_of
from specgen.sections.manual import manual
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


def json_bytes(content: Mapping[str, Any]) -> bytes:
    """Plain data as JSON, the same bytes for the same data."""
    return (json.dumps(content, indent=2, ensure_ascii=False) + "\n").encode()


def without_folder(content: Any, path: str) -> Any:
    """Plain data with each place in an input file named by the file alone: what is kept says nothing of a disk.

    >>> without_folder({"key": "jobs/wall/project.yaml:4:9"}, "jobs/wall/project.yaml")
    {'key': 'project.yaml:4:9'}
    """
    if isinstance(content, Mapping):
        return {key: without_folder(value, path) for key, value in content.items()}
    if isinstance(content, list | tuple):
        return [without_folder(value, path) for value in content]
    if isinstance(content, str) and (content == path or content.startswith(f"{path}:")):
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
    folder.add(f"{CHECKLIST}.json", json_bytes(without_folder({"rows": checklist_json(rows)}, path)))
    folder.add(f"{CHECKLIST}.xlsx", workbook_bytes(checklist_workbook(rows, sections, assessment.project)))
    folder.add(TRACE, json_bytes(without_folder(trace_json(spec), path)))
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


def trace_json(spec: Specification) -> dict[str, Any]:
    """Every number of the documents with the requirement or practice value it comes from, and its source."""
    assessment, where = spec.assessment, spec.paragraphs
    return {
        "project": assessment.project.title,
        "requirements": [
            {
                "id": one.id,
                "title": one.title,
                "limit": requirement_words(one, assessment.practice, assessment.system),
                "section": where[one.id].section if one.id in where else one.section,
                "paragraph": where[one.id].number if one.id in where else "",
                "set_by": {"kind": one.origin.kind, "key": one.origin.key},
                "asked_for_by": one.because,
                "weighed": [weighing.as_json() for weighing in one.weighings],
                "source": one.origin.source.as_json(),
                "reason": one.reason,
                "parapets": list(one.parapets),
            }
            for one in assessment.requirements.by_id.values()
        ],
        "sections": [
            {
                "section": section.number,
                "title": section.title,
                "paragraphs": [paragraph.as_json() for paragraph in section.trace],
            }
            for section in spec.sections
        ],
        "checklist": checklist_json(spec.rows),
    }


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
            assessment.system,
            waiver_blocks(assessment),
        ),
        assessment.practice.vocabulary,
    )
    stem = review_stem(submission.info.word("number") or "")
    folder.add(f"{stem}.docx", docx_bytes(letter, template))
    content = review_json(submission, reviews, assessment.practice, assessment.system)
    for path in (submission.path, assessment.project.path):
        content = without_folder(content, path)
    folder.add(f"{stem}.json", json_bytes(content))
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
    combinations: tuple[Combination, ...],
    template: Template | None = None,
) -> str:
    """Add what ``specgen substitute`` makes of one request: the form and its data. Returns the form's name."""
    stem = substitution_stem(one.request.number)
    form = in_plain_words(substitution_form(one, assessment, combinations), assessment.practice.vocabulary)
    folder.add(f"{stem}.docx", docx_bytes(form, template))
    content: Any = substitution_json(one, assessment, combinations)
    for path in (one.request.path, assessment.project.path):
        content = without_folder(content, path)
    folder.add(f"{stem}.json", json_bytes(content))
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
        plain = in_plain_words(letter, assessment.practice.vocabulary)
        folder.add(f"{stem}.docx", docx_bytes(plain, template))
    return tuple(f"{stem}.docx" for stem in letters)
