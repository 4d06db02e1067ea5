"""Speed as ratios against a reference in the same run; prints them and writes ``benchmarks/RESULTS.md``.

Each pair runs in turn, reference and ours, so that a change of the machine's speed meets both; the figure
is the median of the pairwise ratios.
"""

from __future__ import annotations

import math
import os
import platform
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from pathlib import Path

HERE = Path(__file__).parent
sys.path[:0] = [str(HERE)]

import again_case  # noqa: E402 - found beside this file
import audit_case  # noqa: E402
import cases  # noqa: E402
import cold_case  # noqa: E402
import hourly_case  # noqa: E402
import physics_cases  # noqa: E402
import word_cases  # noqa: E402
import write_case  # noqa: E402

Work = Callable[[], object]
GROWTH = (40, 100, 400)  # parapets
LAYERS = (50, 200, 400)
READ = "import sys; from specgen.files.yaml_reader import read_yaml; read_yaml(sys.argv[1])"


@dataclass(frozen=True)
class Pair:
    """One comparison: what is measured, against what, and the ratio aimed at."""

    name: str
    reference_name: str
    ours: Work
    reference: Work
    aim: str
    rounds: int = 7


@dataclass(frozen=True)
class Measured:
    """The medians of one comparison."""

    pair: Pair
    ratio: float
    ours_s: float
    reference_s: float


def seconds(work: Work) -> float:
    """Wall time of one call."""
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def measure(pair: Pair) -> Measured:
    """Run the two in turn after one warm-up of each."""
    pair.ours()
    pair.reference()
    times = [(seconds(pair.reference), seconds(pair.ours)) for _ in range(pair.rounds)]
    ratio = statistics.median(ours / reference for reference, ours in times)
    return Measured(
        pair, ratio, statistics.median(t[1] for t in times), statistics.median(t[0] for t in times)
    )


def process(*args: str) -> Work:
    """A whole process of this Python, compiled before as an installed program is."""
    environment = {**os.environ, "PYTHONPYCACHEPREFIX": str(Path(tempfile.gettempdir()) / "bench-pycache")}
    environment.pop("PYTHONDONTWRITEBYTECODE", None)

    def run() -> None:
        subprocess.run(
            [sys.executable, *args],
            check=False,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            env=environment,
        )

    return run


def word_pairs(folder: Path) -> list[Pair]:
    """The comparisons of the Word writer; pandoc only where it is installed."""
    text = "the same text as XML strings and zipfile"
    sections = "12 sections with references, bookmarks, header and footer"
    out = [
        Pair(sections, text, word_cases.ours, word_cases.floor, "at most 6"),
        Pair(
            sections,
            "python-docx, its ordinary calls",
            word_cases.ours,
            word_cases.by_python_docx,
            "below 1",
            3,
        ),
        Pair("100 project manuals", text, word_cases.manuals, word_cases.manuals_floor, "at most 6", 3),
    ]
    if word_cases.with_pandoc():
        by_pandoc = partial(word_cases.by_pandoc, str(folder))
        out.append(Pair(sections, "pandoc, a process a file", word_cases.ours, by_pandoc, "below 1", 3))
    return out


