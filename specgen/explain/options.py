"""What may be changed where a finding stands: the limit's own value, and the remedies of its rule; each tried."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from specgen.explain.bench import Bench, Effect, rank
from specgen.explain.edits import Draft, Edit, Editor, with_record
from specgen.files.marks import Mark
from specgen.model.finding import Finding, Outcome
from specgen.model.project import Parapet, Project, Record, Value
from specgen.model.requirement import Limit, Requirement

RESULTS = ("closes", "eases", "leaves")


@dataclass(frozen=True)
class TriedOption:
    """One way to change the project, as it was tried. ``result``: the finding is closed, eased or left."""

    edits: tuple[Edit, ...]
    needs: tuple[str, ...]
    effect: Effect
    result: str


@dataclass(frozen=True)
class OptionSpot:
    """The record of the project that a finding stands on, and the value; "" where it is about the record."""

    record: Record
    attribute: str


def spot(project: Project, finding: Finding) -> OptionSpot | None:
    """The value or record that a finding points at, found by its place in the file; None for a tried place."""
    here = next((one for one in project.parapets if one.name == finding.parapet), None)
    if here is None:
        return None
    records = tuple(_records(project, here))
    own = [one for one in records if getattr(one, "id", None) == finding.layer]
    for record in (*own, *records):
        named = _named(record, finding.mark, finding.attribute)
        if named:
            return OptionSpot(record, named)
    held = finding.attribute
    return next((OptionSpot(one, held) for one in (*own, *records) if one.mark == finding.mark), None)


def _records(project: Project, parapet: Parapet) -> Iterator[Record]:
    yield from parapet.components()
    yield from parapet.transitions
    yield from parapet.places
    yield from (parapet, project.building, project.site)


def _named(record: Record, mark: Mark, wanted: str) -> str:
    names = [name for name, one in record.marks.items() if one == mark]
    return wanted if wanted in names else names[0] if names else ""


def options(bench: Bench, finding: Finding) -> tuple[TriedOption, ...]:
    """Every option for a failed finding, tried; those that close it first, then by what they break.

    A finding that waits for a datum has none: what to add is a fact, and not for choosing.
    """
    if finding.outcome is not Outcome.FAIL:
        return ()
    tried: dict[tuple[Edit, ...], TriedOption] = {}
    for draft in _drafts(bench, finding):
        if draft.edits not in tried:
            effect = bench.effect(draft)
            tried[draft.edits] = TriedOption(draft.edits, draft.needs, effect, effect.does_to(finding))
    return tuple(sorted(tried.values(), key=_order))


def draft_of(bench: Bench, finding: Finding, option: TriedOption) -> Draft:
    """The copy of the project on which an option for a finding was tried.

    Raises:
        LookupError: it is no option for the finding as the project stands now.
    """
    found = (draft for draft in _drafts(bench, finding) if draft.edits == option.edits)
    draft = next(found, None)
    if draft is None:
        raise LookupError("no such option for this finding")
    return draft


def _order(option: TriedOption) -> tuple[int, int, int]:
    worst = max((1 + rank(one) for one in option.effect.breaks), default=0)
    return RESULTS.index(option.result), worst, len(option.effect.breaks)


def _drafts(bench: Bench, finding: Finding) -> Iterator[Draft]:
    editor = Editor(bench.assessment.practice, bench.requirements(finding.parapet), finding.layer)
    draft = Draft(bench.assessment.project, finding.parapet)
    yield from _to_the_limit(bench, editor, draft, finding)
    for entry in bench.assessment.book:
        if entry.rule.code == finding.code:
            for remedy in entry.remedies:
                yield from editor.drafts(draft, remedy)


def _to_the_limit(bench: Bench, editor: Editor, draft: Draft, finding: Finding) -> Iterator[Draft]:
    requirement = bench.requirements(finding.parapet).by_id.get(finding.requirement)
    place = spot(bench.assessment.project, finding)
    if requirement is None or place is None or not place.attribute or finding.attribute != place.attribute:
        return
    own = place.record.what in bench.assessment.practice.vocabulary.roles
    for value in _meeting(requirement, place):
        if own:
            yield from editor.with_attribute(draft, place.record.what, place.attribute, value)
        else:
            changed = with_record(draft, place.record, place.attribute, value)
            if changed is not None:
                yield changed


def _meeting(requirement: Requirement, place: OptionSpot) -> tuple[Value, ...]:
    """The values at the limit: the limit itself, each word of a choice, or the words that are missing too."""
    limit: Limit = requirement.limit
    if limit.comparison == "one of" and isinstance(limit.value, tuple):
        return limit.value
    if limit.comparison == "includes" and isinstance(limit.value, tuple):
        stated = place.record.values.get(place.attribute, ())
        kept = stated if isinstance(stated, tuple) else ()
        return (tuple(dict.fromkeys((*kept, *limit.value))),)
    return (limit.value,)
