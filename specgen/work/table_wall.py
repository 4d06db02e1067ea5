"""The rows of a wall: what it is made of, what is asked of it, what was found, what was calculated."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from pathlib import Path

from specgen.design.run import reported
from specgen.model.calculation import Calculation
from specgen.model.requirement import Requirement
from specgen.sections.words import requirement_words
from specgen.units.show import show_on_sheet
from specgen.work.table_facts import Cells, TableFacts, by_name, quantity_cells, source_cells


def _project(facts: TableFacts) -> Iterator[Cells]:
    project = facts.inputs.project
    yield {
        "number": project.info.word("number") or "",
        "name": project.info.word("name") or "",
        "title": project.title,
        "state": project.state,
        "issued": project.issued or None,
        "climate_zone": str(project.site.values.get("climate_zone", "")),
        "building_use": project.building.word("use") or "",
        "units": project.system,
    }


def _parapets(facts: TableFacts) -> Iterator[Cells]:
    for position, one in enumerate(facts.inputs.project.parapets, start=1):
        yield {"parapet": one.name, "position": position}


def _components(facts: TableFacts) -> Iterator[Cells]:
    roles = facts.spec.assessment.practice.vocabulary.roles
    for parapet in facts.inputs.project.parapets:
        for position, one in enumerate(parapet.components(), start=1):
            role = roles[one.role]
            yield {
                "parapet": parapet.name,
                "component": one.id,
                "position": position,
                "role": one.role,
                "role_title": role.title,
                "kind": one.kind,
                "trade": role.trade,
                "file": Path(one.mark.file).name,
                "line": one.mark.line,
            }


def _requirements(facts: TableFacts) -> Iterator[Cells]:
    spec, one = facts.spec, facts.spec.assessment
    for asked in one.requirements.by_id.values():
        where = spec.paragraphs.get(asked.id)
        yield {
            "requirement": asked.id,
            "name": asked.name,
            "role": asked.role,
            "attribute": asked.attribute,
            "title": asked.title,
            "comparison": asked.limit.comparison,
            "limit_text": requirement_words(asked, one.practice, one.system),
            **quantity_cells("limit", asked.limit.value),
            "method": asked.method,
            "condition": asked.condition,
            "reason": asked.reason,
            "stage": asked.stage,
            "evidence": asked.evidence,
            "section": where.section if where else asked.section,
            "paragraph": where.number if where else "",
            "origin": asked.origin.kind,
            "origin_key": by_name(asked.origin.key, facts),
            **source_cells(asked.origin.source),
            "because": asked.because,
            "everywhere": asked.everywhere,
            "identity": asked.identity,
        }


def _requirement_places(facts: TableFacts) -> Iterator[Cells]:
    for asked in facts.spec.assessment.requirements.by_id.values():
        for parapet, layer in _places(asked):
            yield {"requirement": asked.id, "parapet": parapet, "layer": layer}


def _places(asked: Requirement) -> Iterator[tuple[str, str]]:
    if asked.layers:
        yield from dict.fromkeys((one.parapet, one.id) for one in asked.layers)
    else:
        yield from ((parapet, "") for parapet in asked.parapets)


def _weighed(facts: TableFacts) -> Iterator[Cells]:
    for asked in facts.spec.assessment.requirements.by_id.values():
        for weighing in asked.weighings:
            for parapet in weighing.parapets:
                for position, one in enumerate(weighing.parts, start=1):
                    yield {
                        "requirement": asked.id,
                        "parapet": parapet,
                        "position": position,
                        "what": one.what,
                        "origin_key": by_name(one.key, facts),
                        "statement": one.statement,
                        "governs": weighing.governs,
                        **source_cells(one.source),
                    }


def _checklist(facts: TableFacts) -> Iterator[Cells]:
    for position, one in enumerate(facts.spec.rows, start=1):
        yield {
            "row_id": one.number,
            "position": position,
            "section": one.section,
            "paragraph": one.paragraph,
            "item": one.item,
            "type": one.type,
            "required": one.required,
            "method": one.method,
            "evidence": one.evidence,
            "trade": one.trade,
            "where_text": one.where,
            "requirement": one.requirement or None,
        }


def _findings(facts: TableFacts) -> Iterator[Cells]:
    parapets = {one.name for one in facts.inputs.project.parapets}
    asked = facts.spec.assessment.requirements.by_id
    for number, one in enumerate(facts.spec.assessment.findings, start=1):
        yield {
            "finding": number,
            "code": one.code,
            "name": one.name,
            "severity": one.severity.value,
            "outcome": one.outcome.value,
            "shown": one.shown,
            "parapet": one.parapet if one.parapet in parapets else None,
            "layer": one.layer,
            "message": one.message,
            "title": one.title,
            "reason": one.reason,
            "remedy": one.remedy,
            "attribute": one.attribute,
            "missing": one.missing,
            "requirement": one.requirement if one.requirement in asked else None,
            "waiver": one.waiver,
            "answer": one.answer,
            "file": Path(one.mark.file).name,
            "line": one.mark.line,
        }


def _finding_sources(facts: TableFacts) -> Iterator[Cells]:
    for number, one in enumerate(facts.spec.assessment.findings, start=1):
        for position, source in enumerate(one.sources, start=1):
            yield {"finding": number, "position": position, **source_cells(source)}


def calculated(facts: TableFacts) -> Iterator[Calculation]:
    """The calculations that the basis report shows, by parapet and subject."""
    one, project = facts.spec.assessment, facts.inputs.project
    subjects = reported(project)
    for parapet in project.parapets:
        made = one.calculations[parapet.name]
        yield from (made[subject] for subject in subjects if subject in made)


def _calculations(facts: TableFacts) -> Iterator[Cells]:
    for one in calculated(facts):
        yield {
            "parapet": one.parapet,
            "subject": one.subject,
            "title": one.title,
            "done": one.done,
            "validity": one.validity,
        }


def _calculation_lines(facts: TableFacts) -> Iterator[Cells]:
    for one in calculated(facts):
        lines = [
            *(("input", "", line) for line in one.inputs),
            *(("step", "", line) for line in one.steps),
            *(("result", name, line) for name, line in one.results.items()),
        ]
        for position, (part, name, line) in enumerate(lines, start=1):
            yield {
                "parapet": one.parapet,
                "subject": one.subject,
                "position": position,
                "part": part,
                "name": name,
                "symbol": line.symbol,
                "title": line.title,
                "value_text": show_on_sheet(line.value, facts.spec.assessment.system),
                **quantity_cells("value", line.value),
                "formula": line.formula,
                "source": by_name(line.source, facts),
            }


def _calculation_notes(facts: TableFacts) -> Iterator[Cells]:
    for one in calculated(facts):
        notes = [
            *(("missing", words) for words in one.missing),
            *(("leaves out", words) for words in one.leaves_out),
            *(("source", words) for words in one.sources),
        ]
        for position, (sort, words) in enumerate(notes, start=1):
            yield {
                "parapet": one.parapet,
                "subject": one.subject,
                "position": position,
                "sort": sort,
                "words": by_name(words, facts),
            }


WALL_ROWS: Mapping[str, Callable[[TableFacts], Iterator[Cells]]] = {
    "project": _project,
    "parapets": _parapets,
    "components": _components,
    "requirements": _requirements,
    "requirement_places": _requirement_places,
    "weighed": _weighed,
    "checklist": _checklist,
    "findings": _findings,
    "finding_sources": _finding_sources,
    "calculations": _calculations,
    "calculation_lines": _calculation_lines,
    "calculation_notes": _calculation_notes,
}
