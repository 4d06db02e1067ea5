"""specgen write: the sections, the submittal checklist and the trace of every number."""

from __future__ import annotations

from pathlib import Path

import click

from specgen.assessment import assess
from specgen.commands.check import status, summary
from specgen.commands.common import (
    FORCE,
    FORMAT,
    OUTPUT,
    PROJECT,
    beside_lines,
    counted,
    echo_json,
    exits,
    told,
)
from specgen.files.writing import OutputFolder
from specgen.intake.project import load_project
from specgen.practice.load import load_practice


@click.command()
@PROJECT
@OUTPUT
@FORCE
@FORMAT
@exits
def command(project: Path, output: Path, force: bool, form: str) -> int:
    """Write the specification of PROJECT: sections (Word), submittal checklist (Word, JSON), trace (JSON).

    Documents are written whatever the rules find; the findings are counted here and listed by `check`.
    Exit status: 0 nothing worse than a query, 1 a defect or a risk stands, 2 the file cannot be used.
    """
    from specgen.render.outputs import add_issue
    from specgen.sections.build import build_sections
    from specgen.sections.checklist import checklist

    practice = load_practice()
    assessment = assess(load_project(project, practice), practice)
    sections = build_sections(assessment.project, assessment.requirements, practice)
    rows = checklist(assessment.project, assessment.requirements, sections, practice)
    folder = OutputFolder(output)
    add_issue(folder, assessment, sections, rows)
    written = folder.commit(force=force)
    counts = summary(assessment.findings)
    if form == "json":
        echo_json({"project": assessment.project.title, "summary": counts, **told(written)})
        return status(assessment)
    click.echo(
        f"{assessment.project.title}: {len(sections)} sections, {len(rows)} checklist rows in {output}"
    )
    for line in beside_lines(written):
        click.echo(line)
    click.echo(f"Findings: {counted(counts)}. For the reasons: specgen check {project}")
    return status(assessment)
