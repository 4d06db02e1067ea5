"""Rules that look at the project's papers, its waivers and its office file, and not at a parapet."""

from __future__ import annotations

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
OFFICE_RULE = Rule(
    code="OF01",
    name="office limit below the code",
    title="The office file asks for no less than the adopted code",
    severity=Severity.DEFECT,
    applies_to="office file",
    reason="A limit of the code binds the project whatever the office prefers.",
    basis=("limit.not_below_code",),
    remedy="Delete the limit from the office file, or waive OF01 in the project with `limit` naming its key.",
)
PAPER_RULES = (WAIVER_RULE, EXPIRED_RULE, OFFICE_RULE)


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
    )
