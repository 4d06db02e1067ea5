"""The values that a project file states, each with a name that issues call it by, its words and its place."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from specgen.files.marks import Mark
from specgen.model.accepted import Acceptance
from specgen.model.project import PLACES, STANDING_LISTS, Component, Parapet, Project, Record, Value
from specgen.units.quantity import Quantity


@dataclass(frozen=True, slots=True)
class InputValue:
    """One value of the project file: its name, its words, and where it is written."""

    name: str  # "parapet P-1, coping: thickness"
    value: str
    place: str  # "project.yaml:102:20"


def inputs(project: Project) -> Iterator[InputValue]:
    """Every value that the project file states."""
    for owner, record in owners(project):
        if isinstance(record, Component):
            yield InputValue(f"{owner}: kind", record.kind, where_written(record.mark))
        if isinstance(record, Parapet) and record.existing is not None:
            yield InputValue(f"{owner}: existing", "stands", where_written(record.existing.mark))
        yield from _values(owner, record)


ACCEPTED = "accepted "  # how the name of such a value begins


def accepted_inputs(accepted: Iterable[Acceptance]) -> Iterator[InputValue]:
    """What was accepted on a project, each paper as a value that an issue records."""
    for one in accepted:
        words = (one.date.isoformat(), one.word("result"), one.word("by"), one.word("note"))
        yield InputValue(
            f"{ACCEPTED}{one.paper}: {one.file}", ", ".join(filter(None, words)), where_written(one.mark)
        )


def _own(project: Project) -> tuple[Record, ...]:
    return project.info, project.site, project.building, project.quality, project.trades


def owners(project: Project) -> Iterator[tuple[str, Record]]:
    """Every record of a project, with the words that stand for it in the name of a value."""
    yield from ((one.what, one) for one in _own(project))
    for parapet in project.parapets:
        at = f"parapet {parapet.name}"
        yield at, parapet
        yield from ((f"{at}, {part.id}", part) for part in parapet.components())
        for joint in parapet.transitions:
            yield f"{at}, {joint.first} to {joint.second}", joint
        for what in PLACES:
            for number, record in enumerate(getattr(parapet, what), start=1):
                yield f"{at}, {what} {number}", record
        if (existing := parapet.existing) is not None:
            yield f"{at}, {existing.what}", existing
            for what in STANDING_LISTS:
                for number, record in enumerate(getattr(existing, what), start=1):
                    yield f"{at}, {what} {number}", record
    for one in (*project.waivers, *project.answers):
        yield f"{one.what} on {one.rule} at {one.parapet}", one
    for letter in project.letters:
        yield f"letter on {letter.one} and {letter.other}", letter


def _values(owner: str, record: Record) -> Iterator[InputValue]:
    for name, value in record.values.items():
        if name in record.marks:
            yield InputValue(f"{owner}: {name}", shown_words(value), where_written(record.marks[name]))


def where_written(mark: Mark) -> str:
    """The place of a value in its file, without folders."""
    return f"{Path(mark.file).name}:{mark.line}:{mark.column}"


def shown_words(value: Value) -> str:
    """A value as the project file states it."""
    match value:
        case Quantity():
            return value.text
        case bool():
            return "yes" if value else "no"
        case tuple():
            return ", ".join(value)
        case _:
            return str(value)