def pairs(folder: Path) -> list[Pair]:
    """All comparisons."""
    small, large = cases.project_file(folder, 300), cases.project_file(folder, 20_000)
    c_load = "import sys, yaml; yaml.load(open(sys.argv[1], encoding='utf-8'), yaml.CSafeLoader)"
    return [
        Pair(
            "`specgen --help`, whole process",
            "Python importing click",
            process("-m", "specgen", "--help"),
            process("-c", "import click"),
            "at most 1.3",
            15,
        ),
        Pair(
            "Word text of 12 sections of 120 numbered paragraphs",
            "the same text as XML strings and zipfile, with the static parts a Word file needs",
            cases.word_ours,
            cases.word_floor,
            "at most 5",
        ),
        *word_pairs(folder),
        Pair(
            "reading a 20,000-line project file with marks",
            "PyYAML's C loader on the same file",
            lambda: cases.read_ours(large),
            lambda: cases.read_reference(large),
            "at most 1.2",
        ),
        Pair(
            "`specgen check`, 300 lines, whole process",
            "Python loading the same file with PyYAML's C loader",
            process("-m", "specgen", "check", str(small)),
            process("-c", c_load, str(small)),
            "none stated",
        ),
        Pair(
            "`specgen check`, 20,000 lines, whole process",
            "Python loading the same file with PyYAML's C loader",
            process("-m", "specgen", "check", str(large)),
            process("-c", c_load, str(large)),
            "none stated",
            3,
        ),
        *(
            Pair(
                f"`specgen check`, {count} parapets unlike each other, whole process",
                "Python reading the same file with marks",
                process("-m", "specgen", "check", str(cases.project_of(folder, count))),
                process("-c", READ, str(cases.project_of(folder, count))),
                "under 1 s" if count == GROWTH[0] else "grows in proportion",
                5,
            )
            for count in GROWTH
        ),
        *(
            Pair(
                f"`specgen check`, three parapets of {count} layers more, whole process",
                "Python reading the same file with marks",
                process("-m", "specgen", "check", str(cases.layers_of(folder, count))),
                process("-c", READ, str(cases.layers_of(folder, count))),
                "grows in proportion",
                3,
            )
            for count in LAYERS
        ),
        Pair(
            "`specgen check`, one word of the demo changed, whole process",
            "`specgen check`, the demo as it is",
            process("-m", "specgen", "check", str(cases.one_word(folder))),
            process("-m", "specgen", "check", str(cases.DEMO)),
            "under 1 s",
        ),
        Pair(
            "`specgen check --explain`, three parapets, eight findings, whole process",
            "`specgen check` of the same",
            process("-m", "specgen", "check", "--explain", str(cases.eight_findings(folder))),
            process("-m", "specgen", "check", str(cases.eight_findings(folder))),
            "under 2 s",
            5,
        ),
        Pair(
            "parsing 1,000 quantities, unlike each other",
            "pint parsing the same",
            cases.quantities_ours,
            cases.quantities_pint,
            "at most 0.01",
        ),
        *(Pair(*row) for row in physics_cases.rows()),
        *(Pair(*row) for row in write_case.rows()),
        *(Pair(*row) for row in again_case.rows()),
        *(Pair(*row) for row in audit_case.rows(folder)),
    ]


def report(results: list[Measured], memory: str) -> str:
    """The table of results as Markdown."""
    lines = [
        "# Benchmarks",
        "",
        "Written by `make bench`. A ratio is ours over the reference, both in the same run; seconds are for this",
        "machine alone.",
        "",
        f"Machine: {os.cpu_count()} cores, {platform.machine()}, {platform.system()}, "
        f"Python {platform.python_version()}.",
        "",
        "| what | reference | ratio | aim | ours, s | reference, s |",
        "|---|---|---|---|---|---|",
    ]
    lines += [
        f"| {one.pair.name} | {one.pair.reference_name} | {one.ratio:.3g} | {one.pair.aim} "
        f"| {one.ours_s:.3g} | {one.reference_s:.3g} |"
        for one in results
    ]
    return "\n".join([*lines, "", growth(results), "", memory]) + "\n"


def growth(results: list[Measured]) -> str:
    """How the time of a check grows with its parapets and layers: the exponent between the first count and the last."""
    layers = [one.ours_s for one in results if "layers more" in one.pair.name]
    of_layers = math.log(layers[-1] / layers[0]) / math.log(LAYERS[-1] / LAYERS[0])
    checks = [one for one in results if "parapets unlike" in one.pair.name]
    exponents = []
    for what, times in (("check", [c.ours_s for c in checks]), ("reading", [c.reference_s for c in checks])):
        exponent = math.log(times[-1] / times[0]) / math.log(GROWTH[-1] / GROWTH[0])
        exponents.append(f"{what} {exponent:.2f}")
    return (
        f"Growth exponent from {GROWTH[0]} to {GROWTH[-1]} parapets, whole process: {', '.join(exponents)}; "
        f"from {LAYERS[0]} to {LAYERS[-1]} layers: check {of_layers:.2f}; "
        "1 is in proportion, less where the start of the process weighs."
    )


def main() -> None:
    """Measure every pair, print and write the table."""
    with tempfile.TemporaryDirectory() as folder:
        results = []
        for pair in pairs(Path(folder)):
            results.append(measure(pair))
            print(f"{results[-1].ratio:8.3g}  {pair.name} (aim {pair.aim})", flush=True)
        memory = audit_case.memory(Path(folder))
    cold_case.write()
    hourly_case.write()
    (HERE / "RESULTS.md").write_text(report(results, memory), encoding="utf-8")


if __name__ == "__main__":
    main()
