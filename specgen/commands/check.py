"""specgen check: schema and rules, findings with file, line and column."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path

import click

from specgen.assessment import Assessment, assess
from specgen.commands.common import CLEAN, FAILED, FORMAT, PROJECT, counted, echo_json, exits
from specgen.intake.project import load_project
from specgen.model.finding import Finding, Outcome, Severity
from specgen.practice.load import load_practice
from specgen.rules.catalogue import finding_json, finding_lines


@click.command()
@PROJECT
@FORMAT
@exits
def command(project: Path, form: str) -> int:
    """Check PROJECT against the rule book: each finding with its line, reason, source and remedy.

    Exit status: 0 nothing worse than a query, 1 a defect or a risk stands, 2 the file cannot be used.
    """
    practice = load_practice()
    assessment = assess(load_project(project, practice), practice)
    if form == "json":
        echo_json(
            {
                "project": assessment.project.title,
                "summary": summary(assessment.findings),
                "findings": [finding_json(one) for one in assessment.findings if one.outcome in SHOWN],
            }
        )
    else:
        click.echo(text(assessment))
    return status(assessment)


SHOWN = (Outcome.FAIL, Outcome.UNDETERMINED, Outcome.WAIVED)


def status(assessment: Assessment) -> int:
    """1 if a defect or a risk stands, 0 if nothing is worse than a query."""
    worse = assessment.failed(Severity.DEFECT) + assessment.failed(Severity.RISK)
    return FAILED if worse else CLEAN


def text(assessment: Assessment) -> str:
    """The findings that someone must act on, and a line that counts them."""
    shown = merged(one for one in assessment.findings if one.outcome in SHOWN)
    lines = [finding_lines(one) for one in shown]
    counts = summary(assessment.findings)
    lines.append(f"{assessment.project.title}: {counted(counts)}; {counts['pass']} checks passed.")
    return "\n".join(lines)


def summary(findings: Iterable[Finding]) -> dict[str, int]:
    """How many findings of each sort."""
    counts = Counter(
        one.severity.value if one.outcome is Outcome.FAIL else one.outcome.value for one in findings
    )
    order = [*(one.value for one in Severity), "undetermined", "waived", "pass", "not applicable"]
    return {word: counts[word] for word in order}


def merged(findings: Iterable[Finding]) -> list[Finding]:
    """One finding for what several parapets share: the same rule, line and message."""
    groups: dict[tuple[str, str, str, str], Finding] = {}
    for one in findings:
        key = (one.code, str(one.mark), one.message, one.layer)
        known = groups.get(key)
        groups[key] = replace(known, parapet=f"{known.parapet}, {one.parapet}") if known else one
    return list(groups.values())
