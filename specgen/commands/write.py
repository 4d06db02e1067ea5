"""specgen write: the sections, the submittal checklist and the trace of every number."""

from __future__ import annotations

import shlex
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

import click

from specgen.assessment import OpenPointsError
from specgen.commands.common import FAILED, counted, echo_json, exits, folder_lines, need, status
from specgen.commands.options import (
    ALLOW_CODE,
    CLAUSES,
    FORCE,
    FORMAT,
    OFFICE,
    OTHER_PROJECT,
    OUTPUT,
    PROJECT,
    TEMPLATE,
    WEATHER,
    completed,
)
from specgen.commands.reading import as_word
from specgen.commands.template import template_of
from specgen.commands.terminal import print_text
from specgen.design.progress import part, tell
from specgen.files.marks import suggestion
from specgen.model.folded import FoldedFinding, folded, summary
from specgen.rules.catalogue import finding_lines
from specgen.units.counted import many
from specgen.work.inputs import Inputs, read_inputs

if TYPE_CHECKING:
    from specgen.agreement.statement import Contradiction
    from specgen.render.word_text import HandEdit
    from specgen.sections.addendum import Addendum
    from specgen.sections.lint import Remark
    from specgen.work.issue import Issued

_ASSESSED = 0.3  # share of the time until the project is assessed [-]
_MOST_EDITS = 12  # shown of one file


@dataclass(frozen=True)
class IssueRun:
    """What is printed as data of an issue that was written."""

    project: str
    summary: Mapping[str, int]
    issue: Issued
    SPREAD_PLAIN: ClassVar = ("issue",)


@dataclass(frozen=True)
class Refused:
    """What is printed as data of an issue that may not go out as it is; nothing is written."""

    project: str
    state: str
    open_points: tuple[FoldedFinding, ...]
    remarks: tuple[Remark, ...] = ()
    contradictions: tuple[Contradiction, ...] = ()


@click.command()
@PROJECT
@OUTPUT
@OFFICE
@ALLOW_CODE
@WEATHER
@TEMPLATE
@click.option(
    "--state",
    metavar="STATE",
    shell_complete=completed("states"),
    help="Issue in this state, in place of the one the project file says.",
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
@click.option(
    "--pdf",
    is_flag=True,
    help="Write sections, checklist, and field papers as tagged PDF (PDF/UA) too; needs the extra `pdf`.",
)
@FORCE
@OTHER_PROJECT
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
    pdf: bool,
    force: bool,
    other_project: bool,
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
    from specgen.specification import specify
    from specgen.work.issue import StrictError, write_issue
    from specgen.work.lint_issue import SUPPRESSED

    if pdf:
        _need_pdf()
    look = template_of(template)
    inputs = read_inputs(project, office, allow_code, weather, clauses)
    tell(0.1)
    assessment = (inputs if state is None else in_state(inputs, state)).assessed()
    tell(_ASSESSED)
    spec = specify(assessment)
    try:
        with part(_ASSESSED, 1.0):
            done = write_issue(
                spec,
                output,
                template=look,
                force=force,
                strict=strict,
                with_open_points=open_points,
                other_project=other_project,
                pdf=pdf,
            )
    except OpenPointsError as error:
        return _refused(Refused(error.project.title, error.project.state, folded(error.points)), form)
    except StrictError as error:
        named = assessment.project
        return _refused(Refused(named.title, named.state, (), error.remarks, error.contradictions), form)
    for remark in done.remarks:
        print_text(str(remark), err=True)
    counts = summary(assessment.findings)
    silent = any(SUPPRESSED in remark.message for remark in done.remarks)
    ending = status(assessment.findings, failed=silent)
    if form == "json":
        echo_json(IssueRun(assessment.project.title, counts, done))
        return ending
    print_text(
        f"{assessment.project.title}: {many(len(spec.sections), 'section')}, "
        f"{many(len(spec.rows), 'checklist row')} in {output}"
    )
    for line in (*folder_lines(done.files, done.because), *edit_lines(done.hand_edits)):
        print_text(line)
    if done.addendum:
        print_text(addendum_line(done.addendum))
    for paper in dict.fromkeys(one.paper for one in done.not_followed):
        values = "; ".join(
            f"{one.place} {one.value}: {one.accepted}, specified {one.now or 'nothing'}"
            if one.place
            else one.value
            for one in done.not_followed
            if one.paper == paper
        )
        print_text(
            f"note: {paper} is accepted, and the sections still specify what was specified before: {values}"
        )
    if done.not_followed:
        again = f"specgen write {as_word(project)} -o {shlex.quote(str(output))}"
        print_text(f"note: to follow what was accepted, change the project file there; then {again}")
    print_text(f"Findings: {counted(counts)}. For the reasons: specgen check {as_word(project)}")
    return ending


def _need_pdf() -> None:
    """Stop before any work where no document can be written as PDF."""
    from specgen.commands.unusable import WordError
    from specgen.render.pdf_document import unready

    need("pdf")
    if why := unready():
        raise WordError([why])


def _refused(found: Refused, form: str) -> int:
    """Tell why an issue may not go out as it is."""
    if form == "json":
        echo_json(found)
        return FAILED
    for line in (*map(finding_lines, found.open_points), *found.remarks, *found.contradictions):
        print_text(str(line), err=True)
    if count := len(found.open_points):
        print_text(
            f"{found.project} is to be {found.state.lower()}, and "
            f"{count} point{' is' if count == 1 else 's are'} open: nothing was written. Close "
            f"{'it' if count == 1 else 'them'}, waive the defects, issue a draft with `--state draft`, or mark every "
            "page with --with-open-points.",
            err=True,
        )
    if count := len(found.remarks):
        print_text(f"{many(count, 'remark')}; nothing was written.", err=True)
    if count := len(found.contradictions):
        print_text(f"{many(count, 'contradiction')} between the documents; nothing was written.", err=True)
    return FAILED


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


def edit_lines(edits: Mapping[str, tuple[HandEdit, ...]]) -> Iterator[str]:
    """The paragraphs that somebody changed by hand in the files that were kept."""
    for name, changes in edits.items():
        changed = f"{many(len(changes), 'paragraph')} changed by hand"
        yield f"{name}: {changed if changes else 'edited by hand, none of its words; comments stay in it'}"
        for one in changes[:_MOST_EDITS]:
            yield from (f"    {sign} {words}" for sign, words in (("-", one.was), ("+", one.now)) if words)
        if len(changes) > _MOST_EDITS:
            yield f"    and {len(changes) - _MOST_EDITS} more"


def addendum_line(addendum: Addendum) -> str:
    """One line on what changed since the earlier issue in the folder."""
    old, word = addendum.old, addendum.word or addendum.new.date
    paragraphs = sum(len(changes) for changes in addendum.paragraphs.values())
    return (
        f"Changed since the issue of {old.date}, {old.state}: {many(len(addendum.inputs), 'input value')}, "
        f"{many(paragraphs, 'paragraph')}, {many(len(addendum.rows), 'checklist row')}, "
        f"{many(len(addendum.drawings), 'drawing')}; the list is in addendum-{word}.docx"
        + (f", marked copies in marked-{word}" if paragraphs else "")
    )
