"""``python -m tests.fuzz.run TARGET --runs N``: try inputs, guided by what they reach where atheris is there.

Atheris is no dependency: with it (``pip install atheris``) the coverage of specgen and of the readers below it guides the
search; without it an input counts as new where its error is. Inputs that fail are kept beside the seeds.
"""

from __future__ import annotations

import argparse
import random
import sys
import tempfile
import time
from importlib.util import find_spec
from pathlib import Path


def main() -> int:
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("target")
    words.add_argument("--runs", type=int, default=10_000)
    words.add_argument("--seed", type=int, default=1)
    words.add_argument("--chance", action="store_true", help="without atheris, although it is there")
    asked = words.parse_args()
    if find_spec("atheris") is None or asked.chance:
        return _by_chance(asked.target, asked.runs, asked.seed)
    _guided(asked.target, asked.runs, asked.seed)
    return 0  # not reached: the search ends the process


def _by_chance(name: str, runs: int, seed: int) -> int:
    from tests.fuzz.held import by_chance, keep

    began = time.process_time()
    ends, failures = by_chance(name, runs, seed)
    for one in failures:
        print(f"{name}: {one.place}: {one.what}: kept in {keep(name, one)}", flush=True)
    took = time.process_time() - began
    print(
        f"{name}: {runs} inputs by chance, {ends} kinds of end, {len(failures)} failures, {took:.0f} s",
        flush=True,
    )
    return 1 if failures else 0


def _guided(name: str, runs: int, seed: int) -> None:
    import atheris

    with atheris.instrument_imports(include=["specgen", "yaml", "jinja2"]):
        from tests.fuzz.held import Failure, keep, mutated, outcome, seeds
        from tests.fuzz.targets import SEEDS, TARGETS

    target, corpus = TARGETS[name], seeds(name)
    places: dict[str, int] = {}
    tried = 0
    began = time.process_time()

    def one(data: bytes) -> None:
        nonlocal tried
        tried += 1
        end = outcome(target, data)
        if isinstance(end, Failure):
            places[end.place] = places.get(end.place, 0) + 1
            if places[end.place] == 1:
                print(f"{name}: {end.place}: {end.what}: kept in {keep(name, end)}", flush=True)
        if tried == runs:
            took = time.process_time() - began
            print(
                f"{name}: {tried} inputs guided, {len(places)} places failed {places}, {took:.0f} s",
                flush=True,
            )

    def change(data: bytes, most: int, number: int) -> bytes:
        chance = random.Random(number)
        if chance.random() < 0.5:
            return mutated(chance, [data, data, *corpus], target)[:most]
        return atheris.Mutate(data, most)

    found = tempfile.mkdtemp(prefix="specgen-fuzz-corpus-")
    flags = [
        f"-runs={runs}",
        f"-seed={seed}",
        f"-max_len={target.longest}",
        "-rss_limit_mb=1500",
        "-timeout=60",
        "-verbosity=0",
    ]
    atheris.Setup([sys.argv[0], *flags, found, str(Path(SEEDS / name))], one, custom_mutator=change)
    atheris.Fuzz()


if __name__ == "__main__":
    sys.exit(main())
