"""Waivers: a finding the project accepts, with who decided, when and why; and waivers that waive nothing."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import replace
from datetime import date

from specgen.files.marks import near
from specgen.model.finding import Finding, Outcome
from specgen.model.project import Project, Waiver
from specgen.practice.entries import Practice
from specgen.rules.papers import EXPIRED_RULE, WAIVER_RULE, paper_finding


def apply_waivers(
    findings: Iterable[Finding], project: Project, codes: Iterable[str], practice: Practice
) -> list[Finding]:
    """The findings with the waived ones marked, and a query for each waiver that waives nothing."""
    out = [_waived(one, project) for one in findings]
    return [*out, *_idle(out, project, tuple(codes), practice)]


def waiver_for(finding: Finding, project: Project) -> Waiver | None:
    """The waiver in force that accepts this finding, or None."""
    return next((one for one in project.waivers if _fits(one, finding) and not expired(one, project)), None)


def expired(waiver: Waiver, project: Project) -> bool:
    """Whether the waiver's last day lies before the issue date of the project; the clock is never asked."""
    until, issued = waiver.values.get("until"), project.info.values.get("issue_date")
    return isinstance(until, date) and isinstance(issued, date) and until < issued


def in_force(project: Project, findings: Iterable[Finding]) -> tuple[Waiver, ...]:
    """The waivers that waive one of these findings, in the order of the project file."""
    waived = [one for one in findings if one.outcome is Outcome.WAIVED]
    return tuple(
        waiver
        for waiver in project.waivers
        if not expired(waiver, project) and any(_fits(waiver, one) for one in waived)
    )


def _fits(waiver: Waiver, finding: Finding) -> bool:
    return (
        waiver.rule == finding.code
        and waiver.parapet in ("all", finding.parapet)
        and (waiver.word("limit") or "") == finding.limit
    )


def _waived(finding: Finding, project: Project) -> Finding:
    if finding.outcome is not Outcome.FAIL:
        return finding
    waiver = waiver_for(finding, project)
    if waiver is None:
        return finding
    until = f", until {waiver.values['until']}" if waiver.has("until") else ""
    text = f"{waiver.word('by')}, {waiver.values['date']}{until}: {waiver.word('reason')}"
    return replace(finding, outcome=Outcome.WAIVED, waiver=text)


def _idle(
    findings: list[Finding], project: Project, codes: tuple[str, ...], practice: Practice
) -> Iterator[Finding]:
    used = in_force(project, findings)
    for waiver in project.waivers:
        if expired(waiver, project):
            message = (
                f"the waiver of {waiver.rule} ended on {waiver.values['until']}, "
                f"before the issue date {project.info.values['issue_date']}"
            )
            yield paper_finding(EXPIRED_RULE, message, waiver.at("until"), practice, waiver.parapet)
        elif waiver not in used:
            message = _why_idle(waiver, findings, {*codes, *(one.code for one in findings)})
            yield paper_finding(WAIVER_RULE, message, waiver.at("rule"), practice, waiver.parapet)


def _why_idle(waiver: Waiver, findings: Iterable[Finding], codes: Collection[str]) -> str:
    if waiver.rule not in codes:
        guess = near(waiver.rule, sorted(codes))
        return f"waiver of an unknown rule `{waiver.rule}`" + (f"; did you mean `{guess}`?" if guess else "")
    limits = sorted({one.limit for one in findings if one.code == waiver.rule and one.limit})
    if limits:
        return f"waiver of {waiver.rule} names none of the limits it reports: add `limit: {limits[0]}`"
    where = "at any parapet" if waiver.parapet == "all" else f"at parapet {waiver.parapet}"
    return f"waiver of {waiver.rule}, which does not fail {where}"
