"""Lives of a project: two people, copies of any age, any order of runs, kills; an oracle says what must be there."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator, Sequence
from pathlib import Path

import pytest

from tests.conftest import LONG
from tests.life.history import REGISTER, Commands, History, LostError, Step, drawn, shortest
from tests.life.in_process import command, made_once
from tests.life.processes import Processes
from tests.life.project import WHOLE, Life

if not hasattr(os, "fork"):
    pytest.skip("no fork here, so no run can be killed at a call", allow_module_level=True)

FIRST = 20261129
WALL = Path(__file__).parent / "wall.yaml"
VARIANTS: tuple[tuple[tuple[str, str], ...], ...] = (
    (),
    (("thickness: 0.050 in", "thickness: 0.063 in"), ("2026-11-02", "2026-12-01")),
    (("      - role: blocking\n        kind: preservative-treated wood\n", ""), ("2026-11-02", "2027-01-04")),
)


@pytest.fixture(scope="module")
def projects(tmp_path_factory: pytest.TempPathFactory) -> Iterator[list[Path]]:
    """The small wall, and what it becomes."""
    made = []
    for number, changes in enumerate(VARIANTS):
        words = WALL.read_text("utf-8")
        for old, new in changes:
            assert words.count(old) == 1, old
            words = words.replace(old, new)
        made.append(tmp_path_factory.mktemp(f"project-{number}"))
        (made[-1] / "project.yaml").write_text(words, "utf-8")
    with made_once():
        yield made


def lived(
    place: Path,
    projects: Sequence[Path],
    steps: Sequence[Step],
    kind: type[History] = History,
    through: Commands = command,
) -> str:
    """What is wrong with a history, or ""."""
    shutil.rmtree(place, ignore_errors=True)
    place.mkdir()
    try:
        kind(place, projects, through).live(steps)
    except AssertionError as error:
        return str(error) or repr(error)
    return ""


def each(
    place: Path,
    projects: Sequence[Path],
    seeds: Sequence[int],
    kinds: Sequence[str],
    most: int,
    kind: type[History] = History,
    through: Commands = command,
) -> None:
    """Live every history; of one that fails, tell the seed and the shortest that still fails."""
    for seed in seeds:
        steps = drawn(seed, kinds, most)
        if lived(place, projects, steps, kind, through):
            few = shortest(steps, lambda fewer: bool(lived(place, projects, fewer, kind, through)))
            raise LostError(f"history {seed}: {lived(place, projects, few, kind, through)}\n{few}")


@pytest.mark.parametrize("share", range(4))
def test_no_history_of_a_register_loses_a_word(share: int, tmp_path: Path, projects: list[Path]) -> None:
    start = FIRST + 100_000 * share
    each(tmp_path / "life", projects, range(start, start + (1_100 if LONG else 2)), REGISTER, 10)


@pytest.mark.parametrize("share", range(2))
def test_no_history_of_a_whole_project_loses_a_paper(
    share: int, tmp_path: Path, projects: list[Path]
) -> None:
    start = FIRST + 100_000 * share
    each(tmp_path / "life", projects, range(start, start + (300 if LONG else 1)), WHOLE, 14, Life)


@pytest.mark.skipif(not LONG, reason="fifty lives through processes: SPECGEN_LONG=1")
def test_no_history_through_the_commands_loses_anything(tmp_path: Path, projects: list[Path]) -> None:
    each(tmp_path / "life", projects, range(FIRST, FIRST + 50), WHOLE, 10, Life, Processes())
