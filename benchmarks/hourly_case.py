"""What the hourly model of heat and moisture costs: against the same scheme in C, in NumPy, and by cells and years.

Processor time, the least of the rounds. Run by itself or by ``make bench``; it writes ``benchmarks/HOURLY.md``.
"""

from __future__ import annotations

import os
import platform
import resource
import subprocess
import sys
import tempfile
import time
import tracemalloc
from collections.abc import Callable, Iterator
from dataclasses import fields, replace
from pathlib import Path

import hourly_c
import numpy as np
from hourly_wall import FINER, Case, case, parapet

from specgen.physics.heat_moisture.many import march_many
from specgen.physics.heat_moisture.march import TALLY
from specgen.physics.heat_moisture.simulate import Ready, simulate

HERE = Path(__file__).parent
ROUNDS = 5
YEARS = (1, 3, 10)
WALLS = (1, 16, 128)
SHORT = 240  # hours of the form in NumPy, in spring, with rain
SPRING = 2000
FIRST = """
import numpy as np
from specgen.physics.heat_moisture.faces import Face
from specgen.physics.heat_moisture.grid import Layer, grid
from specgen.physics.heat_moisture.porous import PorousMaterial, tabulate
from specgen.physics.heat_moisture.simulate import simulate
plaster = tabulate(PorousMaterial("plaster", 1860, 840, 0.72, 33, 6, 35, 210, 0.042, 0.002))
one = np.ones(24)
side = Face(15.0 * one, 1000.0 * one, 12.0 * one, 7e-8 * one, 0.0 * one, 350.0 * one, 0.0 * one, 0.9)
simulate(grid([Layer("plaster", plaster, 0.022)]), side, side)
"""
"""From nothing to the first result of a wall."""


def least(make: Callable[[], Ready], work: Callable[[Ready], object], rounds: int = ROUNDS) -> float:
    """Processor time of a call on arrays made anew each time, the least of the rounds after one to warm up [s]."""
    work(make())
    times = []
    for _ in range(rounds):
        ready = make()
        start = time.process_time()
        work(ready)
        times.append(time.process_time() - start)
    return min(times)


def turns(ready: Ready) -> float:
    """Turns of Newton that a wall took."""
    return float(ready.tally[TALLY.index("turns")])


def against_c() -> Iterator[str]:
    """A year of 50, 100 and 200 nodes: compiled Python, C, their ratio, and that both give the same."""
    yield "## A year of hours, by cells, against C"
    yield ""
    if hourly_c.compiler() is None:
        yield "SKIPPED: no C compiler (`cc`) on this machine, nothing was compared with C."
    yield "| nodes | turns of Newton | Numba, s | µs a turn | C with -O3, s | ratio (aim at most 1.5) | apart |"
    yield "|---|---|---|---|---|---|---|"
    with tempfile.TemporaryDirectory() as folder:
        in_c = None if hourly_c.compiler() is None else hourly_c.compile_c(Path(folder))
        for finer in FINER.values():
            one = case(finer)
            ready = hourly_c.ready(one)
            hourly_c.by_loops(ready)
            ours = least(lambda one=one: hourly_c.ready(one), hourly_c.by_loops)
            cells = f"| {one.wall.nodes} | {turns(ready):.0f} | {ours:.3f} | {1e6 * ours / turns(ready):.1f} "
            if in_c is None:
                yield f"{cells}| skipped | skipped | skipped |"
                continue
            other = hourly_c.ready(one)
            in_c(other)
            apart = float((np.abs(other.water - ready.water) / np.maximum(ready.water, 1e-6)).max())
            assert apart < 1e-6, f"the scheme in C is another one: water apart by {apart:.2g}"
            theirs = least(lambda one=one: hourly_c.ready(one), in_c)
            yield f"{cells}| {theirs:.3f} | {ours / theirs:.2f} | {apart:.0e} |"


def years() -> Iterator[str]:
    """100 nodes through 1, 3 and 10 years: time and memory."""
    finer = FINER[100]
    nodes = parapet(finer).nodes
    yield f"## Years of {nodes} nodes (aim: ten years in at most 4 s)"
    yield ""
    yield "| years | s | s a year | memory of a run at most, two places watched, a profile a day, MiB |"
    yield "|---|---|---|---|"
    for count in YEARS:
        one = case(finer, count)
        took = least(lambda one=one: hourly_c.ready(one), hourly_c.by_loops, 2)
        tracemalloc.start()
        simulate(one.wall, one.outside, one.inside, sources=one.sources, watch=(0, 20), profile_every=24)
        most = tracemalloc.get_traced_memory()[1] / 2**20
        tracemalloc.stop()
        yield f"| {count} | {took:.2f} | {took / count:.3f} | {most:.0f} |"


