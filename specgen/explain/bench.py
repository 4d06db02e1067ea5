"""Trying an edited copy of the project at one parapet: what it closes, what it breaks, what else changes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import partial

from specgen.assessment import Assessment
from specgen.design.run import calculate_all, on_demand
from specgen.explain.edits import Draft
from specgen.model.calculation import Calculation
from specgen.model.finding import Finding, Outcome, Severity
from specgen.model.project import Project
from specgen.model.requirement import RequirementSet
from specgen.requirements.derive import derive
from specgen.rules.book import BookEntry, run_book
from specgen.rules.hold import asked
from specgen.rules.office import with_office_severity
from specgen.rules.papers import PAPER_RULES

RANK = {Severity.QUERY: 1, Severity.RISK: 2, Severity.DEFECT: 3}
PAPERS = tuple(rule.code for rule in PAPER_RULES)


def rank(finding: Finding) -> int:
    """How much a standing finding weighs: a missing datum least, a defect most."""
    return RANK[finding.severity] if finding.outcome is Outcome.FAIL else 0


@dataclass(frozen=True)
class Pair:
    """A finding that stands before and after, and says something else."""

    before: Finding
    after: Finding


@dataclass(frozen=True)
class RequirementChange:
    """A requirement before and after, in words; "" where it does not hold."""

    name: str
    before: str
    after: str
    section: str


@dataclass(frozen=True)
class Effect:
    """What a tried copy changes at its parapet."""

    closes: tuple[Finding, ...]
    breaks: tuple[Finding, ...]
    alters: tuple[Pair, ...]
    requirements: tuple[RequirementChange, ...]
    calculations: tuple[str, ...]  # subjects whose results change

    def does_to(self, finding: Finding) -> str:
        """What becomes of a finding: "closes", "eases" to something lesser, or "leaves" it as it is."""
        if finding in self.closes:
            return "closes"
        lesser = any(pair.before == finding and rank(pair.after) < rank(finding) for pair in self.alters)
        return "eases" if lesser else "leaves"


@dataclass(frozen=True)
class _State:
    standing: tuple[Finding, ...]
    requirements: RequirementSet
    calculations: tuple[Calculation, ...]


class Bench:
    """Assesses copies of a project, one parapet at a time; each copy once."""

    def __init__(self, assessment: Assessment, book: Iterable[BookEntry]) -> None:
        self.assessment = assessment
        self.book = tuple(book)
        self._base: dict[str, _State] = {}
        self._all: dict[str, tuple[Calculation, ...]] = {}
        self._tried: dict[tuple[object, ...], Effect] = {}

    def standing(self, parapet: str) -> tuple[Finding, ...]:
        """The findings at a parapet that someone must act on, as the file stands."""
        return self._at(parapet).standing

    def requirements(self, parapet: str) -> RequirementSet:
        """The requirements at a parapet as the file stands."""
        return self._at(parapet).requirements

    def calculations(self, parapet: str) -> tuple[Calculation, ...]:
        """Every calculation of a parapet as the file stands, those no rule asks for included."""
        if parapet not in self._all:
            project, practice = self.assessment.project, self.assessment.practice
            self._all[parapet] = calculate_all(project, practice, parapets=[parapet])
        return self._all[parapet]

    def effect(self, draft: Draft) -> Effect:
        """What the draft changes at its parapet."""
        key = (draft.parapet, *draft.edits)
        if key not in self._tried:
            after = self._assessed(draft.project, draft.parapet)
            self._tried[key] = _effect(self._at(draft.parapet), after)
        return self._tried[key]

    def compared(self, project: Project, parapet: str) -> Effect:
        """What another project changes at one parapet, held against the file as it stands."""
        return _effect(self._at(parapet), self._assessed(project, parapet))

    def _at(self, parapet: str) -> _State:
        if parapet not in self._base:
            self._base[parapet] = self._assessed(self.assessment.project, parapet)
        return self._base[parapet]

    def _assessed(self, project: Project, name: str) -> _State:
        """The parapet alone: what others say of themselves does not depend on it."""
        practice, office = self.assessment.practice, self.assessment.office
        alone = replace(
            project,
            parapets=tuple(one for one in project.parapets if one.name == name),
            waivers=tuple(one for one in project.waivers if one.parapet in ("all", name)),
        )
        calculations = on_demand(alone, practice)
        requirements = derive(alone, calculations, practice)
        adjusted = partial(with_office_severity, office=office) if office else None
        findings = run_book(self.book, alone, calculations, requirements, practice, (), adjusted)
        standing = tuple(one for one in findings if one.counts and one.code not in PAPERS)
        return _State(standing, requirements, tuple(calculations[name].made.values()))


def _effect(before: _State, after: _State) -> Effect:
    gone, new = _unmatched(before.standing, after.standing)
    alters: list[Pair] = []
    # First what stands at the same place; then what the same rule says of another: it is not closed.
    for alike in (_place, _code):
        for old in list(gone):
            same = next((one for one in new if alike(one) == alike(old)), None)
            if same is not None:
                gone.remove(old)
                new.remove(same)
                alters.append(Pair(old, same))
    return Effect(
        tuple(gone),
        tuple(new),
        tuple(alters),
        tuple(_requirement_changes(before.requirements, after.requirements)),
        tuple(_calculation_changes(before.calculations, after.calculations)),
    )


def _unmatched(
    before: tuple[Finding, ...], after: tuple[Finding, ...]
) -> tuple[list[Finding], list[Finding]]:
    gone, new = list(before), []
    for one in after:
        same = next((old for old in gone if _said(old) == _said(one)), None)
        if same is None:
            new.append(one)
        else:
            gone.remove(same)
    return gone, new


def _place(finding: Finding) -> tuple[str, ...]:
    return finding.code, finding.layer, finding.attribute


def _code(finding: Finding) -> tuple[str, ...]:
    return (finding.code,)


def _said(finding: Finding) -> tuple[object, ...]:
    return *_place(finding), finding.message, finding.missing, finding.outcome, finding.severity


def _requirement_changes(before: RequirementSet, after: RequirementSet) -> Iterator[RequirementChange]:
    names = dict.fromkeys((*before.by_id, *after.by_id))  # one parapet alone: ids are the names
    for name in names:
        old, new = before.by_id.get(name), after.by_id.get(name)
        told = asked(old.limit) if old else "", asked(new.limit) if new else ""
        if told[0] != told[1]:
            known = new or old
            assert known is not None
            yield RequirementChange(name, *told, known.section)


def _calculation_changes(before: tuple[Calculation, ...], after: tuple[Calculation, ...]) -> Iterator[str]:
    # A calculation is made when a rule asks for it: a change may make a rule ask for one more, or for one less.
    known = {one.subject: one for one in after}
    for old, new in ((one, known[one.subject]) for one in before if one.subject in known):
        told = [{name: str(line.value) for name, line in one.results.items()} for one in (old, new)]
        if told[0] != told[1] or old.done != new.done:
            yield old.subject
