"""Settings shared by all tests: seeded samples by default, full counts with ``SPECGEN_LONG=1``."""

from __future__ import annotations

import gc
import os
import random
from collections.abc import Iterable
from typing import TypeVar

import pytest
from hypothesis import HealthCheck, settings

from tests.slow import name_of, slow_tests

# Seldom, as in a command (`commands.common`): with the default a third of an assessment's time is the search for cycles.
gc.set_threshold(20_000)

LONG = os.environ.get("SPECGEN_LONG") == "1"
SEED = int(os.environ.get("SPECGEN_SEED", "20261130"))
# What is tried in part in the short run: one in so many, drawn by the seed. `pytest_terminal_summary` prints it.
SHARES = {
    "walls made by chance, drawn": 5,
    "odd files at each place": 5,
    "names that look like something else": 2,
    "values that are not expected, written": 5,
    "counted examples": 5,
    "changes of a YAML text": 20,
    "remedies that close, written": 6,
    "remedies of broken examples, written": 30,
    "places of the examples, changed": 4,
    "reach of changes": 6,
    "places set on the page": 10,
    "views looked at in a browser": 5,
    "views with a script in each field": 4,
    "words of a YAML text": 20,
    "text fields that hold a script": 12,
    "pages of the manual": 12,
    "slow tests of a file": 6,
}
T = TypeVar("T")


def sampled(what: str, every: Iterable[T], at: str = "") -> list[T]:
    """The share of some cases that the short run tries, in their order and at least one; all in a long run.

    Args:
        what: names the cases in ``SHARES``.
        every: the cases, in the same order at each run.
        at: where they are tried; each place has a share of its own.
    """
    cases = list(every)
    if LONG:
        return cases
    chance = random.Random(f"{SEED} {what} {at}")
    numbers = chance.sample(range(len(cases)), -(-len(cases) // SHARES[what]))
    return [cases[number] for number in sorted(numbers)]


def pytest_addoption(parser: pytest.Parser) -> None:
    """``make test`` takes a share of the slow tests; who runs pytest by hand runs what is named."""
    parser.addoption("--share-slow", action="store_true", help="a share of the tests of tests/slow.txt alone")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Leave out the slow tests that the short run does not draw; of each file at least one stays."""
    if LONG or not config.getoption("--share-slow"):
        return
    table, by_file = slow_tests(), dict[str, list[str]]()
    for one in items:
        if name_of(one.nodeid) in table and one.get_closest_marker("always") is None:
            by_file.setdefault(one.nodeid.partition("::")[0], []).append(one.nodeid)
    what = "slow tests of a file"
    drawn = {node for file, every in by_file.items() for node in sampled(what, every, file)}
    left_out = {node for every in by_file.values() for node in every} - drawn
    config.hook.pytest_deselected(items=[one for one in items if one.nodeid in left_out])
    items[:] = [one for one in items if one.nodeid not in left_out]


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Tell which share of the cases was tried."""
    shares = "; ".join(f"{what}: 1 in {share}" for what, share in SHARES.items())
    words = "every case" if LONG else f"SPECGEN_SEED={SEED}; {shares}"
    terminalreporter.write_line(f"Samples (all with SPECGEN_LONG=1): {words}")


def pytest_collection_finish(session: pytest.Session) -> None:
    """What was collected stays to the end: the search for cycles need not walk through it again."""
    gc.freeze()


# No deadline: a shared machine may stall any single example.
settings.register_profile("sample", deadline=None, derandomize=True, max_examples=30)
settings.register_profile(
    "long", deadline=None, max_examples=2_000, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile("long" if LONG else "sample")
