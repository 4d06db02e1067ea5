"""What the engines are given to do in tests, where another process can import it."""

from __future__ import annotations

import os
import signal
from pathlib import Path

from specgen.audit.engine import Job


def line_of_job(job: Job) -> str:
    """The job in capitals."""
    return job.path.upper()


def deadly(job: Job) -> str:
    """Ends the worker at every project called `deadly`."""
    if job.path == "deadly":
        os.kill(os.getpid(), signal.SIGKILL)
    return job.path.upper()


def deadly_once(job: Job) -> str:
    """Ends the worker at the first try of the project `deadly`."""
    mark = Path(job.root, "tried")
    if job.path == "deadly" and not mark.exists():
        mark.touch()
        os._exit(3)
    return job.path.upper()
