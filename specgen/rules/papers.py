"""Rules that look at the project's papers, its waivers, answers and office file, and not at a parapet."""

from __future__ import annotations

from dataclasses import dataclass

from specgen.files.marks import Mark
from specgen.model.finding import Finding, Outcome, Severity
from specgen.practice.entries import Practice
from specgen.rules.rule import Rule

WAIVER_RULE = Rule(
    code="WV01",
    name="waiver without a finding",
    title="A waiver names a rule that fails where the waiver says",
    severity=Severity.QUERY,
    applies_to="waivers",
    reason="A waiver that fits nothing hides a typing error, or outlives the fault it was written for.",
    basis=("waiver.names_finding",),
    remedy="Correct the rule code and the parapet of the waiver, or delete the waiver.",
)
EXPIRED_RULE = Rule(
    code="WV02",
    name="expired waiver",
    title="A waiver has not ended before the documents are issued",
    severity=Severity.QUERY,
    applies_to="waivers",
    reason="What was accepted up to a day is not accepted after it.",
    basis=("waiver.in_force",),
    remedy="Decide anew and write the new date and last day, or delete the waiver and correct the work.",
)
ANSWER_RULE = Rule(
    code="WV03",
    name="answer without a question",
    title="An answer names a rule that does not cover the project where the answer says",
    severity=Severity.QUERY,
    applies_to="answers",
    reason="An answer closes only what no rule of this country or edition covers; it lifts no finding.",
    basis=("answer.names_finding",),
    remedy="Correct the rule code and the parapet of the answer, or delete it; a finding is accepted by a waiver.",
)
OFFICE_RULE = Rule(
    code="OF01",
    name="office limit below the code",
    title="The office file asks for no less than the adopted code",
    severity=Severity.DEFECT,
    applies_to="office file",
    reason="A limit of the code binds the project whatever the office prefers.",
    basis=("limit.not_below_code",),
    remedy="Keep to the limit of the code, or have the exception permitted. Delete the limit from the `office` file, or "
    "waive OF01 in the project with `limit` naming its key.",
)
PAPER_RULES = (WAIVER_RULE, EXPIRED_RULE, ANSWER_RULE, OFFICE_RULE)
WAIVER_MANUAL = """WV01: a waiver names a rule that fails where the waiver says.

Looks at each waiver of the project. A waiver of an unknown rule, of a rule that does not fail at its parapet, or of
OF01 without the limit that it accepts, waives nothing.

Right::

    waivers:
      - rule: CP05
        parapet: P-1
        by: the architect of record
        date: 2026-10-01
        reason: shown by test

Wrong::

    waivers:
      - rule: CP5
        parapet: P-1
        by: the architect of record
        date: 2026-10-01
        reason: shown by test"""
EXPIRED_MANUAL = """WV02: a waiver has not ended before the documents are issued.

Compares the last day of each waiver with the issue date of the project. A waiver that ended before it waives
nothing; one that ends on it is in force. The clock is never asked.

Right::

    project:
      issue_date: 2026-11-02
    waivers:
      - rule: CP05
        until: 2026-12-31

Wrong::

    project:
      issue_date: 2026-11-02
    waivers:
      - rule: CP05
        until: 2026-10-31"""
ANSWER_MANUAL = """WV03: an answer names a rule that does not cover the project where the answer says.

Looks at each answer of the project. Rules of code cover the United States and the editions that the vocabulary names;
elsewhere they say "not covered", and a named person answers for what the code in force asks. An answer to a rule that
covers the project, or to one that does not exist, answers nothing.

Right::

    site: {country: Elsewhere}
    answers:
      - rule: CP01
        by: the architect of record
        date: 2026-10-01
        answer: the coping covers the wall and both drips
        reference: building regulations in force, 4.2

Wrong::

    site: {country: US}
    answers:
      - rule: CP01
        by: the architect of record
        date: 2026-10-01
        answer: the coping covers the wall and both drips
        reference: building regulations in force, 4.2"""
OFFICE_MANUAL = """OF01: the office file asks for no less than the adopted code.

Looks at each limit of the office file that rests on a model code. An office may ask for more than the code; a limit
below it is a defect, and is not used unless a waiver of the project names it.

Right::

    limits:
      drainage.depth: 1/2 in

Wrong::

    limits:
      drainage.depth: 1/8 in"""


@dataclass(frozen=True)
class PaperEntry:
    """A rule on the papers with its manual page, as the catalogue prints it."""

    rule: Rule
    manual: str


PAPER_BOOK = (
    PaperEntry(WAIVER_RULE, WAIVER_MANUAL),
    PaperEntry(EXPIRED_RULE, EXPIRED_MANUAL),
    PaperEntry(ANSWER_RULE, ANSWER_MANUAL),
    PaperEntry(OFFICE_RULE, OFFICE_MANUAL),
)


def paper_finding(
    rule: Rule, message: str, mark: Mark, practice: Practice, parapet: str = "all", limit: str = ""
) -> Finding:
    """A failed finding of one of these rules; ``parapet`` is "all" where it is about the whole project."""
    return Finding(
        code=rule.code,
        name=rule.name,
        severity=rule.severity,
        outcome=Outcome.FAIL,
        message=message,
        mark=mark,
        parapet=parapet,
        layer="",
        reason=rule.reason,
        remedy=rule.remedy,
        sources=tuple(practice.source(key) for key in rule.basis),
        limit=limit,
        title=rule.title,
    )
