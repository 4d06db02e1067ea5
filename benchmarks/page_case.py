"""How long the page takes from a key to the findings, in a browser; writes ``benchmarks/PAGE.md``.

Run as ``python benchmarks/page_case.py``. Times of a browser depend on the machine: what is aimed at is said beside
them, and no test holds them. The reference in the same run is the same change made by an assessment from nothing.
"""

from __future__ import annotations

import json
import os
import platform
import shutil
import statistics
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path
from time import perf_counter

HERE = Path(__file__).parent
sys.path[:0] = [str(HERE), str(HERE.parent)]

import cases  # noqa: E402 - found beside this file

from tests.page.served import Served, served  # noqa: E402
from tests.published.browser import chromium  # noqa: E402

PARAPETS = (1, 3, 40)
EDITS = 1_000
MEMORY_AT = (1, 100, 250, 500, 750, 1_000)
SLOPES = ("3/8 in/ft", "1/8 in/ft", "5/16 in/ft", "1/16 in/ft", "1/2 in/ft", "1/4 in/ft")


@dataclass(frozen=True)
class Timed:
    """Milliseconds from a key to the findings, and of what stands beside."""

    parapets: int
    start: float  # s from the command to the address
    first: float  # ms from the address to the first view, in the browser
    times: tuple[float, ...]
    whole: float  # s of an assessment from nothing

    @property
    def row(self) -> str:
        """A line of the table."""
        ordered = sorted(self.times)
        high = ordered[min(len(ordered) - 1, round(0.95 * len(ordered)))]
        middle = statistics.median(ordered)
        return (
            f"| {self.parapets} | {self.start:.2f} | {self.first:.0f} | {middle:.0f} | {high:.0f} | "
            f"{1000 * self.whole:.0f} | {middle / 1000 / self.whole:.2f} |"
        )


def timed(folder: Path, parapets: int, count: int = 40) -> Timed:
    """Change the slope of a coping again and again; the start is the median of five."""
    starts = []
    for _ in range(4):
        with served(folder) as page:
            starts.append(page.seconds)
    with served(folder) as page:
        words = ["node", HERE.parent / "tests" / "browser" / "times.mjs", chromium(), page.address]
        words += ["P-1", "coping", "slope", str(count), *SLOPES]
        done = subprocess.run(words, capture_output=True, text=True, timeout=900, check=True)
        found = json.loads(done.stdout)
    return Timed(
        parapets,
        statistics.median([*starts, page.seconds]),
        found["first"],
        tuple(found["times"]),
        _whole(folder),
    )


def _whole(folder: Path) -> float:
    from specgen import api

    inputs = api.load(folder)
    api.assess(inputs)
    started = perf_counter()
    api.assess(inputs)
    return perf_counter() - started


def memory(folder: Path) -> list[tuple[int, float]]:
    """MiB that the page holds after so many changes."""
    found = []
    with served(folder) as page:
        was = "1/2 in/ft"
        for number in range(1, EDITS + 1):
            now = SLOPES[number % len(SLOPES)]
            _set(page, was, now)
            was = now
            if number in MEMORY_AT:
                found.append((number, _resident(page.process.pid)))
    return found


def _set(page: Served, was: str, now: str) -> None:
    form = {"record": "component", "parapet": "P-1", "place": "coping", "key": "slope"}
    answer = page.post("change", {**form, "was": was, "was_way": "stated", "way": "stated", "value": now})
    assert answer.status_code == 303, answer.text[:2000]


def _resident(pid: int) -> float:
    line = next(
        one for one in Path(f"/proc/{pid}/status").read_text().splitlines() if one.startswith("VmRSS")
    )
    return int(line.split()[1]) / 1024


def project_of(folder: Path, parapets: int) -> Path:
    """A project of so many parapets, as the other benchmarks have it."""
    made = cases.project_of(folder, parapets)
    target = folder / f"of-{parapets}"
    target.mkdir()
    shutil.copy(made, target / "project.yaml")
    return target


def main() -> None:
    """Measure and write the page, with what Python compiles kept, as it is for a person."""
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
    with tempfile.TemporaryDirectory() as place:
        folders = {count: project_of(Path(place), count) for count in PARAPETS}
        untouched = Path(shutil.copytree(folders[3], Path(place) / "untouched"))
        lines = [timed(folders[count], count, 12 if count > 10 else 40).row for count in PARAPETS]
        held = memory(untouched)
    (HERE / "PAGE.md").write_text(_page(lines, held), "utf-8")


def _page(lines: list[str], held: list[tuple[int, float]]) -> str:
    machine = f"{os.cpu_count()} cores, {platform.machine()}, {platform.system()}, Python {platform.python_version()}"
    load = f"{os.getloadavg()[0]:.1f}"
    memories = [f"| {count} | {held_mib:.0f} |" for count, held_mib in held]
    return "\n".join(
        [
            "# From a key to the findings",
            "",
            "Written by `benchmarks/page_case.py`: the slope of a coping is typed in headless Chromium; the time runs",
            "from the key that ends it until the findings, the picture and the counts are shown anew. Start: from the",
            "command to the address that it prints. Aims: three parapets at most 300 ms, start and first view together",
            "at most 1.5 s.",
            "",
            f"Machine: {machine}; load when measured {load}.",
            "",
            "| parapets | start, s | first view, ms | median, ms | 95 % within, ms | whole assessment, ms | ratio |",
            "|---|---|---|---|---|---|---|",
            *lines,
            "",
            "## Memory after so many changes of three parapets",
            "",
            "| changes | MiB |",
            "|---|---|",
            *memories,
            "",
        ]
    )


if __name__ == "__main__":
    main()
