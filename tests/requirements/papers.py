"""What the documents of a project print of one requirement: section, checklist, trace, report, drawings."""

from __future__ import annotations

import re
from dataclasses import dataclass

from specgen.basis.content import findings, requirements
from specgen.drawing.shapes import Dimension, Text
from specgen.drawing.sheets import sheets
from specgen.model.document import numbered
from specgen.model.finding import Outcome
from specgen.sections.checklist_sheet import checklist_workbook
from specgen.sections.words import requirement_words
from specgen.specification import Specification
from tests.requirements.oracle import Asked, alike, twins
from tests.requirements.statements import PARAPET, Base

_PRINTED = re.compile(r"(?:at least|not more than|at most) (.+?)(?: \((.+?)\))?(?: at .+)?")


@dataclass(frozen=True)
class Papers:
    """What every document prints of the limit, and which of them say that the wall as described misses it."""

    limits: frozenset[str]  # of the checklist, the workbook, the report
    paragraph: str
    marked: bool  # the value is marked as unmet wherever it is printed
    drawn: bool  # a sheet prints what the paragraph asks for beside the size
    reported: bool  # the report lists the finding as one that failed


def papers_of(spec: Specification, base: Base) -> Papers:
    """Read the documents of a project that states a value of the requirement."""
    one = spec.assessment.requirements.at(base.requirement.name, PARAPET)
    assert one is not None
    ref = spec.paragraphs[one.id]
    (section,) = (each for each in spec.sections if each.number == ref.section)
    (paragraph,) = (each.para.text for each in numbered(section.document.blocks) if each.number == ref.number)
    (row,) = (each for each in spec.rows if each.requirement == one.id)
    limits = {row.required, requirement_words(one, spec.assessment.practice, spec.assessment.system)}
    limits |= {each.limit for each in requirements(spec) if each.id == one.id}
    limits |= _cells(spec, row.number)
    wall = spec.assessment.project.parapets[0]
    unmet = spec.unmet(PARAPET)
    parts = wall.all_of(one.role)
    cites = f"{ref.section}, {ref.number} asks for"
    shown = [
        item.words for sheet in sheets(spec) for item in sheet.items if isinstance(item, Text | Dimension)
    ]
    return Papers(
        limits=frozenset(limits),
        paragraph=paragraph,
        marked=any(part.at(one.attribute) in unmet for part in parts),
        drawn=cites in " ".join(shown),
        reported=any(
            row.finding.outcome is Outcome.FAIL and row.finding.requirement == one.id
            for row in findings(spec.assessment)
        ),
    )


def _cells(spec: Specification, known: str) -> set[str]:
    """What the workbook asks for in the row of a requirement."""
    book = checklist_workbook(spec.rows, spec.sections, spec.assessment.project)
    rows = (row.cells for sheet in book.sheets for row in sheet.rows)
    return {str(cells["required"]) for cells in rows if cells.get("id") == known}


def no_weaker(asked: Asked, printed: str, own: str) -> bool:
    """Whether a printed limit is as strict as the limit or the project's own stricter value, or a nominal value of it.

    ``own`` is the limit where the project's value sets none.
    """
    match = _PRINTED.fullmatch(printed)
    assert match is not None, printed
    size = alike(match[1]).size
    stricter = max if asked.comparison == "at least" else min
    assert isinstance(asked.limit, str)
    governs = stricter((alike(asked.limit).size, alike(own).size))
    nominal = [alike(one).size for one in (*twins(asked), *twins(Asked(asked.comparison, own)))]
    beyond = size >= governs if asked.comparison == "at least" else size <= governs
    return beyond or size in nominal
