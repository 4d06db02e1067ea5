"""What the page has done in processes of their own: each function is named by a job, and takes data alone."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from specgen.assessment import settled
from specgen.design.progress import tell
from specgen.design.run import calculate_all
from specgen.model.project import Project
from specgen.page.desk import Options
from specgen.page.jobs import JobResult
from specgen.practice.entries import Practice
from specgen.units.counted import many
from specgen.work.hourly import line_of, studies
from specgen.work.hourly_file import kept
from specgen.work.inputs import read_inputs
from specgen.work.questions import weighed

HOURS = "specgen.page.job_kinds:hours"
SHEET = "specgen.page.job_kinds:sheet"
QUESTIONS = "specgen.page.job_kinds:questions"


def hours(project: Project, practice: Practice, parapets: Sequence[str], link: str) -> JobResult:
    """Run the hours of some parapets, and keep each result beside the project file at once.

    Args:
        project: as stated in its file.
        practice: the office's, where it has one.
        parapets: by name.
        link: where the page shows the results.

    Raises:
        InputError: what is kept there cannot be read.
        OutputError: it cannot be written.
    """
    described = settled(project, practice)
    chosen = [one for one in described.parapets if one.name in parapets]
    running = studies(described, practice, chosen, tell=tell)
    found = tuple(kept(Path(project.path).parent, running))
    return JobResult(" ".join(f"{line_of(one)}." for one in found), link)


def sheet(project: Project, practice: Practice, subject: str, parapet: str, link: str) -> JobResult:
    """Make one calculation of those that run on request alone.

    Args:
        project: as stated in its file.
        practice: the office's, where it has one.
        subject: of the calculation.
        parapet: by name.
        link: where the page shows it.
    """
    (found,) = calculate_all(settled(project, practice), practice, [subject], [parapet])
    words = f"{found.title}, {parapet}: " + (
        many(len(found.results), "result") if found.done else "; ".join(found.missing)
    )
    return JobResult(words, link, found)


def questions(project: Project, options: Options, link: str) -> JobResult:
    """Try what is unknown at its possible answers.

    Args:
        project: as stated in its file.
        options: with which office, rules and clauses it is read.
        link: where the page shows the questions.

    Raises:
        InputError: the file of the project or of its office cannot be read any more.
    """
    inputs = read_inputs(
        Path(project.path), options.office, options.allow_code, options.weather, options.clauses
    )
    found = weighed(replace(inputs, project=project).assessed())
    return JobResult(
        f"{many(len(found.questions), 'question')} in the order of what hangs on each.", link, found
    )
