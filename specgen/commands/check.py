"""specgen check: schema and rules, findings with file, line and column."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import click

from specgen.assessment import Assessment
from specgen.commands.common import counted, echo_json, exits, print_json, status
from specgen.commands.options import (
    ALLOW_CODE,
    CLAUSES,
    OFFICE,
    PROJECT,
    TEMPLATE,
    WEATHER,
    completed,
    output_folder,
)
from specgen.commands.terminal import print_text
from specgen.commands.unusable import WordError
from specgen.design.progress import part, tell
from specgen.model.finding import Finding
from specgen.model.folded import FoldedFinding, folded, summary
from specgen.practice.office import Office
from specgen.rules.catalogue import finding_lines, openings_lines
from specgen.rules.existing.openings import PlannedOpenings
from specgen.units.counted import many
from specgen.work.filters import Filters
from specgen.work.inputs import read_inputs

if TYPE_CHECKING:
    from specgen.explain.chain import Explanation
    from specgen.specification import Specification


@dataclass(frozen=True)
class Checked:
    """What is printed as data of a checked project."""

    project: str
    office: Office | None
    filters: Filters
    summary: Mapping[str, int]
    findings: tuple[FoldedFinding, ...]
    openings: tuple[PlannedOpenings, ...]
    explanations: tuple[Explanation, ...] = ()


@click.command()
@PROJECT
@click.option(
    "--parapet",
    "parapets",
    multiple=True,
    shell_complete=completed("parapets"),
    help="Show findings of this parapet; repeatable.",
)
@click.option(
    "--severity",
    "severities",
    multiple=True,
    shell_complete=completed("severities"),
    help="Show findings of this severity: defect, risk, query.",
)
@click.option(
    "--code",
    "codes",
    multiple=True,
    shell_complete=completed("rules"),
    help="Show findings of this rule; repeatable.",
)
@click.option(
    "--explain",
    is_flag=True,
    help="Explain each finding: its value and line, limit, what hangs on it, and remedies tried on a copy.",
)
@click.option(
    "--questions",
    is_flag=True,
    help="List what is unknown in place of the findings, what decides most first: what hangs on it, who can answer.",
)
@click.option(
    "-o",
    "--output",
    callback=lambda *words: None if words[-1] is None else output_folder(*words),
    shell_complete=completed("folders"),
    metavar="DIRECTORY",
    help="With --questions: write them as a form to send (Word) and a page (HTML); nothing reads an answer back.",
)
@TEMPLATE
@OFFICE
@ALLOW_CODE
@WEATHER
@CLAUSES
@click.option(
    "--format",
    "form",
    type=click.Choice(["text", "json", "sarif"]),
    default="text",
    help="How to print; sarif is SARIF 2.1.0, read by code review tools and editors.",
)
@exits
def command(
    project: Path,
    parapets: tuple[str, ...],
    severities: tuple[str, ...],
    codes: tuple[str, ...],
    explain: bool,
    questions: bool,
    output: Path | None,
    template: Path | None,
    office: Path | None,
    allow_code: bool,
    weather: Path | None,
    clauses: Path | None,
    form: str,
) -> int:
    """Check PROJECT against the rule book: each finding with its line, reason, source and remedy.

    The filters choose what is shown and counted; the exit status follows what is shown.
    Exit status: 0 nothing worse than a query and nothing unknown, 1 a defect or a risk stands, 2 the file cannot be
    used, 3 nothing failed, but something is unknown.
    """
    if explain and form == "sarif":
        raise click.UsageError("--explain prints as text or json")
    if questions and (explain or form == "sarif" or parapets or severities or codes):
        raise click.UsageError("--questions lists every question, as text or json")
    if not questions and (output or template) is not None:
        raise click.UsageError("-o and --template are for --questions")
    inputs = read_inputs(project, office, allow_code, weather, clauses)
    tell(0.3)
    assessment = inputs.assessed()
    tell(0.5 if questions or explain else 1.0)
    if questions:
        from specgen.commands.asked import ask

        ask(assessment, output, template, form)
        return status(assessment.findings)
    spec = None
    if assessment.clauses or explain:
        from specgen.specification import specify

        spec = specify(assessment)  # an office's clauses are checked by writing with them
    filters = Filters(parapets, severities, tuple(code.upper() for code in codes))
    strange = filters.strange(assessment)
    if strange:
        raise WordError(strange)
    findings = tuple(one for one in assessment.findings if filters.passes(one))
    if form == "sarif":
        from specgen.render.sarif import sarif_log

        shown = [one for one in findings if one.shown]
        print_json(sarif_log(shown, assessment, Path.cwd()))
    elif explain and spec:
        _explain(spec, findings, filters, form)
    elif form == "json":
        echo_json(_checked(assessment, findings, filters))
    else:
        print_text(text(assessment, findings, filters))
    return status(findings)


def _explain(
    spec: Specification,
    findings: tuple[Finding, ...],
    filters: Filters,
    form: str,
) -> None:
    """Print the findings explained."""
    from specgen.explain.show import explanation_text
    from specgen.work.explained import explained

    assessment = spec.assessment
    with part(0.5, 1.0):
        explanations = explained(spec, findings)
    if form == "json":
        echo_json(_checked(assessment, findings, filters, explanations))
    else:
        with_remedies = {id(one.finding) for one in explanations}
        rest = [one for one in findings if id(one) not in with_remedies and one.shown]
        blocks = [explanation_text(explanations), *(finding_lines(one) for one in folded(rest))]
        blocks += [openings_lines(filters.openings(assessment)), closing(assessment, findings, filters)]
        print_text("\n\n".join(block for block in blocks if block))


def _checked(
    assessment: Assessment,
    findings: tuple[Finding, ...],
    filters: Filters,
    explanations: tuple[Explanation, ...] = (),
) -> Checked:
    return Checked(
        assessment.project.title,
        assessment.office,
        filters,
        summary(findings),
        folded(one for one in findings if one.shown),
        filters.openings(assessment),
        explanations,
    )


def text(assessment: Assessment, findings: Iterable[Finding], filters: Filters) -> str:
    """The findings that someone must act on, the openings wanted, and a line that counts the findings."""
    every = tuple(findings)
    lines = [finding_lines(one) for one in folded(one for one in every if one.shown)]
    openings = openings_lines(filters.openings(assessment))
    return "\n".join([*lines, *([openings] if openings else []), closing(assessment, every, filters)])


def closing(assessment: Assessment, findings: tuple[Finding, ...], filters: Filters) -> str:
    """The lines under the findings: the office, the filters, the counts."""
    lines, counts = [], summary(findings)
    if assessment.office:
        lines.append(f"With the standards of {assessment.office.name} ({assessment.office.path}).")
    if str(filters):
        lines.append(f"Only a part is {filters}.")
    lines.append(f"{assessment.project.title}: {counted(counts)}; {passed(counts)}.")
    return "\n".join(lines)


def passed(counts: Mapping[str, int]) -> str:
    """How many checks passed, and how many are left to what the sections ask for, in words.

    >>> passed({"pass": 1, "specified": 0}), passed({"pass": 2, "specified": 3})
    ('1 check passed', '2 checks passed, 3 left to the sections')
    """
    count, left = counts["pass"], counts["specified"]
    return f"{many(count, 'check')} passed" + (f", {left} left to the sections" if left else "")
