"""The submittals due: one entry a document that a section asks for, with the dates it must keep."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from specgen.register.dates import Due, WorkDates
from specgen.sections.words import joined
from specgen.specification import Specification

CLOSEOUT = "closeout"
IF_ANY = frozenset(
    {"01 25 00 request_submittal"}
)  # ids of what comes only where somebody wants a change: due on no day


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
            id_ = f"{shipped_as.get(section.number, section.number)} {demand.paragraph.key}"
            due = Due("", None, None) if id_ in IF_ANY else dates.due(roles, demand.type == CLOSEOUT)
            found.append(
                RegisterEntry(
                    id=id_,
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
    return tuple(sorted(found, key=lambda one: (one.submit or date.max, order[one.id])))
