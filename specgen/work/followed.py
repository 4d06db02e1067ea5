"""What an accepted substitution changes and the project file does not say yet: the sections are written from the file."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from pathlib import Path

from specgen.files.marks import InputError
from specgen.intake.substitution import load_request
from specgen.model.accepted import SUBSTITUTION, Acceptance
from specgen.model.project import Component, Project, Record, Value
from specgen.practice.entries import Practice
from specgen.sections.addendum import NotFollowed
from specgen.sections.inputs import owners, shown_words, where_written
from specgen.units.quantity import Quantity
from specgen.work.requests import proposed


def not_followed(
    project: Project, practice: Practice, accepted: Iterable[Acceptance]
) -> tuple[NotFollowed, ...]:
    """What of the accepted substitutions the project file does not say, in the order of their acceptance.

    A change of the assembly is followed where the file says the value, a product where the file says its kind: the
    sections ask for values of their own of it. A request that no longer fits the project is told as such.

    Args:
        project: as stated in its file.
        practice: the vocabulary.
        accepted: the record beside it.
    """
    return tuple(
        one
        for paper in accepted
        if paper.paper == SUBSTITUTION
        for one in _of_request(project, practice, paper.file)
    )


def _of_request(project: Project, practice: Practice, file: str) -> Iterator[NotFollowed]:
    try:
        request = load_request(Path(project.path).parent / file, practice)
        changed = proposed(project, practice, replace(request, products=()))
        placed = proposed(project, practice, replace(request, changes=()))
    except InputError as error:
        why = "; ".join(one.message for one in error.problems)
        yield NotFollowed(file, f"the request does not fit the project file: {why}", "", "", "")
        return
    rows: dict[tuple[str, str, str, str], list[str]] = {}
    for owner, was, key, value in (*_kinds(project, placed), *_values(project, changed)):
        at, _, part = owner.partition(", ") if owner.startswith("parapet ") else ("", "", owner)
        stated = was.kind if key == "kind" and isinstance(was, Component) else was.values.get(key)
        words = ("" if stated is None else shown_words(stated), shown_words(value))
        mark = was.marks.get(key, was.mark)
        rows.setdefault((f"{part or at}, {key}", where_written(mark), *words), []).append(at)
    for (what, place, before, now), names in rows.items():
        parapets = ", ".join(dict.fromkeys(name.removeprefix("parapet ") for name in names if name))
        yield NotFollowed(file, f"{what} ({parapets})" if parapets else what, place, before, now)


def _pairs(before: Project, after: Project) -> Iterator[tuple[str, Record, Record]]:
    for (owner, was), (_, now) in zip(owners(before), owners(after), strict=True):
        yield owner, was, now


def _kinds(before: Project, after: Project) -> Iterator[tuple[str, Record, str, Value]]:
    for owner, was, now in _pairs(before, after):
        if isinstance(was, Component) and isinstance(now, Component) and was.kind != now.kind:
            yield owner, was, "kind", now.kind


def _values(before: Project, after: Project) -> Iterator[tuple[str, Record, str, Value]]:
    yield from _kinds(before, after)
    for owner, was, now in _pairs(before, after):
        for key, value in now.values.items():
            if key != "kind" and not _same(was.values.get(key), value):
                yield owner, was, key, value


def _same(one: Value | None, other: Value) -> bool:
    if isinstance(one, Quantity) and isinstance(other, Quantity):
        return one.dimension == other.dimension and one.exact == other.exact
    return one == other
