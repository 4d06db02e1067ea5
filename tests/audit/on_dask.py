"""Assesses projects on a cluster of two worker processes, one of which is killed after the first result.

``python -m tests.audit.on_dask ROOT PROGRAM OUT PATH…`` writes the lines by path as JSON.
"""

from __future__ import annotations

import json
import os
import signal
import sys
from pathlib import Path

from distributed import LocalCluster

from specgen.audit.cluster import dask
from specgen.audit.engine import Job
from specgen.commands.audit_job import audit_job
from tests.audit.works import deadly


def main() -> None:
    """One cluster, one run, one worker killed."""
    root, asking, out, *paths = sys.argv[1:]
    jobs = [Job(root, path, "", asking) for path in paths]
    found: dict[str, str] = {}
    work = deadly if "deadly" in paths else audit_job
    with LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=":0", silence_logs=50) as cluster:
        victim = next(iter(cluster.workers.values())).pid
        for one in dask(work, jobs, cluster.scheduler_address):
            if not found and work is audit_job:
                os.kill(victim, signal.SIGKILL)
            found[one.job.path] = one.line
        alive = [worker.pid for worker in cluster.workers.values()]
    Path(out).write_text(json.dumps({"lines": found, "victim": victim, "alive": alive}), "utf-8")


if __name__ == "__main__":
    main()
