"""Where each number of a section comes from: value, source, line of the project file, calculation, findings."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cached_property

from specgen.model.finding import Finding
from specgen.model.folded import FoldedFinding, folded
from specgen.model.requirement import Origin, OriginKind, Requirement
from specgen.model.source import Source, Status
from specgen.sections.build import SectionText
from specgen.sections.trace import TracedNumber, TracedParagraph
from specgen.sections.words import calculation_words, capital, requirement_words
from specgen.specification import Specification

SourceLine = Callable[[int], str]  # the number of a line of the project file to the words that stand there


@dataclass(frozen=True)
class ProjectLine:
    """A line of the project file that set a number."""

    number: int
    words: str


@dataclass(frozen=True)
class OriginRow:
    """One source of a paragraph, with every number of the paragraph that it gives."""

    numbers: tuple[str, ...]  # as printed; none where the requirement is in words
    what: str  # "Coping: metal thickness", "least hem of the exterior face"
    kind: OriginKind
    key: str  # id of the requirement, or practice key
    source: Source
    line: ProjectLine | None = None
    calculation: str = ""  # its subject, where one set the number or asks for it
    basis: str = ""  # that calculation as the sections name it
    parapets: tuple[str, ...] = ()  # where the requirement holds


@dataclass(frozen=True)
class ParagraphOrigins:
    """What stands behind one paragraph."""

    key: str  # of the paragraph
    limit: str  # of the requirement, in words; "" where the paragraph states none
    reason: str
    rows: tuple[OriginRow, ...]
    findings: tuple[FoldedFinding, ...] = ()  # that hold the wall against its requirement and are shown


@dataclass(frozen=True)
class _Reader:
    spec: Specification
    source_line: SourceLine

    def paragraph(self, traced: TracedParagraph) -> ParagraphOrigins | None:
        """What stands behind a paragraph; None where it prints neither a number nor a requirement."""
        one = self.spec.assessment
        by_id = one.requirements.by_id
        asked = [by_id[name] for name in traced.requirements if name in by_id]
        rows = [self._of_requirement(each, traced.numbers) for each in asked]
        others = [each for each in traced.numbers if each.by not in traced.requirements]
        rows += [self._of_value(key, others) for key in dict.fromkeys(each.by for each in others)]
        if not rows:
            return None
        limits = (requirement_words(each, one.practice, one.system) for each in asked)
        return ParagraphOrigins(
            traced.key,
            "; ".join(limits),
            " ".join(each.reason for each in asked),
            tuple(rows),
            folded(each for name in traced.requirements for each in self._held.get(name, ())),
        )

    @cached_property
    def _held(self) -> Mapping[str, list[Finding]]:
        """The findings that are shown, by the requirement that the wall is held against."""
        found: dict[str, list[Finding]] = {}
        for one in self.spec.assessment.findings:
            if one.shown and one.requirement:
                found.setdefault(one.requirement, []).append(one)
        return found

    def _of_requirement(self, asked: Requirement, numbers: tuple[TracedNumber, ...]) -> OriginRow:
        role = self.spec.assessment.practice.vocabulary.roles[asked.role].title
        because = asked.because.removeprefix("calculation ")
        set_by = asked.origin.key if asked.origin.kind == "calculation" else because
        return OriginRow(
            tuple(dict.fromkeys(one.number for one in numbers if one.by == asked.id)),
            f"{capital(role)}: {asked.title}",
            asked.origin.kind,
            asked.id,
            asked.origin.source,
            self._line(asked.origin),
            set_by.rpartition(".")[0],
            calculation_words(asked),
            asked.parapets,
        )

    def _of_value(self, key: str, numbers: list[TracedNumber]) -> OriginRow:
        here = [one for one in numbers if one.by == key]
        origin, entries = here[0].origin, self.spec.assessment.practice.entries
        title = entries[key].title if key in entries else "value of the project"
        printed = tuple(dict.fromkeys(one.number for one in here))
        return OriginRow(printed, capital(title), origin.kind, key, origin.source, self._line(origin))

    def _line(self, origin: Origin) -> ProjectLine | None:
        """The line of the project file, where the project chose."""
        if origin.source.status is not Status.CHOICE:
            return None
        number = int(origin.source.document.rpartition(" line ")[2])  # as `Source.of_project` names it
        return ProjectLine(number, self.source_line(number))


def section_origins(
    spec: Specification, section: SectionText, source_line: SourceLine
) -> Mapping[str, ParagraphOrigins]:
    """What stands behind the paragraphs of a section, by their keys.

    Args:
        spec: the project as written.
        section: one of its sections.
        source_line: quotes the project file.

    Returns:
        An entry for each paragraph that prints a number or states a requirement.
    """
    reader = _Reader(spec, source_line)
    found = ((traced.key, reader.paragraph(traced)) for traced in section.trace)
    return {key: origins for key, origins in found if origins is not None}
