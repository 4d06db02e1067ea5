"""The hours of one parapet on a cluster: what a worker does, which keeps the result beside the project itself."""

from __future__ import annotations

import json
from collections.abc import Generator, Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path

import click

from specgen.assessment import settled
from specgen.audit.cluster import NoClusterError, dask
from specgen.audit.engine import Done, Job
from specgen.audit.keys import program
from specgen.files.marks import InputError
from specgen.intake.hourly import load_hourly
from specgen.model.plain import plain
from specgen.model.project import Parapet
from specgen.work.hourly import OPEN, RAN, Studied, studies
from specgen.work.hourly_file import keep
from specgen.work.inputs import read_inputs

LOST = "every worker that took it ended: it ran out of memory, or was killed; run the command again"


@dataclass(frozen=True)
class Line:
    """What a worker hands back of a parapet; the result itself stands beside the project."""

    state: str
    why: str


def hourly_job(job: Job, years: int, allow_code: bool) -> str:
    """Study the parapet of a job and keep its result; whatever is wrong is heard in the line.

    Args:
        job: where the project lies, and its parapet.
        years: at most so many.
        allow_code: whether the office's own rules may run.

    Returns:
        JSON: ``state`` and ``why`` of `Studied`.
    """
    folder = Path(job.root, job.path)
    try:
        inputs = read_inputs(folder, Path(job.office) if job.office else None, allow_code, None)
        practice = inputs.effective()
        project = settled(inputs.project, practice)
        chosen = [one for one in project.parapets if one.name == job.part]
        (found,) = studies(project, practice, chosen, years=years, anew=True)
        if found.result is not None:
            keep(folder, [found.result])
    except (InputError, OSError, ValueError) as error:
        return json.dumps(plain(Line(OPEN, str(error).splitlines()[0])))
    return json.dumps(plain(Line(found.state, found.why)))


def on_cluster(
    folder: Path, office: Path | None, allow_code: bool, years: int, address: str, wanted: Sequence[Parapet]
) -> Iterator[Studied]:
    """The studies of some parapets by the workers of a Dask cluster, each as it is done.

    Args:
        folder: of the project, under the same path at every worker.
        office, allow_code: as the command has them.
        years: at most so many.
        address: of the scheduler.
        wanted: parapets to be run.

    Raises:
        UsageError: the cluster cannot be used.
    """
    here = str(office.resolve()) if office else ""
    jobs = [Job(str(folder.resolve()), "", here, program(), one.name) for one in wanted]
    work = partial(hourly_job, years=years, allow_code=allow_code)
    results: Generator[Done, None, None] = dask(work, jobs, address)
    try:
        for one in results:
            heard = json.loads(one.line) if one.line else {"state": OPEN, "why": LOST}
            kept = load_hourly(folder).get(one.job.part) if heard["state"] == RAN else None
            yield Studied(one.job.part, heard["state"], kept, heard["why"])
    except NoClusterError as error:
        raise click.UsageError(str(error)) from None
