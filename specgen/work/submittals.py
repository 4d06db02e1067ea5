"""Submittals read and held against the project that they are for."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

from specgen.files.marks import InputError, InputProblem
from specgen.intake.submittal import load_submission, nearest_parapet
from specgen.model.project import Project
from specgen.model.submission import Submission
from specgen.practice.entries import Practice
from specgen.work.papers import wanted_to_issue


def load_submittals(paths: tuple[Path, ...], project: Project, practice: Practice) -> list[Submission]:
    """Every submittal file, checked against the project's parapet names; all problems of all files in one run."""
    problems: list[InputProblem] = []
    submissions: list[Submission] = []
    known = tuple(parapet.name for parapet in project.parapets)
    stems: dict[str, str] = {}
    for path in dict.fromkeys(paths):  # a file named twice is one submittal
        try:
            submission = load_submission(path, practice)
        except InputError as error:
            problems.extend(error.problems)
            continue
        for product in submission.products:
            problems.extend(
                InputProblem(
                    product.mark, f"no parapet `{name}` in the project", nearest_parapet(name, known)
                )
                for name in product.parapets
                if name not in known
            )
        problems.extend(_misfiled(submission, project, practice, stems))
        submissions.append(submission)
    if problems:
        raise InputError(problems)
    return submissions


def doubtful_dates(submission: Submission, project: Project, today: date) -> Iterator[str]:
    """What of a submittal's dates cannot be, in words for the person who reviews it.

    Args:
        submission: as read.
        project: with the issue date of the documents.
        today: the day of the review.
    """
    number, issued = submission.info.word("number") or "", project.info.values.get("issue_date")
    for key, what in (("date", "received"), ("returned", "returned")):
        day = submission.info.values.get(key)
        if not isinstance(day, date):
            continue
        place = submission.info.at(key)
        if day > today:
            yield f"{place}: submittal {number} is {what} on {day}, which is still to come: correct the date"
        if isinstance(issued, date) and day < issued:
            yield (
                f"{place}: submittal {number} was {what} on {day}, before the issue of {issued} that it is held "
                "against: correct the date, or review it against the issue it was made for"
            )


def _misfiled(
    submission: Submission, project: Project, practice: Practice, stems: dict[str, str]
) -> Iterator[InputProblem]:
    """A submittal of another project, or one whose letter would have no name or another one's name.

    ``stems`` holds the letters' names so far with their submittal files, and takes up this one's.
    """
    from specgen.render.replies import review_stem  # loads what writes Word

    info = submission.info
    meant, number = info.word("project"), info.word("number") or ""
    if meant and not project.info.has("number"):
        yield from wanted_to_issue(project, practice, "number")
    elif meant and meant != project.info.word("number"):
        what = f"the submittal is for project `{meant}`, this is project `{project.info.word('number')}`"
        yield InputProblem(
            info.at("project"), what, "review it against its own project, or correct the number"
        )
    stem = review_stem(number, submission.round)
    if stem == review_stem("", submission.round):
        what = f"submittal number `{number}` has no letter or digit from which to name its letter"
        yield InputProblem(info.at("number"), what, 'number it as "07 27 00-01"')
    elif stem in stems:
        what = f"submittal number `{number}` gives its letter the name of the one in {stems[stem]}"
        yield InputProblem(info.at("number"), what, "number it anew")
    stems.setdefault(stem, submission.path)
