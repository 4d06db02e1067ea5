"""The page as a process of its own, as a person starts it."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from time import monotonic

import httpx2


@dataclass(frozen=True)
class Served:
    """A page that answers at an address."""

    address: str
    process: subprocess.Popen[str]
    seconds: float  # from the start of the process to the address

    def get(self, where: str = "") -> httpx2.Response:
        """Ask for a view."""
        return httpx2.get(self.address + where, timeout=30, follow_redirects=True)

    def post(self, where: str, data: dict[str, str]) -> httpx2.Response:
        """Send a form as the browser does."""
        origin = "/".join(self.address.split("/")[:3])
        return httpx2.post(self.address + where, data=data, headers={"Origin": origin}, timeout=30)


@contextmanager
def served(folder: Path, *options: str) -> Iterator[Served]:
    """Serve a folder until the block ends."""
    started = monotonic()
    words = [sys.executable, "-m", "specgen", "page", str(folder), "--no-browser", *options]
    process = subprocess.Popen(
        words, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, env={**os.environ}
    )
    try:
        assert process.stdout is not None
        line = process.stdout.readline()
        if "http://" not in line:
            process.kill()
            raise AssertionError(f"no address: {line}{process.communicate()}")
        yield Served(line.split()[-1], process, monotonic() - started)
    finally:
        process.kill()
        process.communicate()
