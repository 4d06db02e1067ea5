"""The submittals due: one entry a document that a section asks for, with the dates it must keep."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from specgen.register.dates import WorkDates
from specgen.sections.words import joined
from specgen.specification import Specification

CLOSEOUT = "closeout"


@dataclass(frozen=True)
class RegisterEntry:
    """One submittal due. The id stays between issues, and under whatever number the office issues the section."""

    id: str
    section: str
    paragraph: str
    item: str
    type: str
    trade: str
    where: str
    before: str  # the part whose placing waits for it
    submit: date | None
    needed: date | None


def entries(spec: Specification, dates: WorkDates) -> tuple[RegisterEntry, ...]:
    """The entries of a register, by the day they must be submitted, then by section and paragraph.

    Args:
        spec: the project as written.
        dates: the work on the calendar.
    """
    found = []
    practice = spec.assessment.practice
    vocabulary = practice.vocabulary
    shipped_as = {one.number: number for number, one in practice.sections.items()}
    for section in spec.sections:
        roles = [name for name, role in vocabulary.roles.items() if role.section == section.number]
        for demand in section.submittals:
            due = dates.due(roles, closeout=demand.type == CLOSEOUT)
            found.append(
                RegisterEntry(
                    id=f"{shipped_as.get(section.number, section.number)} {demand.paragraph.key}",
                    section=demand.paragraph.section,
                    paragraph=demand.paragraph.number,
                    item=demand.item,
                    type=demand.type,
                    trade=demand.trade,
                    where=joined(demand.parapets, "and") if demand.parapets else "all",
                    before=due.step,
                    submit=due.submit,
                    needed=due.needed,
                )
            )
    order = {one.id: place for place, one in enumerate(found)}
    return tuple(sorted(found, key=lambda one: (one.submit or date.min, order[one.id])))
