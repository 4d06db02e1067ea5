"""Runs one function over many jobs: what an engine takes and gives, and the engine of this machine's cores.

An engine yields a result for each job as it is ready, in any order. A job whose worker ends while it works is done
again by itself; if its worker ends again, the job is lost: it gets a row, and the rest goes on.
"""

from __future__ import annotations

import multiprocessing
import os
import signal
import threading
from collections.abc import Callable, Generator, Iterable, Iterator
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass
from itertools import islice
from multiprocessing.connection import wait as wait_for
from multiprocessing.context import BaseContext

IN_FLIGHT = 3  # jobs for each worker that are handed over before a result is taken
WARM = "specgen.commands.audit_warm"  # imported once by the process that workers are forked from


@dataclass(frozen=True)
class Job:
    """One project to assess: everything a worker is told."""

    root: str
    path: str  # of the project folder, from the root
    office: str  # an office file for all projects; "" for the one beside each project
    program: str  # version and hash of the program that asks, as a part of the line's key
    part: str = ""  # a parapet, where not the whole project is asked for


@dataclass(frozen=True)
class Done:
    """What became of one job; ``line`` is empty where every worker that took it ended."""

    job: Job
    line: str


Work = Callable[[Job], str]


def cores() -> int:
    """The cores that this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def local(work: Work, jobs: Iterable[Job], workers: int) -> Generator[Done, None, None]:
    """Run the jobs in processes of this machine.

    Args:
        work: a pure function that another process can import.
        jobs: taken from as workers become free.
        workers: how many processes.
    """
    waiting = iter(jobs)
    while True:
        suspects = yield from _pool(work, waiting, workers, IN_FLIGHT * workers)
        if not suspects:
            return
        for job in suspects:  # one of them ended its worker, or somebody else did: each alone tells
            lost = yield from _pool(work, iter([job]), 1, 1)
            for one in lost:
                yield Done(one, "")


def prepare() -> None:
    """Start the process that workers are forked from, so that it reads while this one does."""
    if _context().get_start_method() == "forkserver":
        from multiprocessing.forkserver import ensure_running  # not on every system

        ensure_running()


def _pool(work: Work, jobs: Iterator[Job], workers: int, most: int) -> Generator[Done, None, tuple[Job, ...]]:
    """Results until the jobs end or a worker does; returns the jobs that then have none."""
    pool = ProcessPoolExecutor(workers, mp_context=_context(), initializer=_in_worker)
    flying: dict[Future[str], Job] = {}
    try:
        while True:
            for job in islice(jobs, most - len(flying)):
                try:
                    flying[pool.submit(work, job)] = job
                except BrokenProcessPool:
                    return (*flying.values(), job)
            if not flying:
                return ()
            for future in wait(flying, return_when=FIRST_COMPLETED).done:
                if isinstance(future.exception(), BrokenProcessPool):
                    return tuple(flying.values())
                yield Done(flying.pop(future), future.result())
    finally:
        pool.shutdown(wait=True, cancel_futures=True)


def _context() -> BaseContext:
    """How workers are started: forked from a process that has read what all need, where the system can."""
    if "forkserver" not in multiprocessing.get_all_start_methods():
        return multiprocessing.get_context("spawn")
    context = multiprocessing.get_context("forkserver")
    context.set_forkserver_preload([WARM])
    return context


def _in_worker() -> None:
    """A worker leaves an interrupt to the process that asked, and ends when that one does, however it ends."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    parent = multiprocessing.parent_process()
    assert parent is not None

    def watch() -> None:
        wait_for([parent.sentinel])
        os._exit(1)

    threading.Thread(target=watch, daemon=True).start()
