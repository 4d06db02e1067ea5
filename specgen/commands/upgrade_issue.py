"""What this program changes in an issue that another wrote: findings, paragraphs, checklist rows, drawings."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from specgen.assessment import Assessment, OpenPointsError
from specgen.commands.common import echo_json, status
from specgen.commands.compare import NOTHING, finding_changes, text_changes
from specgen.commands.terminal import print_text
from specgen.commands.write import in_state
from specgen.files.foreign import refused
from specgen.model.folded import folded
from specgen.review.compare import FindingChange, TextChange, changed_findings
from specgen.work.inputs import Inputs
from specgen.work.issue import refuse_unwritable

if TYPE_CHECKING:
    from specgen.sections.addendum import Addendum
    from specgen.sections.issue import Issue

MARK = " with open points"  # in the state of an issue
NOT_RECORDED = "Findings: not recorded by the program that wrote the issue."


@dataclass(frozen=True)
class IssueDifference:
    """What is printed as data of an issue held against this program."""

    findings: tuple[FindingChange, ...] | None  # None: the issue records none
    open_points: int  # that would keep this program from issuing it in its state
    addendum: Addendum
    SPREAD_PLAIN: ClassVar = ("addendum",)


def tell_issue(inputs: Inputs, folder: Path, form: str) -> int:
    """Tell what this program would write otherwise of a project than an issue says; nothing is written.

    Args:
        inputs: the project of the issue.
        folder: that ``write`` made.
        form: text or json.

    Returns:
        The exit status that follows from the findings that come.

    Raises:
        InputError: the folder holds no issue.
        OutputError: its record cannot be read.
    """
    from specgen.render.issues import read_record
    from specgen.render.outputs import changes_in
    from specgen.specification import specify

    old = read_record(folder).current
    if old is None:
        what, fix = "no issue lies in this folder", "name one that `specgen write` made"
        raise refused(folder, what, fix)
    assessment, still_open = _as_issued(inputs, old)
    addendum = changes_in(old, specify(assessment))
    findings = None if old.findings is None else changed_findings(old.findings, assessment.findings)
    if form == "json":
        echo_json(IssueDifference(findings, still_open, addendum))
    else:
        print_text("\n".join(_lines(addendum, findings, still_open, folder)))
    return status(one.after for one in findings or () if one.after is not None)


def _as_issued(inputs: Inputs, old: Issue) -> tuple[Assessment, int]:
    """The project assessed in the state of an issue, and how many points would keep this program from issuing it."""
    stated = old.state.replace(MARK, "")
    choices = inputs.practice.vocabulary.records["project"].fields["state"].choices
    assessment = (in_state(inputs, stated) if stated in choices else inputs).assessed()
    refuse_unwritable(assessment)
    try:
        return assessment.issuable(stated != old.state), 0
    except OpenPointsError as error:
        return assessment, len(folded(error.points))


def _lines(
    addendum: Addendum, findings: Iterable[FindingChange] | None, refused: int, folder: Path
) -> Iterator[str]:
    from specgen.sections.addendum import change_words

    old = addendum.old
    yield f"{addendum.project}: issue of {old.date}, {old.state}, in {folder}; by this program:"
    if refused:
        points = f"{refused} point{' is' if refused == 1 else 's are'} open"
        yield f"It would not be issued in this state: {points} (specgen check)."
    if addendum.inputs:
        yield f"The project file has changed since ({len(addendum.inputs)}); what follows is of both:"
        yield from (f"  {change_words(one)}" for one in addendum.inputs)
    if findings is None:
        yield NOT_RECORDED
    else:
        yield from finding_changes(findings)
    paragraphs = [
        TextChange(one.where or name, one.was, one.now)
        for name, changes in addendum.paragraphs.items()
        for one in changes
    ]
    yield from text_changes("Paragraphs", paragraphs)
    yield from text_changes(
        "Checklist rows", [TextChange(one.where, one.was, one.now) for one in addendum.rows]
    )
    yield from text_changes(
        "Drawings", [TextChange(f"{one.where} {one.kind}", "", "") for one in addendum.drawings]
    )
    if not addendum and not findings:
        yield NOTHING
