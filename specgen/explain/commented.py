"""Comments beside what they are about: the finding, paragraph or value as it is now, or that it is gone."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import ClassVar

from specgen.model.comment import About, Comment
from specgen.model.document import numbered
from specgen.model.project import Component, Project, Record, Transition
from specgen.rules.hold import words
from specgen.specification import Specification
from specgen.wall.differing import SECTIONS, records_at

GONE = {
    "finding": "no rule finds this any more",
    "paragraph": "no section prints this paragraph any more",
    "value": "the project file has no such part any more",
}


@dataclass(frozen=True)
class Object:
    """What comments are about, as it is now."""

    where: str  # "Section 07 71 00, 2.2.A.3", "CP02 drip, parapet P-1"
    now: str  # the words that stand there now; "" where it is gone
    gone: str  # why nothing stands there; "" where something does


@dataclass(frozen=True)
class Commented:
    """A comment with what it is about, as that is now."""

    comment: Comment
    object: Object
    SPREAD_PLAIN: ClassVar = ("comment", "object")

    @property
    def open(self) -> bool:
        """Whether it waits for an answer."""
        return not self.comment.answered


def commented(spec: Specification, comments: Iterable[Comment]) -> tuple[Commented, ...]:
    """Each comment with its object, those that wait for an answer first, each kind in the order of the file.

    Args:
        spec: the project as written.
        comments: on it.
    """
    found = [Commented(one, object_of(spec, one.about)) for one in comments]
    return tuple(sorted(found, key=lambda one: not one.open))


def object_of(spec: Specification, about: About) -> Object:
    """What a comment is about, as it is now; also where nothing of it stands any more."""
    read = {"finding": _finding, "paragraph": _paragraph, "value": _value}[about.kind]
    where, now = read(spec, about)
    return Object(where, now, "" if now else GONE[about.kind])


def open_counts(comments: Iterable[Comment]) -> Mapping[About, int]:
    """How many comments wait for an answer, by what they are about."""
    counts: dict[About, int] = {}
    for one in comments:
        if not one.answered:
            counts[one.about] = counts.get(one.about, 0) + 1
    return counts


def _finding(spec: Specification, about: About) -> tuple[str, str]:
    """The finding as it is shown now; one that is met, or left to the sections, is none."""
    for one in spec.assessment.findings:
        same = one.code == about.finding and about.parapet in ("", one.parapet)
        if same and about.layer in ("", one.layer) and one.shown:
            at = f", parapet {about.parapet}" if about.parapet else ""
            return f"{one.code} {one.name}{at}", one.message
    return about.words, ""


def _paragraph(spec: Specification, about: About) -> tuple[str, str]:
    for section in spec.sections:
        if section.number == about.section:
            for one in numbered(section.document.blocks):
                if one.para.key == about.paragraph:
                    return f"Section {section.number}, {one.number}", one.para.text
    return about.words, ""


def _value(spec: Specification, about: About) -> tuple[str, str]:
    """The value as it stands; one that nobody states stands as well, as long as its part does."""
    record = _record(spec.assessment.project, about)
    if record is None:
        return about.words, ""
    vocabulary = spec.assessment.practice.vocabulary
    fields = vocabulary.roles[record.what].fields if record.what in vocabulary.roles else {}
    fields = fields or (vocabulary.records[record.what].fields if record.what in vocabulary.records else {})
    title = fields[about.value].title if about.value in fields else about.value.replace("_", " ")
    at = f", parapet {about.parapet}" if about.parapet else ""
    return f"{about.of or 'parapet'}: {title}{at}", _stated(record, about.value)


def _stated(record: Record, name: str) -> str:
    """The value in words, or how it stands without one."""
    if name == "kind" and isinstance(record, Component):
        return record.kind
    if name in record.unknown:
        return "unknown"
    if name in record.inapplicable:
        return f"does not apply: {record.inapplicable[name]}"
    return words(record.written[name]) if name in record.written else "not stated"


def _record(project: Project, about: About) -> Record | None:
    """What the value is of, as the project has it now."""
    if not about.parapet:
        return next(
            (one for one in (getattr(project, name) for name in SECTIONS) if one.what == about.of), None
        )
    wall = next((one for one in project.parapets if one.name == about.parapet), None)
    if wall is None or not about.of:
        return wall
    return next((one for at, one in records_at(wall) if one is not wall and _name(at, one) == about.of), None)


def _name(at: str, record: Record) -> str:
    """By what a record of a parapet is known: its id, its lap, its name, or its number in its list."""
    match record:
        case Component():
            return record.id
        case Transition():
            return f"{record.first} / {record.second}"
        case _:
            return record.word("name") or at.removesuffix(".values").rpartition(" ")[2]
