"""One project of an audit, from its files to one line of plain data: what a worker does."""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path

from specgen.audit.engine import Job
from specgen.audit.keys import digest, digests, key_of
from specgen.audit.lines import ProblemLine, ProjectHead, ProjectRecord
from specgen.audit.record import Step, accepted_rows, problem_rows, record
from specgen.audit.state import line_of
from specgen.commands.common import FAULT, UNUSABLE, status
from specgen.files.faults import Fault
from specgen.files.inside import inside
from specgen.files.marks import InputError, InputProblem, Mark
from specgen.files.names import PROJECT_FILE as PROJECT
from specgen.intake.accepted import FILE_NAME as ACCEPTED
from specgen.intake.accepted import load_accepted, problem_of_number
from specgen.intake.hourly import FILE_NAME as HOURLY
from specgen.intake.office import FILE_NAME as OFFICE
from specgen.intake.submittal import load_submission, nearest_parapet
from specgen.intake.substitution import load_request
from specgen.model.accepted import SUBSTITUTION
from specgen.model.project import Project
from specgen.model.submission import Submission
from specgen.practice.entries import Practice
from specgen.wall.products import with_products
from specgen.work.inputs import Inputs, read_inputs
from specgen.work.papers import wanted_to_issue
from specgen.work.requests import proposed

ALWAYS = (PROJECT, OFFICE, ACCEPTED, HOURLY)


@dataclass
class _Read:
    """What is known of a project so far: grows as its files are read, so that a fault late loses nothing."""

    inputs: dict[str, str] = field(default_factory=dict)
    content: ProjectRecord | None = None
    problems: list[ProblemLine] = field(default_factory=list)
    status: int = UNUSABLE  # as `check` of the wall as accepted would leave


def audit_job(job: Job) -> str:
    """The line of one project. Whatever is wrong with it is told in the line; nothing is raised.

    Args:
        job: where it lies.

    Returns:
        JSON: path, key, hashes of the files read, problems, and the record of :func:`specgen.audit.record.record`.
    """
    read = _Read()
    folder = Path(job.root, job.path)
    try:
        read.inputs = digests(folder, ALWAYS)
        _audit(job, folder, read)
    except InputError as error:
        read.problems += problem_rows(error.problems, job.root)
    except Fault as error:
        read.status = FAULT
        read.problems.append(_fault(f"fault: {error}", job))
    except (Exception, SystemExit) as error:  # one project never stops the others; the row says what happened
        read.status = FAULT
        read.problems.append(_fault(f"fault: {type(error).__name__}: {error}", job))
    key = key_of(read.inputs, job.program, digest(Path(job.office)) if job.office else "")
    return line_of({**_head(job, key, read), **(read.content or {})})


def lost_line(job: Job) -> str:
    """The line of a project whose workers ended while they assessed it."""
    cause = "each worker that took this project ended: it was killed, or ran out of memory"
    return line_of(_head(job, "", _Read(problems=[_fault(cause, job)], status=FAULT)))


def _head(job: Job, key: str, read: _Read) -> ProjectHead:
    return {
        "path": job.path,
        "key": key,
        "inputs": read.inputs,
        "status": read.status,
        "problems": read.problems,
    }


def _fault(message: str, job: Job) -> ProblemLine:
    where = f"{job.path}/{PROJECT}" if job.path else PROJECT
    return {"place": where, "message": message.replace(f"{job.root}/", ""), "fix": ""}


def _audit(job: Job, folder: Path, read: _Read) -> None:
    for name in ALWAYS:
        if inside(Path(job.root), f"{job.path}/{name}" if job.path else name) is None:
            where = Mark(str(folder / name), 1, 1)
            fix = "put the file itself into the project folder"
            raise InputError([InputProblem(where, "the file is a link that leaves the audited folder", fix)])
    inputs = read_inputs(folder, Path(job.office) if job.office else None, False)
    weather = inputs.project.site.word("weather")
    if weather:
        read.inputs |= digests(folder, [weather])
    designed = inputs.assessed()
    read.content = record(designed, (), None, None, job.root)
    steps = tuple(_steps(folder, inputs, read)) if os.path.lexists(folder / ACCEPTED) else ()
    after = designed
    if steps:
        after = designed.again(replace(steps[-1].project, stated_only=True))
    rows = accepted_rows(designed, steps, job.root)
    read.status = status(after.findings)
    read.content = record(designed, steps, after, rows, job.root)


def _steps(folder: Path, inputs: Inputs, read: _Read) -> Iterator[Step]:
    """What was accepted, by date, each with the project as it then was.

    Raises:
        InputError: every problem of the record and of the papers that it names.
    """
    accepted = load_accepted(folder / ACCEPTED, inputs.practice)
    read.inputs |= digests(folder, [one.file for one in accepted])
    project, practice = inputs.project, inputs.effective()
    problems: list[InputProblem] = []
    found: list[Step] = []
    for one in accepted:
        try:
            if one.paper == SUBSTITUTION:
                request = load_request(folder / one.file, practice)
                paper = Submission(request.info, request.products, request.path)
                changes = tuple(change.text for change in request.changes)
                project = proposed(project, practice, request)
            else:
                paper, changes = load_submission(folder / one.file, practice), ()
                project = with_products(project, paper.products, practice)
            problems += _strange(paper, inputs.project, practice)
            found.append(Step(one, paper, changes, project))
        except InputError as error:
            problems += error.problems
    if problems:
        raise InputError(problems)
    yield from found


def _strange(paper: Submission, project: Project, practice: Practice) -> Iterator[InputProblem]:
    """A paper of another project, and places that this one does not have."""
    given, number = paper.info.word("project"), project.info.word("number")
    if given and number is None:
        yield from wanted_to_issue(project, practice, "number")
    elif wrong := problem_of_number(given, number, paper.info.at("project")):
        yield wrong
    known = tuple(parapet.name for parapet in project.parapets)
    for product in paper.products:
        for name in product.parapets:
            if name not in known:
                what = f"no parapet `{name}` in the project"
                yield InputProblem(product.mark, what, nearest_parapet(name, known))
