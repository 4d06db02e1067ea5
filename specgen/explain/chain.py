"""The chain behind a finding: rule, value in the file, limit with its source, what hangs on it, options."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace

from specgen.design.progress import in_turn
from specgen.explain.bench import Bench
from specgen.explain.options import OptionSpot, TriedOption, options, spot
from specgen.model.finding import Finding
from specgen.model.project import Component, Transition
from specgen.model.requirement import Requirement
from specgen.rules.hold import asked, words
from specgen.sections.build import ParagraphRef

SourceLine = Callable[[str, int], str]  # file and line number to the words that stand there


@dataclass(frozen=True)
class FileValue:
    """What stands in the project file where a finding points."""

    path: str
    value: str  # "" where the finding is about a whole record
    place: str  # file:line:column
    line: int
    quoted: str


@dataclass(frozen=True)
class StatedRequirement:
    """A requirement with the paragraph that states it; "" where no section is written for its role."""

    id: str
    limit: str
    origin: str  # "practice coping.drip", "choice project.yaml:41:9" …
    source: str  # with its status
    paragraph: str  # "07 71 00 2.2.A.3"


@dataclass(frozen=True)
class Dependents:
    """What hangs on the value of a finding."""

    findings: tuple[Finding, ...]  # that stand on the same value, or move with it when an option is tried
    requirements: tuple[StatedRequirement, ...]
    calculations: tuple[str, ...]  # that read the value, or change when an option is tried


@dataclass(frozen=True)
class Explanation:
    """One finding explained."""

    finding: Finding
    title: str  # of the rule
    value: FileValue | None
    limit: StatedRequirement | None
    dependents: Dependents
    options: tuple[TriedOption, ...]
    stated: dict[str, str]  # requirement name to paragraph, at the parapet of the finding


@dataclass(frozen=True)
class Explainer:
    """Explains the findings of an assessment; shares what it tries between them."""

    bench: Bench
    paragraphs: Mapping[str, ParagraphRef]  # requirement id to the paragraph that states it
    source_line: SourceLine

    def explain(self, findings: Iterable[Finding], trying: bool = True) -> tuple[Explanation, ...]:
        """Each finding that someone must act on and that stands at a parapet, explained in the order given.

        Args:
            findings: of the assessment.
            trying: whether remedies are tried; without them nothing is known of what moves with one.
        """
        names = {parapet.name for parapet in self.bench.assessment.project.parapets}
        wanted = [one for one in findings if one.counts and one.parapet in names]
        return tuple(self._one(one, trying) for one in in_turn(wanted))

    def _one(self, finding: Finding, trying: bool) -> Explanation:
        alone = self.alone(finding)
        tried = options(self.bench, alone) if trying else ()
        place = spot(self.bench.assessment.project, finding)
        titles = {entry.rule.code: entry.rule.title for entry in self.bench.assessment.book}
        requirement = self.bench.assessment.requirements.by_id.get(finding.requirement)
        return Explanation(
            finding,
            titles.get(finding.code, finding.name),
            self._value(finding, place),
            self._stated(requirement) if requirement else None,
            self._dependents(alone, place, tried),
            tried,
            self._paragraphs(finding.parapet),
        )

    def alone(self, finding: Finding) -> Finding:
        """The finding as the parapet alone has it: there a requirement's id is its name."""
        requirement = self.bench.assessment.requirements.by_id.get(finding.requirement)
        return replace(finding, requirement=requirement.name) if requirement else finding

    def _value(self, finding: Finding, place: OptionSpot | None) -> FileValue | None:
        if place is None:
            return None
        record, name = place.record, place.attribute
        if isinstance(record, Component):
            path, value = f"{finding.parapet}.{record.id}", record.kind if name == "kind" else None
        elif isinstance(record, Transition):
            path, value = f"{finding.parapet}.transitions[{record.first}, {record.second}]", None
        else:
            own = {"parapet": finding.parapet, "site": "site", "building": "building"}
            path = own.get(record.what, f"{finding.parapet}.{record.what}")
            value = None
        stated = value if value is not None else record.values.get(name)
        quoted = self.source_line(finding.mark.file, finding.mark.line)
        value_words = "" if stated is None else words(stated)
        return FileValue(
            f"{path}.{name}" if name else path, value_words, str(finding.mark), finding.mark.line, quoted
        )

    def _stated(self, requirement: Requirement) -> StatedRequirement:
        origin = requirement.origin
        return StatedRequirement(
            requirement.id,
            asked(requirement.limit, self.bench.assessment.system),
            f"{origin.kind} {origin.key}",
            str(origin.source),
            self._where(requirement.id),
        )

    def _where(self, requirement: str) -> str:
        place = self.paragraphs.get(requirement)
        return f"{place.section} {place.number}" if place else ""

    def _paragraphs(self, parapet: str) -> dict[str, str]:
        return {
            one.name: self._where(one.id)
            for one in self.bench.assessment.requirements.by_id.values()
            if parapet in one.parapets and one.id in self.paragraphs
        }

    def _dependents(
        self, finding: Finding, place: OptionSpot | None, tried: tuple[TriedOption, ...]
    ) -> Dependents:
        moved = [one for option in tried for one in option.effect.closes]
        moved += [pair.before for option in tried for pair in option.effect.alters]
        standing = self.bench.standing(finding.parapet)
        others = tuple(
            one
            for one in standing
            if one != finding
            and (one in moved or (bool(place and place.attribute) and one.mark == finding.mark))
        )
        mark = str(finding.mark)
        read = {
            calculation.subject
            for calculation in self.bench.calculations(finding.parapet)
            if place is not None
            and place.attribute
            and any(line.source == mark for line in calculation.inputs)
        }
        read.update(subject for option in tried for subject in option.effect.calculations)
        requirements = [
            self._stated(one)
            for one in self.bench.assessment.requirements.by_id.values()
            if finding.parapet in one.parapets and place is not None and _hangs(one, place, mark)
        ]
        return Dependents(others, tuple(requirements), tuple(sorted(read)))


def _hangs(requirement: Requirement, place: OptionSpot, mark: str) -> bool:
    """Whether a requirement limits the value, or takes its limit from it."""
    if not place.attribute:
        return False
    same = requirement.role == place.record.what and requirement.attribute == place.attribute
    return same or requirement.origin.key == mark
