"""specgen write: the sections, the submittal checklist and the trace of every number."""

from __future__ import annotations

import shlex
from pathlib import Path

import click

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
from specgen.commands.inputs import ALLOW_CODE, OFFICE, WEATHER, read_inputs
from specgen.commands.template import TEMPLATE, template_of
from specgen.files.writing import OutputFolder


@click.command()
@PROJECT
@OUTPUT
@OFFICE
@ALLOW_CODE
@WEATHER
@TEMPLATE
@FORCE
@FORMAT
@exits
def command(
    project: Path,
    output: Path,
    office: Path | None,
    allow_code: bool,
    weather: Path | None,
    template: Path | None,
    force: bool,
    form: str,
) -> int:
    """Write the specification of PROJECT: sections (Word), submittal checklist (Word, JSON), trace (JSON).

    Documents are written whatever the rules find; the findings are counted here and listed by `check`.

    Exit status: 0 nothing worse than a query, 1 a defect or a risk stands, 2 the file cannot be used.
    """
    from specgen.render.outputs import add_issue, inputs_read
    from specgen.sections.build import build_sections
    from specgen.sections.checklist import checklist

    look = template_of(template)
    assessment = read_inputs(project, office, allow_code, weather).assessed()
    practice = assessment.practice
    sections = build_sections(assessment.project, assessment.requirements, practice)
    rows = checklist(assessment.project, assessment.requirements, sections, practice)
    folder = OutputFolder(output)
    add_issue(folder, assessment, sections, rows, look)
    written = folder.commit(force=force, manifest_extra=inputs_read(assessment.project))
    counts = summary(assessment.findings)
    if form == "json":
        echo_json({"project": assessment.project.title, "summary": counts, **told(written)})
        return status(assessment.findings)
    click.echo(
        f"{assessment.project.title}: {len(sections)} sections, {len(rows)} checklist rows in {output}"
    )
    for line in beside_lines(written):
        click.echo(line)
    click.echo(f"Findings: {counted(counts)}. For the reasons: specgen check {shlex.quote(str(project))}")
    return status(assessment.findings)
