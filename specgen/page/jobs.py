"""Long calculations in processes of their own: one queue, two at a time, told in shares, stopped at a word.

A job names a function and what it takes; the process imports the function, so that nothing of the server goes there but
the words of the call. What it answers is a :class:`JobResult` or an error in words. A process ends with the server,
whatever ends the server: it holds a pipe whose other end is the server's alone.
"""

from __future__ import annotations

import atexit
import multiprocessing
import os
import signal
import threading
from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from importlib import import_module
from multiprocessing.connection import Connection
from multiprocessing.context import SpawnProcess
from typing import Any

from specgen.design.progress import listening
from specgen.files.faults import OutputError, fault_line
from specgen.files.marks import InputError

AT_A_TIME = 2
KEPT = 20  # finished jobs
STEP = 0.005  # of a share that is worth a message
WAITING, RUNNING, DONE, FAILED, CANCELED = "waiting", "running", "done", "failed", "canceled"
OVER = (DONE, FAILED, CANCELED)
LOST = "the process ended before its work: it was killed, or ran out of memory; start it again"
_GRACE = 2.0  # seconds for a process that was ended to be gone


@dataclass(frozen=True)
class JobResult:
    """What a job's function returns: a sentence for the person who waits, where to look, and a small result."""

    words: str
    link: str = ""  # below the base of the page
    result: object = None


@dataclass(frozen=True)
class _Failure:
    """Why a job has no result, in words."""

    words: str


@dataclass
class Job:
    """One long calculation. It changes while it runs; who reads it reads one attribute at a time."""

    number: int
    title: str
    made_of: str  # names the state of the project that it was started on; "" for none
    target: str
    kwargs: Mapping[str, Any] = field(repr=False)
    state: str = WAITING
    share: float = 0.0
    words: str = ""
    link: str = ""
    result: object = None

    @property
    def over(self) -> bool:
        """Whether nothing more will come of it."""
        return self.state in OVER

    @property
    def percent(self) -> int:
        """The share that is done, in whole hundredths; a hundred only when it is done."""
        return 100 if self.state == DONE else min(99, int(100 * self.share))

    def outdated(self, now: str) -> bool:
        """Whether the project has changed since the job was started.

        Args:
            now: names the state of the project.
        """
        return bool(self.made_of) and self.made_of != now


