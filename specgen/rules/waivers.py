"""Waivers: a finding the project accepts, with who decided, when and why; and waivers that waive nothing."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from specgen.files.marks import near
from specgen.model.finding import Finding, Outcome, Severity
from specgen.model.project import Project, Waiver
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


def apply_waivers(
    findings: Iterable[Finding], project: Project, codes: Iterable[str], practice: Practice
) -> list[Finding]:
    """The findings with the waived ones marked, and a query for each waiver that fits no failure."""
    out = [_waived(one, project.waivers) for one in findings]
    return [*out, *_idle(out, project, tuple(codes), practice)]


def _fits(waiver: Waiver, finding: Finding) -> bool:
    return waiver.rule == finding.code and waiver.parapet in ("all", finding.parapet)


def _waived(finding: Finding, waivers: tuple[Waiver, ...]) -> Finding:
    if finding.outcome is not Outcome.FAIL:
        return finding
    waiver = next((one for one in waivers if _fits(one, finding)), None)
    if waiver is None:
        return finding
    text = f"{waiver.word('by')}, {waiver.values['date']}: {waiver.word('reason')}"
    return replace(finding, outcome=Outcome.WAIVED, waiver=text)


def _idle(
    findings: list[Finding], project: Project, codes: tuple[str, ...], practice: Practice
) -> Iterator[Finding]:
    for waiver in project.waivers:
        if any(one.outcome is Outcome.WAIVED and _fits(waiver, one) for one in findings):
            continue
        name, message = _why_idle(waiver, project, codes)
        yield Finding(
            code=WAIVER_RULE.code,
            name=WAIVER_RULE.name,
            severity=WAIVER_RULE.severity,
            outcome=Outcome.FAIL,
            message=message,
            mark=waiver.at(name),
            parapet=waiver.parapet,
            layer="",
            reason=WAIVER_RULE.reason,
            remedy=WAIVER_RULE.remedy,
            sources=tuple(practice.source(key) for key in WAIVER_RULE.basis),
        )


def _why_idle(waiver: Waiver, project: Project, codes: tuple[str, ...]) -> tuple[str, str]:
    """The key at fault and the message."""
    names = [parapet.name for parapet in project.parapets]
    if waiver.rule not in codes:
        guess = near(waiver.rule, codes)
        return "rule", f"waiver of an unknown rule `{waiver.rule}`" + (
            f"; did you mean `{guess}`?" if guess else ""
        )
    if waiver.parapet not in ("all", *names):
        return "parapet", f"waiver of {waiver.rule} at an unknown parapet `{waiver.parapet}`"
    where = "at any parapet" if waiver.parapet == "all" else f"at parapet {waiver.parapet}"
    return "rule", f"waiver of {waiver.rule}, which does not fail {where}"
