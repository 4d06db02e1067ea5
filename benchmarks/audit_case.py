"""What the benchmarks of an audit run: generated projects on all cores, on one, one by one; and the memory it takes."""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from collections.abc import Callable
from functools import lru_cache, partial
from pathlib import Path

from tests.audit.portfolio import portfolio

Row = tuple[str, str, Callable[[], object], Callable[[], object], str, int]
SMALL, FEW, MANY = 24, 50, 200
PEAK = "import resource; print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss)"
MAIN = (
    "import sys; from specgen.commands import main; main(sys.argv[1:], standalone_mode=False); "
    f"sys.stdout.write('\\n'); {PEAK}"
)
WORKER = (
    "import sys; from pathlib import Path; from specgen.audit.engine import Job; "
    "from specgen.audit.folders import find_projects; from specgen.commands.audit_job import audit_job; "
    "root = Path(sys.argv[1]); "
    "[audit_job(Job(str(root), path, '', '')) for path in find_projects(root, root / 'out').projects]; "
    + PEAK
)


@lru_cache(maxsize=3)
def _projects(folder: Path, count: int) -> Path:
    return portfolio(folder / f"portfolio-{count}", count)


def _run(*words: object) -> str:
    done = subprocess.run([sys.executable, *map(str, words)], check=False, capture_output=True, text=True)
    return done.stdout


def audit(folder: Path, jobs: int) -> None:
    """One audit of the small portfolio, from nothing."""
    with tempfile.TemporaryDirectory(dir=folder) as out:
        _run("-m", "specgen", "audit", _projects(folder, SMALL), "-o", out, "--jobs", jobs)


def again(folder: Path, out: Path) -> None:
    """An audit of a portfolio of which nothing changed."""
    _run("-m", "specgen", "audit", _projects(folder, SMALL), "-o", out)


def one_by_one(folder: Path) -> None:
    """A process of `specgen check` for each project of the small portfolio."""
    for path in sorted(_projects(folder, SMALL).rglob("project.yaml")):
        _run("-m", "specgen", "check", path)


def rows(folder: Path) -> list[Row]:
    """The comparisons: name, reference, ours, the reference's, aim, rounds."""
    cores = len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
    what = f"`specgen audit`, {SMALL} projects"
    all_cores, one_core = partial(audit, folder, cores), partial(audit, folder, 1)
    return [
        (f"{what}, {cores} processes", "one process", all_cores, one_core, "below 1", 3),
        (
            f"{what}, {cores} processes",
            "`specgen check` of each",
            all_cores,
            partial(one_by_one, folder),
            "below 1",
            3,
        ),
        (
            f"{what}, nothing changed",
            "from nothing",
            partial(again, folder, folder / "kept"),
            all_cores,
            "below 0.5",
            3,
        ),
    ]


def memory(folder: Path) -> str:
    """How the peak of memory grows from few projects to many, as a ratio, of the main process and of a worker."""
    ratios = []
    for what in ("main process", "worker"):
        peaks = []
        for count in (FEW, MANY):
            root = _projects(folder, count)
            if what == "worker":
                printed = _run("-c", WORKER, root)
            else:
                with tempfile.TemporaryDirectory(dir=folder) as out:
                    printed = _run("-c", MAIN, "audit", root, "-o", out)
            peaks.append(int(printed.split()[-1]))
        ratios.append(f"{what} {peaks[1] / peaks[0]:.2f} ({peaks[0] // 1024} to {peaks[1] // 1024} MiB)")
    return f"Peak memory of an audit, {MANY} projects against {FEW}: {'; '.join(ratios)}."