def numpy_form() -> Iterator[str]:
    """The form in NumPy at 1, 16 and 128 walls, each wall of a plaster of its own."""
    yield f"## NumPy for many walls at once, {SHORT} hours of {parapet(1.0).nodes} nodes"
    yield ""
    yield "| walls | s a wall | over Numba | off Numba's water, share |"
    yield "|---|---|---|---|"
    one = short(case(1.0))
    base = hourly_c.ready(one)
    hourly_c.by_loops(base)
    alone = least(lambda: hourly_c.ready(one), hourly_c.by_loops)
    for count in WALLS:
        walls = [
            Case(parapet(1.0, 0.022 + 1e-5 * number), one.outside, one.inside, one.sources)
            for number in range(count)
        ]
        ready = [hourly_c.ready(wall) for wall in walls]
        start = time.process_time()
        march_many(ready)
        took = (time.process_time() - start) / count
        off = float((np.abs(ready[0].water - base.water) / np.maximum(base.water, 1e-6)).max())
        yield f"| {count} | {took:.3f} | {took / alone:.0f} | {off:.0e} |"


def short(one: Case) -> Case:
    """Some days of a year."""
    hours = slice(SPRING, SPRING + SHORT)
    faces = [
        replace(
            face, **{name.name: getattr(face, name.name)[hours] for name in fields(face) if name.name != "emittance"}
        )
        for face in (one.outside, one.inside)
    ]  # fmt: skip
    return Case(one.wall, *faces, tuple(replace(leak, water=leak.water[hours]) for leak in one.sources))


def steps() -> Iterator[str]:
    """What the steps of an hour cost and are worth, against sixteen an hour."""
    yield "## Steps of an hour"
    yield ""
    yield (
        "Dry hours of one step in two stages (as walls are run), of one backward step, and of more, against sixteen "
        "in two stages; rain in four backward steps for each. A year of the same parapet; the plywood behind the barrier."
    )
    yield ""
    yield "| steps | turns | face, K rms | plywood, K rms | water of the plywood after the year |"
    yield "|---|---|---|---|---|"
    one = case(1.0)

    def run(parts: int, staged: bool) -> Ready:
        ready = hourly_c.ready(one)
        ready.steps[:] = parts * ready.steps
        ready.staged[:] = ready.staged & staged
        hourly_c.by_loops(ready)
        return ready

    best, plywood = run(16, True), one.wall.named("sheathing")
    for name, parts, staged in (
        ("one, two stages", 1, True),
        ("two, two stages", 2, True),
        ("one backward", 1, False),
        ("two backward", 2, False),
        ("four backward", 4, False),
    ):
        ready = run(parts, staged)
        off = np.sqrt(((ready.seen_t - best.seen_t) ** 2).mean(axis=0))
        water = ready.water[-1, plywood] / best.water[-1, plywood] - 1.0
        yield f"| {name} | {turns(ready):.0f} | {off[0]:.2f} | {off[1]:.2f} | {100.0 * water:+.2f} % |"


def start() -> Iterator[str]:
    """From a fresh process to the first result, from nothing and from the kept compilation."""
    yield "## Start"
    yield ""
    yield "| a whole process: Python, NumPy, Numba, the first day of a wall | s |"
    yield "|---|---|"
    with tempfile.TemporaryDirectory() as folder:
        first = clocked(FIRST, folder)
        kept = min(clocked(FIRST, folder) for _ in range(ROUNDS))
    yield f"| compiling | {first:.1f} |"
    yield f"| from the kept compilation (aim at most 1) | {kept:.2f} |"


def clocked(words: str, cache: str) -> float:
    """Processor time of a process of this Python that keeps its compiled code in a folder [s]."""
    environment = {
        **os.environ,
        "PYTHONPATH": str(HERE.parent),
        "XDG_CACHE_HOME": cache,
        "PYTHONPYCACHEPREFIX": str(Path(tempfile.gettempdir()) / "bench-pycache"),
    }
    environment.pop("PYTHONDONTWRITEBYTECODE", None)
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run([sys.executable, "-c", words], env=environment, check=True)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def page() -> str:
    """All tables as Markdown."""
    lines = [
        "# Ten years hour by hour",
        "",
        "Written by `benchmarks/hourly_case.py`, on a plastered parapet in a year of hours with rain (a weather file",
        "that the package pvlib carries), facing south-west, a leak of 1 %. Processor time, the least of "
        f"{ROUNDS} rounds unless",
        "said; C is the same scheme on the same arrays (`benchmarks/hourly_march.c`).",
        "",
        f"Machine: {os.cpu_count()} cores, {platform.machine()}, {platform.system()}, "
        f"Python {platform.python_version()}; load when measured {os.getloadavg()[0]:.1f}.",
    ]
    for table in (against_c, years, numpy_form, steps, start):
        made = list(table())
        print("\n".join(made), flush=True)
        lines += ["", *made]
    return "\n".join(lines) + "\n"


def write() -> None:
    """Measure, print and keep the tables."""
    (HERE / "HOURLY.md").write_text(page(), encoding="utf-8")


if __name__ == "__main__":
    write()
