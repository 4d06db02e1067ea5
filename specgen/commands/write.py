"""specgen write: the sections, the submittal checklist and the trace of every number."""

from __future__ import annotations

import shlex
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

from specgen.assessment import Assessment, OpenPointsError
from specgen.commands.clauses import CLAUSES
from specgen.commands.common import (
    FAILED,
    FORCE,
    FORMAT,
    OUTPUT,
    PROJECT,
    beside_lines,
    counted,
    echo_json,
    exits,
    status,
)
from specgen.commands.inputs import ALLOW_CODE, OFFICE, WEATHER, Inputs, read_inputs
from specgen.commands.template import TEMPLATE, template_of
from specgen.files.marks import InputError, InputProblem, suggestion
from specgen.files.writing import OutputFolder, Written
from specgen.model.folded import FoldedFinding, folded, summary
from specgen.rules.catalogue import finding_lines

if TYPE_CHECKING:
    from specgen.render.word_text import HandEdit
    from specgen.sections.addendum import Addendum
    from specgen.sections.lint import Remark
    from specgen.specification import Specification

_MOST_EDITS = 12  # shown of one file
Edits = Mapping[str, "tuple[HandEdit, ...]"]


@dataclass(frozen=True)
class IssueRun:
    """What is printed as data of an issue that was written."""

    project: str
    summary: Mapping[str, int]
    files: Written
    remarks: tuple[Remark, ...]
    addendum: Addendum | None  # what changed since an earlier issue in the folder
    hand_edits: Edits


@dataclass(frozen=True)
class Refused:
    """What is printed as data of an issue for bid or construction that leaves something open; nothing is written."""

    project: str
    state: str
    open_points: tuple[FoldedFinding, ...]


@click.command()
@PROJECT
@OUTPUT
@OFFICE
@ALLOW_CODE
@WEATHER
@TEMPLATE
@click.option(
    "--state", metavar="STATE", help="Issue in this state, in place of the one the project file says."
)
@CLAUSES
@click.option(
    "--strict",
    is_flag=True,
    help="Write nothing where the linter has a remark on the text or two of the documents differ; list them, exit 1.",
)
@click.option(
    "--with-open-points",
    "open_points",
    is_flag=True,
    help="Issue for bid or construction although a defect stands or something is unknown; every page says so.",
)
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
    state: str | None,
    clauses: Path | None,
    strict: bool,
    open_points: bool,
    force: bool,
    form: str,
) -> int:
    """Write the specification of PROJECT: sections (Word), submittal checklist (Word, JSON), trace (JSON).

    A draft, and an issue for review, are written whatever the rules find; the findings are counted here and listed by
    `check`. An issue for bid or for construction with a defect that stands, or with something unknown, is refused,
    with the list, unless --with-open-points marks every page of it. Remarks of the linter on the text are listed.
    With --strict the finished documents are read against each other too, and one remark or one contradiction is
    enough to write nothing.

    Exit status: 0 nothing worse than a query and nothing unknown, 1 a defect or a risk stands, a suppressed clause
    carried a requirement, --strict found something, or the issue was refused, 2 the file cannot be used, 3 nothing
    failed, but something is unknown.
    """
    from specgen.render.issues import edits_by_hand, read_record
    from specgen.render.outputs import add_issue
    from specgen.sections.lint_issue import SUPPRESSED, WrittenIssue, lint_issue
    from specgen.specification import specify

    look = template_of(template)
    inputs = read_inputs(project, office, allow_code, weather, clauses)
    assessment = (inputs if state is None else in_state(inputs, state)).assessed()
    refuse_empty(assessment)
    try:
        assessment = assessment.issuable(open_points)
    except OpenPointsError as error:
        return _refused(error, form)
    spec = specify(assessment)
    remarks = lint_issue(
        WrittenIssue(
            assessment.project, assessment.requirements, assessment.practice, spec.clauses, spec.sections
        )
    )
    for remark in remarks:
        click.echo(str(remark), err=True)
    if strict and remarks:
        click.echo(f"{len(remarks)} remark{'s' if len(remarks) > 1 else ''}; nothing was written.", err=True)
        return FAILED
    folder = OutputFolder(output)
    record = read_record(output)
    addendum = add_issue(folder, spec, look)
    if strict and disagree(folder.contents):
        return FAILED
    written = committed(folder, spec, force)
    edits = edits_by_hand(written, record)
    counts = summary(assessment.findings)
    silent = any(SUPPRESSED in remark.message for remark in remarks)
    ending = status(assessment.findings, failed=silent)
    if form == "json":
        echo_json(IssueRun(assessment.project.title, counts, written, remarks, addendum, edits))
        return ending
    click.echo(
        f"{assessment.project.title}: {len(spec.sections)} sections, {len(spec.rows)} checklist rows in {output}"
    )
    for line in beside_lines(written):
        click.echo(line)
    for line in edit_lines(edits):
        click.echo(line)
    if addendum:
        click.echo(addendum_line(addendum))
    click.echo(f"Findings: {counted(counts)}. For the reasons: specgen check {shlex.quote(str(project))}")
    return ending


