"""Where every printed number comes from: paragraph, requirement or practice key, origin, source."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from specgen.model.document import Para, Span
from specgen.model.project import Project
from specgen.model.requirement import Origin, Requirement
from specgen.model.source import Status
from specgen.practice.entries import Practice
from specgen.sections.lines import SectionError, SectionLine
from specgen.sections.numbers import numbers_in
from specgen.sections.words import requirement_words


@dataclass(frozen=True)
class TracedNumber:
    """One printed number with its origin. ``by`` is a requirement id or a practice key."""

    number: str  # as printed
    by: str
    origin: Origin
    because: str = ""


@dataclass(frozen=True)
class TracedParagraph:
    """One printed paragraph (or checklist row) and the origin of each number in it."""

    place: str  # "07 71 00 2.2.A.3"
    key: str
    requirements: tuple[str, ...]
    numbers: tuple[TracedNumber, ...]


def of_requirement(requirement: Requirement, practice: Practice, system: str) -> Iterator[TracedNumber]:
    """The numbers by which a requirement is printed."""
    for number in numbers_in(requirement_words(requirement, practice, system)):
        yield TracedNumber(number, requirement.id, requirement.origin, requirement.because)


def _of_practice(key: str, printed: str, practice: Practice) -> Iterator[TracedNumber]:
    source = practice.source(key)
    kind: Literal["choice", "practice"] = "choice" if source.status is Status.CHOICE else "practice"
    for number in numbers_in(printed):
        yield TracedNumber(number, key, Origin(kind, key, source))


def traced(
    words: str, origins: Iterable[TracedNumber], names: Iterable[str], place: str
) -> tuple[TracedNumber, ...]:
    """Each number of a text with its origin.

    Raises:
        SectionError: a number has no origin.
    """
    known: dict[str, TracedNumber] = {}
    for origin in origins:
        known.setdefault(origin.number, origin)
    out = []
    for number in numbers_in(words, names):
        if number not in known:
            raise SectionError(f"{place}: the number {number!r} in {words!r} has no origin")
        out.append(known[number])
    return tuple(out)


def trace_section(
    section: str,
    lines: tuple[SectionLine, ...],
    paras: tuple[Para, ...],
    numbers: Mapping[str, str],
    project: Project,
    practice: Practice,
) -> tuple[TracedParagraph, ...]:
    """The trace of a section, one entry a numbered paragraph.

    Raises:
        SectionError: a number has no origin.
    """
    names = project.numbered_names
    system = project.system
    out = []
    for line, para in zip(lines, paras, strict=True):
        place = f"{section} {numbers[line.key]}"
        words = " ".join(part.text for part in para.content if isinstance(part, Span))
        origins = [one for key, printed in line.printed for one in _of_practice(key, printed, practice)]
        if line.requirement is not None:
            origins = [*of_requirement(line.requirement, practice, system), *origins]
        if line.origin is not None:
            key = line.origin.key
            origins = [TracedNumber(number, key, line.origin) for number in numbers_in(words, names)]
        found = traced(words, origins, names, place)
        out.append(TracedParagraph(place, line.key, para.requirements, found))
    return tuple(out)
