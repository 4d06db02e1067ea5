"""The engine of a Dask cluster: the same function on the same jobs, on workers that others started.

The workers need this specgen and the folder under the same path. Dask gives a job whose worker ended to another
worker; a job that ended several workers is tried once more by itself, and if it ends those too, it is lost and gets
a row.
"""

from __future__ import annotations

from collections.abc import Generator, Iterable, Iterator
from itertools import islice
from typing import Any

from specgen.audit.engine import IN_FLIGHT, Done, Job, Work
from specgen.audit.keys import program
from specgen.files.extras import missing

CONNECT = "20s"


class NoClusterError(Exception):
    """The cluster cannot be used; the message is one line for the user."""


def dask(work: Work, jobs: Iterable[Job], address: str) -> Generator[Done, None, None]:
    """Run the jobs on a Dask cluster.

    Args:
        work: a pure function that the workers can import.
        jobs: handed over a few for each thread of the cluster.
        address: of the scheduler, as ``tcp://host:8786``.

    Raises:
        NoClusterError: the library is not installed, nobody answers at the address, the cluster has no worker, or
            it went away during the run; or a worker runs another specgen.
    """
    if why := missing("portfolio"):
        raise NoClusterError(why)
    from distributed import Client, KilledWorker

    try:
        client = Client(address, timeout=CONNECT)
    except (OSError, ValueError, TypeError) as error:
        raise NoClusterError(f"no Dask scheduler answers at {address}: {_first_line(error)}") from None
    with client:
        threads = sum(client.nthreads().values())
        if not threads:
            raise NoClusterError(
                f"the Dask cluster at {address} has no worker; start one: dask worker {address}"
            )
        if set(client.run(program).values()) != {program()}:
            raise NoClusterError(
                f"a worker of the Dask cluster at {address} runs another specgen than this one"
            )
        suspects = []
        for one in _run(client, work, iter(jobs), IN_FLIGHT * threads, KilledWorker):
            if one.line:
                yield one
            else:  # Dask suspects every job that waited at a worker that ended; each alone tells
                suspects.append(one.job)
        for job in suspects:
            yield from _run(client, work, iter([job]), 1, KilledWorker)


def _run(client: Any, work: Work, jobs: Iterator[Job], most: int, lost: type[Exception]) -> Iterator[Done]:
    from concurrent.futures import CancelledError

    from distributed import wait

    flying: dict[Any, Job] = {}
    while True:
        for job in islice(jobs, most - len(flying)):
            # Not pure: an equal job of an earlier run may have read other files.
            flying[client.submit(work, job, pure=False)] = job
        if not flying:
            return
        try:
            ready = wait(list(flying), return_when="FIRST_COMPLETED").done
            for future in ready:
                failure = future.exception()
                if failure is not None and not isinstance(failure, lost):
                    raise NoClusterError(f"a worker could not run the job: {_first_line(failure)}")
                yield Done(flying.pop(future), "" if failure else future.result())
        except (OSError, CancelledError) as error:
            raise NoClusterError(f"the Dask cluster went away: {_first_line(error)}") from None


def _first_line(error: BaseException) -> str:
    return (str(error).splitlines() or [type(error).__name__])[0]
