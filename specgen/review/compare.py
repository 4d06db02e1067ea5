"""Two assessments of one project, before and after a change: everything a reader would see differ."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import zip_longest

from specgen.assessment import Assessment
from specgen.design.changes import ResultChange, changes
from specgen.design.run import everyday
from specgen.drawing.shapes import Drawing
from specgen.drawing.sheets import sheets
from specgen.field.frame import built_alike
from specgen.model.calculation import Calculation
from specgen.model.document import Para, Span, numbered
from specgen.model.finding import Finding, Outcome, Severity
from specgen.paths.shapes import LayerPath
from specgen.sections.build import SectionText
from specgen.sections.checklist import ChecklistRow
from specgen.specification import Specification


@dataclass(frozen=True)
class TextChange:
    """A text before and after; "" where it does not stand."""

    place: str
    before: str
    after: str


@dataclass(frozen=True)
class Comparison:
    """What differs between two assessments, reading by reading."""

    paths: tuple[TextChange, ...]
    results: tuple[ResultChange, ...]
    paragraphs: tuple[TextChange, ...]
    submittals: tuple[TextChange, ...]  # checklist rows: what must come back
    drawings: tuple[str, ...]
    order: tuple[TextChange, ...]

    @property
    def empty(self) -> bool:
        """Whether nothing differs."""
        return not any(
            (self.paths, self.results, self.paragraphs, self.submittals, self.drawings, self.order)
        )


@dataclass(frozen=True)
class FindingChange:
    """One finding before and after, at the parapets that have it; None where it does not stand."""

    before: Finding | None
    after: Finding | None
    parapets: tuple[str, ...]


def changed_findings(before: Iterable[Finding], after: Iterable[Finding]) -> tuple[FindingChange, ...]:
    """The findings a reader acts on that come, go, or say something else; the worst that comes first.

    A finding is the same one if rule, parapet, component and attribute are; what it says may have changed.
    """
    old, new = (_standing(one) for one in (before, after))
    groups: dict[tuple[object, ...], list[tuple[Finding | None, Finding | None, str]]] = {}
    for key in dict.fromkeys((*old, *new)):
        for was, now in zip_longest(old.get(key, ()), new.get(key, ())):
            if (
                was
                and now
                and (was.message, was.outcome, was.severity) == (now.message, now.outcome, now.severity)
            ):
                continue
            standings = tuple((one.message, one.outcome, one.severity) if one else None for one in (was, now))
            groups.setdefault((key[0], key[2:], standings), []).append((was, now, key[1]))
    found = [
        FindingChange(group[0][0], group[0][1], tuple(dict.fromkeys(parapet for _, _, parapet in group)))
        for group in groups.values()
    ]
    return tuple(sorted(found, key=_weight))


def _standing(findings: Iterable[Finding]) -> Mapping[tuple[str, ...], tuple[Finding, ...]]:
    found: dict[tuple[str, ...], tuple[Finding, ...]] = {}
    for finding in findings:
        if finding.counts:
            key = (finding.code, finding.parapet, finding.layer, finding.attribute)
            found[key] = (*found.get(key, ()), finding)
    return found


def _weight(change: FindingChange) -> tuple[int, int, str]:
    finding = change.after or change.before
    assert finding is not None
    certain = finding.outcome is Outcome.FAIL
    order = list(Severity).index(finding.severity) if certain else len(Severity)
    return (0 if change.after else 1), order, finding.code


def compare(before: Specification, after: Specification, drawn: Iterable[Drawing]) -> Comparison:
    """Everything that differs: paths, results, paragraphs, checklist rows, drawings, order of work.

    Paragraphs are matched by their key and checklist rows by their number, so that one that only moved to another
    paragraph number is not told as changed.

    Args:
        before: the project as it stands.
        after: another.
        drawn: the drawings of the one before, which are made once for all that it is held against.
    """
    old, new = before.assessment, after.assessment
    return Comparison(
        paths=_joined(_texts(_paths(old), _paths(new))),
        results=_results(old, new),
        paragraphs=tuple(_paragraphs(before.sections, after.sections)),
        submittals=tuple(_texts(_rows(before.rows), _rows(after.rows))),
        drawings=tuple(_drawings(drawn, sheets(after))),
        order=_joined(_texts(_order(old), _order(new))),
    )


def _texts(before: Mapping[str, str], after: Mapping[str, str]) -> Iterator[TextChange]:
    for place in dict.fromkeys((*before, *after)):
        change = TextChange(place, before.get(place, ""), after.get(place, ""))
        if change.before != change.after:
            yield change


def _joined(changes: Iterable[TextChange]) -> tuple[TextChange, ...]:
    """The same change at several places is told once."""
    groups: dict[tuple[str, str], list[str]] = {}
    for one in changes:
        groups.setdefault((one.before, one.after), []).append(one.place)
    return tuple(TextChange("; ".join(places), *texts) for texts, places in groups.items())


def _paths(assessment: Assessment) -> Mapping[str, str]:
    return {f"{path.layer} at {path.parapet}, {path.place}": _path_words(path) for path in assessment.paths}


def _path_words(path: LayerPath) -> str:
    breaks = "; ".join(f"{one.standing}: {one.first} to {one.second}, {one.condition}" for one in path.breaks)
    return path.chain + (f". {breaks}" if breaks else "")


def _results(before: Assessment, after: Assessment) -> tuple[ResultChange, ...]:
    """The results that differ at the parapets that both have."""
    both = [name for name in before.calculations if name in after.calculations]

    def made(one: Assessment) -> Sequence[Calculation]:
        return [
            one.calculations[name][subject] for name in both for subject in everyday(one.project.parapets)
        ]

    return changes(made(before), made(after), after.system)


def _paragraphs(before: Iterable[SectionText], after: Iterable[SectionText]) -> Iterator[TextChange]:
    """Paragraphs that say something else; the number in a live reference may move without a change of words.

    A paragraph is named by its number as specified, a new one by its number as proposed.
    """
    old, new = (
        {
            (section.number, one.para.key): one
            for section in sections
            for one in numbered(section.document.blocks)
            if one.para.key
        }
        for sections in (before, after)
    )
    for key in dict.fromkeys((*old, *new)):
        was, now = old.get(key), new.get(key)
        if was is None and now is not None:
            yield TextChange(f"Section {key[0]}, new {now.number}", "", now.para.text)
        elif was is not None and (now is None or _words(was.para) != _words(now.para)):
            yield TextChange(f"Section {key[0]}, {was.number}", was.para.text, now.para.text if now else "")


def _words(para: Para) -> tuple[str, ...]:
    return tuple(part.text if isinstance(part, Span) else part.key for part in para.content)


def _rows(rows: Iterable[ChecklistRow]) -> Mapping[str, str]:
    return {
        f"Section {row.section}, {row.item}" + (f" ({row.where})" if row.where != "all" else ""): (
            f"{row.required}" + (f", {row.method}" if row.method else "")
        )
        for row in rows
    }


def _drawings(before: Iterable[Drawing], after: Iterable[Drawing]) -> Iterator[str]:
    old, new = ({sheet.name: sheet for sheet in one} for one in (before, after))
    for name in dict.fromkeys((*old, *new)):
        if old.get(name) != new.get(name):
            yield (new.get(name) or old[name]).title


def _order(assessment: Assessment) -> Mapping[str, str]:
    return {
        name: " > ".join(f"{step.component} ({step.trade})" for step in alike.sequence.steps)
        + (f"; {alike.sequence.cycle.text}" if alike.sequence.cycle else "")
        for alike in built_alike(assessment)
        for name in alike.names
    }


def trades_touched(comparison: Comparison, before: Specification, after: Specification) -> tuple[str, ...]:
    """The trades whose paragraphs, submittals, or order of work change, in the order of their names."""
    changed = {change.place for change in comparison.submittals}
    rows = {name: row.trade for one in (before, after) for row in one.rows for name in _rows([row])}
    found = {rows[name] for name in changed if name in rows}
    for change in comparison.order:
        old, new = (set(text.split(" > ")) for text in (change.before, change.after))
        found |= {step.rpartition("(")[2].rstrip(")") for step in old ^ new if "(" in step}
    return tuple(sorted(found - {""}))
