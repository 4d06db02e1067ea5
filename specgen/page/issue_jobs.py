"""Issues written by the page in processes of their own: into a folder of the project, or as one archive."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from pathlib import Path

from specgen.assessment import OpenPointsError
from specgen.design.progress import part, tell
from specgen.files.atomic import write_together
from specgen.files.faults import OutputError
from specgen.page.desk import Options
from specgen.page.jobs import JobResult
from specgen.sections.lint import Remark
from specgen.specification import Specification, specify
from specgen.units.counted import many
from specgen.work.inputs import read_inputs
from specgen.work.issue import Issued, StrictError, issue_archive, write_issue

WRITE = "specgen.page.issue_jobs:write"
ARCHIVE = "specgen.page.issue_jobs:archive"
_READ, _SPECIFIED = 0.05, 0.15  # shares of the work, as runs on the examples part it


@dataclass(frozen=True)
class State:
    """The state of a project that an issue is written of."""

    path: Path
    sha256: str  # of the file; another file is not issued
    options: Options


@dataclass(frozen=True)
class Refused:
    """Why an issue was not written; what a strict one would contradict."""

    lines: tuple[str, ...]


def write(state: State, folder: Path, open_points: bool, strict: bool, link: str) -> JobResult:
    """Write an issue into a folder, as the command does.

    Args:
        state: what is issued.
        folder: made if absent; files that somebody edited are kept, the new text beside them.
        open_points: whether an issue for bid or construction may leave something open.
        strict: write nothing where the linter has a remark, or two of the documents differ.
        link: where the page shows what was done.

    Returns:
        The issue as it was written, or why it was not.

    Raises:
        InputError, OutputError: as :func:`specgen.work.issue.write_issue`.
    """
    try:
        spec = _spec(state)
        with part(_SPECIFIED, 1.0):
            issued: Issued = write_issue(spec, folder, strict=strict, with_open_points=open_points)
    except StrictError as error:
        lines = (*map(_remark, error.remarks), *map(str, error.contradictions))
        words = f"Nothing was written: {many(len(lines), 'remark')} on the text of the issue."
        return JobResult(words, link, Refused(lines))
    except OpenPointsError as error:
        return JobResult("Nothing was written: something stands open.", link, _open(error))
    words = f"{many(len(issued.files.written), 'file')} written, {len(issued.files.unchanged)} as before."
    return JobResult(words, link, issued)


def archive(state: State, target: Path, open_points: bool, link: str) -> JobResult:
    """Write an issue as one archive.

    Args:
        state: what is issued.
        target: the file, in a folder that is the page's own.
        open_points: as for :func:`write`.
        link: where the page hands out the file.

    Raises:
        InputError, OutputError: as :func:`specgen.work.issue.write_issue`.
    """
    try:
        spec = _spec(state)
        with part(_SPECIFIED, 1.0):
            data = issue_archive(spec, target.parent, with_open_points=open_points)
    except OpenPointsError as error:
        return JobResult("Nothing was written: something stands open.", "sections", _open(error))
    write_together({target: data})
    return JobResult(f"The archive has {len(data) / 1e6:.1f} MB.", link)


def _remark(one: Remark) -> str:
    return f"{one.key}: {one.message} ({Path(one.mark.file).name}, line {one.mark.line})"


def _spec(state: State) -> Specification:
    one = state.options
    inputs = read_inputs(state.path, one.office, one.allow_code, one.weather, one.clauses)
    if hashlib.sha256(state.path.read_bytes()).hexdigest() != state.sha256:
        raise OutputError(
            f"{state.path.name} was changed meanwhile; nothing was written; read it again, then issue it anew"
        )
    tell(_READ)
    spec = specify(inputs.assessed())
    tell(_SPECIFIED)
    return spec


def _open(error: OpenPointsError) -> Refused:
    return Refused(tuple(f"{one.code} {one.name}: {one.message}" for one in error.points))
