"""Texts that people wrote into a file and that no paper may reword: a name that holds the name of a role."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from specgen.model.project import Component, Project, Record
from specgen.practice.entries import Field, Vocabulary
from specgen.wall.differing import own_records, records_at


def own_words(
    vocabulary: Vocabulary,
    project: Project,
    others: Iterable[Record] = (),
    names: Iterable[str] = (),
    renamed: Iterable[str] = (),
) -> tuple[str, ...]:
    """The texts of a project that hold a role's name or another that papers reword, longest first.

    A text that is no more than the role's name or a component's id names that component and is none.

    Args:
        vocabulary: tells which fields are texts.
        project: holds the records.
        others: records beside the project: of a submittal, of a request.
        names: names beside the records: of products.
        renamed: what papers reword beside the names of roles.
    """
    called = tuple(role.name for role in vocabulary.roles.values() if role.called)
    called += tuple(name.lower() for name in renamed)
    records = [record for _, record in own_records(project)]
    for parapet in project.parapets:
        records += [record for _, record in records_at(parapet)]
    ids = {part.id for parapet in project.parapets for part in parapet.components()}
    texts = {*names, *(text for one in (*records, *others) for text in _texts(vocabulary, one))}
    found = {text for text in texts if text not in ids and text.lower() not in called}
    return tuple(
        sorted(
            (text for text in found if any(name in text.lower() for name in called)),
            key=lambda text: (-len(text), text),
        )
    )


def _texts(vocabulary: Vocabulary, record: Record) -> Iterator[str]:
    fields: Mapping[str, Field] = (
        vocabulary.roles[record.role].fields
        if isinstance(record, Component)
        else vocabulary.records[record.what].fields
    )
    for name, value in record.written.items():
        if isinstance(value, str) and name in fields and fields[name].type == "text":
            yield value
