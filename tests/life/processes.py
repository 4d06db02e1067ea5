"""Commands as people run them: each in a process of its own, killed at a moment by chance."""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
import time
from collections.abc import Sequence
from pathlib import Path

from tests.chain.runs import REPO
from tests.life.history import KILLED, Outcome

USUAL = 1.5  # s, until a command has been seen to end


class Processes:
    """Runs commands and remembers how long each takes, so that a kill falls into its life."""

    def __init__(self) -> None:
        self._took: dict[object, float] = {}
        self.kills = 0

    def __call__(self, place: Path, words: Sequence[object], kill: random.Random | None) -> Outcome:
        begun = time.monotonic()
        process = subprocess.Popen(
            [sys.executable, "-m", "specgen", *map(str, words)],
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
            cwd=REPO,
            env={**os.environ, "PYTHONPATH": str(REPO)},
            start_new_session=True,
        )
        try:
            usual = self._took.get(words[0], USUAL)
            out, err = process.communicate(timeout=usual * kill.uniform(0.4, 1.1) if kill else 600)
        except subprocess.TimeoutExpired:
            os.killpg(process.pid, signal.SIGKILL)  # with the workers of an audit
            process.communicate()
            self.kills += 1
            return Outcome(KILLED, "")
        self._took[words[0]] = time.monotonic() - begun
        assert process.returncode in (0, 1, 3), err
        return Outcome(process.returncode, out)