class Jobs:
    """The jobs of a server, in the order in which they were started.

    Args:
        at_a_time: processes that run together.
    """

    def __init__(self, at_a_time: int = AT_A_TIME) -> None:
        self._at_a_time = at_a_time
        self._lock = threading.RLock()
        self._jobs: dict[int, Job] = {}
        self._running: dict[int, SpawnProcess] = {}
        self._last = 0
        self._closed = False
        atexit.register(self.close)  # before the processes are waited for

    @property
    def every(self) -> tuple[Job, ...]:
        """All that are known, the newest first."""
        with self._lock:
            return tuple(reversed(self._jobs.values()))

    def start(self, title: str, target: str, kwargs: Mapping[str, Any], made_of: str = "") -> Job:
        """Put a job into the queue.

        Args:
            title: what it does, for the person who waits.
            target: ``module:function``, which returns a :class:`JobResult` and tells its share by
                :func:`specgen.design.progress.tell`.
            kwargs: of the function; they go to another process, so they are data.
            made_of: names the state of the project that it is about.

        Returns:
            The job; the one that waits or runs already, where the same was asked for on the same state.
        """
        with self._lock:
            for known in self._jobs.values():
                same = (known.title, known.target, known.made_of) == (title, target, made_of)
                if same and not known.over:
                    return known
            self._last += 1
            job = Job(self._last, title, made_of, target, kwargs)
            self._jobs[job.number] = job
            self._fill()
            return job

    def get(self, number: int) -> Job | None:
        """A job by its number; None where there is none, or it is no longer kept."""
        with self._lock:
            return self._jobs.get(number)

    def latest(self, target: str, title: str) -> Job | None:
        """The newest job of a title that asks the same function."""
        return next((one for one in self.every if (one.target, one.title) == (target, title)), None)

    def cancel(self, number: int) -> None:
        """Stop a job and everything that it started; one that is over stays as it is."""
        with self._lock:
            job = self._jobs.get(number)
            if job is None or job.over:
                return
            job.state, job.words = CANCELED, "Canceled."
            process = self._running.get(number)
            if process is not None:
                _end(process)
            self._fill()

    def close(self) -> None:
        """Stop everything; no job starts any more."""
        with self._lock:
            self._closed = True
            for job in self._jobs.values():
                self.cancel(job.number)
            running = list(self._running.values())
        for process in running:
            process.join(_GRACE)

    def _fill(self) -> None:
        """Start what waits, as far as there is room. The lock is held."""
        for job in list(self._jobs.values()):
            if self._closed or len(self._running) >= self._at_a_time:
                break
            if job.state == WAITING:
                self._run(job)
        over = [number for number, job in self._jobs.items() if job.over and number not in self._running]
        for number in over[: max(0, len(over) - KEPT)]:
            del self._jobs[number]

    def _run(self, job: Job) -> None:
        context = multiprocessing.get_context("spawn")
        ours, theirs = context.Pipe()
        process = context.Process(target=_work, args=(theirs, job.target, dict(job.kwargs)))
        job.state, job.kwargs = RUNNING, {}
        process.start()
        theirs.close()  # so that ours ends with the process
        self._running[job.number] = process
        threading.Thread(target=self._follow, args=(job, process, ours), daemon=True).start()

    def _follow(self, job: Job, process: SpawnProcess, pipe: Connection) -> None:
        """Take what a process sends until it ends."""
        heard: object = 0.0
        while isinstance(heard, float):
            job.share = max(job.share, heard)
            try:
                heard = pipe.recv()
            except (EOFError, OSError):
                heard = _Failure(LOST)
        pipe.close()
        process.join()
        with self._lock:
            if not job.over:
                _settle(job, heard)
            del self._running[job.number]
            self._fill()


def _settle(job: Job, heard: object) -> None:
    if isinstance(heard, JobResult):
        job.state, job.share, job.words, job.link, job.result = (
            DONE,
            1.0,
            heard.words,
            heard.link,
            heard.result,
        )
    else:
        job.state, job.words = FAILED, heard.words if isinstance(heard, _Failure) else LOST


def _end(process: SpawnProcess) -> None:
    """End a process with all that it started."""
    if process.pid is None:
        return
    if hasattr(os, "killpg"):
        with suppress(OSError):  # its group is not made yet, or is gone
            if os.getpgid(process.pid) == process.pid:
                os.killpg(process.pid, signal.SIGKILL)
                return
    process.kill()


def _work(server: Connection, target: str, kwargs: dict[str, Any]) -> None:
    """What the process does: the function, its shares on the way, its answer at the end."""
    if hasattr(os, "setsid"):
        os.setsid()  # a group of its own, with everything that it starts; Ctrl-C is the server's matter
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    threading.Thread(target=_end_with, args=(server,), daemon=True).start()
    try:
        with listening(_teller(server)):
            answer: JobResult | _Failure = _called(target, kwargs)
    except (InputError, OutputError) as error:
        answer = _Failure(str(error))
    except Exception as error:  # told on the page, and not as a traceback on the server's terminal
        answer = _Failure(fault_line(error))
    server.send(answer)


def _called(target: str, kwargs: Mapping[str, Any]) -> JobResult:
    module, _, name = target.partition(":")
    function: Callable[..., JobResult] = getattr(import_module(module), name)
    return function(**kwargs)


def _teller(server: Connection) -> Callable[[float], None]:
    """Sends a share when it has grown by a step."""
    last = 0.0

    def send(share: float) -> None:
        nonlocal last
        if share - last >= STEP:
            last = share
            server.send(float(share))

    return send


def _end_with(server: Connection) -> None:
    """Wait for the server to end, which nothing else ends, and end with it, with all that was started here."""
    with suppress(EOFError, OSError):
        server.recv()  # the server sends nothing: this ends when its end of the pipe does
    if hasattr(os, "killpg"):
        os.killpg(os.getpgrp(), signal.SIGKILL)
    os._exit(1)
