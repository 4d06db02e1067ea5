"""What jobs of the tests do, in processes of their own."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from pathlib import Path

from specgen.design.progress import tell
from specgen.files.faults import OutputError
from specgen.files.marks import InputError, InputProblem, Mark
from specgen.page.jobs import JobResult, Jobs


def answer(words: str = "Found.") -> JobResult:
    """Ends at once."""
    return JobResult(words, "calculations", {"process": os.getpid()})


def until(gate: str, started: str = "") -> JobResult:
    """Tells a half, writes its number, and waits for a file."""
    if started:
        Path(started).write_text(str(os.getpid()))
    tell(0.25)
    tell(0.5)
    while not Path(gate).exists():
        time.sleep(0.01)
    return JobResult("The gate opened.")


def with_child(numbers: str) -> JobResult:
    """Starts a process of its own, writes both numbers, and waits for ever."""
    child = subprocess.Popen([sys.executable, "-c", "import time; time.sleep(600)"])
    Path(numbers + ".new").write_text(f"{os.getpid()} {child.pid}")
    Path(numbers + ".new").rename(numbers)
    child.wait()
    return JobResult("never")


def unusable() -> JobResult:
    """Ends with unusable input."""
    raise InputError([InputProblem(Mark("project.yaml", 3, 1), "the wall is not described", "describe it")])


def unwritable() -> JobResult:
    """Ends with a file that cannot be written."""
    raise OutputError("out/report.html cannot be written")


def faulty() -> JobResult:
    """Ends in a way that nobody foresaw."""
    raise ZeroDivisionError("nobody foresaw this")


def killed() -> JobResult:
    """Is gone before its work is done."""
    os._exit(3)


def serve(numbers: str) -> None:
    """What a server does for the test that kills it: one job, then nothing."""
    Jobs().start("with a child", f"{__name__}:with_child", {"numbers": numbers})
    time.sleep(600)


if __name__ == "__main__":
    serve(sys.argv[1])
