"""Trying an edited copy of the project at one parapet: what it closes, what it breaks, what else changes."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterator, Mapping
from dataclasses import dataclass, replace

from specgen.assessment import Assessment
from specgen.design.run import everyday
from specgen.explain.edits import Draft
from specgen.model.calculation import Calculation
from specgen.model.finding import Finding, Outcome, Severity
from specgen.model.project import Project
from specgen.model.requirement import RequirementSet
from specgen.rules.hold import asked
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


class Bench:
    """Assesses copies of a project, one parapet at a time; each copy once.

    Args:
        assessment: the project as it stands.
        stated_only: whether products are put in: no requirement then stands for what they do not state.
    """

    def __init__(self, assessment: Assessment, stated_only: bool = False) -> None:
        self.assessment = assessment
        self._stated_only = stated_only
        self._base: dict[str, Assessment] = {}
        self._tried: dict[tuple[object, ...], Effect] = {}

    def standing(self, parapet: str) -> tuple[Finding, ...]:
        """The findings at a parapet that someone must act on, as the file stands."""
        return _standing(self._at(parapet))

    def requirements(self, parapet: str) -> RequirementSet:
        """The requirements at a parapet as the file stands."""
        return self._at(parapet).requirements

    def calculations(self, parapet: str) -> tuple[Calculation, ...]:
        """Every calculation of a parapet as the file stands, those no rule asks for included."""
        here = self._at(parapet)
        return tuple(here.calculations[parapet][subject] for subject in everyday(here.project.parapets))

    def effect(self, draft: Draft) -> Effect:
        """What the draft changes at its parapet."""
        return self.tried(draft.edits, draft.parapet, lambda: draft.project)

    def tried(self, changes: tuple[Hashable, ...], parapet: str, made: Callable[[], Project]) -> Effect:
        """What changes do at one parapet, held against the file as it stands.

        Args:
            changes: what is changed; the same changes are tried once.
            parapet: where to look.
            made: makes the project with the changes in it.
        """
        key = (parapet, *changes)
        if key not in self._tried:
            self._tried[key] = _effect(self._at(parapet), self._assessed(made(), parapet))
        return self._tried[key]

    def _at(self, parapet: str) -> Assessment:
        if parapet not in self._base:
            self._base[parapet] = self._assessed(self.assessment.project, parapet)
        return self._base[parapet]

    def _assessed(self, project: Project, name: str) -> Assessment:
        """The parapet alone: what others say of themselves does not depend on it."""
        alone = replace(
            project,
            parapets=tuple(one for one in project.parapets if one.name == name),
            waivers=tuple(one for one in project.waivers if one.parapet in ("all", name)),
            answers=tuple(one for one in project.answers if one.parapet in ("all", name)),
            stated_only=self._stated_only,
        )
        return self._base.get(name, self.assessment).again(alone)


def _standing(one: Assessment) -> tuple[Finding, ...]:
    return tuple(finding for finding in one.findings if finding.counts and finding.code not in PAPERS)


def _effect(before: Assessment, after: Assessment) -> Effect:
    gone, new = _unmatched(_standing(before), _standing(after))
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
        tuple(_requirement_changes(before.requirements, after.requirements, before.system)),
        tuple(_calculation_changes(_made(before), _made(after))),
    )


def _made(one: Assessment) -> Mapping[str, Calculation]:
    """The calculations that were asked for at the one parapet, by subject."""
    (made,) = one.calculations.values()
    return made.made


def _unmatched(
    before: tuple[Finding, ...], after: tuple[Finding, ...]
) -> tuple[list[Finding], list[Finding]]:
    gone, new = list(before), []
    for one in after:
        same = next((old for old in gone if _statement(old) == _statement(one)), None)
        if same is None:
            new.append(one)
        else:
            gone.remove(same)
    return gone, new


def _place(finding: Finding) -> tuple[str, ...]:
    return finding.code, finding.layer, finding.attribute


def _code(finding: Finding) -> tuple[str, ...]:
    return (finding.code,)


def _statement(finding: Finding) -> tuple[object, ...]:
    return *_place(finding), finding.message, finding.missing, finding.outcome, finding.severity


def _requirement_changes(
    before: RequirementSet, after: RequirementSet, system: str
) -> Iterator[RequirementChange]:
    names = dict.fromkeys((*before.by_id, *after.by_id))  # one parapet alone: ids are the names
    for name in names:
        old, new = before.by_id.get(name), after.by_id.get(name)
        was, now = (asked(one.limit, system) if one else "" for one in (old, new))
        if was != now:
            known = new or old
            assert known is not None
            yield RequirementChange(name, was, now, known.section)


def _calculation_changes(
    before: Mapping[str, Calculation], after: Mapping[str, Calculation]
) -> Iterator[str]:
    # A calculation is made when a rule asks for it: a change may make a rule ask for one more, or for one less.
    for old, new in ((one, after[subject]) for subject, one in before.items() if subject in after):
        results = [{name: str(line.value) for name, line in one.results.items()} for one in (old, new)]
        if results[0] != results[1] or old.done != new.done:
            yield old.subject
