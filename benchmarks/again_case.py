"""What the benchmarks of a changed wall run: one value of one of three parapets, against the whole assessment."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache, partial
from itertools import count
from pathlib import Path

import cases

from specgen.assessment import Assessment, assess
from specgen.intake.project import load_project
from specgen.model.project import Project
from specgen.practice.entries import Practice
from specgen.practice.load import load_practice
from specgen.rules.book import BookEntry, load_book
from specgen.units.quantity import parse
from specgen.wall.edit import with_value

Row = tuple[str, str, Callable[[], object], Callable[[], object], str, int]
VALUES = {
    "P-1.coping.thickness": "0.0{} in",
    "P-1.height": "{} in",
    "P-1.barrier.vapor_permeance": "{} perm",
}
_TRIED = count(40)


@lru_cache(maxsize=1)
def _base() -> tuple[Project, Practice, tuple[BookEntry, ...]]:
    practice = load_practice()
    return load_project(cases.DEMO, practice), practice, load_book(practice)


@lru_cache(maxsize=1)
def _assessed() -> Assessment:
    project, practice, book = _base()
    return assess(project, practice, None, book)


def whole() -> object:
    """The demo assessed from nothing, in a warm process."""
    project, practice, book = _base()
    return assess(project, practice, None, book)


def one_value(path: str) -> object:
    """Another value at a path, never the same twice."""
    project, practice, _ = _base()
    value = parse(VALUES[path].format(40 + next(_TRIED) % 50))
    return _assessed().again(with_value(project, practice, path, value))


def read_again() -> object:
    """The same file read again: all of it new objects, none of it another value."""
    return _assessed().again(_copy())


@lru_cache(maxsize=1)
def _copy() -> Project:
    return load_project(Path(cases.DEMO), _base()[1])


def rows() -> list[Row]:
    """The comparisons: name, reference, ours, the reference's, aim, rounds."""
    whole_name = "the whole assessment of the demo, three parapets, in a warm process"
    changed = [
        (f"`{path}` changed", whole_name, partial(one_value, path), whole, "at most 0.11 (5 ms of 45)", 25)
        for path in VALUES
    ]
    return [
        *changed,
        ("the same file read again, nothing changed", whole_name, read_again, whole, "at most 0.11", 25),
    ]