def committed(folder: OutputFolder, spec: Specification, force: bool) -> Written:
    """Write the prepared files of an issue; the manifest names the inputs and the clauses that were read."""
    from specgen.render.outputs import clauses_read, inputs_read

    extra = {**inputs_read(spec.assessment.project), **clauses_read(spec.clauses)}
    return folder.commit(force=force, manifest_extra=extra)


def _refused(error: OpenPointsError, form: str) -> int:
    """Tell what an issue for bid or construction may not leave open; nothing is written."""
    shown, project = folded(error.points), error.project
    if form == "json":
        echo_json(Refused(project.title, project.state, shown))
        return FAILED
    for one in shown:
        click.echo(finding_lines(one), err=True)
    count = len(shown)
    click.echo(
        f"{project.title} is to be {project.state.lower()}, and "
        f"{count} point{' is' if count == 1 else 's are'} open: nothing was written. Close "
        f"{'it' if count == 1 else 'them'}, waive the defects, issue a draft with `--state draft`, or mark every "
        "page with --with-open-points.",
        err=True,
    )
    return FAILED


def disagree(files: Mapping[str, bytes]) -> bool:
    """Whether two of the finished documents differ; each difference is listed."""
    from specgen.agreement.reader import contradictions

    found = contradictions(files)
    for one in found:
        click.echo(str(one), err=True)
    if found:
        words = "contradictions" if len(found) > 1 else "contradiction"
        click.echo(f"{len(found)} {words} between the documents; nothing was written.", err=True)
    return bool(found)


def refuse_empty(assessment: Assessment) -> None:
    """Stop where no parapet lists a component: there is nothing to specify.

    Raises:
        InputError: names the roles that are missing.
    """
    parapets = assessment.project.parapets
    if any(part for parapet in parapets for part in parapet.components()):
        return
    roles = assessment.practice.vocabulary.roles.values()
    lists = {
        key: ", ".join(role.name for role in roles if role.where == where)
        for key, where in (("build_up", "build-up"), ("top", "top"))
    }
    raise InputError(
        [
            InputProblem(
                parapets[0].mark,
                f"no parapet lists a component, so no section can be written; missing in `{key}`: {names}",
                f"add `{key}:` with lines that start with `- role: …`, or name a `type` that has them",
            )
            for key, names in lists.items()
        ]
    )


def in_state(inputs: Inputs, state: str) -> Inputs:
    """The inputs with another state of issue than the project file says.

    Raises:
        click.BadParameter: the vocabulary has no such state.
    """
    choices = inputs.practice.vocabulary.records["project"].fields["state"].choices
    if state not in choices:
        hint = suggestion(state, choices, f"one of: {', '.join(choices)}")
        raise click.BadParameter(f"no state `{state}`; {hint}")
    info = inputs.project.info
    info_with_state = replace(info, values={**info.values, "state": state})
    return replace(inputs, project=replace(inputs.project, info=info_with_state))


def edit_lines(edits: Edits) -> Iterator[str]:
    """The paragraphs that somebody changed by hand in the files that were kept."""
    for name, changes in edits.items():
        yield f"{name}: {len(changes)} paragraph{'' if len(changes) == 1 else 's'} changed by hand"
        for one in changes[:_MOST_EDITS]:
            yield from (f"    {sign} {words}" for sign, words in (("-", one.was), ("+", one.now)) if words)
        if len(changes) > _MOST_EDITS:
            yield f"    and {len(changes) - _MOST_EDITS} more"


def addendum_line(addendum: Addendum) -> str:
    """One line on what changed since the earlier issue in the folder."""
    old, new = addendum.old, addendum.new
    paragraphs = sum(len(changes) for changes in addendum.paragraphs.values())
    return (
        f"Changed since the issue of {old.date}, {old.state}: {len(addendum.inputs)} input values, {paragraphs} "
        f"paragraphs, {len(addendum.rows)} checklist rows, {len(addendum.drawings)} drawings; the list is in "
        f"addendum-{new.date}.docx, marked copies in marked-{new.date}"
    )
