"""MV05: the issue date is stated where something is held against it.

Amendments of the code hold from a day to a day, a waiver has a last day, and a survey grows old. Each is held against
the issue date, never against the clock. Without it a waiver with a last day waives nothing, and the amendments of the
jurisdiction are those that have no end.

Right::

    project:
      issue_date: 2026-11-02
    site:
      jurisdiction: Florida

Wrong::

    project:
      issue_date: unknown
    site:
      jurisdiction: Florida
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.rules.rule import Rule, RuleResult, not_applicable, ok, unknown
from specgen.rules.wall import Wall

RULE = Rule(
    name="issue date",
    severity=Severity.QUERY,
    applies_to="days",
    reason="What holds on one day does not hold on another.",
    basis=("unknown.asked",),
    remedy="State the day on which the documents are issued.",
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The issue date, where amendments, a waiver or a survey are held against it."""
    project, existing = wall.project, wall.parapet.existing
    resting = [f"amendments of {place}" for place in [project.site.word("jurisdiction")] if place]
    resting += [
        f"the waiver of {one.rule}"
        for one in project.waivers
        if one.has("until") and one.parapet in ("all", wall.parapet.name)
    ]
    resting += ["the age of the survey"] if existing is not None and existing.has("surveyed") else []
    info = project.info
    if not resting:
        yield not_applicable("nothing is held against the issue date")
    elif info.has("issue_date"):
        yield ok(f"the issue date is stated: {', '.join(resting)}", info.at("issue_date"))
    else:
        message = f"the issue date is not known; held against it: {', '.join(resting)}"
        yield unknown(message, "`project.issue_date`", info.at("issue_date"))
