"""What the basis report says, part by part, as words and plain rows: each part a reading of the assessment."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from specgen.assessment import Assessment
from specgen.model.calculation import CalcLine, CalcTable, Calculation
from specgen.model.finding import Finding, Outcome, Severity
from specgen.model.folded import folded
from specgen.model.project import Component, Record, Value
from specgen.paths.shapes import LayerPath
from specgen.practice.entries import Field
from specgen.practice.nominal import paired
from specgen.rules.existing.openings import PlannedOpenings, planned_openings
from specgen.sections.words import joined, requirement_words, value_words
from specgen.specification import Specification
from specgen.units.quantity import Quantity
from specgen.units.show import show_on_sheet

ANSWER = {"broken": "broken", "not stated": "not stated", "confirm": "to confirm"}


@dataclass(frozen=True)
class Fact:
    """A stated value: its title, its words, where it stands in the project file."""

    title: str
    words: str
    place: str


@dataclass(frozen=True)
class Part:
    """One component of a wall with everything stated of it."""

    role: str
    kind: str
    trade: str
    stated: tuple[Fact, ...]


@dataclass(frozen=True)
class ParapetPart:
    """Parapets whose parts and stated values are the same, and those parts."""

    names: tuple[str, ...]
    parts: tuple[Part, ...]

    @property
    def words(self) -> str:
        """The names as a list."""
        return joined(self.names, "and")


@dataclass(frozen=True)
class PathRow:
    """The path of one layer at one or more places that have the same."""

    layer: str
    places: str
    state: str  # unbroken, broken, not stated, to confirm
    chain: str
    path: LayerPath


@dataclass(frozen=True)
class FindingRow:
    """One finding at one or more parapets."""

    finding: Finding
    parapets: str
    places: tuple[str, ...]


@dataclass(frozen=True)
class CalcRow:
    """One calculation at one or more parapets that share all its lines."""

    calc: Calculation
    parapets: str


@dataclass(frozen=True)
class TraceRow:
    """One requirement: its words, its paragraph, what set it."""

    id: str
    title: str
    limit: str
    paragraph: str
    set_by: str
    source: str
    reason: str
    places: str


def stated(record: Record, fields: dict[str, Field] | None, assessment: Assessment) -> tuple[Fact, ...]:
    """The values of a record by their titles; a name the vocabulary does not title keeps its own."""
    known = fields or {}
    return tuple(
        Fact(
            known[name].title if name in known else name.replace("_", " "),
            words_of(_as_written(record, value), assessment.system),
            place(str(record.at(name)), assessment),
        )
        for name, value in record.values.items()
    )


def _as_written(record: Record, value: Value) -> Value:
    """A value of a part as the trade writes it in each language of units: as the drawings print it."""
    return paired(value) if isinstance(record, Component) and isinstance(value, Quantity) else value


def words_of(value: Value, system: str) -> str:
    """A value as printed."""
    return value_words(value, "is", system) if not isinstance(value, tuple) else joined(value, "and")


def place(mark: str, assessment: Assessment) -> str:
    """A place in the project file, named without its folder."""
    folder, slash, _ = assessment.project.path.replace("\\", "/").rpartition("/")
    return mark.replace("\\", "/").removeprefix(folder + slash) if slash else mark


def facts(assessment: Assessment) -> tuple[Fact, ...]:
    """Project, site, building, quality and trades as stated."""
    project, records = assessment.project, assessment.practice.vocabulary.records
    return tuple(
        fact
        for name, record in (
            ("project", project.info),
            ("site", project.site),
            ("building", project.building),
            ("quality", project.quality),
            ("trades", project.trades),
        )
        for fact in stated(record, dict(records[name].fields) if name in records else None, assessment)
    )


def walls(assessment: Assessment) -> tuple[ParapetPart, ...]:
    """The walls of a project, those of which the same is stated once."""
    groups: dict[object, list[tuple[str, tuple[Part, ...]]]] = {}
    for parapet in assessment.project.parapets:
        parts = tuple(_part(part, assessment) for part in parapet.components())
        build_up = tuple((one.role, one.kind, tuple((f.title, f.words) for f in one.stated)) for one in parts)
        groups.setdefault(build_up, []).append((parapet.name, parts))
    return tuple(ParapetPart(tuple(name for name, _ in group), group[0][1]) for group in groups.values())


def _part(part: Component, assessment: Assessment) -> Part:
    role = assessment.practice.vocabulary.roles[part.role]
    title = role.title if part.id in (part.role, "") else f"{role.title} ({part.id})"
    kind = assessment.practice.kind(part.role, part.kind).title
    shown = dict(role.fields)
    values = tuple(
        fact for fact in stated(part, shown, assessment) if fact.title not in ("kind", "role", "id")
    )
    return Part(title, kind, role.trade, values)


def paths(assessment: Assessment) -> tuple[PathRow, ...]:
    """Every path, the same chain of the same layer taken together."""
    groups: dict[tuple[object, ...], list[LayerPath]] = {}
    for path in assessment.paths:
        breaks = tuple((one.first, one.second, one.condition, one.standing) for one in path.breaks)
        groups.setdefault((path.layer, path.chain, breaks, path.lifted), []).append(path)
    return tuple(
        PathRow(
            group[0].layer,
            "; ".join(_places(group)),
            joined(dict.fromkeys(ANSWER[one.standing] for one in group[0].breaks), "and") or "unbroken",
            group[0].chain,
            group[0],
        )
        for group in groups.values()
    )


def _places(group: Iterable[LayerPath]) -> Iterator[str]:
    names: dict[str, list[str]] = {}
    for path in group:
        names.setdefault(path.place, []).append(path.parapet)
    for where, parapets in names.items():
        yield f"{where} at {joined(parapets, 'and')}"


def findings(assessment: Assessment) -> tuple[FindingRow, ...]:
    """The findings a reader acts on, those waived, and what does not apply, the worst first."""
    shown = (one for one in assessment.findings if one.shown)
    rows = sorted(
        folded(shown),
        key=lambda one: (
            one.finding.outcome in (Outcome.WAIVED, Outcome.NOT_APPLICABLE),
            list(Severity).index(one.finding.severity),
            one.finding.code,
        ),
    )
    return tuple(
        FindingRow(
            replace(one.finding, because=one.because, missing="; ".join(one.missing)),
            joined(one.parapets, "and"),
            tuple(place(str(mark), assessment) for mark in one.marks),
        )
        for one in rows
    )


def without_finding(assessment: Assessment, outcome: Outcome) -> tuple[FindingRow, ...]:
    """The rules that were met, or left to the sections, each once, with the parapets."""
    groups: dict[str, list[Finding]] = {}
    for one in assessment.findings:
        if one.outcome is outcome:
            groups.setdefault(one.code, []).append(one)
    return tuple(
        FindingRow(group[0], joined(dict.fromkeys(one.parapet for one in group if one.parapet), "and"), ())
        for _, group in sorted(groups.items())
    )


def calculations(assessment: Assessment, subjects: Iterable[str]) -> tuple[CalcRow, ...]:
    """The calculations, by subject; parapets whose lines are the same share one."""
    rows = []
    for subject in subjects:
        groups: dict[object, list[Calculation]] = {}
        for by_subject in assessment.calculations.values():
            calc = by_subject[subject]
            lines = (calc.inputs, calc.steps, tuple(calc.results.items()), calc.missing, calc.tables)
            groups.setdefault(lines, []).append(calc)
        rows += [
            CalcRow(group[0], joined([one.parapet for one in group], "and")) for group in groups.values()
        ]
    return tuple(rows)


def line_cells(line: CalcLine, assessment: Assessment) -> tuple[str, str, str, str, str]:
    """Symbol, title, value, formula and source of a line; a place in a file is named without its folder."""
    words = show_on_sheet(line.value, assessment.system)
    return line.symbol, line.title, words, line.formula, place(line.source, assessment)


def table_rows(table: CalcTable, system: str) -> tuple[tuple[str, ...], ...]:
    """The cells of a comparison as printed."""
    return tuple(tuple(show_on_sheet(value, system) for value in row) for row in table.rows)


def requirements(spec: Specification) -> tuple[TraceRow, ...]:
    """Every requirement with its one paragraph and what set it."""
    assessment, rows = spec.assessment, []
    for one in assessment.requirements.by_id.values():
        ref = spec.paragraphs.get(one.id)
        rows.append(
            TraceRow(
                one.id,
                f"{assessment.practice.vocabulary.roles[one.role].title}: {one.title}",
                requirement_words(one, assessment.practice, assessment.system),
                f"{ref.section}, {ref.number}" if ref else "",
                f"{one.origin.kind} {place(one.origin.key, assessment)}"
                + (f", asked for by {one.because}" if one.because else ""),
                str(one.origin.source),
                one.reason,
                "" if one.everywhere else joined(one.where, "and"),
            )
        )
    return tuple(rows)


def traced_paragraphs(spec: Specification) -> Iterator[tuple[str, str, str]]:
    """Place, requirements and numbers with their origin, of each paragraph that prints one."""
    for section in spec.sections:
        for paragraph in section.trace:
            if paragraph.numbers or paragraph.requirements:
                numbers = "; ".join(
                    f"{one.number} from {one.origin.kind} {place(one.origin.key, spec.assessment)}"
                    for one in paragraph.numbers
                )
                yield paragraph.place, ", ".join(paragraph.requirements), numbers


def openings(assessment: Assessment) -> tuple[PlannedOpenings, ...]:
    """Where a standing wall must be opened."""
    return planned_openings(assessment.project, assessment.practice)
