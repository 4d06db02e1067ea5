"""Waivers and answers: what a named person decided on a finding, and decisions that fit none."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import replace
from datetime import date

from specgen.files.marks import near
from specgen.model.finding import Finding, Outcome
from specgen.model.project import Decision, Project
from specgen.practice.entries import Practice
from specgen.rules.papers import ANSWER_RULE, EXPIRED_RULE, WAIVER_RULE, paper_finding


def apply_decisions(
    findings: Iterable[Finding], project: Project, codes: Iterable[str], practice: Practice
) -> list[Finding]:
    """The findings with the waived and the answered ones marked, and a query for each decision that fits nothing."""
    out = [_answered(_waived(one, project), project) for one in findings]
    return [*out, *_idle(out, project, tuple(codes), practice)]


def waiver_for(finding: Finding, project: Project) -> Decision | None:
    """The waiver in force that accepts this finding, or None."""
    return next((one for one in project.waivers if _fits(one, finding) and not expired(one, project)), None)


def expired(waiver: Decision, project: Project) -> bool:
    """Whether the waiver's last day lies before the issue date of the project; the clock is never asked.

    Where the issue date is not known, a waiver with a last day waives nothing.
    """
    until, issued = waiver.values.get("until"), project.info.values.get("issue_date")
    return isinstance(until, date) and (not isinstance(issued, date) or until < issued)


def in_force(
    decisions: Iterable[Decision], project: Project, findings: Iterable[Finding]
) -> tuple[Decision, ...]:
    """The waivers that waive, or the answers that answer, one of these findings and have not ended, in their order."""
    found = tuple(findings)
    return tuple(
        decision
        for decision in decisions
        if not expired(decision, project)
        and any(
            _fits(decision, one) and (one.waiver if decision.what == "waiver" else one.answer)
            for one in found
        )
    )


def _fits(waiver: Decision, finding: Finding) -> bool:
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


def _answered(finding: Finding, project: Project) -> Finding:
    if finding.outcome is not Outcome.NOT_COVERED:
        return finding
    answer = next((one for one in project.answers if _fits(one, finding)), None)
    if answer is None:
        return finding
    by, words, reference = (answer.word(name) for name in ("by", "answer", "reference"))
    text = f"{by}, {answer.values['date']}: {words} ({reference})"
    return replace(finding, answer=text, missing="")


def _idle(
    findings: list[Finding], project: Project, codes: tuple[str, ...], practice: Practice
) -> Iterator[Finding]:
    used = in_force((*project.waivers, *project.answers), project, findings)
    for waiver in project.waivers:
        if expired(waiver, project) and not project.issued:
            continue  # MV05 asks for the date
        if expired(waiver, project):
            message = (
                f"the waiver of {waiver.rule} ended on {waiver.values['until']}, "
                f"before the issue date {project.info.values['issue_date']}"
            )
            yield paper_finding(EXPIRED_RULE, message, waiver.at("until"), practice, waiver.parapet)
        elif waiver not in used:
            message = _why_idle(waiver, findings, {*codes, *(one.code for one in findings)})
            yield paper_finding(WAIVER_RULE, message, waiver.at("rule"), practice, waiver.parapet)
    for answer in project.answers:
        if answer not in used:
            message = _why_idle(answer, findings, {*codes, *(one.code for one in findings)})
            yield paper_finding(ANSWER_RULE, message, answer.at("rule"), practice, answer.parapet)


def _why_idle(decision: Decision, findings: Iterable[Finding], codes: Collection[str]) -> str:
    what = f"{decision.what} {'of' if decision.what == 'waiver' else 'to'}"
    if decision.rule not in codes:
        guess = near(decision.rule, sorted(codes))
        return f"{what} an unknown rule `{decision.rule}`" + (f"; did you mean `{guess}`?" if guess else "")
    where = "at any parapet" if decision.parapet == "all" else f"at parapet {decision.parapet}"
    if decision.what == "answer":
        return f'{what} {decision.rule}, which does not answer "not covered" {where}'
    limits = sorted({one.limit for one in findings if one.code == decision.rule and one.limit})
    if limits:
        return f"{what} {decision.rule} names none of the limits it reports: add `limit: {limits[0]}`"
    return f"{what} {decision.rule}, which does not fail {where}"
