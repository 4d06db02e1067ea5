"""What the line of a project holds in the state and the data of an audit, key by key."""

from __future__ import annotations

from typing import TypedDict


class ProblemLine(TypedDict):
    """One problem of a project's files."""

    place: str  # file:line:column, from the audited folder
    message: str
    fix: str


class FindingLine(TypedDict):
    """One finding that someone must act on."""

    code: str
    name: str
    severity: str
    layer: str  # component id; "" where the finding is about the whole parapet
    message: str
    missing: str  # keys of values that are not stated
    place: str  # file:line:column, from the audited folder
    parapets: list[str]


class ProductLine(TypedDict):
    """One product of an accepted paper."""

    role: str
    kind: str
    name: str


class AgainstLine(TypedDict):
    """One requirement that an accepted product fails."""

    product: str
    requirement: str
    title: str
    submitted: str
    reason: str


class PaperFacts(TypedDict):
    """One accepted paper as it is recorded."""

    paper: str  # submittal or substitution
    file: str
    number: str  # of the submittal or request
    date: str
    by: str
    result: str
    note: str
    products: list[ProductLine]
    changes: list[str]  # of the assembly, as path=value


class HeldLine(TypedDict):
    """A paper against the requirements of the wall as designed."""

    against: list[AgainstLine]  # requirements that its products fail
    unproven: int  # rows that it leaves unproven


class PaperLine(PaperFacts, HeldLine):
    """One accepted paper, and what it does to the wall with all that was accepted before it."""

    brings: list[FindingLine]  # findings that stand with it and did not before
    closes: list[FindingLine]  # findings that are gone with it


class PartLine(TypedDict):
    """One part of the walls as accepted; alike parts of several parapets in one row."""

    role: str
    kind: str
    product: str  # accepted for it; "" where none was
    file: str  # the paper that brought it; "" where the project file names it
    values: dict[str, str]  # stated values by key
    parapets: list[str]


class ProjectFacts(TypedDict):
    """What projects are told apart and grouped by."""

    number: str  # of the project
    name: str
    climate: str  # climate zone
    use: str  # of the building
    parapets: int  # how many


class ProjectRecord(ProjectFacts):
    """A project that could be assessed."""

    designed: list[FindingLine]  # findings of the wall as designed
    accepted: (
        list[FindingLine] | None
    )  # findings of the wall as accepted; null where the papers cannot be put into it
    papers: list[PaperLine] | None  # what was accepted, by date; null where the papers cannot be used
    parts: list[PartLine]  # of the walls as accepted


class ProjectHead(TypedDict):
    """One project of an audit; of one whose file cannot be used there is no more than this."""

    path: str  # its folder, from the audited one
    key: str  # sum of all that was read; in the state alone
    inputs: dict[str, str]  # sums of the files that were read; in the state alone
    status: (
        int  # as `check` of the wall as accepted would leave; 2 for files that cannot be used, 70 for a fault
    )
    problems: list[ProblemLine]  # why its files cannot be used; none where they can
